#include "sync/statistics/blocks_needed.h"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>
#include <random>

#include "sync/statistics/distributions.h"

namespace ligule::statistics {
namespace {

constexpr double kNoNumber = std::numeric_limits<double>::quiet_NaN();

TEST(BlocksNeeded, MeanSquaresArePooledByTheirDf) {
  const ErrorMeanSquare errors[] = {{2.0, 10.0}, {5.0, 20.0}, {0.0, 4.0}, {3.0, 0.0}};
  const auto all = pooled(errors);
  ASSERT_TRUE(all);
  EXPECT_DOUBLE_EQ(all->value, 4.0);
  EXPECT_EQ(all->df, 30.0);
  EXPECT_FALSE(pooled({}));
  EXPECT_FALSE(pooled(std::span(errors).subspan(2)));
}

// 8 treatments: 3 blocks have 14 df, 4 have 21.
TEST(BlocksNeeded, TheFewestBlocksThatReachTheDifference) {
  const double of_three = *t_two_sided_quantile(0.05, 14.0) * std::sqrt(2.0 * 0.3 / 3.0);
  const double of_four = *t_two_sided_quantile(0.05, 21.0) * std::sqrt(2.0 * 0.3 / 4.0);
  EXPECT_DOUBLE_EQ(*expected_difference(0.3, 8, 3, 0.05), of_three);
  EXPECT_EQ(blocks_for_difference(0.3, 8, 0.05, of_three), 3U);  // as large as is still enough
  EXPECT_EQ(blocks_for_difference(0.3, 8, 0.05, std::nextafter(of_three, 0.0)), 4U);
  EXPECT_EQ(blocks_for_difference(0.3, 8, 0.05, of_four), 4U);
  EXPECT_EQ(blocks_for_difference(0.3, 8, 0.05, 100.0), 2U);
  EXPECT_FALSE(blocks_for_difference(0.3, 8, 0.05, 0.01));
  const double of_most = *expected_difference(0.3, 8, kMostBlocks, 0.05);
  EXPECT_EQ(blocks_for_difference(0.3, 8, 0.05, of_most), kMostBlocks);
}

TEST(BlocksNeeded, ATrueDifferenceOfOneLsdIsFoundInAboutHalfOfTheTests) {
  for (const std::size_t blocks : {2U, 3U, 4U, 6U, 12U}) {
    const double lsd = *expected_difference(0.3, 12, blocks, 0.05);
    const double chance = *chance_to_find(lsd, 0.3, 12, blocks, 0.05);
    EXPECT_GT(chance, 0.5);
    EXPECT_LT(chance, 0.53);
  }
}

TEST(BlocksNeeded, BlocksToFindReachTheChanceAndOneLessDoesNot) {
  const auto blocks = blocks_to_find(0.9, 0.3, 12, 0.05, 0.8);
  ASSERT_TRUE(blocks);
  EXPECT_GE(*chance_to_find(0.9, 0.3, 12, *blocks, 0.05), 0.8);
  EXPECT_LT(*chance_to_find(0.9, 0.3, 12, *blocks - 1, 0.05), 0.8);
  EXPECT_GT(*blocks, *blocks_for_difference(0.3, 12, 0.05, 0.9));
  EXPECT_FALSE(blocks_to_find(0.01, 0.3, 12, 0.05, 0.8));
  EXPECT_EQ(blocks_to_find(1000.0, 0.3, 12, 0.05, 0.8), 2U);
}

// Tests of 5 treatments in 4 blocks are drawn, and judged as a test is.
TEST(BlocksNeeded, TheChanceIsThatOfDrawnTests) {
  std::mt19937 draw(20261127);
  std::normal_distribution<double> normal;
  std::chi_squared_distribution<double> squares(12.0);
  const double difference = 1.3;
  const double sed = std::sqrt(2.0 * 0.5 / 4.0);
  const double t = *t_two_sided_quantile(0.05, 12.0);
  int found = 0;
  const int tests = 40000;
  for (int i = 0; i < tests; ++i) {
    const double seen = difference + sed * normal(draw);
    const double estimated = sed * std::sqrt(squares(draw) / 12.0);
    found += std::fabs(seen) > t * estimated ? 1 : 0;
  }
  const double chance = *chance_to_find(difference, 0.5, 5, 4, 0.05);
  // Four standard errors of a share of 40,000.
  EXPECT_NEAR(static_cast<double>(found) / tests, chance, 0.01);
}

TEST(BlocksNeeded, WhatCannotBeHadIsEmpty) {
  for (const double bad : {0.0, -1.0, kNoNumber, std::numeric_limits<double>::infinity()}) {
    EXPECT_FALSE(expected_difference(bad, 8, 4, 0.05));
    EXPECT_FALSE(blocks_for_difference(bad, 8, 0.05, 1.0));
    EXPECT_FALSE(blocks_for_difference(1.0, 8, 0.05, bad));
    EXPECT_FALSE(chance_to_find(bad, 1.0, 8, 4, 0.05));
    EXPECT_FALSE(chance_to_find(1.0, bad, 8, 4, 0.05));
    EXPECT_FALSE(blocks_to_find(bad, 1.0, 8, 0.05, 0.8));
  }
  EXPECT_FALSE(expected_difference(1.0, 1, 4, 0.05));
  EXPECT_FALSE(expected_difference(1.0, 8, 1, 0.05));
  for (const double bad : {0.0, 1.0, kNoNumber}) {
    EXPECT_FALSE(expected_difference(1.0, 8, 4, bad));
    EXPECT_FALSE(chance_to_find(1.0, 1.0, 8, 4, bad));
    EXPECT_FALSE(blocks_to_find(1.0, 1.0, 8, 0.05, bad));
  }
}

TEST(NoncentralT, GrowsWithTheShiftFromTheCentralTail) {
  EXPECT_EQ(noncentral_t_two_sided_tail(2.0, 9.0, 0.0), t_two_sided_tail(2.0, 9.0));
  EXPECT_NEAR(*noncentral_t_two_sided_tail(2.0, 9.0, 1e-7), *t_two_sided_tail(2.0, 9.0), 1e-9);
  EXPECT_NEAR(*noncentral_t_two_sided_tail(2.0, 9.0, -3.0),
              *noncentral_t_two_sided_tail(-2.0, 9.0, 3.0), 1e-14);
  EXPECT_NEAR(*noncentral_t_two_sided_tail(2.0, 9.0, 1000.0), 1.0, 1e-12);
  EXPECT_FALSE(noncentral_t_two_sided_tail(kNoNumber, 9.0, 1.0));
  EXPECT_FALSE(noncentral_t_two_sided_tail(2.0, 0.0, 1.0));
  EXPECT_FALSE(noncentral_t_two_sided_tail(2.0, std::numeric_limits<double>::infinity(), 1.0));
  EXPECT_FALSE(noncentral_t_two_sided_tail(2.0, 9.0, kNoNumber));
}

}  // namespace
}  // namespace ligule::statistics
