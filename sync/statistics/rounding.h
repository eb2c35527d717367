// How far sums of values may be off by rounding alone. For this room only.
#pragma once

#include <cmath>
#include <optional>

namespace ligule::statistics {

// Sixteen units of rounding, relative to the largest value.
inline constexpr double kNoise = 16.0 * 2.2e-16;

// Empty for what is infinite or no number.
[[nodiscard]] inline std::optional<double> finite(double value) {
  if (!std::isfinite(value)) return std::nullopt;
  return value;
}

}  // namespace ligule::statistics
