// Least squares of treatments beside any terms that cross them: rows, columns, blocks, covariates.
//
//   value = treatment + term + term ... + error
//
// Any arrangement will do, missing cells too: what the observations can't tell apart is found by
// the rank of the model and left empty, never guessed (Searle, Linear Models, 1971). Values and
// covariates are taken as distances from their means first (two passes), sums of squares are
// squared lengths of projections, never differences of large sums. Results do not depend on the
// order of the observations; what can't be had is empty and nothing is ever NaN.
#pragma once

#include <cstddef>
#include <optional>
#include <span>
#include <vector>

#include "sync/statistics/fit.h"

namespace ligule::statistics {

// Either a factor or covariates; all of it is fitted and tested together.
struct Term {
  std::vector<std::size_t> levels;  // of each observation; the numbers are names, without order
  std::vector<std::vector<double>> covariates;  // each with one finite number an observation
};

struct CrossedData {
  std::size_t treatments = 0;          // how many there could be
  std::vector<std::size_t> treatment;  // of each observation, below `treatments`
  std::vector<double> value;           // of each observation, finite
  std::vector<Term> terms;
};

struct TermLine {
  AnovaRow in_order;       // after the terms before it; treatments come after all terms
  AnovaRow adjusted;       // for treatments and every other term: the one to test
  std::size_t levels = 0;  // of a factor: those with a value
  // Of a factor: how often the variance among its levels counts in what `adjusted.mean_square` is
  // expected to be, beside the error variance once; 0 where its df is 0. (Complete Latin square or
  // blocks: the observations of a level.)
  double level_weight = 0.0;
  // Of covariates: change of the value by one unit of the covariate; empty where the rest of the
  // model takes it up.
  std::vector<std::optional<double>> slopes;
};

struct CrossedFit {
  // As of fit_in_blocks, with `block` for all terms together (empty without terms) and
  // blocks_present 0. A least-squares mean stands at the plain mean over the levels of each factor
  // and at the mean of each covariate. `components` is one more than the treatment differences that
  // can't be had; means are also empty where treatments compare but the factors' levels do not.
  Fit fit;
  std::vector<TermLine> terms;    // as given
  std::vector<double> residuals;  // of each observation, as given
};

[[nodiscard]] CrossedFit fit_crossed(const CrossedData& data);

struct PlacedObservation {
  std::size_t treatment = 0;
  std::size_t row = 0, column = 0;  // names, without order
  double value = 0.0;               // finite
};

// value = treatment + row + column + error: a Latin square, whole or not, or any plots that lie in
// rows and columns. Terms are rows, then columns.
[[nodiscard]] CrossedFit fit_in_rows_and_columns(std::span<const PlacedObservation> observations,
                                                 std::size_t treatments);

}  // namespace ligule::statistics
