#include "sync/statistics/stability.h"

#include <Eigen/Cholesky>
#include <Eigen/Core>
#include <Eigen/LU>
#include <algorithm>
#include <cmath>
#include <utility>

#include "sync/statistics/rounding.h"

namespace ligule::statistics {
namespace {

using Eigen::Index;
using Eigen::MatrixXd;
using Eigen::VectorXd;

// Below this share of the whole an equation is only rounding noise.
constexpr double kNothingSeen = 1e-9;

Index index_in(std::size_t index) {
  return static_cast<Index>(index);
}

// The values as distances from their mean, and what entry + test leaves of each.
struct Additive {
  std::vector<Observation> cells;
  std::vector<double> residuals;
  std::vector<double> test_means;  // least squares, less the mean of all; 0 for one without a value
  double noise = 0.0;              // what rounding alone may leave of a value
  bool complete = false;           // one value of each entry in each test
  bool connected = false;          // else residuals and test means are empty

  [[nodiscard]] double unless_noise(double residual) const {
    return std::fabs(residual) <= noise ? 0.0 : residual;
  }
};

std::vector<double> means_of(const Fit& fit) {
  std::vector<double> means;
  means.reserve(fit.treatments.size());
  for (const TreatmentEstimate& estimate : fit.treatments) {
    means.push_back(estimate.mean.value_or(0.0));
  }
  return means;
}

Additive additive(std::span<const Observation> observations, std::size_t entries,
                  std::size_t tests) {
  Additive out;
  out.cells = in_order(observations);
  const double mean = fit_one_way(out.cells, entries).mean.value_or(0.0);
  for (Observation& cell : out.cells) {
    out.noise = std::max(out.noise, kNoise * std::fabs(cell.value));
    cell.value -= mean;
  }
  const Fit fit = fit_in_blocks(out.cells, entries, tests);
  out.connected = fit.components == 1;
  if (!out.connected) return out;
  out.complete = fit.observations == fit.treatments_present * fit.blocks_present;
  std::vector<Observation> turned = out.cells;
  for (Observation& cell : turned) std::swap(cell.treatment, cell.block);
  const std::vector<double> entry_means = means_of(fit);
  out.test_means = means_of(fit_in_blocks(turned, tests, entries));
  double all = 0.0;
  for (const double entry : entry_means) all += entry;
  all /= static_cast<double>(fit.treatments_present);
  for (const Observation& cell : out.cells) {
    const double fitted = entry_means[cell.treatment] + out.test_means[cell.block] - all;
    out.residuals.push_back(out.unless_noise(cell.value - fitted));
  }
  return out;
}

// The regression of one entry's values, which are cells first..last-1.
void set_slope(Stability& stability, const Additive& data, std::size_t first, std::size_t last) {
  if (last < first + 3) return;
  const auto n = static_cast<double>(last - first);
  double value_mean = 0.0;
  double test_mean = 0.0;
  for (std::size_t i = first; i < last; ++i) {
    value_mean += data.cells[i].value / n;
    test_mean += data.test_means[data.cells[i].block] / n;
  }
  double spread = 0.0;
  double common = 0.0;
  for (std::size_t i = first; i < last; ++i) {
    const double distance = data.test_means[data.cells[i].block] - test_mean;
    spread += distance * distance;
    common += distance * (data.cells[i].value - value_mean);
  }
  if (spread <= n * data.noise * data.noise) return;
  stability.slope = finite(common / spread);
  double left = 0.0;
  for (std::size_t i = first; stability.slope && i < last; ++i) {
    const double distance = data.test_means[data.cells[i].block] - test_mean;
    const double residual =
        data.unless_noise(data.cells[i].value - value_mean - *stability.slope * distance);
    left += residual * residual;
  }
  if (stability.slope) stability.slope_error = finite(std::sqrt(left / (n - 2.0) / spread));
}

// Sums of each entry's squared residuals.
VectorXd squares_of(const Additive& data, std::size_t entries) {
  VectorXd squares = VectorXd::Zero(index_in(entries));
  for (std::size_t i = 0; i < data.cells.size(); ++i) {
    squares(index_in(data.cells[i].treatment)) += data.residuals[i] * data.residuals[i];
  }
  return squares;
}

// Inverse of the normal equations of entry + test, the last test held at zero; rows and columns of
// what has no value are zero.
MatrixXd inverse_of(const Additive& data, std::size_t entries, std::size_t tests) {
  MatrixXd normal = MatrixXd::Zero(index_in(entries + tests), index_in(entries + tests));
  for (const Observation& cell : data.cells) {
    const Index entry = index_in(cell.treatment);
    const Index test = index_in(entries + cell.block);
    for (const Index a : {entry, test}) {
      for (const Index b : {entry, test}) normal(a, b) += 1.0;
    }
  }
  std::vector<Index> kept;
  for (Index level = 0; level < normal.rows(); ++level) {
    if (normal(level, level) > 0.0) kept.push_back(level);
  }
  kept.pop_back();
  const MatrixXd solved = MatrixXd(normal(kept, kept))
                              .ldlt()
                              .solve(MatrixXd::Identity(std::ssize(kept), std::ssize(kept)));
  normal.setZero();
  normal(kept, kept) = solved;
  return normal;
}

// What each entry's sum of squared residuals expects of each entry's variance: the squares of the
// matrix that takes values to residuals, added up by entries.
MatrixXd expectations(const Additive& data, std::size_t entries, std::size_t tests) {
  const MatrixXd inverse = inverse_of(data, entries, tests);
  MatrixXd out = MatrixXd::Zero(index_in(entries), index_in(entries));
  for (std::size_t i = 0; i < data.cells.size(); ++i) {
    const Index entry = index_in(data.cells[i].treatment);
    const VectorXd row = inverse.col(entry) + inverse.col(index_in(entries + data.cells[i].block));
    const auto taken = [&](std::size_t k) {
      return row(index_in(data.cells[k].treatment)) + row(index_in(entries + data.cells[k].block));
    };
    const double own = 1.0 - taken(i);
    out(entry, entry) += own * own;
    for (std::size_t k = i + 1; k < data.cells.size(); ++k) {
      const Index other = index_in(data.cells[k].treatment);
      const double square = taken(k) * taken(k);
      out(entry, other) += square;
      out(other, entry) += square;
    }
  }
  return out;
}

// Shukla's own formula.
void set_variances_complete(std::vector<Stability>& out, const Additive& data,
                            const VectorXd& squares) {
  std::vector<bool> has_entry(out.size(), false);
  for (const Observation& cell : data.cells) has_entry[cell.treatment] = true;
  const auto p = static_cast<double>(std::ranges::count(has_entry, true));
  const double q = static_cast<double>(data.cells.size()) / p;
  if (p < 3.0 || q < 2.0) return;
  const double rest = squares.sum() / ((p - 1.0) * (p - 2.0) * (q - 1.0));
  for (std::size_t i = 0; i < out.size(); ++i) {
    if (has_entry[i]) {
      out[i].variance = finite(p / ((p - 2.0) * (q - 1.0)) * squares(index_in(i)) - rest);
    }
  }
}

void set_variances(std::vector<Stability>& out, const Additive& data, std::size_t tests) {
  const VectorXd squares = squares_of(data, out.size());
  if (data.complete) {
    set_variances_complete(out, data, squares);
    return;
  }
  const MatrixXd expected = expectations(data, out.size(), tests);
  std::vector<Index> seen;
  for (Index i = 0; i < expected.rows(); ++i) {
    if (expected(i, i) > kNothingSeen) seen.push_back(i);
  }
  if (seen.size() < 3) return;
  Eigen::FullPivLU<MatrixXd> solver;
  solver.setThreshold(kNothingSeen);
  solver.compute(expected(seen, seen));
  if (!solver.isInvertible()) return;
  const VectorXd variances = solver.solve(VectorXd(squares(seen)));
  for (std::size_t i = 0; i < seen.size(); ++i) {
    out[static_cast<std::size_t>(seen[i])].variance = finite(variances(index_in(i)));
  }
}

}  // namespace

std::vector<Stability> stability(std::span<const Observation> observations, std::size_t entries,
                                 std::size_t tests) {
  std::vector<Stability> out(entries);
  const Additive data = additive(observations, entries, tests);
  if (!data.connected) return out;
  for (std::size_t first = 0; first < data.cells.size();) {
    std::size_t last = first + 1;
    while (last < data.cells.size() && data.cells[last].treatment == data.cells[first].treatment) {
      ++last;
    }
    set_slope(out[data.cells[first].treatment], data, first, last);
    first = last;
  }
  set_variances(out, data, tests);
  return out;
}

}  // namespace ligule::statistics
