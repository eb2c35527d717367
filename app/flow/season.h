// What rules look at beside a value: what is usual of its measure here, and the plot's own season.
// Used by update; not for other rooms.
#pragma once

#include "app/flow/turn.h"
#include "storage/checks/history.h"

namespace ligule::flow {

// What every value is held against: the tablet's clock, and what was answered for the day.
[[nodiscard]] checks::History history_of_day(const Turn& turn, OccasionId occasion);

// Of a value of a plot: what is usual of its measure, the weather, and the plot's season.
[[nodiscard]] checks::History history_of(const Turn& turn, const Book& book, const PlanPlot& plot,
                                         std::string_view measure);

// The part of a plot weight's history that is not the act's own: its strip, its stand, earlier
// cuttings, what a cutting gives, and what the plot's bags besides this one (from 1) hold.
void add_season(const Turn& turn, const Book& book, const PlanPlot& plot, int bag,
                checks::History& history);

}  // namespace ligule::flow
