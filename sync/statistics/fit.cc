#include "sync/statistics/fit.h"

#include <Eigen/Cholesky>
#include <Eigen/Core>
#include <algorithm>
#include <cassert>
#include <cmath>
#include <numeric>
#include <tuple>

#include "sync/statistics/anova.h"
#include "sync/statistics/distributions.h"
#include "sync/statistics/rounding.h"

namespace ligule::statistics {
namespace {

using Eigen::Index;

Index row_of(std::size_t index) {
  return static_cast<Index>(index);
}

// The observations in one canonical order, their values as distances from their own mean, and the
// treatments and blocks that have any, numbered without holes.
struct Centred {
  std::vector<Observation> cells;  // value is centred; treatment and block are rows below
  double mean = 0.0;
  double largest = 0.0;                      // largest |value| before centring
  std::vector<std::size_t> treatment_index;  // row -> the caller's index
  std::vector<std::size_t> treatment_row;    // the caller's index -> row (0 where absent)
  Index blocks = 0;

  [[nodiscard]] Index treatments() const { return row_of(treatment_index.size()); }
};

// Rows for the indices that occur, in index order.
std::vector<std::size_t> rows_of_present(const std::vector<bool>& present) {
  std::vector<std::size_t> rows(present.size(), 0);
  std::size_t next = 0;
  for (std::size_t i = 0; i < present.size(); ++i) {
    if (present[i]) rows[i] = next++;
  }
  return rows;
}

Centred centre(std::span<const Observation> observations, std::size_t treatments,
               std::size_t blocks) {
  Centred data;
  data.cells = in_order(observations);
  std::vector<bool> has_treatment(treatments, false);
  std::vector<bool> has_block(blocks, false);
  for (const Observation& cell : data.cells) {
    assert(cell.treatment < treatments && cell.block < blocks && std::isfinite(cell.value));
    has_treatment[cell.treatment] = true;
    has_block[cell.block] = true;
    data.mean += cell.value;
    data.largest = std::max(data.largest, std::fabs(cell.value));
  }
  data.treatment_row = rows_of_present(has_treatment);
  const std::vector<std::size_t> block_row = rows_of_present(has_block);
  for (std::size_t i = 0; i < treatments; ++i) {
    if (has_treatment[i]) data.treatment_index.push_back(i);
  }
  data.blocks = row_of(static_cast<std::size_t>(std::ranges::count(has_block, true)));

  // The second pass takes the rounding of the first out of the mean, and every sum that follows
  // works on distances from it: with an offset of 1e9 a one-pass sum of squares keeps no digit.
  const auto n = static_cast<double>(data.cells.size());
  data.mean /= n;
  double left = 0.0;
  for (const Observation& cell : data.cells) left += cell.value - data.mean;
  data.mean += left / n;
  for (Observation& cell : data.cells) {
    cell.value -= data.mean;
    cell.treatment = data.treatment_row[cell.treatment];
    cell.block = block_row[cell.block];
  }
  return data;
}

struct Sums {
  Eigen::MatrixXd counts;  // treatments x blocks
  Eigen::VectorXd per_treatment, per_block;
  Eigen::VectorXd treatment_total, block_total;

  [[nodiscard]] bool complete() const {
    return counts.size() == 0 || (counts.array() == counts(0, 0)).all();
  }
};

Sums add_up(const Centred& data) {
  Sums sums;
  sums.counts = Eigen::MatrixXd::Zero(data.treatments(), data.blocks);
  sums.treatment_total = Eigen::VectorXd::Zero(data.treatments());
  sums.block_total = Eigen::VectorXd::Zero(data.blocks);
  for (const Observation& cell : data.cells) {
    sums.counts(row_of(cell.treatment), row_of(cell.block)) += 1.0;
    sums.treatment_total(row_of(cell.treatment)) += cell.value;
    sums.block_total(row_of(cell.block)) += cell.value;
  }
  sums.per_treatment = sums.counts.rowwise().sum();
  sums.per_block = sums.counts.colwise().sum().transpose();
  return sums;
}

// Which blocks hang together through shared treatments: one number a block, counted from 0.
std::vector<std::size_t> components_of(const Sums& sums, std::size_t& count) {
  const auto blocks = static_cast<std::size_t>(sums.counts.cols());
  std::vector<std::size_t> parent(blocks);
  std::iota(parent.begin(), parent.end(), std::size_t{0});
  const auto root = [&parent](std::size_t block) {
    while (parent[block] != block) block = parent[block] = parent[parent[block]];
    return block;
  };
  for (Index i = 0; i < sums.counts.rows(); ++i) {
    std::optional<std::size_t> first;
    for (std::size_t j = 0; j < blocks; ++j) {
      if (sums.counts(i, row_of(j)) == 0.0) continue;
      if (!first) first = j;
      parent[root(j)] = root(*first);
    }
  }
  std::vector<std::size_t> name(blocks, blocks);
  std::vector<std::size_t> component(blocks);
  count = 0;
  for (std::size_t j = 0; j < blocks; ++j) {
    std::size_t& root_name = name[root(j)];
    if (root_name == blocks) root_name = count++;
    component[j] = root_name;
  }
  return component;
}

struct Effects {
  Eigen::VectorXd treatment, block;  // fitted value = treatment + block, centred
  Eigen::MatrixXd imbalance;         // see Fit::imbalance; 0 x 0 where complete or not connected
  std::size_t components = 1;
};

Effects complete_effects(const Sums& sums) {
  Effects effects;
  effects.treatment = sums.treatment_total.array() / sums.per_treatment.array();
  effects.block = sums.block_total.array() / sums.per_block.array();
  return effects;
}

// Treatments are eliminated from the normal equations; what is left is a system in the block
// effects, with one block of each connected set held at zero (Searle 1971).
Effects least_squares_effects(const Sums& sums) {
  Effects effects;
  const std::vector<std::size_t> component = components_of(sums, effects.components);
  std::vector<bool> held(effects.components, false);
  std::vector<Index> kept;
  for (std::size_t j = component.size(); j-- > 0;) {
    if (held[component[j]]) kept.push_back(row_of(j));
    held[component[j]] = true;
  }
  std::ranges::reverse(kept);

  const Eigen::MatrixXd counts = sums.counts(Eigen::all, kept);
  const Eigen::MatrixXd shares = sums.per_treatment.cwiseInverse().asDiagonal() * counts;
  effects.block = Eigen::VectorXd::Zero(sums.counts.cols());
  Eigen::LDLT<Eigen::MatrixXd> solver;
  if (!kept.empty()) {
    Eigen::MatrixXd left = -(counts.transpose() * shares);
    left.diagonal() += sums.per_block(kept);
    const Eigen::VectorXd right =
        sums.block_total(kept) - shares.transpose() * sums.treatment_total;
    solver.compute(left);
    const Eigen::VectorXd solved = solver.solve(right);
    effects.block(kept) = solved;
  }
  effects.treatment =
      (sums.treatment_total - sums.counts * effects.block).array() / sums.per_treatment.array();
  if (effects.components == 1 && !kept.empty()) {
    const double share = 1.0 / static_cast<double>(sums.counts.cols());
    const Eigen::MatrixXd uneven = (share - shares.array()).matrix();
    const Eigen::MatrixXd solved = solver.solve(uneven.transpose());
    effects.imbalance = uneven * solved;
  }
  return effects;
}

// Counts, raw means and the least-squares means with their standard errors.
void set_estimates(Fit& fit, const Centred& data, const Sums& sums, const Effects& effects) {
  const bool connected = effects.components == 1;
  const bool uneven = effects.imbalance.size() > 0;
  const double block_share = uneven ? effects.block.mean() : 0.0;
  for (Index row = 0; row < data.treatments(); ++row) {
    TreatmentEstimate& estimate =
        fit.treatments[data.treatment_index[static_cast<std::size_t>(row)]];
    const double count = sums.per_treatment(row);
    estimate.count = static_cast<std::size_t>(count);
    estimate.raw_mean = finite(data.mean + sums.treatment_total(row) / count);
    if (!connected) continue;
    estimate.mean = finite(data.mean + effects.treatment(row) + block_share);
    if (!fit.error_mean_square) continue;
    const double factor = 1.0 / count + (uneven ? effects.imbalance(row, row) : 0.0);
    estimate.standard_error = finite(std::sqrt(*fit.error_mean_square * factor));
  }
  fit.present_index = data.treatment_row;
  if (!uneven) return;
  fit.imbalance.reserve(static_cast<std::size_t>(effects.imbalance.size()));
  for (Index a = 0; a < data.treatments(); ++a) {
    for (Index b = 0; b < data.treatments(); ++b) fit.imbalance.push_back(effects.imbalance(a, b));
  }
}

// An empty fit, or what is known before any model: counts and the mean.
Fit start(const Centred& data, std::size_t treatments) {
  Fit fit;
  fit.treatments.resize(treatments);
  fit.present_index.resize(treatments, 0);
  fit.observations = data.cells.size();
  if (fit.observations > 0) fit.mean = finite(data.mean);
  return fit;
}

struct SquaresOfDistances {
  double residual = 0.0, total = 0.0;
  double treatment_adjusted = 0.0, block_adjusted = 0.0;
  double treatment_alone = 0.0, block_alone = 0.0;
};

// Where all pairs have the same error: each treatment is there, as often as any other, and in every
// block alike.
std::optional<double> error_of_every_pair(const Fit& fit) {
  if (!fit.imbalance.empty() || fit.treatments.size() < 2) return std::nullopt;
  const std::size_t count = fit.treatments.front().count;
  const bool alike = std::ranges::all_of(
      fit.treatments, [count](const TreatmentEstimate& one) { return one.count == count; });
  return alike ? difference_error(fit, 0, 1) : std::nullopt;
}

// Each sum of squares as a sum of squared distances between two fitted values, never as a
// difference of two large sums.
SquaresOfDistances squares(const Centred& data, const Sums& sums, const Effects& effects) {
  SquaresOfDistances ss;
  const auto square = [](double distance) { return distance * distance; };
  for (const Observation& cell : data.cells) {
    const Index i = row_of(cell.treatment);
    const Index j = row_of(cell.block);
    const double fitted = effects.treatment(i) + effects.block(j);
    const double treatment_mean = sums.treatment_total(i) / sums.per_treatment(i);
    const double block_mean = sums.block_total(j) / sums.per_block(j);
    ss.residual += square(cell.value - fitted);
    ss.total += square(cell.value);
    ss.treatment_adjusted += square(fitted - block_mean);
    ss.block_adjusted += square(fitted - treatment_mean);
    ss.treatment_alone += square(treatment_mean);
    ss.block_alone += square(block_mean);
  }
  return ss;
}

// The test of a row that has the same sum of squares but for rounding.
void take_test(AnovaRow& row, const AnovaRow& tested) {
  row.f = tested.f;
  row.p = tested.p;
}

}  // namespace

std::vector<Observation> in_order(std::span<const Observation> observations) {
  std::vector<Observation> cells(observations.begin(), observations.end());
  const auto before = [](const Observation& a, const Observation& b) {
    return std::tie(a.treatment, a.block, a.value) < std::tie(b.treatment, b.block, b.value);
  };
  if (!std::ranges::is_sorted(cells, before)) std::ranges::sort(cells, before);
  return cells;
}

Fit fit_in_blocks(std::span<const Observation> observations, std::size_t treatments,
                  std::size_t blocks) {
  const Centred data = centre(observations, treatments, blocks);
  Fit fit = start(data, treatments);
  if (!fit.mean) return fit;
  const Sums sums = add_up(data);
  const Effects effects = sums.complete() ? complete_effects(sums) : least_squares_effects(sums);
  const auto t = static_cast<double>(data.treatments());
  const auto b = static_cast<double>(data.blocks);
  const auto components = static_cast<double>(effects.components);
  fit.treatments_present = static_cast<std::size_t>(data.treatments());
  fit.blocks_present = static_cast<std::size_t>(data.blocks);
  fit.components = effects.components;
  fit.df_error = static_cast<double>(fit.observations) - t - b + components;

  const SquaresOfDistances ss = squares(data, sums, effects);
  set_error_terms(fit, data.largest, ss.residual, ss.total);
  fit.treatment = anova_row(t - components, ss.treatment_adjusted);
  fit.block = anova_row(b - 1.0, ss.block_alone);
  fit.block_adjusted = anova_row(b - components, ss.block_adjusted);
  fit.treatment_alone = anova_row(t - 1.0, ss.treatment_alone);
  if (fit.components == 1) {
    test_against_error(fit.treatment, fit);
    test_against_error(*fit.block, fit);
    // In a complete table neither leans on the other, and each is tested once.
    if (sums.complete()) {
      take_test(*fit.block_adjusted, *fit.block);
      take_test(*fit.treatment_alone, fit.treatment);
    } else {
      test_against_error(*fit.block_adjusted, fit);
      test_against_error(*fit.treatment_alone, fit);
    }
  }
  set_estimates(fit, data, sums, effects);
  return fit;
}

Fit fit_one_way(std::span<const Observation> observations, std::size_t treatments) {
  std::vector<Observation> one_block(observations.begin(), observations.end());
  for (Observation& cell : one_block) cell.block = 0;
  const Centred data = centre(one_block, treatments, 1);
  Fit fit = start(data, treatments);
  if (!fit.mean) return fit;
  const Sums sums = add_up(data);
  Effects effects;
  effects.treatment = sums.treatment_total.array() / sums.per_treatment.array();
  effects.block = Eigen::VectorXd::Zero(1);
  const auto t = static_cast<double>(data.treatments());
  fit.treatments_present = static_cast<std::size_t>(data.treatments());
  fit.components = 1;
  fit.df_error = static_cast<double>(fit.observations) - t;

  const SquaresOfDistances ss = squares(data, sums, effects);
  set_error_terms(fit, data.largest, ss.residual, ss.total);
  fit.treatment = anova_row(t - 1.0, ss.treatment_alone);
  test_against_error(fit.treatment, fit);
  set_estimates(fit, data, sums, effects);
  return fit;
}

std::optional<double> difference_error(const Fit& fit, std::size_t a, std::size_t b) {
  assert(a < fit.treatments.size() && b < fit.treatments.size());
  const TreatmentEstimate& first = fit.treatments[a];
  const TreatmentEstimate& second = fit.treatments[b];
  if (a == b || !first.mean || !second.mean || !fit.error_mean_square) return std::nullopt;
  double factor = 1.0 / static_cast<double>(first.count) + 1.0 / static_cast<double>(second.count);
  if (!fit.imbalance.empty()) {
    const std::size_t width = fit.treatments_present;
    const std::size_t i = fit.present_index[a];
    const std::size_t k = fit.present_index[b];
    factor += fit.imbalance[i * width + i] + fit.imbalance[k * width + k] -
              2.0 * fit.imbalance[i * width + k];
  }
  return finite(std::sqrt(*fit.error_mean_square * factor));
}

std::optional<double> least_significant_difference(const Fit& fit, std::size_t a, std::size_t b,
                                                   double alpha) {
  const std::optional<double> error = difference_error(fit, a, b);
  const std::optional<double> t = t_two_sided_quantile(alpha, fit.df_error);
  if (!error || !t) return std::nullopt;
  return finite(*t * *error);
}

std::optional<double> average_least_significant_difference(const Fit& fit, double alpha) {
  const std::optional<double> t = t_two_sided_quantile(alpha, fit.df_error);
  if (!t) return std::nullopt;
  if (const auto one = error_of_every_pair(fit)) return finite(*t * *one);
  double sum = 0.0;
  double pairs = 0.0;
  for (std::size_t a = 0; a < fit.treatments.size(); ++a) {
    for (std::size_t b = a + 1; b < fit.treatments.size(); ++b) {
      const std::optional<double> error = difference_error(fit, a, b);
      if (!error) continue;
      sum += *error;
      pairs += 1.0;
    }
  }
  if (pairs == 0.0) return std::nullopt;
  return finite(*t * sum / pairs);
}

bool tied(double a, double b) {
  return std::fabs(a - b) <= 1e-12 * std::max(std::fabs(a), std::fabs(b));
}

bool zero_mean(double mean, double largest) {
  return std::fabs(mean) <= kNoise * largest;
}

}  // namespace ligule::statistics
