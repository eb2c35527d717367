// The gauge: after a weight is captured, before its bag is emptied.
#include "tests/app/flow/harvest_fixture.h"

namespace ligule::flow {
namespace {

class GaugeTest : public ScaleHarvestTest {};

// Proves: nothing comparative shows before a weight is captured.
TEST_F(GaugeTest, NothingShowsBeforeTheWeightIsKept) {
  take("30.0");
  bag("1");
  on_the_scale("31.0");
  EXPECT_FALSE(tablet.weighing().gauge);
  tablet.fill(Field::kGross, "31");
  EXPECT_FALSE(tablet.weighing().gauge) << "typed is not kept";
}

TEST_F(GaugeTest, InTheFirstBlockThereIsNothingToCompare) {
  take("30.0");
  ASSERT_TRUE(tablet.weighing().gauge);
  EXPECT_FALSE(tablet.weighing().gauge->any);
}

// Block 1: A 30, B 34, C 26 lb; block 2 in the order C, A, B and 2 lb heavier.
TEST_F(GaugeTest, TheOthersSayWhatThePlotShouldGive) {
  const char* const first[] = {"30.0", "34.0", "26.0"};
  for (int n = 0; n < 3; ++n) {
    take(first[n]);
    bag(std::to_string(n + 1));
  }
  take("28.0");
  EXPECT_FALSE(tablet.weighing().gauge->any) << "the first of its block";
  bag("4");
  take("32.0");
  const auto gauge = tablet.weighing().gauge;
  ASSERT_TRUE(gauge && gauge->any);
  EXPECT_TRUE(gauge->inside);
  EXPECT_EQ(gauge->unit, "lb");
  EXPECT_EQ(gauge->lowest, "28.8");
  EXPECT_EQ(gauge->highest, "35.2");
  EXPECT_NEAR(gauge->place, 0.5, 1e-6);
  bag("5");
  take("3.6");
  EXPECT_FALSE(tablet.weighing().gauge->inside) << "the point in the wrong place";
  EXPECT_EQ(tablet.weighing().gauge->place, 0);
}

TEST_F(GaugeTest, WhatIsNoWeightHasNoGauge) {
  tablet.tap(ShowPage{PlotPage::kNoWeight});
  tablet.tap(SayNoWeight{"winterkill"});
  tablet.settle();
  tablet.tap(GoToPlot{"101"});
  EXPECT_FALSE(tablet.weighing().gauge);
}

}  // namespace
}  // namespace ligule::flow
