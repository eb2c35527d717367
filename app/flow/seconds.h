// Who rates as second person, and is not done with it. Pure.
#pragma once

#include <optional>
#include <span>
#include <vector>

#include "app/flow/model.h"

namespace ligule::flow {

// Whether a plot of a rating can be rated a second time, by the same or by another person:
// something is rated by eye, and nothing takes long. Frames and counted samples are no second look,
// and dates are visited by the block. What is measured beside it comes back with the card, since a
// card that lacks a line would announce itself.
[[nodiscard]] bool can_be_rated_twice(const KnownTrial& trial, const PlanOccasion& occasion,
                                      const PlanPlot& plot, const Definitions& definitions);
// Whether a claim says something of a plot that somebody rated.
[[nodiscard]] bool says_something(const Record& record);

// People who gave something as second person and still have plots to rate so that others rated
// first. first: standing claims of the occasion of purpose survey; second: those of purpose second.
// closings: of the occasion, kind closed; whoever gave nothing after the rating was closed, or
// after they closed their own, is done with it.
[[nodiscard]] std::vector<PersonId> seconds_open(
    const KnownTrial& trial, const PlanOccasion& occasion, const Definitions& definitions,
    std::span<const KnownClaim> first, std::span<const KnownClaim> second,
    std::span<const Record> closings, CalendarDate today);

// Whether the person who holds the tablet is not done with a second rating of it, so that nothing
// may tell them what others gave there; of any occasion.
[[nodiscard]] bool hides_from_second(const Model& model, OccasionId occasion);
[[nodiscard]] bool second_unfinished(const Model& model);

}  // namespace ligule::flow
