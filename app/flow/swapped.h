// Two neighbours' bags that may have been exchanged. Shared by update and views; not for other
// rooms.
#pragma once

#include <optional>

#include "app/flow/overlay.h"
#include "app/flow/turn.h"

namespace ligule::flow {

// Asks about two neighbours on the path who both lie outside of what the other plots suggest, and
// would both lie in the inner half of it with each other's weight; the two are a fifth apart at
// least, and nobody told them apart since the program started. Every pair of the cutting is looked
// at, because a later weight may make an earlier one plain; one away from `plot` must then lie
// twice as far out. The pair nearest to `plot` is asked about, one at a time.
void look_for_exchange(Turn& turn, const Harvest& harvest, const std::string& plot);
// Gives each the other's weight and tare; their sample bags stay. Or leaves them.
void answer_swapped(Turn& turn, bool exchange);
// A question that is open waits: until what is NOT SAVED is settled, or for the person who was
// asked while another holds the tablet. It is asked again then, where it still is one, on the
// cutting's own screen.
void wait_with_exchange(Model& model, std::optional<PersonId> person);
void ask_waiting_exchange(Turn& turn);
[[nodiscard]] SwappedView swapped_view(const Model& model, const Swapped& swapped);

}  // namespace ligule::flow
