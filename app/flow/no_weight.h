// A plot without a weight: why, and what that counts as. Shared by update and views; not for other
// rooms.
#pragma once

#include <array>
#include <string_view>

#include "app/flow/turn.h"

namespace ligule::flow {

struct NoWeightReason {
  std::string_view code;  // written into records: never change a text
  bool zero = false;      // nothing grew there; false: missing, nothing is known of what grew
};
// What counts as which is common practice, no source: a zero is a yield, a lost weight is none.
inline constexpr std::array kNoWeightReasons{
    NoWeightReason{"winterkill", true},   NoWeightReason{"stand_died", true},
    NoWeightReason{"below_bar", true},    NoWeightReason{"washed_out", false},
    NoWeightReason{"wheel_track", false}, NoWeightReason{"drift", false},
    NoWeightReason{"animals", false},     NoWeightReason{"bag_spilled", false},
    NoWeightReason{"scale_fault", false}};

// Says of the present plot that it has no weight, for this reason; an unknown one is passed over.
void say_no_weight(Turn& turn, std::string_view reason);

}  // namespace ligule::flow
