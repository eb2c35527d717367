#include "sync/statistics/several_tests.h"

#include <Eigen/Cholesky>
#include <Eigen/Core>
#include <algorithm>
#include <array>
#include <cassert>
#include <cmath>
#include <numbers>
#include <tuple>
#include <utility>

#include "sync/statistics/rounding.h"

namespace ligule::statistics {
namespace {

using Eigen::Index;
using Eigen::MatrixXd;
using Eigen::Vector2d;
using Eigen::VectorXd;

// What there is, in one canonical order: values as distances from their mean, in units of the
// largest of these, so that neither an offset nor a unit costs digits. Levels are the entries that
// have a value, then the tests.
struct Table {
  VectorXd values;
  std::vector<Index> entry, test;                    // of each value, its levels
  std::vector<std::optional<Index>> level_of_entry;  // by the caller's index
  Index entries = 0, tests = 0;
  double offset = 0.0, unit = 0.0;
  MatrixXd together;  // levels x levels: values that two levels share
  VectorXd counts;    // values of each level
  VectorXd totals;    // their sum

  [[nodiscard]] Index levels() const { return entries + tests; }
  [[nodiscard]] double n() const { return static_cast<double>(values.size()); }
};

// The levels of those that occur, in index order, numbered from `next` on.
std::vector<std::optional<Index>> levels_of(const std::vector<bool>& present, Index next) {
  std::vector<std::optional<Index>> levels(present.size());
  for (std::size_t i = 0; i < present.size(); ++i) {
    if (present[i]) levels[i] = next++;
  }
  return levels;
}

void count(Table& table) {
  table.together = MatrixXd::Zero(table.levels(), table.levels());
  table.counts = VectorXd::Zero(table.levels());
  table.totals = VectorXd::Zero(table.levels());
  for (Index i = 0; i < table.values.size(); ++i) {
    const Index entry = table.entry[static_cast<std::size_t>(i)];
    const Index test = table.test[static_cast<std::size_t>(i)];
    table.together(entry, test) += 1.0;
    table.together(test, entry) += 1.0;
    for (const Index level : {entry, test}) {
      table.counts(level) += 1.0;
      table.totals(level) += table.values(i);
    }
  }
  table.together.diagonal() = table.counts;
}

// Empty without two values that differ.
std::optional<Table> table_of(std::span<const Observation> observations, std::size_t entries,
                              std::size_t tests) {
  std::vector<Observation> cells(observations.begin(), observations.end());
  std::ranges::sort(cells, {}, [](const Observation& cell) {
    return std::tie(cell.treatment, cell.block, cell.value);
  });
  std::vector<bool> has_entry(entries, false), has_test(tests, false);
  Table table;
  table.values.resize(std::ssize(cells));
  for (std::size_t i = 0; i < cells.size(); ++i) {
    assert(cells[i].treatment < entries && cells[i].block < tests);
    has_entry[cells[i].treatment] = true;
    has_test[cells[i].block] = true;
    table.values(static_cast<Index>(i)) = cells[i].value;
  }
  if (table.values.size() < 2) return std::nullopt;
  const double largest = table.values.cwiseAbs().maxCoeff();
  for (int pass = 0; pass < 2; ++pass) {  // the second takes the rounding of the first out
    const double mean = table.values.mean();
    table.offset += mean;
    table.values.array() -= mean;
  }
  table.unit = table.values.cwiseAbs().maxCoeff();
  if (!std::isfinite(table.unit) || table.unit <= kNoise * largest) return std::nullopt;
  table.values /= table.unit;

  table.entries = static_cast<Index>(std::ranges::count(has_entry, true));
  table.tests = static_cast<Index>(std::ranges::count(has_test, true));
  table.level_of_entry = levels_of(has_entry, 0);
  const auto level_of_test = levels_of(has_test, table.entries);
  for (const Observation& cell : cells) {
    table.entry.push_back(table.level_of_entry[cell.treatment].value_or(0));
    table.test.push_back(level_of_test[cell.block].value_or(0));
  }
  count(table);
  return table;
}

// The model at some ratios, in the units of the table. With H the variance of the values over that
// of the error, everything comes of the factor of I + ratio Z'Z ratio (Bates et al. 2015, eq. 18).
struct Solution {
  VectorXd ratio;  // of each level
  Eigen::LLT<MatrixXd> factor;
  VectorXd counts_down;      // factor^-1 (ratio x counts)
  double mean_weight = 0.0;  // 1' H^-1 1
  double mean = 0.0;
  VectorXd effects;          // of each level
  VectorXd residual_totals;  // of each level
  double penalised = 0.0;    // residual sum of squares and that of the scaled effects
  double criterion = 0.0;
};

std::optional<Solution> solve(const Table& table, SpreadRatios ratios) {
  Solution s;
  s.ratio.resize(table.levels());
  s.ratio.head(table.entries).setConstant(ratios.entry);
  s.ratio.tail(table.tests).setConstant(ratios.test);
  MatrixXd left = s.ratio.asDiagonal() * table.together * s.ratio.asDiagonal();
  left.diagonal().array() += 1.0;
  s.factor.compute(left);
  if (s.factor.info() != Eigen::Success) return std::nullopt;
  const auto down = s.factor.matrixL();
  s.counts_down = down.solve(s.ratio.cwiseProduct(table.counts));
  const VectorXd totals_down = down.solve(s.ratio.cwiseProduct(table.totals));
  s.mean_weight = table.n() - s.counts_down.squaredNorm();
  s.mean = (table.values.sum() - s.counts_down.dot(totals_down)) / s.mean_weight;
  const VectorXd scaled = s.factor.matrixU().solve(totals_down - s.mean * s.counts_down);
  s.effects = s.ratio.cwiseProduct(scaled);

  s.residual_totals = VectorXd::Zero(table.levels());
  s.penalised = scaled.squaredNorm();
  for (Index i = 0; i < table.values.size(); ++i) {
    const Index entry = table.entry[static_cast<std::size_t>(i)];
    const Index test = table.test[static_cast<std::size_t>(i)];
    const double residual = table.values(i) - s.mean - s.effects(entry) - s.effects(test);
    s.residual_totals(entry) += residual;
    s.residual_totals(test) += residual;
    s.penalised += residual * residual;
  }
  const double df = table.n() - 1.0;
  const double determinant = 2.0 * s.factor.matrixLLT().diagonal().array().log().sum();
  s.criterion = determinant + std::log(s.mean_weight) +
                df * (1.0 + std::log(2.0 * std::numbers::pi * s.penalised / df));
  if (!std::isfinite(s.criterion)) return std::nullopt;
  return s;
}

// First and second derivatives of the criterion.
struct Slopes {
  Vector2d gradient;
  Eigen::Matrix2d curvature;
};

// By the squared ratios. With P the matrix that takes values to residuals, Z'PZ and Z'Py say it
// all: the derivative by a squared ratio is tr(Z'PZ) - df |Z'Py|^2 / y'Py of its levels.
Slopes slopes_by_square(const Table& table, const Solution& s) {
  const MatrixXd half = s.factor.matrixL().solve(MatrixXd(s.ratio.asDiagonal() * table.together));
  const VectorXd mean_part = table.counts - half.transpose() * s.counts_down;
  const MatrixXd inner =
      table.together - half.transpose() * half - mean_part * mean_part.transpose() / s.mean_weight;
  const double df = table.n() - 1.0;
  const std::array<std::pair<Index, Index>, 2> parts = {
      {{0, table.entries}, {table.entries, table.tests}}};
  Slopes out;
  Vector2d share;
  for (Index i = 0; i < 2; ++i) {
    const auto [first, size] = parts[static_cast<std::size_t>(i)];
    share(i) = s.residual_totals.segment(first, size).squaredNorm() / s.penalised;
    out.gradient(i) = inner.diagonal().segment(first, size).sum() - df * share(i);
  }
  for (Index i = 0; i < 2; ++i) {
    for (Index j = 0; j < 2; ++j) {
      const auto [row, rows] = parts[static_cast<std::size_t>(i)];
      const auto [column, columns] = parts[static_cast<std::size_t>(j)];
      const auto block = inner.block(row, column, rows, columns);
      const double both = s.residual_totals.segment(row, rows).dot(
          block * s.residual_totals.segment(column, columns));
      out.curvature(i, j) =
          df * (2.0 * both / s.penalised - share(i) * share(j)) - block.squaredNorm();
    }
  }
  return out;
}

// The search runs in log(1 + values of a level x squared ratio), of entries and of tests: 0 or
// more, and in a complete table the criterion is convex in them, with its lowest point at the logs
// of the two F. At 0 the slope still tells whether to leave it, which by the ratio itself it would
// not.
struct Search {
  const Table& table;
  Vector2d per_level;  // mean count of values of an entry, of a test

  [[nodiscard]] SpreadRatios ratios(const Vector2d& at) const {
    const Vector2d square = at.array().exp().cwiseMax(1.0) - 1.0;
    return {std::sqrt(square(0) / per_level(0)), std::sqrt(square(1) / per_level(1))};
  }
  [[nodiscard]] std::optional<Solution> solve_at(const Vector2d& at) const {
    return solve(table, ratios(at));
  }
  [[nodiscard]] Slopes slopes(const Vector2d& at, const Solution& s) const {
    Slopes out = slopes_by_square(table, s);
    const Vector2d rate = at.array().exp() / per_level.array();
    out.gradient.array() *= rate.array();
    out.curvature = rate.asDiagonal() * out.curvature * rate.asDiagonal();
    out.curvature.diagonal() += out.gradient;
    return out;
  }
};

// Newton's step among what may move: an end at 0 that would go below stays. Where the criterion is
// not curved upwards, and when asked for, each goes down its own slope.
Vector2d step_of(const Vector2d& at, Slopes slopes, bool each_alone) {
  Eigen::Matrix2d curvature = slopes.curvature;
  for (Index i = 0; i < 2; ++i) {
    if (at(i) > 0.0 || slopes.gradient(i) < 0.0) continue;
    slopes.gradient(i) = 0.0;
    curvature(i, 1 - i) = curvature(1 - i, i) = 0.0;
    curvature(i, i) = 1.0;
  }
  const double determinant = curvature(0, 0) * curvature(1, 1) - curvature(0, 1) * curvature(1, 0);
  Vector2d step;
  if (!each_alone && curvature(0, 0) > 0.0 && determinant > 0.0) {
    step(0) = curvature(0, 1) * slopes.gradient(1) - curvature(1, 1) * slopes.gradient(0);
    step(1) = curvature(1, 0) * slopes.gradient(0) - curvature(0, 0) * slopes.gradient(1);
    step /= determinant;
  } else {
    step = -slopes.gradient.array() / curvature.diagonal().array().abs().max(1e-3);
  }
  return step.cwiseMax(-2.0).cwiseMin(2.0);
}

struct Place {
  Vector2d at;
  Solution solution;
};

// Half the step, and again, until the criterion is no higher but for rounding.
std::optional<Place> downhill(const Search& search, const Place& from, Vector2d step) {
  const double noise = 1e-13 * (1.0 + std::fabs(from.solution.criterion));
  for (int halvings = 0; halvings < 30; ++halvings, step *= 0.5) {
    const Vector2d at = (from.at + step).cwiseMax(0.0);
    std::optional<Solution> solution = search.solve_at(at);
    if (!solution || solution->criterion > from.solution.criterion + noise) continue;
    return Place{at, *std::move(solution)};
  }
  return std::nullopt;
}

std::optional<SpreadRatios> lowest(const Search& search, const Vector2d& start) {
  std::optional<Solution> first = search.solve_at(start);
  if (!first) return std::nullopt;
  Place place{start, *std::move(first)};
  for (int steps = 0; steps < 100; ++steps) {
    const Slopes slopes = search.slopes(place.at, place.solution);
    std::optional<Place> next = downhill(search, place, step_of(place.at, slopes, false));
    if (!next) next = downhill(search, place, step_of(place.at, slopes, true));
    if (!next) break;
    const double moved = (next->at - place.at).cwiseAbs().maxCoeff();
    place = *std::move(next);
    if (moved <= 1e-10) break;
  }
  return search.ratios(place.at);
}

// Henderson's equations: the variance of a prediction's error is that of the effect given the mean,
// and what the estimated mean adds.
PredictedEntry predicted(const Table& table, const Solution& s, const MatrixXd& unit_down,
                         const VectorXd& counts_solved, double error_variance, Index level) {
  PredictedEntry entry;
  entry.effect = table.unit * s.effects(level);
  const double ratio = s.ratio(level);
  if (ratio <= 0.0) return entry;
  const double variance = unit_down.col(level).squaredNorm() +
                          counts_solved(level) * counts_solved(level) / s.mean_weight;
  entry.standard_error = finite(ratio * std::sqrt(error_variance * variance));
  return entry;
}

std::optional<RandomModel> model_at(const Table& table, SpreadRatios ratios) {
  const std::optional<Solution> s = solve(table, ratios);
  if (!s) return std::nullopt;
  RandomModel model;
  const double df = table.n() - 1.0;
  model.ratios = ratios;
  model.criterion = s->criterion + 2.0 * df * std::log(table.unit);
  model.error_variance = s->penalised / df * table.unit * table.unit;
  model.mean = table.offset + table.unit * s->mean;
  if (!std::isfinite(model.error_variance) || !std::isfinite(model.mean)) return std::nullopt;
  const MatrixXd unit_down =
      s->factor.matrixL().solve(MatrixXd::Identity(table.levels(), table.entries));
  const VectorXd counts_solved = s->factor.matrixU().solve(s->counts_down);
  for (const std::optional<Index>& level : table.level_of_entry) {
    model.entries.emplace_back();
    if (!level) continue;
    model.entries.back() =
        predicted(table, *s, unit_down, counts_solved, model.error_variance, *level);
  }
  return model;
}

}  // namespace

std::optional<RandomModel> random_model_at(std::span<const Observation> observations,
                                           std::size_t entries, std::size_t tests,
                                           SpreadRatios ratios) {
  const std::optional<Table> table = table_of(observations, entries, tests);
  if (!table) return std::nullopt;
  return model_at(*table, ratios);
}

std::optional<RandomModel> random_model(std::span<const Observation> observations,
                                        std::size_t entries, std::size_t tests) {
  const Fit fit = fit_in_blocks(observations, entries, tests);
  // These two are there only in a connected table with an error mean square above zero.
  if (!fit.treatment.f || !fit.block_adjusted || !fit.block_adjusted->f) return std::nullopt;
  const std::optional<Table> table = table_of(observations, entries, tests);
  if (!table) return std::nullopt;
  const Vector2d levels(static_cast<double>(table->entries), static_cast<double>(table->tests));
  const Search search{*table, table->n() / levels.array()};
  const Vector2d start(std::log(std::max(1.0, *fit.treatment.f)),
                       std::log(std::max(1.0, *fit.block_adjusted->f)));
  const std::optional<SpreadRatios> ratios = lowest(search, start);
  if (!ratios) return std::nullopt;
  return model_at(*table, *ratios);
}

}  // namespace ligule::statistics
