// What is said of a plot beside its weight: weeds only, the strip's length and width.
#include "app/flow/plot_statements.h"

#include "storage/trial/details.h"
#include "tests/app/flow/harvest_fixture.h"

namespace ligule::flow {
namespace {

class PlotStatementsTest : public HarvestTest {
 protected:
  PlotStatementsTest() { start(); }
  void measure(std::string_view length, std::string_view width, bool block) {
    tablet.tap(ShowPage{PlotPage::kSwath});
    tablet.fill(Field::kSwathLength, length);
    tablet.fill(Field::kSwathWidth, width);
    tablet.tap(KeepSwath{block});
    if (tablet.question() == "check.swath_unusual") tablet.answer("measured_so");
    tablet.settle();
  }
  std::size_t count(std::string_view measure) const {
    return static_cast<std::size_t>(std::ranges::count(tablet.ledger, measure, &Record::measure));
  }
  std::string weeds() { return detail(last_of(measure::kGrossWeight).details, "weeds"); }
};

// Proves: weeds only: the total is kept as weighed.
TEST_F(PlotStatementsTest, WeedsOnlyGoesWithTheWeightThatFollows) {
  tablet.tap(SayWeedsOnly{});
  EXPECT_TRUE(tablet.weighing().weeds_only);
  weigh("12.4", "1");
  tablet.settle();
  EXPECT_EQ(weeds(), "only");
  EXPECT_EQ(last_of(measure::kGrossWeight).entered, "12.4");
  EXPECT_EQ(last_of(measure::kGrossWeight).state, ValueState::kValue);
  EXPECT_FALSE(tablet.weighing().weeds_only) << "the next plot is its own";
}

TEST_F(PlotStatementsTest, WeedsOnlyIsSaidOfAWeightThatStands) {
  weigh("12.4", "1");
  tablet.settle();
  tablet.tap(GoToPlot{"101"});
  tablet.tap(SayWeedsOnly{});
  tablet.settle();
  EXPECT_EQ(tablet.weighing().plot, "101");
  EXPECT_EQ(last_of(measure::kGrossWeight).kind, kind::kCorrection);
  EXPECT_EQ(last_of(measure::kGrossWeight).reason, "weeds_only");
  EXPECT_EQ(weeds(), "only");
  tablet.tap(SayWeedsOnly{});
  tablet.settle();
  EXPECT_EQ(weeds(), "") << "after all not";
  EXPECT_FALSE(tablet.weighing().weeds_only);
}

TEST_F(PlotStatementsTest, WeedsOnlyIsTakenBackInOneTap) {
  weigh("12.4", "1");
  tablet.settle();
  tablet.tap(GoToPlot{"101"});
  tablet.tap(SayWeedsOnly{});
  tablet.settle();
  tablet.tap(TakeBack{});
  tablet.settle();
  EXPECT_EQ(weeds(), "");
  EXPECT_EQ(last_of(measure::kGrossWeight).entered, "12.4");
}

TEST_F(PlotStatementsTest, WhatIsBeingTypedOverAWeightStaysTyped) {
  weigh("12.4", "1");
  tablet.settle();
  tablet.tap(GoToPlot{"101"});
  tablet.fill(Field::kGross, "12.8");
  tablet.tap(SayWeedsOnly{});
  tablet.settle();
  EXPECT_EQ(tablet.text(Field::kGross), "12.8");
}

TEST_F(PlotStatementsTest, ANumberPutRightInReviewIsStillWeedsOnly) {
  tablet.tap(SayWeedsOnly{});
  weigh("12.4", "1");
  tablet.settle();
  const Record gross = last_of(measure::kGrossWeight);
  tablet.look_over(grass_plan(), "cut1");
  tablet.tap(ShowHistory{"101"});
  tablet.settle();
  tablet.tap(MendValue{gross.id});
  tablet.type("12.9");
  tablet.tap(MendFor{"misread"});
  tablet.settle();
  EXPECT_EQ(last_of(measure::kGrossWeight).entered, "12.9");
  EXPECT_EQ(weeds(), "only");
}

TEST_F(PlotStatementsTest, WeedsOnlySaidOnAnotherTabletIsSettledInReview) {
  tablet.tap(SayWeedsOnly{});
  weigh("12.4", "1");
  tablet.settle();
  Record other = last_of(measure::kGrossWeight);
  const RecordId mine = other.id;
  other.id.uuid.bytes[0] = 7;
  other.details.clear();
  tablet.ledger.push_back(other);
  tablet.look_over(grass_plan(), "cut1");
  tablet.tap(ShowHistory{"101"});
  tablet.settle();
  std::size_t conflicts = 0;
  for (const HistoryRow& row : tablet.history().rows) {
    if (!row.conflict) continue;
    ++conflicts;
    EXPECT_EQ(row.said, row.id == mine ? "reason.weeds_only" : "");
  }
  EXPECT_EQ(conflicts, 2U);
  tablet.tap(MendValue{mine});
  const auto sheet = std::get<MendView>(tablet.review().page);
  ASSERT_EQ(sheet.claims.size(), 2U);
  for (const ClaimView& claim : sheet.claims)
    EXPECT_EQ(claim.said, claim.id == mine ? "reason.weeds_only" : "");
  tablet.tap(MendFor{"agreed"});
  tablet.settle();
  EXPECT_EQ(last_of(measure::kGrossWeight).kind, kind::kSettlement);
  EXPECT_EQ(weeds(), "only");
}

// Said of one of two bags on another tablet: one tap says it of the plot.
TEST_F(PlotStatementsTest, WeedsOnlyInOneBagIsNoPlotOfWeeds) {
  weigh("12.4", "1");
  tablet.settle();
  Record second = last_of(measure::kGrossWeight);
  second.id.uuid.bytes[0] = 7;
  second.part = 2;
  second.details = R"({"weeds":"only"})";
  tablet.ledger.push_back(second);
  tablet.open(grass_plan(), "cut1");
  start();
  tablet.tap(GoToPlot{"101"});
  EXPECT_FALSE(tablet.weighing().weeds_only);
  tablet.tap(SayWeedsOnly{});
  tablet.settle();
  EXPECT_TRUE(tablet.weighing().weeds_only);
  EXPECT_EQ(weeds(), "only");
}

TEST_F(PlotStatementsTest, WeedsOnlyWaitsWithThePlotThatIsLeft) {
  tablet.tap(SayWeedsOnly{});
  tablet.tap(GoToPlot{"102"});
  EXPECT_FALSE(tablet.weighing().weeds_only);
  tablet.tap(GoToPlot{"101"});
  EXPECT_TRUE(tablet.weighing().weeds_only);
}

// Proves: swath length and width per plot, measured after end-trimming.
TEST_F(PlotStatementsTest, TheStripIsMeasuredOnAPlot) {
  measure("17.5", "3", false);
  EXPECT_EQ(count(measure::kSwathLength), 1U);
  EXPECT_EQ(last_of(measure::kSwathLength).entered, "17.5");
  EXPECT_EQ(last_of(measure::kSwathLength).unit, "ft");
  EXPECT_EQ(last_of(measure::kSwathWidth).entered, "3");
  EXPECT_EQ(tablet.weighing().plot, "101") << "its weight is still to come";
  EXPECT_EQ(tablet.weighing().page, PlotPage::kPad);
  tablet.tap(ShowPage{PlotPage::kMore});
  EXPECT_EQ(tablet.weighing().more->swath, "17.5\u00a0ft x 3\u00a0ft");
  tablet.tap(ShowPage{PlotPage::kSwath});
  EXPECT_EQ(tablet.weighing().swath.front().text, "17.5");
  EXPECT_EQ(tablet.weighing().swath.front().mark, Mark::kKept);
}

// Proves: the same per block; what was measured on a plot of its own stays.
TEST_F(PlotStatementsTest, TheStripIsMeasuredForABlock) {
  tablet.tap(GoToPlot{"102"});
  measure("16", "3", false);
  tablet.tap(GoToPlot{"101"});
  measure("17.5", "3", true);
  std::vector<std::string> lengths;
  for (const Record& record : tablet.ledger)
    if (record.measure == measure::kSwathLength) lengths.push_back(record.entered);
  EXPECT_EQ(lengths, (std::vector<std::string>{"16", "17.5", "17.5"}));
  tablet.tap(TakeBack{});
  tablet.settle();
  EXPECT_EQ(std::ranges::count(tablet.ledger, kind::kWithdrawal, &Record::kind), 4)
      << "two plots, two sides, one tap";
}

TEST_F(PlotStatementsTest, AStripTypedAndLeftWaits) {
  const auto length = [&] { return tablet.weighing().swath.front().text; };
  tablet.tap(ShowPage{PlotPage::kSwath});
  tablet.fill(Field::kSwathLength, "17.2");
  // The page is closed, the plot left, the cutting left.
  tablet.tap(ShowPage{PlotPage::kPad});
  tablet.tap(ShowPage{PlotPage::kSwath});
  EXPECT_EQ(length(), "17.2");
  tablet.tap(GoToPlot{"102"});
  EXPECT_EQ(tablet.weighing().page, PlotPage::kPad) << "another plot's strip is its own";
  tablet.tap(GoToPlot{"101"});
  ASSERT_EQ(tablet.weighing().page, PlotPage::kSwath) << "where it was left";
  EXPECT_EQ(length(), "17.2");
  tablet.tap(ShowToday{});
  tablet.open(grass_plan(), "cut1");
  tablet.tap(GoToPlot{"101"});
  ASSERT_EQ(tablet.weighing().page, PlotPage::kSwath);
  EXPECT_EQ(length(), "17.2");
  // The weight is kept meanwhile.
  tablet.tap(ShowPage{PlotPage::kPad});
  weigh("12.4", "1");
  tablet.settle();
  tablet.tap(GoToPlot{"101"});
  ASSERT_EQ(tablet.weighing().page, PlotPage::kSwath);
  EXPECT_EQ(length(), "17.2");
  tablet.tap(KeepSwath{false});
  tablet.settle();
  EXPECT_EQ(last_of(measure::kSwathLength).entered, "17.2");
  tablet.tap(GoToPlot{"102"});
  tablet.tap(GoToPlot{"101"});
  EXPECT_EQ(tablet.weighing().page, PlotPage::kPad) << "kept, it waits no longer";
}

TEST_F(PlotStatementsTest, MeasuredAgainItIsCorrected) {
  measure("17.5", "3", false);
  measure("17.4", "3", false);
  EXPECT_EQ(last_of(measure::kSwathLength).kind, kind::kCorrection);
  EXPECT_EQ(last_of(measure::kSwathLength).reason, "measured_again");
  EXPECT_EQ(count(measure::kSwathWidth), 1U) << "that stands as it is";
}

TEST_F(PlotStatementsTest, AStripThatCannotBeIsRefusedAndStaysToBeMended) {
  measure("99", "3", false);
  EXPECT_EQ(tablet.notice(), "check.swath_over_plot");
  EXPECT_EQ(count(measure::kSwathLength), 0U);
  EXPECT_EQ(tablet.weighing().page, PlotPage::kSwath);
  measure("0", "3", false);
  EXPECT_EQ(tablet.notice(), "check.swath_nothing");
  EXPECT_EQ(count(measure::kSwathLength), 0U);
}

TEST_F(PlotStatementsTest, AnUnusualStripAsksOnceADay) {
  tablet.tap(ShowPage{PlotPage::kSwath});
  tablet.fill(Field::kSwathLength, "11");
  tablet.fill(Field::kSwathWidth, "3");
  tablet.tap(KeepSwath{true});
  EXPECT_EQ(tablet.question(), "check.swath_unusual");
  tablet.answer("measure_again");
  EXPECT_EQ(count(measure::kSwathLength), 0U);
  EXPECT_EQ(tablet.weighing().page, PlotPage::kSwath);
  tablet.tap(KeepSwath{true});
  tablet.answer("measured_so");
  tablet.settle();
  EXPECT_EQ(count(measure::kSwathLength), 3U);
  EXPECT_EQ(last_of(measure::kSwathLength).answers,
            (std::vector<Answer>{{"swath_unusual", "measured_so"}}));
}

TEST_F(PlotStatementsTest, NothingIsSaidBeforeTheStakeIsAgreedTo) {
  tablet.agrees = false;
  tablet.tap(ShowToday{});
  tablet.next_day();
  tablet.open(grass_plan(), "cut1");
  start();
  tablet.tap(SayWeedsOnly{});
  EXPECT_FALSE(tablet.weighing().weeds_only);
}

// What is only said of a weight gives up no load.
class SaidOnTheScaleTest : public ScaleHarvestTest {};
TEST_F(SaidOnTheScaleTest, TakingBackWeedsOnlyLeavesTheLoadTaken) {
  take("30.0");
  tablet.tap(SayWeedsOnly{});
  tablet.settle();
  const Effects effects = tablet.tap(TakeBack{});
  EXPECT_FALSE(std::ranges::any_of(
      effects, [](const Effect& effect) { return std::holds_alternative<LoadTaken>(effect); }));
  tablet.settle();
  EXPECT_TRUE(std::ranges::any_of(tablet.tap(TakeBack{}), [](const Effect& effect) {
    return std::holds_alternative<LoadTaken>(effect);
  })) << "the weight itself";
}

TEST_F(SaidOnTheScaleTest, WeedsOnlySaidAfterTheLastCheckMakesNoOtherDue) {
  for (const char* number : {"1", "2", "3", "4", "5", "6"}) {
    take(std::string("3") + number + ".5");
    bag(number);
  }
  tablet.tap(CheckScale{true});
  tablet.fill(Field::kCheckMass, "20");
  tablet.fill(Field::kCheckAllowance, "0.1");
  on_the_scale("20.0");
  tablet.tap(TakeCheck{});
  tablet.settle();
  ASSERT_EQ(tablet.weighing().check_due, CheckDue::kNone);
  tablet.tap(GoToPlot{"101"});
  tablet.tap(SayWeedsOnly{});
  tablet.settle();
  EXPECT_EQ(tablet.weighing().check_due, CheckDue::kNone);
}

}  // namespace
}  // namespace ligule::flow
