// The numbers a pad offers for an amount or a percent.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "storage/trial/scale.h"

namespace ligule::flow {

// One-tap choices: a percent from end to end in the scale's step; an amount the first twelve steps
// in the unit given (whole units where it is not the scale's own). Within the scale's bounds.
[[nodiscard]] std::vector<std::string> choices_of(const Scale& scale, std::string_view unit);
// Whether a percent has finer steps than its choices.
[[nodiscard]] bool has_fine(const Scale& scale);
// A part of a percent's scale, two of its choices long.
struct Stretch {
  std::string around;  // its middle: what fine_choices_of takes
  std::string text;    // "80-90"
};
// The stretches of such a percent, end to end; none where nothing finer lies between.
[[nodiscard]] std::vector<Stretch> stretches_of(const Scale& scale);
// The steps of a percent around one of its choices, in the scale's fine step, from the choice
// before to the choice after.
[[nodiscard]] std::vector<std::string> fine_choices_of(const Scale& scale, std::string_view around);
// A text moved by a number of fine steps, kept within the scale's bounds. Empty or unreadable: from
// zero, so that a step never starts at somebody else's value. A text between two steps goes to the
// next one in the direction.
[[nodiscard]] std::string stepped(const Scale& scale, std::string_view unit, std::string_view text,
                                  int by);

}  // namespace ligule::flow
