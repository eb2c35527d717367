// What keyboards and scanners do on the rating card.
#include "tests/app/flow/rate_fixture.h"

namespace ligule::flow {
namespace {

TEST_F(Rate, AHeightIsTappedTypedOrStepped) {
  tablet.tap(FocusMeasure{"stubble_height"});
  EXPECT_EQ(measure("stubble_height").choices.front().entered, "0.5");
  tablet.type("3.2");
  EXPECT_EQ(measure("stubble_height").typed, "3.2");
  tablet.tap(StepAmount{1});
  EXPECT_EQ(measure("stubble_height").typed, "3.3");
  tablet.tap(KeyDone{});
  tablet.settle();
  EXPECT_EQ(last().entered, "3.3");
  EXPECT_EQ(last().unit, "in");
  EXPECT_EQ(last().source, Source::kTyped);
  tablet.tap(FocusMeasure{"stubble_height"});
  tablet.tap(StepAmount{-1});
  EXPECT_EQ(measure("stubble_height").typed, "3.2") << "a step begins at the plot's own value";
  tablet.tap(KeepAmount{});
  tablet.settle();
  EXPECT_EQ(last().kind, kind::kCorrection);
}

// Proves: with nothing typed a fine step begins in the middle of the tiles, not at nothing.
TEST_F(Rate, TheFirstFineStepBeginsAmongTheTiles) {
  tablet.tap(FocusMeasure{"stubble_height"});
  const auto tiles = measure("stubble_height").choices;
  ASSERT_GE(tiles.size(), 3U);
  const double middle = tiles[(tiles.size() - 1) / 2].value;
  tablet.tap(StepAmount{1});
  EXPECT_NEAR(std::stod(measure("stubble_height").typed), middle + 0.1, 1e-9);
  tablet.tap(KeyErase{});
  while (!measure("stubble_height").typed.empty()) tablet.tap(KeyErase{});
  tablet.tap(StepAmount{-1});
  EXPECT_NEAR(std::stod(measure("stubble_height").typed), middle - 0.1, 1e-9);
}

TEST_F(Rate, NothingTypedIsNothingKept) {
  tablet.tap(FocusMeasure{"stubble_height"});
  tablet.tap(KeepAmount{});
  tablet.settle();
  EXPECT_EQ(tablet.ledger.size(), 1U);
}

TEST_F(Rate, AStepIsTypedAndEndedWithEnter) {
  tablet.tap(FocusMeasure{"seedling_vigor"});
  tablet.tap(KeyText{"9"});
  tablet.tap(KeyDone{});
  EXPECT_EQ(tablet.notice(), "check.off_scale");
  tablet.tap(KeyText{"4"});
  EXPECT_EQ(measure("seedling_vigor").typed, "4");
  tablet.settle();
  EXPECT_NE(last().measure, "seedling_vigor");
  tablet.tap(KeyDone{});
  tablet.settle();
  EXPECT_EQ(last().measure, "seedling_vigor");
  EXPECT_EQ(last().entered, "4");
  EXPECT_EQ(last().source, Source::kTyped);
}

TEST_F(Rate, AScannedStakeIsTheWayToItsPlot) {
  for (const std::string_view focus : {"percent_stand", "seedling_vigor", "stubble_height"}) {
    tablet.tap(FocusMeasure{std::string(focus)});
    tablet.scan("202");
    EXPECT_EQ(tablet.rate().plot, "202") << focus;
    tablet.scan("101");
    EXPECT_EQ(tablet.rate().plot, "101") << focus;
  }
  tablet.settle();
  EXPECT_NE(last().kind, kind::kReading);
}

// Plots may be numbered like percents: slowly typed it is a value, scanned it is a stake.
TEST(RateShortNumbers, HowFastItCameTellsAStakeFromAValue) {
  Tablet tablet;
  Plan plan = grass_plan();
  plan.plots.at(1).number = "85";
  KnownTrial& known = tablet.model.trials.at(0);
  known.plan = plan;
  tablet.open(plan, "stand");
  tablet.scan("85");
  EXPECT_EQ(tablet.rate().plot, "85");
  tablet.type("85");
  tablet.tap(KeyDone{});
  tablet.settle();
  EXPECT_EQ(tablet.ledger.back().measure, "percent_stand");
  EXPECT_EQ(tablet.ledger.back().entered, "85");
}

TEST_F(Rate, AStakeTypedSlowlyIsFoundWhereItIsNoValue) {
  tablet.type("202");
  EXPECT_EQ(tablet.rate().plot, "101");
  tablet.tap(KeyDone{});
  EXPECT_EQ(tablet.rate().plot, "202");
  tablet.type("999");
  tablet.tap(KeyDone{});
  EXPECT_EQ(tablet.notice(), "check.off_scale");
  EXPECT_EQ(tablet.rate().plot, "202");
}

TEST_F(Rate, AStakeIsFoundFromAPlotThatIsDone) {
  rate_plot();
  tablet.tap(GoToPlot{"101"});
  EXPECT_EQ(tablet.rate().focus, std::nullopt);
  tablet.scan("203");
  EXPECT_EQ(tablet.rate().plot, "203");
  rate_plot();
  tablet.tap(GoToPlot{"101"});
  tablet.scan("777");
  EXPECT_EQ(tablet.notice(), "notice.unknown_plot");
}

TEST_F(Rate, TheFirstDigitReplacesTheAmountThatIsShown) {
  const auto typed = [&] { return tablet.rate().measures.at(3).typed; };
  tablet.choose("stubble_height", "2.5");
  tablet.settle();
  tablet.tap(FocusMeasure{"stubble_height"});
  tablet.type("3");
  EXPECT_EQ(typed(), "3");
  tablet.tap(StepAmount{1});
  tablet.type("4");
  EXPECT_EQ(typed(), "4") << "stepped to, not typed";
  tablet.type("00");
  tablet.tap(KeepAmount{});
  EXPECT_EQ(tablet.notice(), "check.off_scale");
  tablet.type("4");
  EXPECT_EQ(typed(), "4") << "after a refusal";
  tablet.tap(FocusMeasure{"stubble_height"});
  tablet.tap(KeyErase{});
  tablet.type("7");
  EXPECT_EQ(typed(), "2.7") << "erasing edits what stands";
}

}  // namespace
}  // namespace ligule::flow
