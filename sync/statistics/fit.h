// Fixed-effects analysis of variance of treatments, in blocks or without.
//
// Plain numbers in, plain numbers out: treatments and blocks are indices that the caller gives
// meaning to. Missing cells are simply not in the list of observations; the additive model is then
// fitted by least squares (Searle, Linear Models, 1971) and nothing is invented. Results do not
// depend on the order of the observations. What can't be had is empty; nothing here is ever NaN.
#pragma once

#include <cstddef>
#include <optional>
#include <span>
#include <vector>

namespace ligule::statistics {

struct Observation {
  std::size_t treatment;  // below the number of treatments given to the fit
  std::size_t block;      // below the number of blocks; not looked at in a one-way fit
  double value;           // finite
};

// By treatment, block and value: sums in this order are the same whatever order they were given in.
[[nodiscard]] std::vector<Observation> in_order(std::span<const Observation> observations);

// One line of the table. F and p are empty without an error mean square above zero.
struct AnovaRow {
  double df = 0.0;
  double sum_of_squares = 0.0;
  std::optional<double> mean_square;  // empty where df is 0
  std::optional<double> f;
  std::optional<double> p;
};

struct TreatmentEstimate {
  std::size_t count = 0;                 // observations; 0 leaves the rest empty
  std::optional<double> raw_mean;        // of the observations as they are
  std::optional<double> mean;            // least squares, every block weighs the same
  std::optional<double> standard_error;  // of `mean`
};

struct Fit {
  std::size_t observations = 0;
  std::size_t treatments_present = 0;  // with at least one observation
  std::size_t blocks_present = 0;      // 0 in a one-way fit
  // Sets of treatments that share no block with another set. Above 1 there are no common
  // least-squares means, and no F for treatments.
  std::size_t components = 0;

  std::optional<double> mean;  // of all observations
  double df_error = 0.0;       // 0 or less: no error terms
  // An error mean square that is only rounding noise, at most (16 * 2.2e-16 * largest |value|)^2,
  // is 0 here; F and p are then empty.
  std::optional<double> error_mean_square;
  // 100 sqrt(error mean square) / mean; empty unless the mean is above zero.
  std::optional<double> cv_percent;

  std::optional<AnovaRow> block;            // fitted first; empty in a one-way fit
  AnovaRow treatment;                       // adjusted for blocks: the one to test
  std::optional<AnovaRow> block_adjusted;   // for treatments
  std::optional<AnovaRow> treatment_alone;  // not adjusted for blocks
  AnovaRow error;
  AnovaRow total;

  std::vector<TreatmentEstimate> treatments;  // one per index, in index order

  // What missing cells add to the variance of a least-squares mean and of a difference, over the
  // error mean square: row-major over the present treatments; empty where no cell is missing.
  std::vector<double> imbalance;
  std::vector<std::size_t> present_index;  // treatment index -> row of `imbalance`
};

// value = treatment + block + error, by least squares. Indices must be below the two counts.
[[nodiscard]] Fit fit_in_blocks(std::span<const Observation> observations, std::size_t treatments,
                                std::size_t blocks);

// value = treatment + error.
[[nodiscard]] Fit fit_one_way(std::span<const Observation> observations, std::size_t treatments);

// Standard error of the difference of two least-squares means.
[[nodiscard]] std::optional<double> difference_error(const Fit& fit, std::size_t a, std::size_t b);

// Least significant difference of one pair, two-sided at `alpha`, on the error df of the fit.
[[nodiscard]] std::optional<double> least_significant_difference(const Fit& fit, std::size_t a,
                                                                 std::size_t b, double alpha);

// t times the arithmetic mean of difference_error over all pairs of present treatments; equal to
// every pair's own where nothing is missing. Empty below two treatments.
[[nodiscard]] std::optional<double> average_least_significant_difference(const Fit& fit,
                                                                         double alpha);

// Whether two means agree to 12 significant digits: exact ties come out of different sums with
// noise in the last places, and must still share a rank.
[[nodiscard]] bool tied(double a, double b);

// `mean` is rounding noise beside values as large as `largest`: nothing may be divided by it.
[[nodiscard]] bool zero_mean(double mean, double largest);

}  // namespace ligule::statistics
