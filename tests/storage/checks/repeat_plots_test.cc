#include "storage/checks/repeat_plots.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cstdlib>
#include <set>

namespace ligule::checks {
namespace {

std::vector<PathPlot> serpentine(int rows, int columns) {
  std::vector<PathPlot> path;
  for (int row = 1; row <= rows; ++row)
    for (int n = 1; n <= columns; ++n) path.push_back({row, row % 2 == 1 ? n : columns + 1 - n});
  return path;
}

TEST(RepeatPlots, AreTheShareSpreadOverTheWalk) {
  const auto path = serpentine(8, 12);
  const auto tenth = repeat_plots(path, "2026-05-04 AB", 10);
  EXPECT_GE(tenth.size(), 8U);
  EXPECT_LE(tenth.size(), 10U);
  EXPECT_EQ(repeat_plots(path, "2026-05-04 AB", 20).size(), 5U);
  std::size_t last = 0;
  std::set<std::size_t> plots;
  for (const RepeatPlot& repeat : tenth) {
    EXPECT_GT(repeat.after, last) << "in the order of the walk, one at a place";
    EXPECT_LT(repeat.after - last, 30U) << "spread over it";
    last = repeat.after;
    EXPECT_TRUE(plots.insert(repeat.plot).second) << "each once";
  }
}

TEST(RepeatPlots, LieNearAndLongAgoWhateverTheSeed) {
  for (const int columns : {2, 6, 12, 24}) {
    const auto path = serpentine(8, columns);
    for (int n = 0; n < 50; ++n) {
      for (const RepeatPlot& repeat : repeat_plots(path, "seed " + std::to_string(n), 10)) {
        const PathPlot& plot = path.at(repeat.plot);
        const PathPlot& here = path.at(repeat.after);
        EXPECT_LE(std::abs(plot.row - here.row) + std::abs(plot.column - here.column), 2);
        EXPECT_GT(repeat.after, repeat.plot + 8) << "eight others lie in between";
      }
    }
  }
}

TEST(RepeatPlots, FollowTheSeedAndOnlyThat) {
  const auto path = serpentine(8, 12);
  EXPECT_EQ(repeat_plots(path, "AB", 10), repeat_plots(path, "AB", 10));
  EXPECT_NE(repeat_plots(path, "AB", 10), repeat_plots(path, "CD", 10));
  std::set<std::size_t> seen;
  for (int n = 0; n < 300; ++n)
    for (const RepeatPlot& repeat : repeat_plots(path, std::to_string(n), 10))
      seen.insert(repeat.plot);
  EXPECT_GE(seen.size(), 70U) << "nearly every plot that is passed again may come back";
}

TEST(RepeatPlots, AreNoneWhereThePathNeverComesNear) {
  EXPECT_TRUE(repeat_plots(serpentine(1, 40), "AB", 10).empty());
  EXPECT_TRUE(repeat_plots(serpentine(2, 4), "AB", 1).empty()) << "too few between";
  EXPECT_TRUE(repeat_plots({}, "AB", 10).empty());
  EXPECT_TRUE(repeat_plots(serpentine(8, 12), "AB", 0).empty()) << "switched off";
}

}  // namespace
}  // namespace ligule::checks
