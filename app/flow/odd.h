// Which of many numbers stand out: a plot whose difference between two ratings is not like the
// others' may have been rated on another plot.
#pragma once

#include <span>
#include <vector>

namespace ligule::flow {

// |robust z| above which a number counts as odd. Iglewicz and Hoaglin (1993, How to Detect and
// Handle Outliers, ASQC Basic References in Quality Control 16) recommend 3.5; from memory.
inline constexpr double kOddAbove = 3.5;
// Fewer numbers than this have no middle to be far from: none is odd.
inline constexpr std::size_t kLeastForOdd = 5;

// Robust z of each: 0.6745 (x - median) / MAD, MAD being the median of |x - median|. Where MAD is 0
// (more than half are equal) (x - median) / (1.2533 mean |x - median|), the same source; where all
// are equal, 0.
[[nodiscard]] std::vector<double> robust_z(std::span<const double> numbers);
[[nodiscard]] std::vector<bool> odd_ones(std::span<const double> numbers);

}  // namespace ligule::flow
