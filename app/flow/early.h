// A cutting opened before its day. Used by update; not for other rooms.
#pragma once

#include "app/flow/turn.h"

namespace ligule::flow {

// Whether it has to be asked first: a cutting not begun, planned for a later day, and not meant
// before. Then it is asked.
[[nodiscard]] bool asks_early(Turn& turn, const OpenOccasion& intent);
void answer_early(Turn& turn, const AnswerEarly& intent);

}  // namespace ligule::flow
