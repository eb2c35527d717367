// What a plot should weigh, from the plots beside it and those of its entry in other blocks.
//
// A robust additive fit: weight = overall + block + entry, by medians (Tukey's median polish), so
// that one bad weight does not shift what the others are held against.
#pragma once

#include <map>
#include <optional>
#include <span>
#include <string>
#include <vector>

namespace ligule::checks {

// A plot of one cutting with the net weight of its forage, all in one unit.
struct WeighedPlot {
  int block = 0;
  std::string entry;
  double net = 0;
  std::optional<double> stand = {};  // percent, of the last rating
};

struct AdditiveFit {
  double overall = 0;
  std::map<int, double> blocks;
  std::map<std::string, double> entries;
  std::vector<double> residuals;  // as the plots were given
};
// Median polish, entries first, until nothing moves or 50 times. Without plots all is 0.
[[nodiscard]] AdditiveFit fit_by_medians(std::span<const WeighedPlot> plots);

struct ExpectedWeight {
  double middle = 0;
  double lowest = 0;
  double highest = 0;
};
// Of a plot from the others. The range is three times the spread of their residuals (1.4826 x the
// median absolute deviation, a standard deviation where they are normal) to either side, at least a
// tenth of the middle: common practice, no source. A stand thinner than the others' median lowers
// it in proportion. Empty where no other plot of its entry, or none of its block, was weighed.
[[nodiscard]] std::optional<ExpectedWeight> expected_weight(std::span<const WeighedPlot> others,
                                                            const WeighedPlot& plot);
// The same from a fit of those others that was made before.
[[nodiscard]] std::optional<ExpectedWeight> expected_weight(const AdditiveFit& fit,
                                                            std::span<const WeighedPlot> others,
                                                            const WeighedPlot& plot);

}  // namespace ligule::checks
