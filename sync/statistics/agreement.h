// How far ratings of the same plots agree, where two or more people rated all of them.
//
// Plain numbers in, plain numbers out. What has no answer (too few plots, one rater, a rater who
// gave every plot the same) is empty, and nothing here is ever NaN. Intervals are of 95 percent.
#pragma once

#include <cstddef>
#include <optional>
#include <span>

namespace ligule::statistics {

struct Interval {
  double lower = 0.0;
  double upper = 0.0;
};

// What two people gave to one plot, in the same unit.
struct RatedPair {
  double one = 0.0;
  double other = 0.0;
};

struct Concordance {
  double coefficient = 0.0;      // -1 to 1; 1: every pair is alike
  double correlation = 0.0;      // Pearson's: how closely the pairs lie to some line
  double accuracy = 0.0;         // coefficient over correlation, 0 to 1: how far that line is from
                                 // the one on which both are alike
  double mean_difference = 0.0;  // of `other` less `one`
  std::optional<Interval> interval;  // of the coefficient; empty where the pairs lie on a line
  std::size_t pairs = 0;
};
// Lin (1989) Biometrics 45:255-268, with sums of squares over n as there; the interval by Fisher's
// z with the variance of Lin's note (2000) Biometrics 56:324-325. Empty below three pairs, and
// where one of the two gave the same to all plots. `accuracy` is 1 over the mean of scale and place
// shifts, so that it stands for an uncorrelated pair too.
[[nodiscard]] std::optional<Concordance> concordance(std::span<const RatedPair> pairs);

struct IntraclassCorrelation {
  double coefficient = 0.0;
  double between_plots = 0.0;  // mean squares of the two-way table
  double between_raters = 0.0;
  double error = 0.0;
  std::optional<Interval> interval;  // empty where raters agree wholly
  std::size_t plots = 0;
  std::size_t raters = 0;
};
// ICC(2,1): plots and raters both taken at random, agreement absolute, of one rater's value. Shrout
// & Fleiss (1979) Psychological Bulletin 86:420-428; McGraw & Wong (1996) Psychological Methods
// 1:30-46 call it ICC(A,1); their interval. `values` holds a row a plot and a value a rater in it:
// plots that a rater missed are left out by the caller. Empty below two plots or two raters, where
// the values do not fill whole rows, and where neither plots nor what is left of them differ.
[[nodiscard]] std::optional<IntraclassCorrelation> intraclass_correlation(
    std::span<const double> values, std::size_t raters);

// What a disagreement counts, by how many categories lie between the two.
enum class Disagreement { kSteps, kSquaredSteps };

struct WeightedKappa {
  double kappa = 0.0;                    // 1: all alike; 0: as alike as chance would have it
  std::optional<double> standard_error;  // of a large sample; empty where all are alike
  std::size_t plots = 0;
};
// Cohen (1968) Psychological Bulletin 70:213-220, with the standard error of Fleiss, Cohen &
// Everitt (1969) Psychological Bulletin 72:323-327. `counts` holds a row for each category of one
// rater and a column for each of the other, in the scale's order. Empty below two plots or two
// categories, where the counts do not fill a square, and where both put all plots into one
// category.
[[nodiscard]] std::optional<WeightedKappa> weighted_kappa(
    std::span<const std::size_t> counts, std::size_t categories,
    Disagreement disagreement = Disagreement::kSquaredSteps);

}  // namespace ligule::statistics
