// A plot that counts as zero: whoever answers for the trial looks again and confirms it in Review.
#include <algorithm>

#include "app/flow/no_weight.h"
#include "storage/trial/said.h"
#include "tests/app/flow/harvest_fixture.h"

namespace ligule::flow {
namespace {

using ::testing::Contains;
using ::testing::ElementsAre;
using ::testing::Not;

class ConfirmZeroTest : public HarvestTest {
 protected:
  ConfirmZeroTest() { start(); }
  void say(const std::string& reason) {
    tablet.tap(ShowPage{PlotPage::kNoWeight});
    tablet.tap(SayNoWeight{reason});
    tablet.settle();
  }
  // Opens the sheet of the weight that stands on a plot.
  void put_right(const std::string& plot) {
    tablet.look_over(grass_plan(), "cut1");
    tablet.tap(ShowHistory{plot});
    tablet.settle();
    for (const HistoryRow& row : tablet.history().rows) {
      if (row.measure == measure::kGrossWeight && row.standing)
        return void(tablet.tap(MendValue{row.id}));
    }
    FAIL() << "no weight on " << plot;
  }
  [[nodiscard]] MendView sheet() const { return std::get<MendView>(tablet.review().page); }
  void confirm() {
    tablet.tap(MendBy{Mend::kConfirm});
    tablet.tap(MendFor{"zero_confirmed"});
    tablet.settle();
  }
};

TEST_F(ConfirmZeroTest, TheZeroIsRestatedWithItsReasonAndThatItWasConfirmed) {
  say("winterkill");
  const Record zero = last_of(measure::kGrossWeight);
  put_right("101");
  ASSERT_THAT(sheet().ways, Contains(Mend::kConfirm));
  tablet.tap(MendBy{Mend::kConfirm});
  EXPECT_THAT(sheet().reasons, ElementsAre("zero_confirmed"));
  EXPECT_EQ(sheet().pad, MendPad::kNone);
  EXPECT_TRUE(sheet().can_do);
  confirm();
  const Record& kept = tablet.ledger.back();
  EXPECT_EQ(kept.kind, kind::kCorrection);
  EXPECT_THAT(kept.targets, ElementsAre(zero.id));
  EXPECT_EQ(kept.state, ValueState::kZero);
  EXPECT_EQ(kept.reason, "winterkill") << "why there is none stays";
  EXPECT_TRUE(said::zero_confirmed(kept.details));
  EXPECT_EQ(kept.source, Source::kTapped);
  EXPECT_EQ(kept.run, zero.run);
  EXPECT_EQ(tablet.history().rows.front().said, "reason.zero_confirmed");
}

TEST_F(ConfirmZeroTest, ItIsConfirmedOnceAndCanBeTakenBack) {
  say("stand_died");
  put_right("101");
  confirm();
  put_right("101");
  EXPECT_THAT(sheet().ways, Not(Contains(Mend::kConfirm)));
  tablet.tap(MendBy{Mend::kTakeBack});
  tablet.tap(MendFor{"mistap"});
  tablet.settle();
  EXPECT_FALSE(said::zero_confirmed(tablet.ledger.back().details));
  put_right("101");
  EXPECT_THAT(sheet().ways, Contains(Mend::kConfirm));
}

TEST_F(ConfirmZeroTest, OnlyWhatCountsAsZeroIsOffered) {
  say("washed_out");
  put_right("101");
  EXPECT_THAT(sheet().ways, Not(Contains(Mend::kConfirm))) << "missing";
  tablet.tap(MendBy{Mend::kConfirm});
  EXPECT_EQ(sheet().what, Mend::kCorrect);
  tablet.open(grass_plan(), "cut1");
  tablet.tap(GoToPlot{"102"});
  weigh("30", "1");
  tablet.settle();
  put_right("102");
  EXPECT_THAT(sheet().ways, Not(Contains(Mend::kConfirm))) << "a weight";
}

TEST_F(ConfirmZeroTest, AWeightThatComesAfterAllIsNoConfirmedZero) {
  say("below_bar");
  put_right("101");
  confirm();
  put_right("101");
  tablet.type("12");
  tablet.tap(MendFor{"looked_again"});
  tablet.settle();
  const Record& kept = tablet.ledger.back();
  EXPECT_EQ(kept.entered, "12");
  EXPECT_EQ(kept.state, ValueState::kValue);
  EXPECT_FALSE(said::zero_confirmed(kept.details));
}

TEST_F(ConfirmZeroTest, WeedsOnlyIsConfirmedWithItsWeight) {
  tablet.tap(SayWeedsOnly{});
  weigh("12.5", "1");
  tablet.settle();
  put_right("101");
  ASSERT_THAT(sheet().ways, Contains(Mend::kConfirm));
  confirm();
  const Record& kept = tablet.ledger.back();
  EXPECT_EQ(kept.entered, "12.5");
  EXPECT_EQ(kept.state, ValueState::kValue);
  EXPECT_EQ(kept.reason, "zero_confirmed");
  EXPECT_TRUE(said::weeds_only(kept.details));
  EXPECT_TRUE(said::zero_confirmed(kept.details));
}

// Proves: a weight of weeds stays the scale's own when it is confirmed, and what was confirmed goes
// with the statement.
TEST_F(ConfirmZeroTest, WhatWasConfirmedOfWeedsGoesWithThem) {
  weigh("12.5", "1");
  tablet.settle();
  const auto source = last_of(measure::kGrossWeight).source;
  tablet.tap(GoToPlot{"101"});
  tablet.tap(SayWeedsOnly{});
  tablet.settle();
  put_right("101");
  confirm();
  EXPECT_EQ(last_of(measure::kGrossWeight).source, source);
  EXPECT_TRUE(said::zero_confirmed(last_of(measure::kGrossWeight).details));
  tablet.open(grass_plan(), "cut1");
  tablet.tap(GoToPlot{"101"});
  tablet.tap(SayWeedsOnly{});
  tablet.settle();
  EXPECT_FALSE(said::zero_confirmed(last_of(measure::kGrossWeight).details));
}

}  // namespace
}  // namespace ligule::flow
