#include "sync/statistics/several_tests.h"

#include <Eigen/Cholesky>
#include <Eigen/Core>
#include <algorithm>
#include <array>
#include <cassert>
#include <cmath>
#include <numbers>
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
  const std::vector<Observation> cells = in_order(observations);
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

// Z'PZ, levels x levels, with P the matrix that takes values to residuals over their variance.
MatrixXd seen_by_levels(const Table& table, const Solution& s) {
  const MatrixXd half = s.factor.matrixL().solve(MatrixXd(s.ratio.asDiagonal() * table.together));
  const VectorXd mean_part = table.counts - half.transpose() * s.counts_down;
  MatrixXd seen = table.together - mean_part * mean_part.transpose() / s.mean_weight;
  // Half of it is enough work: it is symmetric.
  seen.selfadjointView<Eigen::Lower>().rankUpdate(half.transpose(), -1.0);
  seen.triangularView<Eigen::StrictlyUpper>() = seen.transpose();
  return seen;
}

// First and second derivatives of the criterion.
struct Slopes {
  Vector2d gradient;
  Eigen::Matrix2d curvature;
};

// By the squared ratios. With P the matrix that takes values to residuals, Z'PZ and Z'Py say it
// all: the derivative by a squared ratio is tr(Z'PZ) - df |Z'Py|^2 / y'Py of its levels.
Slopes slopes_by_square(const Table& table, const Solution& s) {
  const MatrixXd inner = seen_by_levels(table, s);
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

// Errors of the predictions, over the error variance: each entry's part of the factor, and what the
// estimated mean adds to it.
struct PredictionErrors {
  MatrixXd unit_down;  // levels x entries: factor^-1 of each entry's own level
  VectorXd mean_part;  // of each entry
  VectorXd of_effect;  // Henderson's: the ratios are taken for known
  VectorXd
      beside_average;  // the same beside the average effect, the ratios estimated; may be empty
};

// How far chance moves the two squared ratios, by their expected information: over the pair, the
// error variance profiled out. Empty where it tells nothing.
std::optional<Eigen::Matrix2d> variance_of_squares(const Table& table, const MatrixXd& seen,
                                                   bool by_test) {
  const Index entries = table.entries, tests = table.tests;
  const double df = table.n() - 1.0;
  const double entry_trace = seen.diagonal().head(entries).sum();
  const double test_trace = seen.diagonal().tail(tests).sum();
  Eigen::Matrix2d information;
  information(0, 0) =
      seen.topLeftCorner(entries, entries).squaredNorm() - entry_trace * entry_trace / df;
  information(1, 1) =
      seen.bottomRightCorner(tests, tests).squaredNorm() - test_trace * test_trace / df;
  information(0, 1) = information(1, 0) =
      seen.topRightCorner(entries, tests).squaredNorm() - entry_trace * test_trace / df;
  information *= 0.5;
  if (!by_test) {  // it stays at 0
    information(0, 1) = information(1, 0) = 0.0;
    information(1, 1) = 1.0;
  }
  const double determinant =
      information(0, 0) * information(1, 1) - information(0, 1) * information(1, 0);
  if (!(information(0, 0) > 0.0) || !(determinant > kNoise * information(0, 0) * information(1, 1)))
    return std::nullopt;
  Eigen::Matrix2d variance = information.inverse();
  if (!by_test) variance(1, 1) = 0.0;
  return variance;
}

// What the estimated ratios add to each entry's error beside the average effect, over the error
// variance: by how much the effects move with the squared ratios, times how far chance moves these.
std::optional<VectorXd> error_by_ratios(const Table& table, const Solution& s,
                                        const PredictionErrors& errors) {
  const Index entries = table.entries, tests = table.tests;
  const MatrixXd seen = seen_by_levels(table, s);
  const auto variance = variance_of_squares(table, seen, s.ratio(entries) > 0.0);
  if (!variance) return std::nullopt;
  // Rows are entries, columns the level totals of residuals that their effects move with.
  MatrixXd by_entry = errors.unit_down.transpose() * errors.unit_down +
                      errors.mean_part * errors.mean_part.transpose() / s.mean_weight;
  MatrixXd by_test = -(s.ratio(0) * s.ratio(0)) * seen.topRightCorner(entries, tests);
  by_entry.rowwise() -= by_entry.colwise().mean().eval();
  by_test.rowwise() -= by_test.colwise().mean().eval();
  const MatrixXd entry_seen = by_entry * seen.topRows(entries);
  const MatrixXd test_seen = by_test * seen.bottomRightCorner(tests, tests);
  const VectorXd alone = entry_seen.leftCols(entries).cwiseProduct(by_entry).rowwise().sum();
  const VectorXd both = entry_seen.rightCols(tests).cwiseProduct(by_test).rowwise().sum();
  const VectorXd other = test_seen.cwiseProduct(by_test).rowwise().sum();
  return (*variance)(0, 0) * alone + 2.0 * (*variance)(0, 1) * both + (*variance)(1, 1) * other;
}

// `s` at an entry ratio above 0.
PredictionErrors prediction_errors(const Table& table, const Solution& s) {
  PredictionErrors errors;
  const Index entries = table.entries;
  errors.unit_down = s.factor.matrixL().solve(MatrixXd::Identity(table.levels(), entries));
  errors.mean_part = s.factor.matrixU().solve(s.counts_down).head(entries);
  const double square = s.ratio(0) * s.ratio(0);
  const auto errors_of = [&](const MatrixXd& down, const VectorXd& mean) -> VectorXd {
    return square * (down.colwise().squaredNorm().transpose() + mean.cwiseAbs2() / s.mean_weight);
  };
  errors.of_effect = errors_of(errors.unit_down, errors.mean_part);
  const auto by_ratios = error_by_ratios(table, s, errors);
  if (!by_ratios) return errors;
  const MatrixXd down = errors.unit_down.colwise() - errors.unit_down.rowwise().mean();
  const VectorXd mean = errors.mean_part.array() - errors.mean_part.mean();
  // Twice: once for itself, once because Henderson's is too small by it at estimated ratios.
  errors.beside_average = errors_of(down, mean) + 2.0 * *by_ratios;
  return errors;
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
  std::optional<PredictionErrors> errors;
  if (ratios.entry > 0.0) errors = prediction_errors(table, *s);
  for (const std::optional<Index>& level : table.level_of_entry) {
    model.entries.emplace_back();
    if (!level) continue;
    PredictedEntry& entry = model.entries.back().emplace();
    entry.effect = table.unit * s->effects(*level);
    if (!errors) continue;
    entry.standard_error = finite(std::sqrt(model.error_variance * errors->of_effect(*level)));
    if (errors->beside_average.size() == 0) continue;
    entry.comparison_error =
        finite(std::sqrt(model.error_variance * errors->beside_average(*level)));
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
