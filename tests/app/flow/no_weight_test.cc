// A plot without a weight: zero or missing, by its reason.
#include "app/flow/no_weight.h"

#include "tests/app/flow/harvest_fixture.h"

namespace ligule::flow {
namespace {

class NoWeightTest : public HarvestTest {
 protected:
  NoWeightTest() { start(); }
  void say(const std::string& reason) {
    tablet.tap(ShowPage{PlotPage::kNoWeight});
    tablet.tap(SayNoWeight{reason});
    tablet.settle();
  }
};

TEST_F(NoWeightTest, EveryReasonIsOfferedWithWhatItCountsAs) {
  EXPECT_TRUE(tablet.weighing().no_weight.empty());
  tablet.tap(ShowPage{PlotPage::kNoWeight});
  const auto offered = tablet.weighing().no_weight;
  ASSERT_EQ(offered.size(), kNoWeightReasons.size());
  EXPECT_EQ(offered.front().code, "winterkill");
  EXPECT_TRUE(offered.front().zero);
  EXPECT_FALSE(offered.back().zero);
  tablet.tap(ShowPage{});
  EXPECT_TRUE(tablet.weighing().no_weight.empty());
}

// Proves: winterkill counts as zero, a washout as missing.
TEST_F(NoWeightTest, AZeroAndAMissingWeightAreKeptWithTheirReason) {
  say("winterkill");
  const Record& zero = last_of(measure::kGrossWeight);
  EXPECT_EQ(zero.kind, kind::kReading);
  EXPECT_EQ(zero.state, ValueState::kZero);
  EXPECT_EQ(zero.reason, "winterkill");
  EXPECT_EQ(zero.entered, "");
  EXPECT_FALSE(zero.value);
  EXPECT_EQ(zero.source, Source::kTapped);
  EXPECT_EQ(tablet.weighing().plot, "102") << "the plot is done";
  say("washed_out");
  EXPECT_EQ(last_of(measure::kGrossWeight).state, ValueState::kMissing);
  EXPECT_EQ(tablet.mark("102"), Mark::kMissing);
}

TEST_F(NoWeightTest, AWeightThatStoodIsCorrected) {
  weigh("31.5", "1");
  tablet.settle();
  tablet.tap(GoToPlot{"101"});
  say("bag_spilled");
  const Record& gross = last_of(measure::kGrossWeight);
  EXPECT_EQ(gross.kind, kind::kCorrection);
  EXPECT_EQ(gross.state, ValueState::kMissing);
  EXPECT_EQ(gross.reason, "bag_spilled");
}

TEST_F(NoWeightTest, AWeightThatTurnsUpAfterAllReplacesIt) {
  say("bag_spilled");
  tablet.tap(GoToPlot{"101"});
  EXPECT_EQ(tablet.text(Field::kGross), "");
  weigh("31.5", "1");
  tablet.settle();
  EXPECT_EQ(last_of(measure::kGrossWeight).entered, "31.5");
  EXPECT_EQ(last_of(measure::kGrossWeight).kind, kind::kCorrection);
}

TEST_F(NoWeightTest, ItIsTakenBackInOneTap) {
  say("winterkill");
  tablet.tap(TakeBack{});
  tablet.settle();
  EXPECT_EQ(tablet.ledger.back().kind, kind::kWithdrawal);
  EXPECT_EQ(tablet.weighing().plot, "101");
}

TEST_F(NoWeightTest, AnotherPlotBeginsWithoutTheQuestion) {
  tablet.tap(ShowPage{PlotPage::kNoWeight});
  tablet.tap(GoToPlot{"103"});
  EXPECT_TRUE(tablet.weighing().no_weight.empty());
}

TEST_F(NoWeightTest, AnUnknownReasonIsNone) {
  say("tired");
  EXPECT_EQ(std::ranges::count(tablet.ledger, measure::kGrossWeight, &Record::measure), 0);
}

TEST_F(NoWeightTest, NothingIsSaidBeforeTheStakeIsAgreedTo) {
  tablet.agrees = false;
  tablet.tap(ShowToday{});
  tablet.next_day();
  tablet.open(grass_plan(), "cut1");
  start();
  say("winterkill");
  EXPECT_EQ(std::ranges::count(tablet.ledger, measure::kGrossWeight, &Record::measure), 0);
}

}  // namespace
}  // namespace ligule::flow
