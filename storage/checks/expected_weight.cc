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

// Which group (entry, block) each plot belongs to, and the effects fitted so far. Numbered once:
// the rounds go over it many times, after every weight.
template <class Key>
class Groups {
 public:
  Groups(std::span<const WeighedPlot> plots, const Key WeighedPlot::*key) {
    std::map<Key, std::size_t> numbers;
    for (const WeighedPlot& plot : plots) numbers.emplace(plot.*key, 0);
    for (auto& [name, number] : numbers) {
      number = names_.size();
      names_.push_back(name);
    }
    for (const WeighedPlot& plot : plots) of_.push_back(numbers.at(plot.*key));
    effects_.resize(names_.size());
    values_.resize(names_.size());
  }

  // Moves the median of each group from the residuals to its effect; the largest move.
  double sweep(std::vector<double>& residuals) {
    for (std::vector<double>& values : values_) values.clear();
    for (std::size_t n = 0; n < of_.size(); ++n) values_[of_[n]].push_back(residuals[n]);
    double largest = 0;
    steps_.clear();
    for (std::size_t group = 0; group < values_.size(); ++group) {
      steps_.push_back(median_in(values_[group]));
      effects_[group] += steps_.back();
      largest = std::max(largest, std::fabs(steps_.back()));
    }
    for (std::size_t n = 0; n < of_.size(); ++n) residuals[n] -= steps_[of_[n]];
    return largest;
  }
  // The residuals of each group.
  [[nodiscard]] std::vector<std::vector<double>> grouped(std::span<const double> residuals) const {
    std::vector<std::vector<double>> groups(names_.size());
    for (std::size_t n = 0; n < of_.size(); ++n) groups[of_[n]].push_back(residuals[n]);
    return groups;
  }
  [[nodiscard]] std::map<Key, int> sizes() const {
    std::vector<int> counts(names_.size());
    for (const std::size_t group : of_) ++counts[group];
    std::map<Key, int> named;
    for (std::size_t n = 0; n < names_.size(); ++n)
      named.emplace_hint(named.end(), names_[n], counts[n]);
    return named;
  }
  // The median of the effects belongs to all of them.
  void centre(double& overall) {
    std::vector<double> all = effects_;
    const double middle = median_in(all);
    for (double& effect : effects_) effect -= middle;
    overall += middle;
  }
  [[nodiscard]] std::map<Key, double> effects() const {
    std::map<Key, double> named;
    for (std::size_t n = 0; n < names_.size(); ++n)
      named.emplace_hint(named.end(), names_[n], effects_[n]);
    return named;
  }

 private:
  std::vector<std::size_t> of_;  // by plot
  std::vector<Key> names_;       // by group, and the rest
  std::vector<double> effects_;
  std::vector<double> steps_;
  std::vector<std::vector<double>> values_;
};

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

void set_spread(const std::vector<std::vector<double>>& by_entry, AdditiveFit& fit) {
  std::vector<double> apart;
  for (const std::vector<double>& residuals : by_entry) {
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
  Groups entries(plots, &WeighedPlot::entry);
  Groups blocks(plots, &WeighedPlot::block);
  for (int round = 0; round < kMostRounds && !plots.empty(); ++round) {
    const double by_entry = entries.sweep(fit.residuals);
    entries.centre(fit.overall);
    const double by_block = blocks.sweep(fit.residuals);
    blocks.centre(fit.overall);
    if (std::max(by_entry, by_block) <= kStill * largest) break;
  }
  fit.entries = entries.effects();
  fit.blocks = blocks.effects();
  fit.plots_of_entry = entries.sizes();
  fit.plots_of_block = blocks.sizes();
  set_spread(entries.grouped(fit.residuals), fit);
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
