// Entries over several tests, with entries and tests both taken as draws from many.
//
// yield = mean + entry + test + error: entry, test and error vary by chance, each with a variance
// of its own, found by restricted maximum likelihood (REML). An entry is then told by its best
// prediction (BLUP): its distance from the mean of all, drawn towards 0, the more so the fewer
// tests it stood in, so that a lucky entry of one test does not stand above a proven one of ten.
//
// Criterion: Bates, Maechler, Bolker & Walker (2015), J. Stat. Softw. 67(1), equation 42, where the
// error variance and the mean are profiled out. Errors of predictions: Henderson (1975), Biometrics
// 31:423-447; what estimated ratios add to them: Kackar & Harville (1984), J. Am. Stat. Assoc.
// 79:853-862, and Prasad & Rao (1990), J. Am. Stat. Assoc. 85:163-171 (all from memory).
//
// As in fit.h: treatment = entry, block = test; results do not depend on the order of the
// observations; what can't be had is empty and nothing is ever NaN. The plain least-squares mean
// over tests, which takes entries and tests as fixed, is fit_in_blocks with tests as blocks.
#pragma once

#include <cstddef>
#include <optional>
#include <span>
#include <vector>

#include "sync/statistics/fit.h"

namespace ligule::statistics {

// Standard deviation among entries, and among tests, over that of the error; 0 or more. A 0 means
// that they do not differ by more than the error explains.
struct SpreadRatios {
  double entry = 0.0;
  double test = 0.0;
};

struct PredictedEntry {
  double effect = 0.0;  // beside the mean of all, in the unit of the values
  // Of effect less the true one; that the mean is estimated counts, that the ratios are does not.
  // Empty where the entry ratio is 0: that entries were found alike does not prove them so.
  std::optional<double> standard_error;
  // Of effect less the average effect of these entries, less what is true of that difference: for
  // whoever compares entries of one table, to whom an error that all share is none. That the ratios
  // are estimated counts. Empty as above.
  std::optional<double> comparison_error;
};

struct RandomModel {
  SpreadRatios ratios;
  double criterion = 0.0;       // REML criterion; lower is better
  double error_variance = 0.0;  // above 0
  double mean = 0.0;            // of all entries over all tests, generalised least squares
  std::vector<std::optional<PredictedEntry>> entries;  // one per index; empty without a value
};

// At given ratios, finite and not below 0. Empty without two values that differ.
[[nodiscard]] std::optional<RandomModel> random_model_at(std::span<const Observation> observations,
                                                         std::size_t entries, std::size_t tests,
                                                         SpreadRatios ratios);

// At the ratios where the criterion is lowest. Empty where entries and tests can't be told from the
// error: below two entries or two tests, sets that share no test, no error degrees of freedom left
// by the two-way fit, or no error at all.
[[nodiscard]] std::optional<RandomModel> random_model(std::span<const Observation> observations,
                                                      std::size_t entries, std::size_t tests);

}  // namespace ligule::statistics
