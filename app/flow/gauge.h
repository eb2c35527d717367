// What the plot that was just weighed should give. Shared by views; not for other rooms.
#pragma once

#include <optional>

#include "app/flow/book.h"
#include "app/flow/views.h"
#include "storage/checks/expected_weight.h"

namespace ligule::flow {

// The forage on a plot in kilograms, tares taken off; empty where it was not weighed.
[[nodiscard]] std::optional<checks::WeighedPlot> weighed_plot(const Model& model,
                                                              const Harvest& harvest,
                                                              const PlanPlot& plot);

// Once the present plot's weight stands, never before: a person who reads the scale must not know
// what is expected. Empty: it does not stand, or is no weight.
[[nodiscard]] std::optional<GaugeView> gauge_view(const Model& model, const Harvest& harvest);

}  // namespace ligule::flow
