#include "app/screens/plot_runs.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

namespace ligule::screens {
namespace {

using ::testing::ElementsAre;
using ::testing::IsEmpty;

std::vector<std::string> runs(const std::vector<std::string>& numbers) {
  return plot_runs(numbers);
}

TEST(PlotRuns, ThreeThatFollowEachOtherAreARun) {
  EXPECT_THAT(runs({"101", "102", "103"}), ElementsAre("101\u2013103"));
  EXPECT_THAT(runs({"101", "102", "104"}), ElementsAre("101", "102", "104"));
  EXPECT_THAT(runs({"101"}), ElementsAre("101"));
  EXPECT_THAT(runs({}), IsEmpty());
}

// Proves: the way back along the path is a run too, and a turn begins another.
TEST(PlotRuns, GoDownAsThePathDoes) {
  EXPECT_THAT(runs({"203", "202", "201", "301", "302", "303", "304"}),
              ElementsAre("203\u2013201", "301\u2013304"));
  EXPECT_THAT(runs({"102", "103", "102", "101"}), ElementsAre("102", "103\u2013101"));
}

TEST(PlotRuns, WhatIsNoNumberStandsByItself) {
  EXPECT_THAT(runs({"A1", "A2", "A3", "4", "5", "6"}), ElementsAre("A1", "A2", "A3", "4\u20136"));
}

}  // namespace
}  // namespace ligule::screens
