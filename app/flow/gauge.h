// What the plot that was just weighed should give. Shared by views; not for other rooms.
#pragma once

#include <optional>

#include "app/flow/book.h"
#include "app/flow/turn.h"
#include "app/flow/views.h"
#include "storage/checks/expected_weight.h"

namespace ligule::flow {

// The forage on a plot in kilograms, tares taken off; empty where it was not weighed.
[[nodiscard]] std::optional<checks::WeighedPlot> weighed_plot(const Model& model,
                                                              const Harvest& harvest,
                                                              const PlanPlot& plot);

// Once a plot's weight stands, never before: a person who reads the scale must not know what is
// expected. The range is of the gross weight: what the plot hangs in is part of it. Empty: the
// weight does not stand, or is no weight.
[[nodiscard]] std::optional<GaugeView> gauge_view(const Model& model, const Harvest& harvest,
                                                  const PlanPlot& plot);
// Whether the gauge of the plot weighed last stands on the present one: until its weight is begun
// by a digit or a load.
[[nodiscard]] bool shows_last_gauge(const Model& model, const Harvest& harvest);
// On the way to the next plot: what the last one's gauge says stays in sight, and a weight outside
// its range is told.
void tell_gauge(Turn& turn, Harvest& harvest, const std::string& number);

}  // namespace ligule::flow
