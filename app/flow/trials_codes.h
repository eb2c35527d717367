// Codes of the Trials screen that are written into records: never change a text. Words: "event."
// and "reason." + code.
#pragma once

#include <array>
#include <string_view>

namespace ligule::flow {

inline constexpr std::array<std::string_view, 7> kTrialEvents{
    "spray", "fertilizer", "irrigation", "mowing", "damage", "weather", "other"};
inline constexpr std::array<std::string_view, 3> kEventBackReasons{"mistap", "looked_again",
                                                                   "not_valid"};
inline constexpr std::array<std::string_view, 8> kSownReasons{
    "checked",    "packet_mixed", "planter_error", "stake_moved",
    "poor_stand", "washed_out",   "damaged",       "not_known"};

}  // namespace ligule::flow
