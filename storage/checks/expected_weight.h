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
  // Standard deviation of a plot about its block and entry, robust: 1.4826 x the median of all
  // differences between residuals of one entry, over the root of 2. Differences, because the polish
  // leaves residuals of exactly 0, which would make the spread of the residuals themselves too
  // small. 0 where no entry stands in two blocks.
  double spread = 0;
  int freedom = 0;  // independent differences that the spread rests on
  std::map<int, int> plots_of_block;
  std::map<std::string, int> plots_of_entry;
};
// Median polish, entries first, until nothing moves or 50 times. Without plots all is 0.
[[nodiscard]] AdditiveFit fit_by_medians(std::span<const WeighedPlot> plots);

inline constexpr double kSpreads = 3;
inline constexpr int kLeastFreedom = 3;

struct ExpectedWeight {
  double middle = 0;
  double lowest = 0;
  double highest = 0;

  bool operator==(const ExpectedWeight&) const = default;
};
// Of a plot from the others. The range reaches kSpreads standard deviations of a plot about what
// its block and entry foretell to either side, wider the fewer plots foretell it, and at least a
// tenth of the middle (common practice, no source). Of plots with nothing wrong, normal with a
// coefficient of variation of 6 to 15 percent, 1 in 200 lies outside (tests/storage/checks/
// expected_weight_test.cc measures it). A stand thinner than the others' median lowers it
// in proportion. Empty where no other plot of its entry, or none of its block, was weighed, and
// where fewer than kLeastFreedom differences tell how far plots usually lie apart.
[[nodiscard]] std::optional<ExpectedWeight> expected_weight(std::span<const WeighedPlot> others,
                                                            const WeighedPlot& plot);
// The same from a fit of those others that was made before.
[[nodiscard]] std::optional<ExpectedWeight> expected_weight(const AdditiveFit& fit,
                                                            std::span<const WeighedPlot> others,
                                                            const WeighedPlot& plot);

}  // namespace ligule::checks
