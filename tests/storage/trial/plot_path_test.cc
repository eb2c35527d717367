#include "storage/trial/plot_path.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

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
  EXPECT_THAT(lane_starts({}), IsEmpty());
  EXPECT_THAT(lane_starts({plot("11", 1, 1)}), ElementsAre(0U));
}

}  // namespace
}  // namespace ligule
