#include "sync/statistics/stability.h"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>

namespace ligule::statistics {
namespace {

constexpr double kNone = std::numeric_limits<double>::quiet_NaN();

std::vector<Stability> stability_of(const std::vector<std::vector<double>>& table) {
  std::vector<Observation> cells;
  for (std::size_t i = 0; i < table.size(); ++i) {
    for (std::size_t j = 0; j < table[i].size(); ++j) {
      if (!std::isnan(table[i][j])) cells.push_back({i, j, table[i][j]});
    }
  }
  return stability(cells, table.size(), table.front().size());
}

TEST(Stability, AnEntryThatGainsMoreInGoodTestsHasASlopeAboveOne) {
  // Test means 2, 4, 6; the entries rise by 1, 2 and 3 a test.
  const auto got = stability_of({{3, 4, 5}, {2, 4, 6}, {1, 4, 7}});
  EXPECT_NEAR(*got[0].slope, 0.5, 1e-12);
  EXPECT_NEAR(*got[1].slope, 1.0, 1e-12);
  EXPECT_NEAR(*got[2].slope, 1.5, 1e-12);
  EXPECT_NEAR(*got[0].slope_error, 0.0, 1e-7);
}

// Departures -1 0 1 / 0 0 0 / 1 0 -1, squares 2, 0, 2: by Shukla's formula 3/(1*2) * 2 - 4/(2*1*2)
// for the outer two, less 1 for the middle one.
TEST(Stability, ShuklasFormulaAndAVarianceBelowZero) {
  const auto got = stability_of({{3, 4, 5}, {2, 4, 6}, {1, 4, 7}});
  EXPECT_NEAR(*got[0].variance, 2.0, 1e-12);
  EXPECT_NEAR(*got[1].variance, -1.0, 1e-12);
  EXPECT_NEAR(*got[2].variance, 2.0, 1e-12);
}

TEST(Stability, AGapDoesNotHideWhoIsUneven) {
  const auto got = stability_of({{13, 12, 15, 11, 14},
                                 {10, 9.2, 12.1, 8, kNone},
                                 {15, 7, 16, kNone, 9},
                                 {11, 10.1, 13, 9, 12.1},
                                 {12, 11, 14, 10.2, 13}});
  for (std::size_t i : {0U, 1U, 3U, 4U}) EXPECT_LT(*got[i].variance, *got[2].variance / 4.0) << i;
}

TEST(Stability, WhatCannotBeHadIsEmpty) {
  EXPECT_TRUE(stability({}, 0, 0).empty());
  EXPECT_FALSE(stability({}, 1, 1).front().variance);
  const auto two_entries = stability_of({{1, 2, 4}, {2, 2, 3}});
  EXPECT_FALSE(two_entries[0].variance);
  EXPECT_TRUE(two_entries[0].slope);
  const auto two_tests = stability_of({{1, 2}, {2, 2}, {5, 3}});
  EXPECT_FALSE(two_tests[0].slope);
  EXPECT_TRUE(two_tests[0].variance);
  EXPECT_FALSE(stability_of({{1, 2, 3}, {2, 3, 1}, {3, 1, 2}})[0].slope) << "tests alike";
  const auto apart = stability_of(
      {{1, 2, kNone, kNone}, {2, 4, kNone, kNone}, {kNone, kNone, 1, 5}, {kNone, kNone, 2, 3}});
  EXPECT_FALSE(apart[0].slope || apart[0].variance);
}

TEST(Stability, AnEntryOfOneTestIsNeitherJudgedNorInTheWay) {
  std::vector<std::vector<double>> table = {
      {13, 12, 15, 11}, {10, 9.2, 12.1, 8}, {15, 7, 16, 12}, {11, 10.1, 13, 9}};
  const auto plain = stability_of(table);
  table.push_back({kNone, 14, kNone, kNone});
  const auto got = stability_of(table);
  EXPECT_FALSE(got[4].variance || got[4].slope);
  for (std::size_t i = 0; i < 4; ++i) EXPECT_NEAR(*got[i].variance, *plain[i].variance, 1e-10);
}

TEST(Stability, AnExactSumLeavesNoVariance) {
  for (const Stability& entry : stability_of({{1.1, 2.2, 4.3}, {2.3, 3.4, 5.5}, {0.7, 1.8, 3.9}})) {
    EXPECT_EQ(*entry.variance, 0.0);
    EXPECT_NEAR(*entry.slope, 1.0, 1e-12);
    EXPECT_EQ(*entry.slope_error, 0.0);
  }
}

}  // namespace
}  // namespace ligule::statistics
