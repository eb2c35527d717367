// What stands in one box of a plot sheet, as it is typed: what its scale takes, out of what a hand
// in a hurry writes.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "storage/trial/scale.h"

namespace ligule::gather {

// Parts several readings in one box: heights, shares, placements of a frame, stages counted.
inline constexpr char kReadingsMark = '+';
// In a box, or in its place on a typed line: nothing was seen, the plot stays open.
inline constexpr std::string_view kLeftOpen = "-";

// As records have it, one text for each part of the act: heights "12+11.5+13" are three, everything
// else is one. Codes of stages in capitals or not; shares "60+25+15" and frames "15+14+20+21" in
// the scale's order; counts "V=10+R0=15"; of a date "x" reached and "o" not yet. kInvalid: more
// readings than the scale has, not as many parts. What the scale takes is judged by the rules.
[[nodiscard]] Result<std::vector<std::string>> entered_in_box(const Scale& scale,
                                                              std::string_view text);

// How such a box is typed, for people: "0 to 100 %", "R0 to S5".
[[nodiscard]] std::string how_to_type(const Scale& scale, std::string_view unit);

}  // namespace ligule::gather
