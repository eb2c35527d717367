// What limits asked of late in an occasion, and whether somebody said that it is the weather: for
// the rules' history. Used by update; not for other rooms.
#pragma once

#include <string_view>
#include <vector>

#include "app/flow/turn.h"
#include "storage/checks/history.h"

namespace ligule::flow {

// Of a measure on a plot, its sample bag's included.
void add_weather(const Model& model, const Book& book, const PlanPlot& plot,
                 std::string_view measure, checks::History& history);

// Of a bag's weights (dry: the dried one, else the fresh one), by the bags of its cutting.
void add_weather(const Model& model, const std::vector<OpenBag>& bags, const OpenBag& bag, bool dry,
                 checks::History& history);

}  // namespace ligule::flow
