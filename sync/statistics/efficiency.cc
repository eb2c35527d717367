#include "sync/statistics/efficiency.h"

#include <cassert>

#include "sync/statistics/rounding.h"

namespace ligule::statistics {
namespace {

// Of the pairs of observations that share the level of every factor that is kept: the part of them
// that lie in different levels of one that is not. Empty without such pairs.
std::optional<double> share_apart(const CrossedData& data, const std::vector<bool>& left_out,
                                  std::size_t term) {
  double pairs = 0.0;
  double apart = 0.0;
  for (std::size_t a = 0; a < data.value.size(); ++a) {
    for (std::size_t b = a + 1; b < data.value.size(); ++b) {
      bool compared = true;
      for (std::size_t t = 0; t < data.terms.size(); ++t) {
        if (!left_out[t]) compared = compared && data.terms[t].levels[a] == data.terms[t].levels[b];
      }
      if (!compared) continue;
      pairs += 1.0;
      if (data.terms[term].levels[a] != data.terms[term].levels[b]) apart += 1.0;
    }
  }
  if (pairs == 0.0) return std::nullopt;
  return apart / pairs;
}

// f, g: error df of this design and of the other.
double fishers_correction(double f, double g) {
  return (f + 1.0) * (g + 3.0) / ((f + 3.0) * (g + 1.0));
}

// Over all pairs of treatments with a value. Empty where one of them can't be had.
std::optional<double> mean_variance_of_difference(const Fit& fit) {
  double sum = 0.0;
  double pairs = 0.0;
  for (std::size_t a = 0; a < fit.treatments.size(); ++a) {
    for (std::size_t b = a + 1; b < fit.treatments.size(); ++b) {
      if (fit.treatments[a].count == 0 || fit.treatments[b].count == 0) continue;
      const std::optional<double> error = difference_error(fit, a, b);
      if (!error) return std::nullopt;
      sum += *error * *error;
      pairs += 1.0;
    }
  }
  if (pairs == 0.0) return std::nullopt;
  return sum / pairs;
}

}  // namespace

std::optional<Efficiency> efficiency_over(const CrossedData& data, const CrossedFit& fit,
                                          const std::vector<bool>& left_out) {
  assert(left_out.size() == data.terms.size() && fit.terms.size() == data.terms.size());
  const double error = fit.fit.error_mean_square.value_or(0.0);
  if (!(error > 0.0)) return std::nullopt;
  double other_error = error;
  double other_df = fit.fit.df_error;
  for (std::size_t t = 0; t < data.terms.size(); ++t) {
    if (!left_out[t]) continue;
    const TermLine& line = fit.terms[t];
    const std::optional<double> apart = share_apart(data, left_out, t);
    if (!line.adjusted.mean_square || line.level_weight <= kNoise || !apart) return std::nullopt;
    other_error += (*line.adjusted.mean_square - error) / line.level_weight * *apart;
    other_df += line.adjusted.df;
  }
  const double correction = fishers_correction(fit.fit.df_error, other_df);
  const std::optional<double> plain = finite(other_error / error);
  // The variance among levels may be estimated below zero by more than there is.
  if (!plain || *plain <= 0.0) return std::nullopt;
  return Efficiency{*plain, *plain * correction};
}

std::optional<Efficiency> efficiency_beside(const Fit& fit, const Fit& other) {
  const std::optional<double> of_this = mean_variance_of_difference(fit);
  const std::optional<double> of_other = mean_variance_of_difference(other);
  if (!of_this || !of_other || !(*of_this > 0.0)) return std::nullopt;
  const std::optional<double> plain = finite(*of_other / *of_this);
  if (!plain || *plain <= 0.0) return std::nullopt;
  return Efficiency{*plain, *plain * fishers_correction(fit.df_error, other.df_error)};
}

std::optional<Efficiency> efficiency_of_complete_blocks(const Fit& fit) {
  const auto t = static_cast<double>(fit.treatments_present);
  const auto b = static_cast<double>(fit.blocks_present);
  const bool complete = fit.imbalance.empty() && static_cast<double>(fit.observations) == t * b;
  const double error = fit.error_mean_square.value_or(0.0);
  if (!complete || !(error > 0.0) || !fit.block || !fit.block->mean_square) return std::nullopt;
  const double other =
      ((b - 1.0) * *fit.block->mean_square + b * (t - 1.0) * error) / (b * t - 1.0);
  const std::optional<double> plain = finite(other / error);
  if (!plain || *plain <= 0.0) return std::nullopt;
  return Efficiency{*plain, *plain * fishers_correction(fit.df_error, t * (b - 1.0))};
}

}  // namespace ligule::statistics
