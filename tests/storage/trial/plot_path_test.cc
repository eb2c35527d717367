#include "storage/trial/plot_path.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <set>
#include <utility>

namespace ligule {
namespace {

using testing::ElementsAre;
using testing::IsEmpty;

PlanPlot plot(const char* number, int row, int column) {
  return {number, 1, "A", row, column, 0};
}

std::vector<std::string> walked(std::vector<PlanPlot> plots) {
  walk_serpentine(plots);
  Plan plan;
  plan.plots = plots;
  std::vector<std::string> order;
  for (const PlanPlot& p : plan.along_path()) order.push_back(p.number);
  return order;
}

TEST(WalkSerpentine, GoesUpOneRowAndDownTheNext) {
  EXPECT_THAT(walked({plot("11", 1, 1), plot("12", 1, 2), plot("13", 1, 3), plot("21", 2, 1),
                      plot("22", 2, 2), plot("23", 2, 3), plot("31", 3, 1), plot("32", 3, 2)}),
              ElementsAre("11", "12", "13", "23", "22", "21", "31", "32"));
}

TEST(WalkSerpentine, TurnsAtEachRowThatHoldsPlotsWhateverItsNumber) {
  // Rows 2 and 4 hold another trial: row 5 is the second row walked, so it is walked downwards.
  EXPECT_THAT(walked({plot("d", 5, 1), plot("c", 5, 4), plot("a", 3, 1), plot("b", 3, 9)}),
              ElementsAre("a", "b", "c", "d"));
}

TEST(WalkSerpentine, NumbersThePathFromOneWithoutGaps) {
  std::vector<PlanPlot> plots{plot("b", 2, 1), plot("a", 1, 1), plot("c", 2, 0)};
  walk_serpentine(plots);
  EXPECT_EQ(plots[1].path, 1);
  EXPECT_EQ(plots[0].path, 2);
  EXPECT_EQ(plots[2].path, 3);
}

TEST(WalkSerpentine, TwoPlotsOnOnePlaceKeepTheirOrder) {
  EXPECT_THAT(walked({plot("x", 1, 1), plot("y", 1, 1)}), ElementsAre("x", "y"));
}

TEST(LaneStarts, AreWhereTheRowChanges) {
  std::vector<PlanPlot> plots{plot("11", 1, 1), plot("12", 1, 2), plot("22", 2, 2),
                              plot("31", 3, 1)};
  EXPECT_THAT(lane_starts(plots), ElementsAre(0U, 2U, 3U));
  EXPECT_THAT(lane_starts(std::vector<PlanPlot>{}), IsEmpty());
  EXPECT_THAT(lane_starts(std::vector{plot("11", 1, 1)}), ElementsAre(0U));
}

// A field of rows x columns walked along rows or columns; without the places named.
struct Walk {
  int rows = 4;
  int columns = 6;
  PathAlong along = PathAlong::kColumns;
  bool serpentine = true;
  std::set<std::pair<int, int>> missing = {};

  [[nodiscard]] std::vector<PlanPlot> plots() const {
    const bool by_rows = along == PathAlong::kRows;
    std::vector<PlanPlot> path;
    for (int lane = 1; lane <= (by_rows ? rows : columns); ++lane) {
      const int steps = by_rows ? columns : rows;
      for (int n = 1; n <= steps; ++n) {
        const int step = serpentine && lane % 2 == 0 ? steps + 1 - n : n;
        const int row = by_rows ? lane : step;
        const int column = by_rows ? step : lane;
        if (!missing.contains({row, column})) path.push_back(plot("", row, column));
      }
    }
    return path;
  }
};

TEST(LaneStarts, OfAPathAlongColumnsAreWhereTheColumnChanges) {
  for (const bool serpentine : {true, false}) {
    const Walk walk{.serpentine = serpentine};
    EXPECT_EQ(path_along(walk.plots()), PathAlong::kColumns);
    EXPECT_THAT(lane_starts(walk.plots()), ElementsAre(0U, 4U, 8U, 12U, 16U, 20U));
    const Walk rows{.along = PathAlong::kRows, .serpentine = serpentine};
    EXPECT_EQ(path_along(rows.plots()), PathAlong::kRows);
    EXPECT_THAT(lane_starts(rows.plots()), ElementsAre(0U, 6U, 12U, 18U));
  }
}

TEST(LaneStarts, OfLanesThatLackPlotsStayWhereTheLaneChanges) {
  // The ends of two lanes, the middle of one, and all of another but one plot.
  const Walk walk{.missing = {{1, 1}, {4, 2}, {2, 3}, {1, 4}, {2, 4}, {3, 4}}};
  EXPECT_THAT(lane_starts(walk.plots()), ElementsAre(0U, 3U, 6U, 9U, 10U, 14U));
}

TEST(LaneStarts, OfNarrowFieldsFollowThePath) {
  for (const PathAlong along : {PathAlong::kRows, PathAlong::kColumns}) {
    const bool by_rows = along == PathAlong::kRows;
    // Two steps a lane turn almost as often across as along, and as often without the first plot.
    Walk walk{.rows = by_rows ? 5 : 2, .columns = by_rows ? 2 : 5, .along = along};
    EXPECT_THAT(lane_starts(walk.plots()), ElementsAre(0U, 2U, 4U, 6U, 8U));
    walk.missing = {{1, 1}};
    EXPECT_THAT(lane_starts(walk.plots()), ElementsAre(0U, 1U, 3U, 5U, 7U));
    // One lane.
    const Walk one{.rows = by_rows ? 1 : 5, .columns = by_rows ? 5 : 1, .along = along};
    EXPECT_THAT(lane_starts(one.plots()), ElementsAre(0U));
  }
}

// Proves: blocks beside each other are walked one after the other, and come back to the same rows.
TEST(LaneStarts, OfBlocksBesideEachOtherAreTold) {
  std::vector<PlanPlot> path;
  for (int block = 0; block < 3; ++block)
    for (PlanPlot each : Walk{.rows = 3, .columns = 4, .along = PathAlong::kRows}.plots()) {
      each.column += 4 * block;
      each.block = block + 1;
      path.push_back(each);
    }
  EXPECT_EQ(path_along(path), PathAlong::kRows);
  EXPECT_THAT(lane_starts(path), ElementsAre(0U, 4U, 8U, 12U, 16U, 20U, 24U, 28U, 32U));
}

}  // namespace
}  // namespace ligule
