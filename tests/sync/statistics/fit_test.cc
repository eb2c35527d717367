#include "sync/statistics/fit.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <random>

namespace ligule::statistics {
namespace {

constexpr double kMissing = std::numeric_limits<double>::quiet_NaN();

// Rows are treatments, columns blocks; kMissing leaves the cell out.
std::vector<Observation> cells(const std::vector<std::vector<double>>& table) {
  std::vector<Observation> out;
  for (std::size_t i = 0; i < table.size(); ++i) {
    for (std::size_t j = 0; j < table[i].size(); ++j) {
      if (!std::isnan(table[i][j])) out.push_back({i, j, table[i][j]});
    }
  }
  return out;
}

Fit fit_table(const std::vector<std::vector<double>>& table) {
  return fit_in_blocks(cells(table), table.size(), table.front().size());
}

// Made up so that every effect is a whole number: treatments -4 0 4, blocks -3 0 3, and residuals
// 1 -1 0 / -1 1 0 / 0 0 0 on a mean of 20.
const std::vector<std::vector<double>> kWhole = {{14, 15, 19}, {16, 21, 23}, {21, 24, 27}};

TEST(FitInBlocks, CompleteTableGivesTheTextbookSums) {
  const Fit fit = fit_table(kWhole);
  EXPECT_DOUBLE_EQ(*fit.mean, 20.0);
  EXPECT_DOUBLE_EQ(fit.treatment.sum_of_squares, 96.0);
  EXPECT_DOUBLE_EQ(fit.block->sum_of_squares, 54.0);
  EXPECT_DOUBLE_EQ(fit.error.sum_of_squares, 4.0);
  EXPECT_DOUBLE_EQ(fit.total.sum_of_squares, 154.0);
  EXPECT_EQ(fit.treatment.df, 2.0);
  EXPECT_EQ(fit.block->df, 2.0);
  EXPECT_EQ(fit.df_error, 4.0);
  EXPECT_DOUBLE_EQ(*fit.error_mean_square, 1.0);
  EXPECT_DOUBLE_EQ(*fit.treatment.f, 48.0);
  EXPECT_DOUBLE_EQ(*fit.cv_percent, 5.0);
  // (1 + 2*48/4)^-2: the closed form of the F tail on 2 and 4 degrees of freedom.
  EXPECT_NEAR(*fit.treatment.p, 1.0 / 625.0, 1e-16);
}

TEST(FitInBlocks, CompleteTableGivesEqualErrorsForEveryPair) {
  const Fit fit = fit_table(kWhole);
  EXPECT_DOUBLE_EQ(*fit.treatments[0].mean, 16.0);
  EXPECT_DOUBLE_EQ(*fit.treatments[2].standard_error, std::sqrt(1.0 / 3.0));
  EXPECT_EQ(*difference_error(fit, 0, 2), *difference_error(fit, 1, 2));
  EXPECT_DOUBLE_EQ(*difference_error(fit, 0, 1), std::sqrt(2.0 / 3.0));
  EXPECT_NEAR(*average_least_significant_difference(fit, 0.05),
              *least_significant_difference(fit, 2, 0, 0.05), 1e-14);
  EXPECT_FALSE(difference_error(fit, 1, 1));
}

// The exact formula for one missing plot (Yates 1933): the estimate that minimises the error is
// (t T + b B - G) / ((t-1)(b-1)), and the difference with that treatment has variance
// MSE (2/b + t / (b (b-1)(t-1))).
TEST(FitInBlocks, OneMissingCellMeetsTheClosedFormula) {
  std::vector<std::vector<double>> table = kWhole;
  table[0][2] = kMissing;
  const Fit fit = fit_table(table);
  const double estimate = (3.0 * 29.0 + 3.0 * 50.0 - 161.0) / 4.0;
  EXPECT_NEAR(*fit.treatments[0].mean, (29.0 + estimate) / 3.0, 1e-12);
  EXPECT_DOUBLE_EQ(*fit.treatments[0].raw_mean, 14.5);
  EXPECT_EQ(fit.df_error, 3.0);
  const double mse = *fit.error_mean_square;
  EXPECT_NEAR(*difference_error(fit, 0, 1), std::sqrt(mse * (2.0 / 3.0 + 3.0 / 12.0)), 1e-12);
  EXPECT_NEAR(*difference_error(fit, 1, 2), std::sqrt(mse * 2.0 / 3.0), 1e-12);
  // Unadjusted blocks, adjusted treatments and error add up to the total, and so does the other
  // order of fitting.
  EXPECT_NEAR(fit.block->sum_of_squares + fit.treatment.sum_of_squares + fit.error.sum_of_squares,
              fit.total.sum_of_squares, 1e-10);
  EXPECT_NEAR(fit.treatment_alone->sum_of_squares + fit.block_adjusted->sum_of_squares +
                  fit.error.sum_of_squares,
              fit.total.sum_of_squares, 1e-10);
}

TEST(FitInBlocks, OrderOfObservationsChangesNoBit) {
  std::vector<std::vector<double>> table = kWhole;
  table[1][1] = kMissing;
  table[0][0] = 14.1;
  std::vector<Observation> list = cells(table);
  const Fit first = fit_in_blocks(list, 3, 3);
  std::mt19937 shuffle(7);
  for (int round = 0; round < 20; ++round) {
    std::ranges::shuffle(list, shuffle);
    const Fit again = fit_in_blocks(list, 3, 3);
    EXPECT_EQ(*again.error_mean_square, *first.error_mean_square);
    EXPECT_EQ(*again.treatment.f, *first.treatment.f);
    EXPECT_EQ(*again.treatments[1].mean, *first.treatments[1].mean);
    EXPECT_EQ(*difference_error(again, 0, 1), *difference_error(first, 0, 1));
  }
}

TEST(FitInBlocks, AHugeOffsetChangesMeansOnly) {
  std::vector<std::vector<double>> table = kWhole;
  table[2][0] = kMissing;
  const Fit plain = fit_table(table);
  for (auto& row : table) {
    for (double& value : row) value += 1e9;
  }
  const Fit moved = fit_table(table);
  EXPECT_NEAR(*moved.error_mean_square / *plain.error_mean_square, 1.0, 1e-10);
  EXPECT_NEAR(*moved.treatment.f / *plain.treatment.f, 1.0, 1e-10);
  EXPECT_NEAR(*moved.treatments[2].mean - 1e9, *plain.treatments[2].mean, 1e-6);
}

TEST(FitInBlocks, NoObservationsGiveNothingAtAll) {
  const Fit fit = fit_in_blocks({}, 2, 2);
  EXPECT_EQ(fit.observations, 0U);
  EXPECT_FALSE(fit.mean);
  EXPECT_FALSE(fit.error_mean_square);
  EXPECT_FALSE(fit.treatments[1].mean);
  EXPECT_FALSE(average_least_significant_difference(fit, 0.05));
}

TEST(FitInBlocks, OneObservationGivesItsMeanAndNoErrorTerms) {
  const std::vector<Observation> one = {{0, 0, 3.5}};
  const Fit fit = fit_in_blocks(one, 1, 1);
  EXPECT_EQ(*fit.mean, 3.5);
  EXPECT_EQ(*fit.treatments[0].mean, 3.5);
  EXPECT_FALSE(fit.treatments[0].standard_error);
  EXPECT_FALSE(fit.error_mean_square);
  EXPECT_FALSE(fit.cv_percent);
  EXPECT_FALSE(fit.treatment.f);
}

TEST(FitInBlocks, OneBlockGivesMeansAndNoErrorTerms) {
  const Fit fit = fit_table({{10}, {14}, {9}});
  EXPECT_EQ(fit.df_error, 0.0);
  EXPECT_EQ(*fit.treatments[1].mean, 14.0);
  EXPECT_FALSE(fit.error_mean_square);
  EXPECT_FALSE(least_significant_difference(fit, 0, 1, 0.05));
}

TEST(FitInBlocks, OneBlockWithRepeatedPlotsHasAnErrorTerm) {
  const std::vector<Observation> list = {{0, 0, 1.0}, {0, 0, 3.0}, {1, 0, 5.0}};
  const Fit fit = fit_in_blocks(list, 2, 1);
  EXPECT_EQ(fit.df_error, 1.0);
  EXPECT_DOUBLE_EQ(*fit.error_mean_square, 2.0);
  EXPECT_DOUBLE_EQ(*fit.treatments[0].mean, 2.0);
  EXPECT_DOUBLE_EQ(*difference_error(fit, 0, 1), std::sqrt(2.0 * 1.5));
}

TEST(FitInBlocks, ConstantValuesHaveZeroErrorAndNoF) {
  const Fit fit = fit_table({{0.1, 0.1, 0.1}, {0.1, 0.1, 0.1}});
  EXPECT_EQ(*fit.error_mean_square, 0.0);
  EXPECT_FALSE(fit.treatment.f);
  EXPECT_FALSE(fit.treatment.p);
  EXPECT_EQ(*fit.cv_percent, 0.0);
  EXPECT_EQ(*average_least_significant_difference(fit, 0.05), 0.0);
}

TEST(FitInBlocks, RoundingNoiseIsNotAnErrorTerm) {
  const Fit fit = fit_table({{1.1, 1.4, 2.0}, {2.3, 2.6, 3.2}, {0.7, 1.0, 1.6}});
  EXPECT_EQ(*fit.error_mean_square, 0.0);
  EXPECT_FALSE(fit.treatment.f);
  EXPECT_NEAR(fit.treatment.sum_of_squares, 4.16, 1e-12);
}

TEST(FitInBlocks, ZeroMeanHasNoCv) {
  const Fit fit = fit_table({{0.1, 0.2}, {-0.3, 0.0}});
  EXPECT_TRUE(fit.error_mean_square);
  EXPECT_FALSE(fit.cv_percent);
}

TEST(FitInBlocks, ANegativeMeanHasNoCv) {
  const Fit fit = fit_table({{-1.0, -2.0}, {-3.0, -2.5}});
  EXPECT_LT(*fit.mean, 0.0);
  EXPECT_GT(*fit.error_mean_square, 0.0);
  EXPECT_FALSE(fit.cv_percent);
}

TEST(FitInBlocks, TreatmentsWithoutDataAreLeftOut) {
  const Fit fit = fit_table({{14, 15, 19}, {kMissing, kMissing, kMissing}, {21, 24, 27}});
  EXPECT_EQ(fit.treatments_present, 2U);
  EXPECT_EQ(fit.treatments[1].count, 0U);
  EXPECT_FALSE(fit.treatments[1].mean);
  EXPECT_FALSE(difference_error(fit, 0, 1));
  EXPECT_EQ(*average_least_significant_difference(fit, 0.05),
            *least_significant_difference(fit, 0, 2, 0.05));
}

TEST(FitInBlocks, DisconnectedSetsHaveNoCommonMeans) {
  const Fit fit = fit_table({{10, 12, kMissing, kMissing},
                             {14, 15, kMissing, kMissing},
                             {kMissing, kMissing, 9, 13},
                             {kMissing, kMissing, 11, 12}});
  EXPECT_EQ(fit.components, 2U);
  EXPECT_EQ(fit.df_error, 2.0);  // 8 - (4 + 4 - 2)
  EXPECT_NEAR(*fit.error_mean_square, 1.25, 1e-12);
  EXPECT_FALSE(fit.treatments[0].mean);
  EXPECT_EQ(*fit.treatments[0].raw_mean, 11.0);
  EXPECT_FALSE(fit.treatment.f);
  EXPECT_FALSE(average_least_significant_difference(fit, 0.05));
}

TEST(FitInBlocks, ValuesTooLargeToSquareGiveNothingRatherThanInfinity) {
  const Fit fit = fit_table({{1e200, -1e200}, {1e200, 3e200}});
  EXPECT_FALSE(fit.error_mean_square);
  EXPECT_FALSE(fit.treatment.f);
  EXPECT_FALSE(fit.treatments[0].standard_error);
  const Fit beyond = fit_table({{1.7e308, 1.7e308}, {1.7e308, 1.7e308}});
  EXPECT_FALSE(beyond.mean);
}

// A one-way table by hand: means 2 and 6, squares within 2 + 8 = 10 on 3 degrees of freedom.
TEST(FitOneWay, UnequalCountsByHand) {
  const std::vector<Observation> list = {{0, 0, 1}, {0, 5, 3}, {1, 9, 4}, {1, 2, 6}, {1, 1, 8}};
  const Fit fit = fit_one_way(list, 2);
  EXPECT_DOUBLE_EQ(fit.error.sum_of_squares, 10.0);
  EXPECT_EQ(fit.df_error, 3.0);
  EXPECT_FALSE(fit.block);
  EXPECT_NEAR(fit.treatment.sum_of_squares, 2.0 * 2.4 * 2.4 + 3.0 * 1.6 * 1.6, 1e-12);
  EXPECT_DOUBLE_EQ(*fit.treatments[1].standard_error, std::sqrt(10.0 / 9.0));
  EXPECT_DOUBLE_EQ(*difference_error(fit, 0, 1), std::sqrt(10.0 / 3.0 * (0.5 + 1.0 / 3.0)));
}

TEST(Tied, AgreesTo12DigitsAndNoFurther) {
  EXPECT_TRUE(tied(0.1 + 0.2, 0.3));
  EXPECT_TRUE(tied(0.0, 0.0));
  EXPECT_FALSE(tied(1.0, 1.0 + 1e-11));
}

}  // namespace
}  // namespace ligule::statistics
