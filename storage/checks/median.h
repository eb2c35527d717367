// The middle of numbers, and what it says of their spread.
#pragma once

#include <span>
#include <vector>

namespace ligule::checks {

// A standard deviation over the median of absolute deviations, where numbers are normal.
inline constexpr double kNormalSpread = 1.4826;

// Of an even count the mean of the middle two; 0 of none.
[[nodiscard]] double median(std::vector<double> numbers);
// The same without a copy: the numbers are in another order afterwards.
[[nodiscard]] double median_in(std::span<double> numbers);

}  // namespace ligule::checks
