#include "sync/statistics/rater_effects.h"

#include <Eigen/Core>
#include <Eigen/Eigenvalues>
#include <Eigen/QR>
#include <algorithm>
#include <cassert>
#include <cmath>

#include "sync/statistics/distributions.h"
#include "sync/statistics/fit.h"
#include "sync/statistics/rounding.h"

namespace ligule::statistics {
namespace {

using Eigen::Index;
using Eigen::MatrixXd;
using Eigen::VectorXd;

// Of what a rater's column had before others were taken out of it: smaller is rounding.
constexpr double kNothingLeft = 1e-9;

// What is left of raters and values once entries, and blocks where asked, are taken out of both.
struct Left {
  MatrixXd raters;
  VectorXd values;
  Index taken = 0;  // degrees of freedom
};

Left taken_out(std::span<const Rated> rated, std::size_t entries, std::size_t blocks,
               std::size_t raters, bool blocks_too) {
  const auto n = static_cast<Index>(rated.size());
  const auto columns = static_cast<Index>(entries + (blocks_too ? blocks : 0));
  MatrixXd others = MatrixXd::Zero(n, columns);
  MatrixXd both = MatrixXd::Zero(n, static_cast<Index>(raters) + 1);
  double mean = 0.0;
  for (const Rated& each : rated) mean += each.value / static_cast<double>(n);
  for (Index row = 0; row < n; ++row) {
    const Rated& each = rated[static_cast<std::size_t>(row)];
    assert(each.entry < entries && each.block < blocks && each.rater < raters);
    others(row, static_cast<Index>(each.entry)) = 1.0;
    if (blocks_too) others(row, static_cast<Index>(entries + each.block)) = 1.0;
    both(row, static_cast<Index>(each.rater)) = 1.0;
    both(row, both.cols() - 1) = each.value - mean;
  }
  const Eigen::ColPivHouseholderQR<MatrixXd> parts(others);
  // Rows below the rank in the turned frame are what the others do not reach.
  MatrixXd turned = both;
  turned.applyOnTheLeft(parts.householderQ().setLength(parts.nonzeroPivots()).adjoint());
  const Index rank = parts.rank();
  const MatrixXd rest = turned.bottomRows(n - rank);
  return {rest.leftCols(rest.cols() - 1), rest.rightCols(1), rank};
}

struct Solved {
  VectorXd effects;
  MatrixXd variances;  // over the error mean square
  double explained = 0.0;
};

// All raters but for what they have in common; empty where some can't be told apart.
std::optional<Solved> solved(const Left& left) {
  const Index raters = left.raters.cols();
  const MatrixXd squares = left.raters.transpose() * left.raters;
  const VectorXd products = left.raters.transpose() * left.values;
  const Eigen::SelfAdjointEigenSolver<MatrixXd> axes(squares);
  // Of equal entries and blocks all raters together are nothing: one axis is always missing.
  if (axes.eigenvalues()(1) <= kNothingLeft) return std::nullopt;
  Solved out;
  out.variances = MatrixXd::Zero(raters, raters);
  for (Index axis = 1; axis < raters; ++axis)
    out.variances += axes.eigenvectors().col(axis) * axes.eigenvectors().col(axis).transpose() /
                     axes.eigenvalues()(axis);
  out.effects = out.variances * products;
  out.explained = out.effects.dot(products);
  return out;
}

double largest_of(std::span<const Rated> rated) {
  double largest = 0.0;
  for (const Rated& each : rated) largest = std::max(largest, std::fabs(each.value));
  return largest;
}

// Error terms and the test of a fit with blocks in it.
void judge(std::span<const Rated> rated, const Left& left, const Solved& of, RaterEffects& out) {
  const auto df = static_cast<double>(of.effects.size() - 1);
  out.df_error = static_cast<double>(static_cast<Index>(rated.size()) - left.taken) - df;
  if (!(out.df_error > 0.0)) {
    out.df_error = 0.0;
    return;
  }
  const double noise = kNoise * largest_of(rated);
  double error = (left.values.squaredNorm() - of.explained) / out.df_error;
  if (error <= noise * noise) error = 0.0;
  out.error_mean_square = error;
  for (std::size_t rater = 0; rater < out.raters.size(); ++rater)
    out.raters[rater].standard_error =
        std::sqrt(error * of.variances(static_cast<Index>(rater), static_cast<Index>(rater)));
  if (error == 0.0) return;
  out.f = std::max(0.0, of.explained / df / error);
  out.p = f_upper_tail(*out.f, df, out.df_error);
}

}  // namespace

std::optional<RaterEffects> rater_effects(std::span<const Rated> values, std::size_t entries,
                                          std::size_t blocks, std::size_t raters) {
  if (raters < 2) return std::nullopt;
  std::vector<bool> rated(raters, false);
  for (const Rated& each : values) rated[each.rater] = true;
  if (std::ranges::count(rated, false) > 0) return std::nullopt;
  RaterEffects out;
  Left left = taken_out(values, entries, blocks, raters, true);
  std::optional<Solved> of = solved(left);
  if (!of) {
    out.with_blocks = true;
    left = taken_out(values, entries, blocks, raters, false);
    of = solved(left);
    if (!of) return std::nullopt;
  }
  for (const double effect : of->effects) out.raters.push_back({effect, std::nullopt});
  if (!out.with_blocks) judge(values, left, *of, out);
  return out;
}

std::optional<Drift> drift(std::span<const RatedAgain> pairs, std::size_t blocks) {
  if (pairs.empty()) return std::nullopt;
  std::vector<Observation> differences;
  differences.reserve(pairs.size());
  for (const RatedAgain& pair : pairs) differences.push_back({pair.block, 0, pair.difference});
  const Fit fit = fit_one_way(differences, blocks);
  Drift out;
  for (const TreatmentEstimate& block : fit.treatments)
    out.blocks.push_back({block.count, block.mean, block.standard_error});
  if (fit.treatments_present < 2) return out;
  out.f = fit.treatment.f;
  out.p = fit.treatment.p;
  return out;
}

}  // namespace ligule::statistics
