// A block is about to be cut in two: by stopping inside it, or with another machine. Shared by
// update and views; not for other rooms.
//
// Weather and machine then differ inside the block; a whole block on another day is normal.
#pragma once

#include <string_view>

#include "app/flow/turn.h"

namespace ligule::flow {

// Whether leaving has to be asked about first: some plots of the present block are weighed, some
// are not, and nobody has said today that it is to be split. Then it is asked.
[[nodiscard]] bool asks_to_stop(Turn& turn);
// The same of a run that begins with another machine than the block was begun with.
[[nodiscard]] bool asks_other_machine(Turn& turn, const Harvest& harvest, std::string_view machine);
void answer_split(Turn& turn, SplitAnswer answer);

}  // namespace ligule::flow
