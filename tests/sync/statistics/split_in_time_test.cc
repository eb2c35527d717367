#include "sync/statistics/split_in_time.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <random>
#include <tuple>
#include <vector>

#include "sync/statistics/distributions.h"

namespace ligule::statistics {
namespace {

using Cells = std::vector<TimedObservation>;

// Made up so that every effect is a whole number: 2 treatments x 2 blocks x 3 times around 50,
// value = treatment +-4, block +-2, their product +-1, times -6 0 6, treatment x time +-(3 -3 0),
// block x time +-(2 0 -2), and what is left +-(1 -2 1).
Cells whole_effects(double offset = 50.0) {
  const double time[] = {-6, 0, 6};
  const double treatment_time[] = {3, -3, 0};
  const double block_time[] = {2, 0, -2};
  const double left[] = {1, -2, 1};
  Cells cells;
  for (std::size_t i = 0; i < 2; ++i) {
    for (std::size_t j = 0; j < 2; ++j) {
      for (std::size_t k = 0; k < 3; ++k) {
        const double a = i == 0 ? 1.0 : -1.0;
        const double b = j == 0 ? 1.0 : -1.0;
        cells.push_back({i, j, k,
                         offset + 4 * a + 2 * b + a * b + time[k] + a * treatment_time[k] +
                             b * block_time[k] + a * b * left[k]});
      }
    }
  }
  return cells;
}

void expect_row(const AnovaRow& row, double df, double ss) {
  EXPECT_EQ(row.df, df);
  EXPECT_NEAR(row.sum_of_squares, ss, 1e-9);
  EXPECT_NEAR(row.mean_square.value(), ss / df, 1e-9);
}

TEST(SplitInTime, EffectsGiveTheirSquares) {
  const auto times = split_in_time(whole_effects(), 2, 2, 3);
  ASSERT_TRUE(times);
  EXPECT_DOUBLE_EQ(times->mean, 50.0);
  const SplitPlotInTime& table = times->in_time;
  expect_row(table.treatment, 1, 12 * 16);
  expect_row(table.block, 1, 12 * 4);
  expect_row(table.error_a, 1, 12 * 1);
  expect_row(table.time, 2, 4 * 72);
  expect_row(table.error_b, 2, 4 * 8);
  expect_row(table.treatment_time, 2, 4 * 18);
  expect_row(table.error_c, 2, 4 * 6);
  expect_row(table.total, 11, 192 + 48 + 12 + 288 + 32 + 72 + 24);
  EXPECT_NEAR(*table.treatment.f, 16.0, 1e-9);
  EXPECT_NEAR(*table.time.f, 9.0, 1e-9);
  EXPECT_NEAR(*table.treatment_time.f, 3.0, 1e-9);
  EXPECT_NEAR(*table.treatment_time.p, 0.25, 1e-12);  // F on 2 and 2 df: 1 / (1 + F)
  EXPECT_NEAR(*table.cv_a_percent, 100.0 * std::sqrt(12.0) / 50.0, 1e-9);
  EXPECT_NEAR(*table.cv_b_percent, 8.0, 1e-9);
  EXPECT_NEAR(*table.cv_c_percent, 100.0 * std::sqrt(12.0) / 50.0, 1e-9);
  const SplitPlot& plain = times->split_plot;
  expect_row(plain.error_b, 4, 32 + 24);
  EXPECT_NEAR(*plain.time.f, 144.0 / 14.0, 1e-9);
  EXPECT_NEAR(*plain.treatment_time.f, 36.0 / 14.0, 1e-9);
  EXPECT_EQ(*plain.treatment.f, *table.treatment.f);
}

TEST(SplitInTime, DifferencesRestOnTheirErrors) {
  const auto times = split_in_time(whole_effects(), 2, 2, 3);
  ASSERT_TRUE(times);
  const SplitDifferences plain = differences(times->split_plot, 0.05);
  EXPECT_NEAR(plain.treatments.standard_error, std::sqrt(2.0 * 12.0 / 6.0), 1e-12);
  EXPECT_EQ(plain.treatments.df, 1.0);
  EXPECT_FALSE(plain.treatments.weighted_t);
  EXPECT_NEAR(plain.times.standard_error, std::sqrt(2.0 * 14.0 / 4.0), 1e-12);
  EXPECT_NEAR(plain.times_of_treatment.standard_error, std::sqrt(2.0 * 14.0 / 2.0), 1e-12);
  // 2 (2 Eb + Ea) / (b c) with Eb 14 on 4 df and Ea 12 on 1 df.
  EXPECT_NEAR(plain.treatments_at_time.standard_error, std::sqrt(2.0 * 40.0 / 6.0), 1e-12);
  EXPECT_NEAR(*plain.treatments_at_time.df, 1600.0 / (28.0 * 28.0 / 4.0 + 144.0), 1e-9);
  const double of_a = *t_two_sided_quantile(0.05, 1.0);
  const double of_b = *t_two_sided_quantile(0.05, 4.0);
  EXPECT_NEAR(*plain.treatments_at_time.weighted_t, (28.0 * of_b + 12.0 * of_a) / 40.0, 1e-9);
}

TEST(SplitInTime, TwoTimesAreAlwaysAlike) {
  Cells cells = whole_effects();
  std::erase_if(cells, [](const TimedObservation& one) { return one.time == 2; });
  const auto times = split_in_time(cells, 2, 2, 2);
  ASSERT_TRUE(times);
  EXPECT_NEAR(times->greenhouse_geisser->epsilon, 1.0, 1e-12);
  EXPECT_EQ(times->lower_bound.epsilon, 1.0);
  EXPECT_NEAR(*times->greenhouse_geisser->p, *times->in_time.treatment_time.p, 1e-12);
}

// One pattern over the times is all that is left: as few degrees of freedom as there can be.
TEST(SplitInTime, OnePatternOfWhatIsLeftIsTheLowerBound) {
  const auto times = split_in_time(whole_effects(), 2, 2, 3);
  ASSERT_TRUE(times && times->greenhouse_geisser);
  EXPECT_NEAR(times->greenhouse_geisser->epsilon, 0.5, 1e-12);
  EXPECT_EQ(times->lower_bound.epsilon, 0.5);
  EXPECT_EQ(times->lower_bound.df, 1.0);
  EXPECT_EQ(times->lower_bound.df_error, 1.0);
  EXPECT_EQ(times->lower_bound.p, f_upper_tail(*times->in_time.treatment_time.f, 1.0, 1.0));
}

TEST(SplitInTime, WhatIsNotWholeHasAReasonAndNoTable) {
  const Cells whole = whole_effects();
  Cells cells = whole;
  cells.pop_back();
  EXPECT_EQ(split_in_time(cells, 2, 2, 3).error(), WhyNoSplit::kMissing);
  cells.push_back(cells.front());  // as many as there must be, one of them twice
  EXPECT_EQ(split_in_time(cells, 2, 2, 3).error(), WhyNoSplit::kRepeated);
  EXPECT_EQ(split_in_time({}, 2, 2, 3).error(), WhyNoSplit::kMissing);
  for (const auto& [t, b, c] : {std::tuple(1, 2, 3), std::tuple(2, 1, 3), std::tuple(2, 2, 1)}) {
    EXPECT_EQ(split_in_time({}, static_cast<std::size_t>(t), static_cast<std::size_t>(b),
                            static_cast<std::size_t>(c))
                  .error(),
              WhyNoSplit::kTooFew);
  }
  cells = whole;
  for (TimedObservation& one : cells) one.value *= 1e200;
  EXPECT_EQ(split_in_time(cells, 2, 2, 3).error(), WhyNoSplit::kTooLarge);
  for (TimedObservation& one : cells) one.value = 1.7e308;
  EXPECT_EQ(split_in_time(cells, 2, 2, 3).error(), WhyNoSplit::kTooLarge);
}

TEST(SplitInTime, OffsetsAndOrderChangeNothing) {
  const auto plain = split_in_time(whole_effects(), 2, 2, 3);
  const auto high = split_in_time(whole_effects(1e9), 2, 2, 3);
  ASSERT_TRUE(plain && high);
  EXPECT_NEAR(high->in_time.error_c.sum_of_squares, 24.0, 1e-5);
  EXPECT_NEAR(*high->in_time.treatment_time.f, 3.0, 1e-6);
  Cells mixed = whole_effects();
  std::ranges::shuffle(mixed, std::mt19937(7));
  const auto again = split_in_time(mixed, 2, 2, 3);
  EXPECT_EQ(again->in_time.treatment_time.p, plain->in_time.treatment_time.p);
  EXPECT_EQ(again->mean, plain->mean);
  EXPECT_EQ(again->greenhouse_geisser->p, plain->greenhouse_geisser->p);
}

TEST(SplitInTime, RoundingNoiseIsNoError) {
  Cells cells;
  for (std::size_t i = 0; i < 3; ++i) {
    for (std::size_t j = 0; j < 3; ++j) {
      for (std::size_t k = 0; k < 3; ++k) {
        cells.push_back({i, j, k,
                         0.1 * static_cast<double>(i) + 0.7 * static_cast<double>(j) +
                             0.3 * static_cast<double>(k)});
      }
    }
  }
  const auto times = split_in_time(cells, 3, 3, 3);
  ASSERT_TRUE(times);
  for (const AnovaRow* error :
       {&times->in_time.error_a, &times->in_time.error_b, &times->in_time.error_c}) {
    EXPECT_EQ(error->mean_square, 0.0);
    EXPECT_EQ(error->sum_of_squares, 0.0);
  }
  EXPECT_FALSE(times->in_time.treatment.f);
  EXPECT_FALSE(times->in_time.treatment_time.p);
  EXPECT_FALSE(times->greenhouse_geisser);
  EXPECT_FALSE(times->lower_bound.p);
  EXPECT_EQ(times->in_time.cv_c_percent, 0.0);
  EXPECT_EQ(differences(times->in_time, 0.05).treatments_at_time.standard_error, 0.0);
  EXPECT_FALSE(differences(times->in_time, 0.05).treatments_at_time.df);
}

TEST(SplitInTime, NoCvOfAMeanOfZero) {
  const auto times = split_in_time(whole_effects(0.0), 2, 2, 3);
  ASSERT_TRUE(times);
  EXPECT_FALSE(times->in_time.cv_a_percent);
  EXPECT_FALSE(times->split_plot.cv_b_percent);
  EXPECT_TRUE(times->in_time.treatment_time.p);
}

}  // namespace
}  // namespace ligule::statistics
