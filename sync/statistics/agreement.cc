#include "sync/statistics/agreement.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <vector>

#include "sync/statistics/distributions.h"
#include "sync/statistics/rounding.h"

namespace ligule::statistics {
namespace {

constexpr double kInfinity = std::numeric_limits<double>::infinity();
constexpr double kUpperTail = 0.975;  // of an interval of 95 percent

double squared(double value) {
  return value * value;
}

// A mean square that is only rounding of values as large as `largest` is none.
double above_noise(double mean_square, double largest) {
  return mean_square <= squared(kNoise * largest) ? 0.0 : mean_square;
}

double largest_of(std::span<const double> values) {
  double largest = 0.0;
  for (const double value : values) largest = std::max(largest, std::fabs(value));
  return largest;
}

// Sums of squares and products about the means, over n.
struct Moments {
  double mean_one = 0.0, mean_other = 0.0;
  double variance_one = 0.0, variance_other = 0.0;
  double covariance = 0.0;
};

Moments moments(std::span<const RatedPair> pairs) {
  const auto n = static_cast<double>(pairs.size());
  Moments of;
  double largest = 0.0;
  for (const RatedPair& pair : pairs) {
    of.mean_one += pair.one / n;
    of.mean_other += pair.other / n;
    largest = std::max({largest, std::fabs(pair.one), std::fabs(pair.other)});
  }
  for (const RatedPair& pair : pairs) {
    const double one = pair.one - of.mean_one;
    const double other = pair.other - of.mean_other;
    of.variance_one += one * one / n;
    of.variance_other += other * other / n;
    of.covariance += one * other / n;
  }
  of.variance_one = above_noise(of.variance_one, largest);
  of.variance_other = above_noise(of.variance_other, largest);
  return of;
}

// Lin (2000), the variance of z; `shift` is the difference of the means over the root of the
// product of the standard deviations.
std::optional<Interval> concordance_interval(const Concordance& of, double shift) {
  const double r = of.correlation;
  const double c = of.coefficient;
  if (r == 0.0 || std::fabs(c) >= 1.0 || 1.0 - squared(r) <= kNoise) return std::nullopt;
  const double rest = 1.0 - squared(c);
  const double variance =
      ((1.0 - squared(r)) * squared(c) / (rest * squared(r)) +
       2.0 * c * squared(c) * (1.0 - c) * squared(shift) / (r * squared(rest)) -
       squared(squared(c)) * squared(squared(shift)) / (2.0 * squared(r) * squared(rest))) /
      (static_cast<double>(of.pairs) - 2.0);
  const auto normal = t_quantile(kUpperTail, kInfinity);
  if (!normal || !(variance >= 0.0)) return std::nullopt;
  const double reach = *normal * std::sqrt(variance);
  return Interval{std::tanh(std::atanh(c) - reach), std::tanh(std::atanh(c) + reach)};
}

// McGraw & Wong (1996), table 7, ICC(A,1).
std::optional<Interval> intraclass_interval(const IntraclassCorrelation& of) {
  const auto n = static_cast<double>(of.plots);
  const auto k = static_cast<double>(of.raters);
  const double raters = k * of.coefficient * of.between_raters;
  const double error = (n + of.coefficient * (k * n - k - n)) * of.error;
  const double below = squared(raters) / (k - 1.0) + squared(error) / ((n - 1.0) * (k - 1.0));
  if (!(below > 0.0)) return std::nullopt;
  const double df = squared(raters + error) / below;
  const auto f_lower = f_quantile(kUpperTail, n - 1.0, df);
  const auto f_upper = f_quantile(kUpperTail, df, n - 1.0);
  if (!f_lower || !f_upper) return std::nullopt;
  const double rest = k * of.between_raters + (k * n - k - n) * of.error;
  const double lower =
      n * (of.between_plots - *f_lower * of.error) / (*f_lower * rest + n * of.between_plots);
  const double upper =
      n * (*f_upper * of.between_plots - of.error) / (rest + n * *f_upper * of.between_plots);
  if (!std::isfinite(lower) || !std::isfinite(upper)) return std::nullopt;
  return Interval{lower, upper};
}

// 1 for the same category, 0 for the two ends of the scale.
double likeness(std::size_t row, std::size_t column, std::size_t categories,
                Disagreement disagreement) {
  const double apart = (static_cast<double>(row) - static_cast<double>(column)) /
                       static_cast<double>(categories - 1);
  return 1.0 - (disagreement == Disagreement::kSteps ? std::fabs(apart) : squared(apart));
}

// Shares of all plots, and of the rows and columns.
struct Shares {
  std::size_t categories = 0;
  std::vector<double> cells, rows, columns;
  std::size_t plots = 0;

  [[nodiscard]] double cell(std::size_t row, std::size_t column) const {
    return cells[row * categories + column];
  }
};

Shares shares(std::span<const std::size_t> counts, std::size_t categories) {
  Shares of{categories, {}, std::vector<double>(categories), std::vector<double>(categories), 0};
  for (const std::size_t count : counts) of.plots += count;
  for (std::size_t at = 0; at < counts.size(); ++at) {
    const double share = static_cast<double>(counts[at]) / static_cast<double>(of.plots);
    of.cells.push_back(share);
    of.rows[at / categories] += share;
    of.columns[at % categories] += share;
  }
  return of;
}

// Fleiss, Cohen & Everitt (1969), equation 13, for agreement weights from 0 to 1.
std::optional<double> kappa_error(const Shares& of, Disagreement disagreement, double kappa,
                                  double by_chance) {
  std::vector<double> of_row(of.categories), of_column(of.categories);
  for (std::size_t row = 0; row < of.categories; ++row)
    for (std::size_t column = 0; column < of.categories; ++column) {
      const double alike = likeness(row, column, of.categories, disagreement);
      of_row[row] += of.columns[column] * alike;
      of_column[column] += of.rows[row] * alike;
    }
  double sum = 0.0;
  for (std::size_t row = 0; row < of.categories; ++row)
    for (std::size_t column = 0; column < of.categories; ++column)
      sum += of.cell(row, column) * squared(likeness(row, column, of.categories, disagreement) -
                                            (of_row[row] + of_column[column]) * (1.0 - kappa));
  const double variance = (sum - squared(kappa - by_chance * (1.0 - kappa))) /
                          (static_cast<double>(of.plots) * squared(1.0 - by_chance));
  if (!(variance > kNoise)) return std::nullopt;
  return std::sqrt(variance);
}

}  // namespace

std::optional<Concordance> concordance(std::span<const RatedPair> pairs) {
  if (pairs.size() < 3) return std::nullopt;
  const Moments of = moments(pairs);
  const double scale = std::sqrt(of.variance_one * of.variance_other);
  if (!(scale > 0.0) || !std::isfinite(scale)) return std::nullopt;
  Concordance found;
  found.pairs = pairs.size();
  found.mean_difference = of.mean_other - of.mean_one;
  found.correlation = std::clamp(of.covariance / scale, -1.0, 1.0);
  found.accuracy =
      2.0 * scale / (of.variance_one + of.variance_other + squared(found.mean_difference));
  found.coefficient = found.correlation * found.accuracy;
  found.interval = concordance_interval(found, found.mean_difference / std::sqrt(scale));
  return found;
}

std::optional<IntraclassCorrelation> intraclass_correlation(std::span<const double> values,
                                                            std::size_t raters) {
  if (raters < 2 || values.size() % raters != 0 || values.size() / raters < 2) return std::nullopt;
  IntraclassCorrelation found;
  found.raters = raters;
  found.plots = values.size() / raters;
  const auto n = static_cast<double>(found.plots);
  const auto k = static_cast<double>(raters);
  double mean = 0.0;
  std::vector<double> plots(found.plots), people(raters);
  for (std::size_t at = 0; at < values.size(); ++at) {
    mean += values[at] / (n * k);
    plots[at / raters] += values[at] / k;
    people[at % raters] += values[at] / n;
  }
  for (const double plot : plots) found.between_plots += k * squared(plot - mean) / (n - 1.0);
  for (const double person : people) found.between_raters += n * squared(person - mean) / (k - 1.0);
  for (std::size_t at = 0; at < values.size(); ++at)
    found.error += squared(values[at] - plots[at / raters] - people[at % raters] + mean) /
                   ((n - 1.0) * (k - 1.0));
  const double largest = largest_of(values);
  for (double* each : {&found.between_plots, &found.between_raters, &found.error})
    *each = above_noise(*each, largest);
  if (found.between_plots == 0.0 && found.error == 0.0) return std::nullopt;
  const double all =
      found.between_plots + (k - 1.0) * found.error + k * (found.between_raters - found.error) / n;
  if (!(all > 0.0) || !std::isfinite(all)) return std::nullopt;
  found.coefficient = (found.between_plots - found.error) / all;
  found.interval = intraclass_interval(found);
  return found;
}

std::optional<WeightedKappa> weighted_kappa(std::span<const std::size_t> counts,
                                            std::size_t categories, Disagreement disagreement) {
  if (categories < 2 || counts.size() != categories * categories) return std::nullopt;
  const Shares of = shares(counts, categories);
  if (of.plots < 2) return std::nullopt;
  double seen = 0.0;
  double by_chance = 0.0;
  for (std::size_t row = 0; row < categories; ++row)
    for (std::size_t column = 0; column < categories; ++column) {
      const double alike = likeness(row, column, categories, disagreement);
      seen += of.cell(row, column) * alike;
      by_chance += of.rows[row] * of.columns[column] * alike;
    }
  if (1.0 - by_chance <= kNoise) return std::nullopt;
  WeightedKappa found;
  found.plots = of.plots;
  found.kappa = (seen - by_chance) / (1.0 - by_chance);
  found.standard_error = kappa_error(of, disagreement, found.kappa, by_chance);
  return found;
}

}  // namespace ligule::statistics
