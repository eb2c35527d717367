// The glass locked against rain, a pocket, the crop. Used by update; not for other rooms.
#pragma once

#include <chrono>

#include "app/flow/turn.h"

namespace ligule::flow {

// Two corners, far apart, one after the other within this time: drops do not do that.
inline constexpr std::chrono::seconds kUnlockTime{6};

void lock(const Turn& turn);
// What reaches the locked glass: the corners, and nothing else.
void touch_locked(const Turn& turn, const Intent& intent);

}  // namespace ligule::flow
