// What the plot that was just weighed should give. Shared by views; not for other rooms.
#pragma once

#include <optional>

#include "app/flow/book.h"
#include "app/flow/views.h"

namespace ligule::flow {

// Once the present plot's weight stands, never before: a person who reads the scale must not know
// what is expected. Empty: it does not stand, or is no weight.
[[nodiscard]] std::optional<GaugeView> gauge_view(const Model& model, const Harvest& harvest);

}  // namespace ligule::flow
