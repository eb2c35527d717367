// A run that is set to cut lower than what grows there bears. Shared by update and views; not for
// other rooms.
#pragma once

#include <string_view>

#include "app/flow/turn.h"

namespace ligule::flow {

// Whether it has to be asked first; then it is asked. Words without a number ("as last year") say
// nothing; a number that can't be read as a length is to be written again, and that is told.
[[nodiscard]] bool asks_low_stubble(Turn& turn, const Harvest& harvest, std::string_view setting);
void answer_low_stubble(Turn& turn, bool go_on);

}  // namespace ligule::flow
