// What a scale allows, in the unit a person works in.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "storage/trial/scale.h"

namespace ligule::checks {

// The ends of a scale. Both are empty for words and labels; a score's or ladder's ends are its
// first and last step.
struct Bounds {
  std::optional<double> lowest;
  std::optional<double> highest;
  std::string unit;  // empty for a scale without units

  bool operator==(const Bounds&) const = default;
};

// The scale's ends in one of its units (empty: the first). kInvalid for a unit the scale does not
// take.
[[nodiscard]] Result<Bounds> bounds_of(const Scale& scale, std::string_view unit);

}  // namespace ligule::checks
