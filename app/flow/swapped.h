// Two neighbours' bags that may have been exchanged. Shared by update and views; not for other
// rooms.
#pragma once

#include <string>

#include "app/flow/overlay.h"
#include "app/flow/turn.h"

namespace ligule::flow {

// Asks when the plot just weighed and one beside it on the path both lie outside of what the other
// plots suggest, and would both lie in the inner half of it with each other's weight; the two are a
// fifth apart at least.
void look_for_exchange(Turn& turn, Harvest& harvest, const std::string& plot);
// Gives each the other's weight and tare; their sample bags stay. Or leaves them.
void answer_swapped(Turn& turn, bool exchange);
[[nodiscard]] SwappedView swapped_view(const Model& model, const Swapped& swapped);

}  // namespace ligule::flow
