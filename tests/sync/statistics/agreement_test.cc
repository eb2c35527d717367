#include "sync/statistics/agreement.h"

#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <limits>
#include <random>
#include <vector>

namespace ligule::statistics {
namespace {

// Six targets by four judges of Shrout & Fleiss (1979), from memory.
constexpr std::array<double, 24> kJudges = {9, 2, 5, 8, 6,  1, 3, 2, 8, 4, 6, 8,
                                            7, 1, 2, 6, 10, 5, 6, 9, 6, 2, 4, 7};

// By hand: the sum is 127; squares add up to 841, those of target sums over 4 to 728.25, of judge
// sums over 6 to 769.5, and 127 squared over 24 is 672.041667. So 56.208333 on 5, 97.458333 on 3
// and 15.291667 on 15 degrees of freedom, and (B - E) / (B + 3 E + 4 (J - E) / 6) is 184 / 635. The
// paper prints 11.24, 32.49, 1.02 and 0.29, R's psych an interval of 0.019 to 0.76 (from memory).
TEST(IntraclassCorrelation, AgreesWithThePublishedExample) {
  const auto found = intraclass_correlation(kJudges, 4);
  ASSERT_TRUE(found);
  EXPECT_NEAR(found->between_plots, 1349.0 / 120.0, 1e-12);
  EXPECT_NEAR(found->between_raters, 2339.0 / 72.0, 1e-12);
  EXPECT_NEAR(found->error, 367.0 / 360.0, 1e-12);
  EXPECT_NEAR(found->coefficient, 184.0 / 635.0, 1e-12);
  ASSERT_TRUE(found->interval);
  EXPECT_NEAR(found->interval->lower, 0.019, 0.0005);
  EXPECT_NEAR(found->interval->upper, 0.76, 0.005);
  EXPECT_EQ(found->plots, 6U);
  EXPECT_EQ(found->raters, 4U);
}

// Anxiety of 20 people by three raters, data set of the R package irr as its port of the same
// checks in the Python package statsmodels has it.
constexpr std::array<double, 60> kThree = {
    3, 3, 2, 3, 6, 1, 3, 4, 4, 4, 6, 4, 5, 2, 3, 5, 4, 2, 2, 2, 1, 3, 4, 6, 5, 3, 1, 2, 3, 1,
    2, 2, 1, 6, 3, 2, 1, 3, 3, 5, 3, 3, 2, 2, 1, 2, 2, 1, 1, 1, 3, 2, 3, 3, 4, 3, 2, 3, 4, 2};

// R: icc(anxiety, model = "twoway", type = "agreement") prints 0.198 and -0.039 to 0.494 (from
// memory).
TEST(IntraclassCorrelation, AgreesWithASecondExample) {
  const auto found = intraclass_correlation(kThree, 3);
  ASSERT_TRUE(found && found->interval);
  EXPECT_NEAR(found->coefficient, 0.198, 0.0005);
  EXPECT_NEAR(found->interval->lower, -0.039, 0.0005);
  EXPECT_NEAR(found->interval->upper, 0.494, 0.0005);
}

TEST(IntraclassCorrelation, OfRatersWhoAgreeWhollyIsOneWithoutInterval) {
  const auto found = intraclass_correlation(std::vector<double>{0.1, 0.1, 0.3, 0.3, 0.7, 0.7}, 2);
  ASSERT_TRUE(found);
  EXPECT_NEAR(found->coefficient, 1.0, 1e-14);
  EXPECT_FALSE(found->interval);
}

TEST(IntraclassCorrelation, ARaterWhoIsAlwaysHigherLowersIt) {
  const auto found = intraclass_correlation(std::vector<double>{1, 2, 3, 4, 5, 6, 7, 8}, 2);
  ASSERT_TRUE(found && found->interval);
  // Plots 4 x 2 apart and raters 1: B = 40/3, J = 2, E = 0, so (40/3) / (40/3 + 1).
  EXPECT_NEAR(found->coefficient, 40.0 / 43.0, 1e-12);
  EXPECT_LT(found->interval->lower, found->coefficient);
  EXPECT_GT(found->interval->upper, found->coefficient);
  EXPECT_LT(found->interval->upper, 1.0);
}

TEST(IntraclassCorrelation, OfTooLittleIsNothing) {
  EXPECT_FALSE(intraclass_correlation({}, 2));
  EXPECT_FALSE(intraclass_correlation(std::vector<double>{1, 2, 3}, 1)) << "one rater";
  EXPECT_FALSE(intraclass_correlation(std::vector<double>{1, 2}, 2)) << "one plot";
  EXPECT_FALSE(intraclass_correlation(std::vector<double>{1, 2, 3, 4, 5}, 2)) << "half a row";
  EXPECT_FALSE(intraclass_correlation(std::vector<double>{5, 5, 5, 5}, 2)) << "no variance";
  EXPECT_FALSE(intraclass_correlation(std::vector<double>{5, 6, 5, 6}, 2)) << "plots all alike";
  EXPECT_FALSE(intraclass_correlation(std::vector<double>{1, 2}, 0));
}

// By hand: means 3 and 4, variances over n 2 and 2, covariance 1.8: 3.6 / (2 + 2 + 1) = 0.72.
constexpr std::array<RatedPair, 5> kFive = {{{1, 2}, {2, 4}, {3, 3}, {4, 5}, {5, 6}}};

TEST(Concordance, IsWorkedByHand) {
  const auto found = concordance(kFive);
  ASSERT_TRUE(found && found->interval);
  EXPECT_NEAR(found->coefficient, 3.6 / 5.0, 1e-12);
  EXPECT_NEAR(found->correlation, 0.9, 1e-12);
  EXPECT_NEAR(found->accuracy, 0.8, 1e-12);
  EXPECT_NEAR(found->mean_difference, 1.0, 1e-12);
  EXPECT_EQ(found->pairs, 5U);
  // c = 0.72, r = 0.9, u^2 = 1/2: variance of z over 3 of 0.19 c^2 / (0.4816 r^2)
  // + 2 c^3 0.28 u^2 / (r 0.4816^2) - c^4 u^4 / (2 r^2 0.4816^2).
  const double c = 0.72;
  const double variance =
      (0.19 * c * c / (0.4816 * 0.81) + c * c * c * 0.28 / (0.9 * 0.4816 * 0.4816) -
       c * c * c * c / (8 * 0.81 * 0.4816 * 0.4816)) /
      3.0;
  const double reach = 1.959963984540054 * std::sqrt(variance);
  EXPECT_NEAR(found->interval->lower, std::tanh(std::atanh(c) - reach), 1e-12);
  EXPECT_NEAR(found->interval->upper, std::tanh(std::atanh(c) + reach), 1e-12);
}

TEST(Concordance, TurnsItsSignWithTheRatings) {
  std::vector<RatedPair> turned;
  turned.reserve(kFive.size());
  for (const RatedPair& pair : kFive) turned.push_back({pair.one, -pair.other});
  const auto found = concordance(turned);
  ASSERT_TRUE(found);
  EXPECT_NEAR(found->correlation, -0.9, 1e-12);
  EXPECT_LT(found->coefficient, 0);
  EXPECT_GT(found->accuracy, 0);
}

// Proves: an interval of 95 percent holds the true value about so often. Both people see the plot
// (sd 1) with an error of their own (sd 0.5), the second a half higher: 1 / (1.25 + 0.125).
TEST(Concordance, ItsIntervalHoldsTheTruthAsOftenAsIsSaid) {
  std::mt19937 random(7);
  std::normal_distribution<double> normal;
  constexpr int kTimes = 2000;
  int held = 0;
  for (int time = 0; time < kTimes; ++time) {
    std::vector<RatedPair> pairs;
    for (int plot = 0; plot < 40; ++plot) {
      const double seen = normal(random);
      pairs.push_back({seen + 0.5 * normal(random), 0.5 + seen + 0.5 * normal(random)});
    }
    const auto found = concordance(pairs);
    ASSERT_TRUE(found && found->interval);
    const double truth = 2.0 / (1.25 + 1.25 + 0.25);
    held += found->interval->lower <= truth && truth <= found->interval->upper ? 1 : 0;
  }
  EXPECT_NEAR(held / static_cast<double>(kTimes), 0.95, 0.02);
}

TEST(Concordance, OfPairsOnALineHasNoInterval) {
  const auto alike = concordance(std::vector<RatedPair>{{0.1, 0.1}, {0.2, 0.2}, {0.7, 0.7}});
  ASSERT_TRUE(alike);
  EXPECT_NEAR(alike->coefficient, 1.0, 1e-14);
  EXPECT_FALSE(alike->interval);
  const auto higher = concordance(std::vector<RatedPair>{{1, 2}, {2, 3}, {3, 4}});
  ASSERT_TRUE(higher);
  EXPECT_NEAR(higher->coefficient, (4.0 / 3.0) / (4.0 / 3.0 + 1.0), 1e-12);
  EXPECT_FALSE(higher->interval);
}

TEST(Concordance, OfTooLittleIsNothing) {
  EXPECT_FALSE(concordance({}));
  EXPECT_FALSE(concordance(std::vector<RatedPair>{{1, 2}, {2, 3}}));
  EXPECT_FALSE(concordance(std::vector<RatedPair>{{1, 5}, {2, 5}, {3, 5}})) << "one gave the same";
  EXPECT_FALSE(concordance(std::vector<RatedPair>{{0.1, 0.7}, {0.1, 0.7}, {0.1, 0.7}}));
}

// The second and third rater of the data above, category 5 which neither used left out. R:
// kappa2(anxiety[, 2:3], "squared") is 0.2520325 and "equal" 0.1459075, as in statsmodels.
constexpr std::array<std::size_t, 25> kTwoOfThree = {0, 0, 1, 0, 0, 4, 0, 1, 0, 0, 2, 3, 3,
                                                     0, 0, 0, 2, 0, 1, 1, 1, 0, 0, 1, 0};

TEST(WeightedKappa, AgreesWithR) {
  EXPECT_NEAR(weighted_kappa(kTwoOfThree, 5)->kappa, 0.2520325, 5e-8);
  EXPECT_NEAR(weighted_kappa(kTwoOfThree, 5, Disagreement::kSteps)->kappa, 0.1459075, 5e-8);
}

// Squared steps make the kappa of equal categories Lin's concordance of their numbers (Robieson
// 1999, from memory): R's figure above checks that too.
TEST(WeightedKappa, OfSquaredStepsIsTheConcordance) {
  std::vector<RatedPair> pairs;
  for (std::size_t cell = 0; cell < kTwoOfThree.size(); ++cell)
    for (std::size_t n = 0; n < kTwoOfThree[cell]; ++n) {
      const std::size_t row = cell / 5;
      pairs.push_back({static_cast<double>(row), static_cast<double>(cell % 5)});
    }
  EXPECT_NEAR(concordance(pairs)->coefficient, 0.2520325, 5e-8);
  EXPECT_NEAR(concordance(pairs)->coefficient, weighted_kappa(kTwoOfThree, 5)->kappa, 1e-14);
}

// A printed result for this table with single steps, as it stands in statsmodels' checks: 0.4701
// with an asymptotic standard error of 0.1457.
constexpr std::array<std::size_t, 9> kPrinted = {0, 4, 1, 0, 8, 0, 0, 1, 5};

TEST(WeightedKappa, HasThePrintedStandardError) {
  const auto found = weighted_kappa(kPrinted, 3, Disagreement::kSteps);
  ASSERT_TRUE(found && found->standard_error);
  EXPECT_NEAR(found->kappa, 0.4701, 5e-5);
  EXPECT_NEAR(*found->standard_error, 0.1457, 5e-5);
  EXPECT_EQ(found->plots, 19U);
}

// Of two categories all weights are the same, and the variance has a closed form: for a table of
// equal margins [a b; b a], kappa = (a - b) / (a + b) and its variance is (1 - kappa^2) / n.
TEST(WeightedKappa, OfTwoCategoriesIsClosedForm) {
  const std::array<std::size_t, 4> counts = {40, 10, 10, 40};
  const auto found = weighted_kappa(counts, 2);
  ASSERT_TRUE(found && found->standard_error);
  EXPECT_NEAR(found->kappa, 0.6, 1e-14);
  EXPECT_NEAR(*found->standard_error, std::sqrt((1.0 - 0.36) / 100.0), 1e-14);
}

// Proves: the standard error of squared steps is that of kappas drawn again and again.
TEST(WeightedKappa, ItsStandardErrorIsTheSpreadOfKappas) {
  std::mt19937 random(3);
  std::normal_distribution<double> normal;
  const auto category = [](double seen) {
    return static_cast<std::size_t>(std::lround(std::min(8.0, std::max(0.0, seen))));
  };
  constexpr int kTimes = 1500;
  double sum = 0;
  double squares = 0;
  double said = 0;
  for (int time = 0; time < kTimes; ++time) {
    std::vector<std::size_t> counts(81);
    for (int plot = 0; plot < 100; ++plot) {
      const double seen = 4 + 1.5 * normal(random);
      ++counts[9 * category(seen + normal(random)) + category(seen + 0.5 + normal(random))];
    }
    const auto found = weighted_kappa(counts, 9);
    ASSERT_TRUE(found && found->standard_error);
    sum += found->kappa / kTimes;
    squares += found->kappa * found->kappa / kTimes;
    said += *found->standard_error / kTimes;
  }
  EXPECT_NEAR(said / std::sqrt(squares - sum * sum), 1.0, 0.08);
}

TEST(WeightedKappa, OfAllAlikeIsOneWithoutError) {
  const std::array<std::size_t, 9> counts = {4, 0, 0, 0, 3, 0, 0, 0, 5};
  const auto found = weighted_kappa(counts, 3);
  ASSERT_TRUE(found);
  EXPECT_NEAR(found->kappa, 1.0, 1e-14);
  EXPECT_FALSE(found->standard_error);
}

TEST(WeightedKappa, OfTooLittleIsNothing) {
  EXPECT_FALSE(weighted_kappa({}, 0));
  EXPECT_FALSE(weighted_kappa(std::array<std::size_t, 1>{5}, 1)) << "one category";
  EXPECT_FALSE(weighted_kappa(std::array<std::size_t, 3>{1, 2, 3}, 2)) << "no square";
  EXPECT_FALSE(weighted_kappa(std::array<std::size_t, 4>{1, 0, 0, 0}, 2)) << "one plot";
  EXPECT_FALSE(weighted_kappa(std::array<std::size_t, 4>{0, 0, 0, 0}, 2));
  EXPECT_FALSE(weighted_kappa(std::array<std::size_t, 4>{9, 0, 0, 0}, 2)) << "all in one category";
}

}  // namespace
}  // namespace ligule::statistics
