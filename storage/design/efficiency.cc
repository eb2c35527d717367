#include "storage/design/efficiency.h"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <functional>
#include <numeric>

namespace ligule::design {
namespace {

// Less than this of an eigenvalue of 1 is rounding.
constexpr double kNothing = 1e-10;

// Cholesky's factor in the lower half; whether there is one.
bool factor(Matrix& matrix) {
  for (std::size_t column = 0; column < matrix.size; ++column) {
    double pivot = matrix.at(column, column);
    for (std::size_t i = 0; i < column; ++i) pivot -= matrix.at(column, i) * matrix.at(column, i);
    if (pivot < kNothing) return false;
    pivot = std::sqrt(pivot);
    matrix.at(column, column) = pivot;
    for (std::size_t row = column + 1; row < matrix.size; ++row) {
      double cell = matrix.at(row, column);
      for (std::size_t i = 0; i < column; ++i) cell -= matrix.at(row, i) * matrix.at(column, i);
      matrix.at(row, column) = cell / pivot;
    }
  }
  return true;
}

}  // namespace

double trace_of_inverse(Matrix matrix) {
  if (!factor(matrix)) return 0;
  // The inverse is L^-T L^-1, so its trace is the sum of the squares of L^-1.
  double trace = 0;
  std::vector<double> column(matrix.size);
  for (std::size_t first = 0; first < matrix.size; ++first) {
    for (std::size_t row = first; row < matrix.size; ++row) {
      double cell = row == first ? 1.0 : 0.0;
      for (std::size_t i = first; i < row; ++i) cell -= matrix.at(row, i) * column[i];
      column[row] = cell / matrix.at(row, row);
      trace += column[row] * column[row];
    }
  }
  return trace;
}

double efficiency_factor(std::span<const Block> blocks, std::size_t entries) {
  assert(entries >= 2);
  std::vector<double> stands(entries, 0.0);
  double plots = 0;
  for (const Block& block : blocks) {
    plots += static_cast<double>(block.size());
    for (const std::size_t entry : block) stands[entry] += 1;
  }
  // The eigenvalue 0 belongs to the vector of the roots of R: made a 1, it leaves the others alone.
  Matrix information(entries);
  for (std::size_t a = 0; a < entries; ++a) {
    for (std::size_t b = 0; b < entries; ++b)
      information.at(a, b) = (a == b ? 1.0 : 0.0) + std::sqrt(stands[a] * stands[b]) / plots;
  }
  for (const Block& block : blocks) {
    for (const std::size_t a : block) {
      for (const std::size_t b : block)
        information.at(a, b) -=
            1 / (static_cast<double>(block.size()) * std::sqrt(stands[a] * stands[b]));
    }
  }
  const double trace = trace_of_inverse(std::move(information));
  return trace > 0 ? static_cast<double>(entries - 1) / (trace - 1) : 0.0;
}

double efficiency_bound(std::size_t entries, std::size_t blocks, std::size_t parts) {
  const auto v = static_cast<double>(entries);
  const auto r = static_cast<double>(blocks);
  const auto s = static_cast<double>(parts);
  return (v - 1) * (r - 1) / ((v - 1) * (r - 1) + r * (s - 1));
}

double efficiency_bound(std::span<const int> repeats, std::size_t blocks, std::size_t parts) {
  assert(repeats.size() >= 2 && parts >= 1);
  const auto plots = static_cast<std::size_t>(std::accumulate(repeats.begin(), repeats.end(), 0));
  // What each plot of a complete block takes off the diagonal: a share of its incomplete block, and
  // less of it the more often its entry is repeated.
  std::vector<double> shares, weights;
  shares.reserve(plots);
  weights.reserve(plots);
  for (std::size_t part = 0; part < parts; ++part) {
    const std::size_t size = plots / parts + (part < plots % parts ? 1 : 0);
    shares.insert(shares.end(), size, 1 / static_cast<double>(size));
  }
  for (const int repeated : repeats)
    weights.insert(weights.end(), static_cast<std::size_t>(repeated), 1.0 / repeated);
  std::ranges::sort(shares);
  std::ranges::sort(weights, std::ranges::greater());
  const auto v = static_cast<double>(repeats.size());
  const double diagonal =
      v - std::inner_product(shares.begin(), shares.end(), weights.begin(), 0.0);
  const double below = std::min(v - 1, static_cast<double>(blocks * (parts - 1)));
  const double at_one = v - 1 - below;
  const double sum = diagonal - at_one;
  if (below <= 0 || sum >= below) return 1;
  return (v - 1) / (at_one + below * below / sum);
}

}  // namespace ligule::design
