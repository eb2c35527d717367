// Values of several numbers that make one statement: parts of a whole, counts at stages, cells of a
// frame. `entered` holds every number as it was seen, `value` the one that is averaged:
//
//   kShares  "sown=60 weed=25 bare=15"  every part once, in the scale's order, whole fine steps,
//                                       100 together; value: the first part, percent
//   kCounts  "V=10 R0=15"               stages that were seen, in the scale's order, from 1; value:
//                                       the mean stage by count, sum(stage x count) / sum(count)
//   kCells   "15 14 20 21"              one number a placement: its cells, of `maximum`, that hold
//                                       a plant; value: percent of all cells
//
// Mean stage by count: Kalu and Fick 1981, Crop Science 21:267-271; Moore et al. 1991, Agronomy
// Journal 83:1073-1077. Frequency grid: Vogel and Masters 2001, J. Range Management 54:653-655.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "storage/trial/scale.h"

namespace ligule {

[[nodiscard]] bool is_composite(ScaleKind kind);

// Whether what was entered is several numbers: no other value holds a space or an equals sign.
[[nodiscard]] bool is_composite_text(std::string_view entered);

// The text of the numbers: one for each step of the scale, or one a placement. Counts of none are
// left out. Nothing is checked: read_entered() does that.
[[nodiscard]] std::string composite_text(const Scale& scale, const std::vector<double>& numbers);

// The numbers of such a text, one for each step (0 for a stage that was not seen) or placement.
// kInvalid when it can't be read, kRefused when it can't be meant: a sum other than 100, no stem at
// all, more cells than there are.
[[nodiscard]] Result<std::vector<double>> composite_numbers(const Scale& scale,
                                                            std::string_view text);

// The value that stands for the numbers. They must be sound, as composite_numbers() gives them.
[[nodiscard]] double composite_value(const Scale& scale, const std::vector<double>& numbers);

}  // namespace ligule
