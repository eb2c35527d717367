// What the plot that was just weighed should give. Shared by views; not for other rooms.
#pragma once

#include <optional>

#include "app/flow/book.h"
#include "app/flow/views.h"
#include "storage/checks/expected_weight.h"

namespace ligule::flow {

// The forage on a plot in kilograms, tares taken off; empty where it was not weighed.
[[nodiscard]] std::optional<checks::WeighedPlot> weighed_plot(const Model& model, const Book& book,
                                                              const PlanPlot& plot);

// What the other plots let one expect of a plot's bags together, kilograms of forage; its own
// weight is not looked at.
[[nodiscard]] std::optional<checks::ExpectedWeight> expected_of(const Model& model,
                                                                const Book& book,
                                                                const PlanPlot& plot);

// Once a plot's weight stands, never before: a person who reads the scale must not know what is
// expected. The range is of the gross weight: what the plot hangs in is part of it. Empty: the
// weight does not stand, or is no weight.
[[nodiscard]] std::optional<GaugeView> gauge_view(const Model& model, const Harvest& harvest,
                                                  const PlanPlot& plot);
// Whether the gauge of the plot weighed last stands on the present one: until its weight is begun
// by a digit or a load.
[[nodiscard]] bool shows_last_gauge(const Model& model, const Harvest& harvest);
}  // namespace ligule::flow
