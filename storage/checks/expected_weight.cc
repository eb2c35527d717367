#include "storage/checks/expected_weight.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "storage/checks/median.h"

namespace ligule::checks {
namespace {

constexpr int kMostRounds = 50;
constexpr double kStill = 1e-9;  // of the largest weight: smaller steps are rounding
constexpr double kLeastShare = 0.1;
constexpr double kMedianVariance = std::numbers::pi / 2;  // of a median, over that of a mean
// A spread from few differences is itself uncertain: Student's quantiles grow so, roughly.
constexpr double kWeightUncertain = 8;

// Takes the median of each group out of the residuals and into its effect; the largest step.
template <class Key>
double sweep(std::span<const WeighedPlot> plots, const Key WeighedPlot::*key,
             std::map<Key, double>& effects, std::vector<double>& residuals) {
  std::map<Key, std::vector<double>> groups;
  for (std::size_t n = 0; n < plots.size(); ++n) groups[plots[n].*key].push_back(residuals[n]);
  std::map<Key, double> steps;
  double largest = 0;
  for (auto& [group, values] : groups) {
    const double step = median(std::move(values));
    steps[group] = step;
    effects[group] += step;
    largest = std::max(largest, std::fabs(step));
  }
  for (std::size_t n = 0; n < plots.size(); ++n) residuals[n] -= steps[plots[n].*key];
  return largest;
}

// The median of the effects belongs to all of them.
template <class Key>
void centre(std::map<Key, double>& effects, double& overall) {
  std::vector<double> all;
  all.reserve(effects.size());
  for (const auto& [group, effect] : effects) all.push_back(effect);
  const double middle = median(std::move(all));
  for (auto& [group, effect] : effects) effect -= middle;
  overall += middle;
}

double thinned(std::span<const WeighedPlot> others, const WeighedPlot& plot) {
  std::vector<double> stands;
  for (const WeighedPlot& other : others)
    if (other.stand) stands.push_back(*other.stand);
  const double usual = median(std::move(stands));
  if (!plot.stand || usual <= 0) return 1;
  return std::clamp(*plot.stand / usual, 0.0, 1.0);
}

// The variance of the median of n values of variance 1; of one or two it is their mean.
double median_variance(int n) {
  return n <= 2 ? 1.0 / n : kMedianVariance / n;
}

void set_spread(std::span<const WeighedPlot> plots, AdditiveFit& fit) {
  std::map<std::string, std::vector<double>> entries;
  for (std::size_t n = 0; n < plots.size(); ++n) {
    entries[plots[n].entry].push_back(fit.residuals[n]);
    ++fit.plots_of_block[plots[n].block];
    ++fit.plots_of_entry[plots[n].entry];
  }
  std::vector<double> apart;
  for (const auto& [entry, residuals] : entries) {
    fit.freedom += static_cast<int>(residuals.size()) - 1;
    for (std::size_t one = 0; one < residuals.size(); ++one)
      for (std::size_t other = 0; other < one; ++other)
        apart.push_back(std::fabs(residuals[one] - residuals[other]));
  }
  // Each block but one takes a difference for its own effect.
  fit.freedom = std::max(0, fit.freedom - static_cast<int>(fit.plots_of_block.size()) + 1);
  fit.spread = kNormalSpread * median(std::move(apart)) / std::numbers::sqrt2;
}

}  // namespace

AdditiveFit fit_by_medians(std::span<const WeighedPlot> plots) {
  AdditiveFit fit;
  double largest = 0;
  for (const WeighedPlot& plot : plots) {
    fit.residuals.push_back(plot.net);
    largest = std::max(largest, std::fabs(plot.net));
  }
  for (int round = 0; round < kMostRounds; ++round) {
    const double by_entry = sweep(plots, &WeighedPlot::entry, fit.entries, fit.residuals);
    centre(fit.entries, fit.overall);
    const double by_block = sweep(plots, &WeighedPlot::block, fit.blocks, fit.residuals);
    centre(fit.blocks, fit.overall);
    if (std::max(by_entry, by_block) <= kStill * largest) break;
  }
  set_spread(plots, fit);
  return fit;
}

std::optional<ExpectedWeight> expected_weight(std::span<const WeighedPlot> others,
                                              const WeighedPlot& plot) {
  return expected_weight(fit_by_medians(others), others, plot);
}

std::optional<ExpectedWeight> expected_weight(const AdditiveFit& fit,
                                              std::span<const WeighedPlot> others,
                                              const WeighedPlot& plot) {
  const auto block = fit.blocks.find(plot.block);
  const auto entry = fit.entries.find(plot.entry);
  if (block == fit.blocks.end() || entry == fit.entries.end()) return std::nullopt;
  if (fit.freedom < kLeastFreedom) return std::nullopt;
  const double by_entry = median_variance(fit.plots_of_entry.at(plot.entry));
  const double by_block = median_variance(fit.plots_of_block.at(plot.block)) * (1 + by_entry);
  const double middle =
      std::max(0.0, fit.overall + block->second + entry->second) * thinned(others, plot);
  const double reach = std::max(kSpreads * (1 + kWeightUncertain / fit.freedom) * fit.spread *
                                    std::sqrt(1 + by_entry + by_block),
                                kLeastShare * middle);
  return ExpectedWeight{middle, std::max(0.0, middle - reach), middle + reach};
}

}  // namespace ligule::checks
