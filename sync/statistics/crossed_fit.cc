#include "sync/statistics/crossed_fit.h"

#include <Eigen/Core>
#include <Eigen/QR>
#include <algorithm>
#include <cassert>
#include <cmath>
#include <numeric>

#include "sync/statistics/anova.h"
#include "sync/statistics/rounding.h"

namespace ligule::statistics {
namespace {

using Eigen::Index;
using Eigen::MatrixXd;
using Eigen::VectorXd;

// A column counts as told by others when they leave less than this of it. Designs of ones and
// zeros leave thousandths at the least (chains of some hundred plots), or rounding.
constexpr double kRank = 1e-9;
// What two ways of fitting may differ by where they are the same.
constexpr double kSame = 1e-7;
// Of a whole arrangement, imbalance is rounding.
constexpr double kBalanced = 1e-12;

// The columns of one term of the model.
struct Columns {
  MatrixXd matrix;
  bool factor = false;
  std::vector<double> scale;  // of covariates: one unit is so much of the matrix; 0 says nothing
};

// All of it in one canonical order.
struct Model {
  std::vector<std::size_t> order;  // row -> observation
  VectorXd values;                 // distances from the mean
  double mean = 0.0;
  double largest = 0.0;                      // largest |value| before that
  std::vector<std::size_t> treatment_index;  // row -> the caller's index
  std::vector<std::size_t> treatment_row;    // the caller's index -> row (0 where absent)
  MatrixXd treatments;
  std::vector<Columns> terms;

  [[nodiscard]] Index n() const { return values.size(); }
  [[nodiscard]] MatrixXd ones() const { return MatrixXd::Ones(n(), 1); }
};

std::vector<std::size_t> canonical_order(const CrossedData& data) {
  std::vector<std::size_t> order(data.value.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  const auto before = [&data](std::size_t a, std::size_t b) {
    if (data.treatment[a] != data.treatment[b]) return data.treatment[a] < data.treatment[b];
    for (const Term& term : data.terms) {
      if (!term.levels.empty() && term.levels[a] != term.levels[b])
        return term.levels[a] < term.levels[b];
      for (const auto& covariate : term.covariates) {
        if (covariate[a] != covariate[b]) return covariate[a] < covariate[b];
      }
    }
    return data.value[a] < data.value[b];
  };
  std::ranges::stable_sort(order, before);
  return order;
}

// Takes the mean off, twice: the second pass takes the rounding of the first out, and every sum
// that follows works on distances from it. Returns the mean.
double take_mean_off(VectorXd& values) {
  double mean = 0.0;
  for (int pass = 0; pass < 2; ++pass) {
    const double left = values.mean();
    mean += left;
    values.array() -= left;
  }
  return mean;
}

// One column of ones and zeros for each level that occurs, by size of its name.
MatrixXd incidence(const std::vector<std::size_t>& level, const std::vector<std::size_t>& order) {
  std::vector<std::size_t> names = level;
  std::ranges::sort(names);
  names.erase(std::ranges::unique(names).begin(), names.end());
  MatrixXd columns = MatrixXd::Zero(std::ssize(order), std::ssize(names));
  for (Index row = 0; row < columns.rows(); ++row) {
    const std::size_t name = level[order[static_cast<std::size_t>(row)]];
    columns(row, std::ranges::lower_bound(names, name) - names.begin()) = 1.0;
  }
  return columns;
}

// Covariates as distances from their means, in units in which they weigh like a factor.
Columns covariate_columns(const Term& term, const std::vector<std::size_t>& order) {
  Columns columns;
  columns.matrix.resize(std::ssize(order), std::ssize(term.covariates));
  for (Index k = 0; k < columns.matrix.cols(); ++k) {
    const std::vector<double>& covariate = term.covariates[static_cast<std::size_t>(k)];
    VectorXd column(std::ssize(order));
    for (Index row = 0; row < column.size(); ++row)
      column(row) = covariate[order[static_cast<std::size_t>(row)]];
    const double largest = column.cwiseAbs().maxCoeff();
    take_mean_off(column);
    const double spread = column.cwiseAbs().maxCoeff();
    const bool flat = spread <= kNoise * largest;
    columns.scale.push_back(flat ? 0.0 : spread);
    columns.matrix.col(k) = flat ? VectorXd(VectorXd::Zero(column.size())) : column / spread;
  }
  return columns;
}

Model model_of(const CrossedData& data) {
  Model model;
  model.order = canonical_order(data);
  model.values.resize(std::ssize(data.value));
  std::vector<bool> present(data.treatments, false);
  for (Index row = 0; row < model.n(); ++row) {
    const std::size_t at = model.order[static_cast<std::size_t>(row)];
    assert(data.treatment[at] < data.treatments && std::isfinite(data.value[at]));
    model.values(row) = data.value[at];
    present[data.treatment[at]] = true;
  }
  model.largest = model.values.cwiseAbs().maxCoeff();
  model.mean = take_mean_off(model.values);
  model.treatment_row.resize(data.treatments, 0);
  for (std::size_t i = 0; i < data.treatments; ++i) {
    if (!present[i]) continue;
    model.treatment_row[i] = model.treatment_index.size();
    model.treatment_index.push_back(i);
  }
  model.treatments = incidence(data.treatment, model.order);
  for (const Term& term : data.terms) {
    if (term.levels.empty())
      model.terms.push_back(covariate_columns(term, model.order));
    else
      model.terms.push_back({incidence(term.levels, model.order), true, {}});
  }
  return model;
}

// Terms fitted one after the other: what each adds to those before it.
class Sequence {
 public:
  explicit Sequence(const VectorXd& values) : basis_(values.size(), 0), left_(values) {}

  // What those before it do not tell of some columns. Once is not enough in rounded arithmetic.
  [[nodiscard]] MatrixXd beside(MatrixXd columns) const {
    for (int pass = 0; pass < 2; ++pass) columns -= basis_ * (basis_.transpose() * columns);
    return columns;
  }

  AnovaRow add(const MatrixXd& columns) {
    if (columns.cols() == 0) return anova_row(0.0, 0.0);
    const Eigen::ColPivHouseholderQR<MatrixXd> split(beside(columns));
    const double least = kRank * columns.colwise().norm().maxCoeff();
    const Index most = std::min(columns.rows(), columns.cols());
    Index rank = 0;
    while (rank < most && std::fabs(split.matrixQR()(rank, rank)) > least) ++rank;
    MatrixXd fresh = beside(split.householderQ() * MatrixXd::Identity(columns.rows(), rank));
    fresh.colwise().normalize();
    const VectorXd along = fresh.transpose() * left_;
    left_ -= fresh * along;
    const Index before = basis_.cols();
    basis_.conservativeResize(Eigen::NoChange, before + rank);
    basis_.rightCols(rank) = fresh;
    return anova_row(static_cast<double>(rank), along.squaredNorm());
  }

  [[nodiscard]] double rank() const { return static_cast<double>(basis_.cols()); }
  // Of everything so far.
  [[nodiscard]] VectorXd residuals() const { return beside(left_); }

 private:
  MatrixXd basis_;  // orthonormal columns
  VectorXd left_;
};

// Combinations of the model's effects: which can be had, what they are and how they vary.
struct Combinations {
  std::vector<bool> to_be_had;
  VectorXd estimate;
  MatrixXd variance;  // and covariance, over the error mean square
};

// Effects are told by as many columns as the rank has; a combination can be had where any other
// choice of columns would give the same.
Combinations combine(const MatrixXd& model, const VectorXd& values, const MatrixXd& wanted) {
  const Eigen::ColPivHouseholderQR<MatrixXd> split(model);
  const MatrixXd& packed = split.matrixQR();
  const Index most = std::min(model.rows(), model.cols());
  Index rank = 0;
  while (rank < most && std::fabs(packed(rank, rank)) > kRank * std::fabs(packed(0, 0))) ++rank;
  const auto upper = packed.topLeftCorner(rank, rank).triangularView<Eigen::Upper>();
  const MatrixXd basis = split.householderQ() * MatrixXd::Identity(model.rows(), rank);
  const MatrixXd by_column = wanted * split.colsPermutation();
  const MatrixXd chosen = by_column.leftCols(rank);
  const Index others = model.cols() - rank;
  const MatrixXd told = upper.solve(MatrixXd(packed.topRightCorner(rank, others)));
  const MatrixXd apart = by_column.rightCols(others) - chosen * told;

  const MatrixXd kept = (model * split.colsPermutation()).leftCols(rank);
  VectorXd effects = VectorXd::Zero(rank);
  for (int pass = 0; pass < 2; ++pass)
    effects += upper.solve(VectorXd(basis.transpose() * (values - kept * effects)));

  Combinations out;
  out.estimate = chosen * effects;
  const MatrixXd weights = upper.transpose().solve(MatrixXd(chosen.transpose()));
  out.variance = weights.transpose() * weights;
  for (Index row = 0; row < wanted.rows(); ++row) {
    const double most_apart = others == 0 ? 0.0 : apart.row(row).cwiseAbs().maxCoeff();
    out.to_be_had.push_back(most_apart <= kSame);
  }
  return out;
}

void set_means(Fit& fit, const Model& model, const Combinations& means) {
  const auto width = static_cast<Index>(model.treatment_index.size());
  const VectorXd counts = model.treatments.colwise().sum();
  const VectorXd totals = model.treatments.transpose() * model.values;
  fit.present_index = model.treatment_row;
  MatrixXd imbalance = means.variance.topLeftCorner(width, width);
  imbalance.diagonal() -= counts.cwiseInverse();
  if (fit.components == 1 && imbalance.cwiseAbs().maxCoeff() > kBalanced) {
    for (Index a = 0; a < width; ++a) {
      for (Index b = 0; b < width; ++b) fit.imbalance.push_back(imbalance(a, b));
    }
  }
  for (Index row = 0; row < width; ++row) {
    const auto at = static_cast<std::size_t>(row);
    TreatmentEstimate& estimate = fit.treatments[model.treatment_index[at]];
    estimate.count = static_cast<std::size_t>(counts(row));
    estimate.raw_mean = finite(model.mean + totals(row) / counts(row));
    if (fit.components != 1 || !means.to_be_had[at]) continue;
    estimate.mean = finite(model.mean + means.estimate(row));
    if (!fit.error_mean_square) continue;
    const double factor = fit.imbalance.empty() ? 1.0 / counts(row) : means.variance(row, row);
    estimate.standard_error = finite(std::sqrt(*fit.error_mean_square * factor));
  }
}

// Least-squares means of all treatments, then the slopes of all covariates.
void set_effects(CrossedFit& out, const Model& model) {
  Index width = 1 + model.treatments.cols();
  Index slopes = 0;
  for (const Columns& term : model.terms) {
    width += term.matrix.cols();
    if (!term.factor) slopes += term.matrix.cols();
  }
  const Index treatments = model.treatments.cols();
  MatrixXd columns(model.n(), width);
  columns.leftCols(1 + treatments) << model.ones(), model.treatments;
  MatrixXd wanted = MatrixXd::Zero(treatments + slopes, width);
  wanted.col(0).head(treatments).setOnes();
  wanted.block(0, 1, treatments, treatments).setIdentity();
  Index at = 1 + treatments;
  Index slope = treatments;
  for (const Columns& term : model.terms) {
    const Index size = term.matrix.cols();
    columns.middleCols(at, size) = term.matrix;
    if (term.factor) {
      wanted.block(0, at, treatments, size).setConstant(1.0 / static_cast<double>(size));
    } else {
      wanted.block(slope, at, size, size).setIdentity();
      slope += size;
    }
    at += size;
  }
  const Combinations found = combine(columns, model.values, wanted);
  set_means(out.fit, model, found);
  slope = treatments;
  for (std::size_t t = 0; t < model.terms.size(); ++t) {
    for (const double scale : model.terms[t].scale) {
      const bool known = scale > 0.0 && found.to_be_had[static_cast<std::size_t>(slope)];
      out.terms[t].slopes.push_back(known ? finite(found.estimate(slope) / scale) : std::nullopt);
      ++slope;
    }
  }
}

// The lines in which a term comes last, and treatments come before all terms.
void set_adjusted(CrossedFit& out, const Model& model) {
  Sequence alone(model.values);
  alone.add(model.ones());
  out.fit.treatment_alone = alone.add(model.treatments);
  AnovaRow together = anova_row(0.0, 0.0);
  for (std::size_t last = 0; last < model.terms.size(); ++last) {
    Sequence sequence = alone;
    for (std::size_t t = 0; t < model.terms.size(); ++t) {
      if (t != last) sequence.add(model.terms[t].matrix);
    }
    const MatrixXd& columns = model.terms[last].matrix;
    const double square = sequence.beside(columns).squaredNorm();
    TermLine& line = out.terms[last];
    line.adjusted = sequence.add(columns);
    if (model.terms[last].factor && line.adjusted.df > 0.0)
      line.level_weight = square / line.adjusted.df;
  }
  for (const Columns& term : model.terms) {
    const AnovaRow added = alone.add(term.matrix);
    together = anova_row(together.df + added.df, together.sum_of_squares + added.sum_of_squares);
  }
  out.fit.block_adjusted = together;
}

void set_tests(CrossedFit& out) {
  // Sets of treatments that do not compare share no F, as in fit.h; each other term has its own.
  if (out.fit.components == 1) {
    test_against_error(out.fit.treatment, out.fit);
    for (auto* row : {&out.fit.block, &out.fit.block_adjusted, &out.fit.treatment_alone}) {
      if (*row) test_against_error(**row, out.fit);
    }
  }
  for (TermLine& line : out.terms) {
    test_against_error(line.in_order, out.fit);
    test_against_error(line.adjusted, out.fit);
  }
}

}  // namespace

CrossedFit fit_crossed(const CrossedData& data) {
  assert(data.treatment.size() == data.value.size());
  CrossedFit out;
  Fit& fit = out.fit;
  fit.treatments.resize(data.treatments);
  fit.present_index.resize(data.treatments, 0);
  fit.observations = data.value.size();
  out.terms.resize(data.terms.size());
  if (data.value.empty()) return out;
  const Model model = model_of(data);
  fit.mean = finite(model.mean);
  if (!fit.mean) return out;
  fit.treatments_present = model.treatment_index.size();

  Sequence sequence(model.values);
  sequence.add(model.ones());
  AnovaRow before = anova_row(0.0, 0.0);
  for (std::size_t t = 0; t < model.terms.size(); ++t) {
    TermLine& line = out.terms[t];
    line.in_order = sequence.add(model.terms[t].matrix);
    if (model.terms[t].factor) line.levels = static_cast<std::size_t>(model.terms[t].matrix.cols());
    before = anova_row(before.df + line.in_order.df,
                       before.sum_of_squares + line.in_order.sum_of_squares);
  }
  fit.treatment = sequence.add(model.treatments);
  fit.components = fit.treatments_present - static_cast<std::size_t>(fit.treatment.df);
  fit.df_error = static_cast<double>(fit.observations) - sequence.rank();
  const VectorXd residuals = sequence.residuals();
  out.residuals.resize(fit.observations);
  for (Index row = 0; row < residuals.size(); ++row)
    out.residuals[model.order[static_cast<std::size_t>(row)]] = residuals(row);
  set_error_terms(fit, model.largest, residuals.squaredNorm(), model.values.squaredNorm());
  if (!model.terms.empty()) {
    fit.block = before;
    set_adjusted(out, model);
  }
  set_tests(out);
  set_effects(out, model);
  return out;
}

CrossedFit fit_in_rows_and_columns(std::span<const PlacedObservation> observations,
                                   std::size_t treatments) {
  CrossedData data;
  data.treatments = treatments;
  data.terms.resize(2);
  for (const PlacedObservation& observation : observations) {
    data.treatment.push_back(observation.treatment);
    data.value.push_back(observation.value);
    data.terms[0].levels.push_back(observation.row);
    data.terms[1].levels.push_back(observation.column);
  }
  return fit_crossed(data);
}

}  // namespace ligule::statistics
