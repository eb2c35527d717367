// Treatments beside rows and columns, blocks and covariates: closed forms, what can't be had, and
// the numbers' limits. Figures of R are in tests/published.
#include "sync/statistics/crossed_fit.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <random>

namespace ligule::statistics {
namespace {

std::vector<PlacedObservation> square(std::size_t size, unsigned seed, double noise,
                                      double offset = 0.0) {
  std::mt19937 random(seed);
  std::vector<PlacedObservation> plots;
  for (std::size_t row = 0; row < size; ++row) {
    for (std::size_t column = 0; column < size; ++column) {
      const std::size_t treatment = (row + column) % size;
      // Halves are exact beside any offset used here.
      const double effects = 2.0 * static_cast<double>(treatment) - 0.5 * static_cast<double>(row) +
                             1.5 * static_cast<double>(column);
      const double error = noise * (static_cast<double>(random() % 9) - 4.0);
      plots.push_back({treatment, row + 3, 10 * column, offset + effects + error});
    }
  }
  return plots;
}

// Blocks by treatments as a crossed factor.
CrossedData in_blocks(const std::vector<Observation>& cells, std::size_t treatments) {
  CrossedData data;
  data.treatments = treatments;
  data.terms.resize(1);
  for (const Observation& cell : cells) {
    data.treatment.push_back(cell.treatment);
    data.value.push_back(cell.value);
    data.terms[0].levels.push_back(cell.block);
  }
  return data;
}

std::vector<Observation> blocks_with_gaps() {
  std::mt19937 random(5);
  std::vector<Observation> cells;
  for (std::size_t block = 0; block < 4; ++block) {
    for (std::size_t treatment = 0; treatment < 6; ++treatment) {
      const double value = 50.0 + static_cast<double>(3 * treatment + 2 * block) +
                           static_cast<double>(random() % 64) / 8.0;
      if ((block * 6 + treatment) % 7 != 3) cells.push_back({treatment, block, value});
    }
  }
  return cells;
}

void expect_same(const AnovaRow& got, const AnovaRow& wanted, double of) {
  EXPECT_EQ(got.df, wanted.df);
  EXPECT_NEAR(got.sum_of_squares, wanted.sum_of_squares, 1e-12 * of);
  ASSERT_EQ(got.f.has_value(), wanted.f.has_value());
  if (!got.f) return;
  EXPECT_NEAR(*got.f, *wanted.f, 1e-10 * *wanted.f);
  EXPECT_NEAR(*got.p, *wanted.p, 1e-9 * *wanted.p);
}

void expect_same(const Fit& got, const Fit& wanted) {
  const double total = wanted.total.sum_of_squares;
  expect_same(got.treatment, wanted.treatment, total);
  expect_same(got.error, wanted.error, total);
  expect_same(got.total, wanted.total, total);
  EXPECT_EQ(got.observations, wanted.observations);
  EXPECT_EQ(got.treatments_present, wanted.treatments_present);
  EXPECT_EQ(got.components, wanted.components);
  EXPECT_EQ(got.df_error, wanted.df_error);
  EXPECT_NEAR(*got.cv_percent, *wanted.cv_percent, 1e-10 * *wanted.cv_percent);
  for (std::size_t i = 0; i < wanted.treatments.size(); ++i) {
    const TreatmentEstimate& a = got.treatments[i];
    const TreatmentEstimate& b = wanted.treatments[i];
    EXPECT_EQ(a.count, b.count);
    ASSERT_EQ(a.mean.has_value(), b.mean.has_value());
    if (!b.mean) continue;
    EXPECT_NEAR(*a.mean, *b.mean, 1e-11 * (std::fabs(*b.mean) + std::fabs(*wanted.mean)));
    EXPECT_NEAR(*a.raw_mean, *b.raw_mean, 1e-12 * std::fabs(*b.raw_mean));
    EXPECT_NEAR(*a.standard_error, *b.standard_error, 1e-10 * *b.standard_error);
    for (std::size_t k = 0; k < i; ++k) {
      const auto error = difference_error(got, i, k);
      ASSERT_TRUE(error);
      EXPECT_NEAR(*error, *difference_error(wanted, i, k), 1e-10 * *error);
    }
  }
}

TEST(FitCrossed, OneFactorIsTheFitInBlocks) {
  std::vector<Observation> cells = blocks_with_gaps();
  const Fit wanted = fit_in_blocks(cells, 7, 4);
  const CrossedFit got = fit_crossed(in_blocks(cells, 7));
  expect_same(got.fit, wanted);
  const double total = wanted.total.sum_of_squares;
  expect_same(*got.fit.block, *wanted.block, total);
  expect_same(*got.fit.block_adjusted, *wanted.block_adjusted, total);
  expect_same(*got.fit.treatment_alone, *wanted.treatment_alone, total);
  expect_same(got.terms[0].in_order, *wanted.block, total);
  expect_same(got.terms[0].adjusted, *wanted.block_adjusted, total);
  EXPECT_EQ(got.terms[0].levels, 4U);
}

TEST(FitCrossed, WithoutTermsItIsTheOneWayFit) {
  const std::vector<Observation> cells = blocks_with_gaps();
  CrossedData data = in_blocks(cells, 6);
  data.terms.clear();
  const CrossedFit got = fit_crossed(data);
  expect_same(got.fit, fit_one_way(cells, 6));
  EXPECT_FALSE(got.fit.block);
  EXPECT_FALSE(got.fit.treatment_alone);
}

// A complete square has means as they are and sums of squares from means (Steel & Torrie, ch. 9).
TEST(FitInRowsAndColumns, ACompleteSquareGivesTheTextbookSums) {
  const auto plots = square(5, 3, 0.25);
  const CrossedFit got = fit_in_rows_and_columns(plots, 5);
  const double grand = *got.fit.mean;
  const auto sum_over = [&](auto level_of) {
    double ss = 0.0;
    for (std::size_t level = 0; level < 5; ++level) {
      double total = 0.0;
      for (const PlacedObservation& plot : plots) {
        if (level_of(plot) == level) total += plot.value;
      }
      ss += 5.0 * (total / 5.0 - grand) * (total / 5.0 - grand);
    }
    return ss;
  };
  const double rows = sum_over([](const auto& p) { return p.row - 3; });
  const double columns = sum_over([](const auto& p) { return p.column / 10; });
  const double treatments = sum_over([](const auto& p) { return p.treatment; });
  const double total = got.fit.total.sum_of_squares;
  EXPECT_NEAR(got.terms[0].in_order.sum_of_squares, rows, 1e-12 * total);
  EXPECT_NEAR(got.terms[0].adjusted.sum_of_squares, rows, 1e-12 * total);
  EXPECT_NEAR(got.terms[1].in_order.sum_of_squares, columns, 1e-12 * total);
  EXPECT_NEAR(got.fit.treatment.sum_of_squares, treatments, 1e-12 * total);
  EXPECT_NEAR(got.fit.error.sum_of_squares, total - rows - columns - treatments, 1e-12 * total);
  EXPECT_EQ(got.fit.df_error, 12.0);
  EXPECT_EQ(got.fit.components, 1U);
  const double mse = *got.fit.error_mean_square;
  for (std::size_t i = 0; i < 5; ++i) {
    EXPECT_NEAR(*got.fit.treatments[i].mean, *got.fit.treatments[i].raw_mean, 1e-13);
    EXPECT_DOUBLE_EQ(*got.fit.treatments[i].standard_error, std::sqrt(mse / 5.0));
  }
  EXPECT_EQ(*difference_error(got.fit, 0, 1), *difference_error(got.fit, 2, 4)) << "to the bit";
  EXPECT_NEAR(got.terms[0].level_weight, 5.0, 1e-12);
  EXPECT_NEAR(got.terms[1].level_weight, 5.0, 1e-12);
}

// One missing plot of a Latin square (Yates 1933, from memory): the value that minimises the error
// is (t (R + C + T) - 2 G) / ((t-1)(t-2)), and differences with that treatment have variance
// MSE (2/t + 1/((t-1)(t-2))).
TEST(FitInRowsAndColumns, OneMissingPlotMeetsTheClosedFormula) {
  auto plots = square(5, 8, 0.25);
  const PlacedObservation gone = plots[7];
  plots.erase(plots.begin() + 7);
  double in_row = 0.0, in_column = 0.0, of_treatment = 0.0, all = 0.0;
  for (const PlacedObservation& plot : plots) {
    all += plot.value;
    if (plot.row == gone.row) in_row += plot.value;
    if (plot.column == gone.column) in_column += plot.value;
    if (plot.treatment == gone.treatment) of_treatment += plot.value;
  }
  const double estimate = (5.0 * (in_row + in_column + of_treatment) - 2.0 * all) / 12.0;
  const CrossedFit got = fit_in_rows_and_columns(plots, 5);
  EXPECT_EQ(got.fit.df_error, 11.0);
  EXPECT_NEAR(*got.fit.treatments[gone.treatment].mean, (of_treatment + estimate) / 5.0, 1e-12);
  const double mse = *got.fit.error_mean_square;
  const std::size_t other = (gone.treatment + 1) % 5;
  EXPECT_NEAR(*difference_error(got.fit, gone.treatment, other),
              std::sqrt(mse * (2.0 / 5.0 + 1.0 / 12.0)), 1e-12);
  EXPECT_NEAR(*difference_error(got.fit, other, (other + 1) % 5), std::sqrt(mse * 2.0 / 5.0),
              1e-12);
}

TEST(FitCrossed, OrderOfObservationsChangesNoBit) {
  auto plots = square(6, 2, 0.25);
  plots.resize(33);
  const CrossedFit first = fit_in_rows_and_columns(plots, 6);
  std::mt19937 random(1);
  for (int round = 0; round < 5; ++round) {
    std::ranges::shuffle(plots, random);
    const CrossedFit again = fit_in_rows_and_columns(plots, 6);
    EXPECT_EQ(*again.fit.error_mean_square, *first.fit.error_mean_square);
    EXPECT_EQ(*again.fit.treatment.p, *first.fit.treatment.p);
    EXPECT_EQ(*again.fit.treatments[2].mean, *first.fit.treatments[2].mean);
    EXPECT_EQ(again.fit.imbalance, first.fit.imbalance);
  }
}

TEST(FitCrossed, ResidualsStandInTheOrderGivenAndAddUpToNothing) {
  auto plots = square(4, 6, 0.25);
  plots.erase(plots.begin() + 5);
  std::ranges::reverse(plots);
  const CrossedFit got = fit_in_rows_and_columns(plots, 4);
  double sum_of_squares = 0.0;
  std::vector<double> per_row(10, 0.0), per_treatment(4, 0.0);
  for (std::size_t i = 0; i < plots.size(); ++i) {
    sum_of_squares += got.residuals[i] * got.residuals[i];
    per_row[plots[i].row] += got.residuals[i];
    per_treatment[plots[i].treatment] += got.residuals[i];
  }
  EXPECT_NEAR(sum_of_squares, got.fit.error.sum_of_squares, 1e-12);
  for (const double sum : per_row) EXPECT_NEAR(sum, 0.0, 1e-12);
  for (const double sum : per_treatment) EXPECT_NEAR(sum, 0.0, 1e-12);
}

TEST(FitCrossed, AnOffsetOfABillionCostsNoDigitThatTheValuesHave) {
  auto plots = square(5, 9, 0.5);
  auto shifted = square(5, 9, 0.5, 1e9);
  plots.pop_back();
  shifted.pop_back();
  const CrossedFit plain = fit_in_rows_and_columns(plots, 5);
  const CrossedFit far = fit_in_rows_and_columns(shifted, 5);
  EXPECT_NEAR(*far.fit.error_mean_square, *plain.fit.error_mean_square,
              1e-12 * *plain.fit.error_mean_square);
  EXPECT_NEAR(*far.fit.treatment.f, *plain.fit.treatment.f, 1e-11 * *plain.fit.treatment.f);
  for (std::size_t i = 0; i < 5; ++i)
    EXPECT_NEAR(*far.fit.treatments[i].mean - 1e9, *plain.fit.treatments[i].mean, 2e-7);
}

TEST(FitCrossed, ZeroErrorIsZeroWithoutFAndP) {
  for (const double offset : {0.0, 0.1, 1e9, 1e15}) {
    for (const std::size_t size : {3U, 5U, 9U}) {
      auto plots = square(size, 1, 0.0, offset);
      if (size > 3) plots.erase(plots.begin() + 4);
      // Values that no binary fraction is.
      if (offset == 0.1) {
        for (PlacedObservation& plot : plots) plot.value *= 1.1;
      }
      const CrossedFit got = fit_in_rows_and_columns(plots, size);
      SCOPED_TRACE(testing::Message() << offset << " " << size);
      ASSERT_TRUE(got.fit.error_mean_square);
      EXPECT_EQ(*got.fit.error_mean_square, 0.0);
      EXPECT_FALSE(got.fit.treatment.f);
      EXPECT_FALSE(got.fit.treatment.p);
      EXPECT_FALSE(got.terms[0].adjusted.f);
      EXPECT_EQ(*got.fit.cv_percent, 0.0);
      EXPECT_EQ(*difference_error(got.fit, 0, 1), 0.0);
      EXPECT_EQ(*average_least_significant_difference(got.fit, 0.05), 0.0);
    }
  }
}

TEST(FitCrossed, TwoSquaresSideBySideThatShareNothingHaveNoCommonMeans) {
  auto plots = square(3, 1, 0.25);
  for (PlacedObservation plot : square(3, 2, 0.25))
    plots.push_back({plot.treatment + 3, plot.row + 50, plot.column + 500, plot.value});
  const CrossedFit got = fit_in_rows_and_columns(plots, 6);
  EXPECT_EQ(got.fit.components, 2U);
  EXPECT_FALSE(got.fit.treatment.f);
  EXPECT_FALSE(got.fit.treatments[0].mean);
  EXPECT_TRUE(got.fit.treatments[0].raw_mean);
  EXPECT_FALSE(difference_error(got.fit, 0, 1));
  EXPECT_EQ(got.fit.df_error, 4.0);
  ASSERT_TRUE(got.fit.error_mean_square) << "each square has an error of its own";
}

// A treatment in rows and columns of its own tells nothing about the others, though every one of
// them may be counted: three treatments, four differences of rows and columns.
TEST(FitCrossed, TreatmentsThatRowsAndColumnsTakeUpWhollyHaveNoMeans) {
  // Row 1 holds treatment 0 only, row 2 treatment 1 only: rows and treatments can't be told apart.
  const std::vector<PlacedObservation> plots = {{0, 1, 1, 4.0}, {0, 1, 2, 5.0}, {0, 1, 3, 4.5},
                                                {1, 2, 1, 7.0}, {1, 2, 2, 8.5}, {1, 2, 3, 7.0}};
  const CrossedFit got = fit_in_rows_and_columns(plots, 2);
  EXPECT_EQ(got.fit.components, 2U);
  EXPECT_EQ(got.fit.treatment.df, 0.0);
  EXPECT_FALSE(got.fit.treatment.f);
  EXPECT_FALSE(got.fit.treatments[1].mean);
}

// Both treatments lie in both corners, so that they compare; but what lies between the corners
// nobody can tell, and so not where the mean of all rows and columns is.
TEST(FitCrossed, TreatmentsMayCompareWhereRowsAndColumnsDoNot) {
  std::vector<PlacedObservation> plots;
  std::mt19937 random(3);
  const auto corner = [&](std::size_t at, std::size_t size) {
    for (std::size_t row = 0; row < size; ++row) {
      for (std::size_t column = 0; column < 3; ++column)
        plots.push_back(
            {(row + column) % 2, at + row, at + column, static_cast<double>(random() % 100) / 8.0});
    }
  };
  corner(0, 3);
  corner(10, 4);
  const CrossedFit got = fit_in_rows_and_columns(plots, 2);
  EXPECT_EQ(got.fit.components, 1U);
  EXPECT_TRUE(got.fit.treatment.f);
  EXPECT_FALSE(got.fit.treatments[0].mean);
  EXPECT_FALSE(difference_error(got.fit, 0, 1));
}

TEST(FitCrossed, WithoutErrorDegreesOfFreedomThereAreMeansOnly) {
  const CrossedFit got = fit_in_rows_and_columns(square(2, 1, 0.25), 2);
  EXPECT_EQ(got.fit.df_error, 0.0);
  EXPECT_FALSE(got.fit.error_mean_square);
  EXPECT_FALSE(got.fit.treatment.f);
  EXPECT_FALSE(got.fit.cv_percent);
  EXPECT_TRUE(got.fit.treatments[0].mean);
  EXPECT_FALSE(got.fit.treatments[0].standard_error);
}

TEST(FitCrossed, NothingAndOneObservation) {
  const CrossedFit nothing = fit_in_rows_and_columns({}, 3);
  EXPECT_EQ(nothing.fit.observations, 0U);
  EXPECT_FALSE(nothing.fit.mean);
  EXPECT_EQ(nothing.fit.components, 0U);
  const std::vector<PlacedObservation> one = {{1, 4, 4, 7.5}};
  const CrossedFit got = fit_in_rows_and_columns(one, 3);
  EXPECT_DOUBLE_EQ(*got.fit.treatments[1].mean, 7.5);
  EXPECT_FALSE(got.fit.treatments[0].mean);
  EXPECT_EQ(got.fit.df_error, 0.0);
  EXPECT_EQ(got.residuals.size(), 1U);
}

// Analysis of covariance with one covariate: the slope is that within treatments and blocks, means
// stand at the covariate's mean.
TEST(FitCrossed, ACovariatesSlopeIsFoundWhateverItsUnitAndOffset) {
  CrossedData data = in_blocks(blocks_with_gaps(), 6);
  std::mt19937 random(11);
  std::vector<double> covariate;
  for (std::size_t i = 0; i < data.value.size(); ++i) {
    covariate.push_back(static_cast<double>(random() % 32));
    data.value[i] = 10.0 + static_cast<double>(2 * data.treatment[i]) -
                    static_cast<double>(data.terms[0].levels[i]) + 0.75 * covariate[i] +
                    static_cast<double>(random() % 5) / 64.0;
  }
  data.terms.push_back({{}, {covariate}});
  const CrossedFit got = fit_crossed(data);
  ASSERT_EQ(got.terms[1].slopes.size(), 1U);
  EXPECT_NEAR(*got.terms[1].slopes[0], 0.75, 0.01);
  EXPECT_EQ(got.terms[1].adjusted.df, 1.0);
  EXPECT_LT(*got.terms[1].adjusted.p, 1e-9);
  EXPECT_EQ(got.fit.df_error, static_cast<double>(data.value.size()) - 6 - 4 + 1 - 1);

  for (double& x : data.terms[1].covariates[0]) x = 1e6 + 1000.0 * x;
  const CrossedFit scaled = fit_crossed(data);
  EXPECT_NEAR(1000.0 * *scaled.terms[1].slopes[0], *got.terms[1].slopes[0], 1e-10);
  EXPECT_NEAR(*scaled.fit.treatments[3].mean, *got.fit.treatments[3].mean, 1e-10);
  EXPECT_NEAR(*scaled.fit.treatment.f, *got.fit.treatment.f, 1e-9 * *got.fit.treatment.f);
}

TEST(FitCrossed, CovariatesThatTheRestTellsHaveNeitherSlopeNorDf) {
  CrossedData data = in_blocks(blocks_with_gaps(), 6);
  std::vector<double> of_block, flat;
  for (const std::size_t block : data.terms[0].levels) {
    of_block.push_back(static_cast<double>(block * block) / 3.0);
    flat.push_back(1e9 / 3.0);
  }
  const CrossedFit plain = fit_crossed(data);
  data.terms.push_back({{}, {of_block, flat}});
  const CrossedFit got = fit_crossed(data);
  EXPECT_EQ(got.terms[1].adjusted.df, 0.0);
  EXPECT_FALSE(got.terms[1].adjusted.f);
  EXPECT_FALSE(got.terms[1].slopes[0]);
  EXPECT_FALSE(got.terms[1].slopes[1]);
  EXPECT_EQ(got.fit.df_error, plain.fit.df_error);
  EXPECT_NEAR(*got.fit.treatment.f, *plain.fit.treatment.f, 1e-10 * *plain.fit.treatment.f);
}

// A long chain of pairs: each treatment shares a row with the next only. Its rank is found.
TEST(FitCrossed, AChainOfManyTreatmentsHangsTogether) {
  std::vector<Observation> cells;
  constexpr std::size_t kMany = 120;
  std::mt19937 random(2);
  for (std::size_t i = 0; i + 1 < kMany; ++i) {
    for (const std::size_t treatment : {i, i + 1, i})
      cells.push_back({treatment, i, 5.0 + static_cast<double>(random() % 64) / 16.0});
  }
  expect_same(fit_crossed(in_blocks(cells, kMany)).fit, fit_in_blocks(cells, kMany, kMany - 1));
}

}  // namespace
}  // namespace ligule::statistics
