// Putting standing values right from a plot's history.
#include <algorithm>

#include "tests/app/flow/tablet.h"

namespace ligule::flow {
namespace {

using ::testing::ElementsAre;
using ::testing::SizeIs;
using ::testing::UnorderedElementsAre;

class PutRight : public ::testing::Test {
 protected:
  void review(std::string_view code, std::string_view plot) {
    tablet.look_over(grass_plan(), code);
    tablet.tap(ShowHistory{std::string(plot)});
    tablet.settle();
  }
  // Opens the sheet of the standing value of a measure.
  void mend(std::string_view measure) {
    for (const HistoryRow& row : tablet.history().rows) {
      if (row.measure == measure && row.standing) return void(tablet.tap(MendValue{row.id}));
    }
    FAIL() << "no standing " << measure;
  }
  MendView sheet() { return std::get<MendView>(tablet.review().page); }
  void because(std::string_view reason) {
    tablet.tap(MendFor{std::string(reason)});
    tablet.settle();
  }
  void rate() {
    tablet.open(grass_plan(), "stand");
    tablet.choose("percent_stand", "35");
    tablet.choose("seedling_vigor", "4");
    tablet.settle();
  }
  void weigh(std::string_view gross, std::string_view tare) {
    tablet.open(grass_plan(), "cut1");
    tablet.fill(Field::kMachine, "mower");
    tablet.tap(StartRun{});
    tablet.fill(Field::kGross, gross);
    tablet.fill(Field::kTare, tare);
    tablet.tap(KeepPlot{});
  }

  Tablet tablet;
};

TEST_F(PutRight, ACorrectionRestatesTheWholeValueWithItsReason) {
  rate();
  review("stand", "101");
  mend("percent_stand");
  EXPECT_THAT(sheet().ways, ElementsAre(Mend::kCorrect, Mend::kTakeBack));
  EXPECT_EQ(sheet().pad, MendPad::kNumber);
  EXPECT_FALSE(sheet().can_do) << "no value yet";
  tablet.tap(MendFor{"misread"});
  ASSERT_EQ(tablet.ledger.back().kind, kind::kReading);
  tablet.type("85");
  EXPECT_TRUE(sheet().can_do);
  const Record first = *std::ranges::find(tablet.ledger, "percent_stand", &Record::measure);
  because("misread");
  const Record& kept = tablet.ledger.back();
  EXPECT_EQ(kept.kind, kind::kCorrection);
  EXPECT_EQ(kept.entered, "85");
  EXPECT_EQ(kept.value, 85);
  EXPECT_EQ(kept.unit, "%");
  EXPECT_EQ(kept.reason, "misread");
  EXPECT_EQ(kept.state, ValueState::kValue);
  EXPECT_EQ(kept.source, Source::kTyped);
  EXPECT_EQ(kept.blind, true);
  EXPECT_EQ(kept.definition, first.definition);
  EXPECT_THAT(kept.targets, ElementsAre(first.id));
  // Back in the history, which shows what was kept.
  EXPECT_EQ(tablet.history().rows.front().shown, "85\u00A0%");
  EXPECT_THAT(tablet.history().rows.front().replaced, ElementsAre("35\u00A0%"));
  tablet.tap(ReviewBack{});
  EXPECT_EQ(tablet.on_map("101").shown, "85");
}

TEST_F(PutRight, AStepIsChosenOffItsScaleOnly) {
  rate();
  review("stand", "101");
  mend("seedling_vigor");
  EXPECT_EQ(sheet().pad, MendPad::kSteps);
  EXPECT_EQ(sheet().scale, "seedling_vigor") << "each step is shown as on the card";
  ASSERT_THAT(sheet().choices, SizeIs(5));
  tablet.tap(ChooseMended{"9"});
  EXPECT_FALSE(sheet().can_do);
  tablet.tap(ChooseMended{"2"});
  because("looked_again");
  EXPECT_EQ(tablet.ledger.back().entered, "2");
  EXPECT_EQ(tablet.ledger.back().source, Source::kTapped);
}

TEST_F(PutRight, WhatCantBeMeantIsRefusedAndTheSheetStays) {
  rate();
  review("stand", "101");
  mend("percent_stand");
  tablet.type("140");
  const std::size_t kept = tablet.ledger.size();
  because("misread");
  EXPECT_EQ(tablet.notice(), "check.off_scale");
  EXPECT_EQ(sheet().typed, "140");
  for (int i = 0; i < 3; ++i) tablet.tap(KeyErase{});
  tablet.type("35");
  because("misread");
  EXPECT_EQ(tablet.notice(), "notice.same_value");
  because("no such reason");
  EXPECT_EQ(tablet.ledger.size(), kept);
}

TEST_F(PutRight, TakingBackWithdrawsAFirstValueAndRestatesAnEarlierOne) {
  rate();
  review("stand", "101");
  mend("percent_stand");
  tablet.type("85");
  because("misread");
  mend("percent_stand");
  tablet.tap(MendBy{Mend::kTakeBack});
  EXPECT_EQ(sheet().pad, MendPad::kNone);
  because("wrong_plot");
  EXPECT_EQ(tablet.ledger.back().kind, kind::kCorrection);
  EXPECT_EQ(tablet.ledger.back().entered, "35");
  EXPECT_EQ(tablet.ledger.back().reason, "wrong_plot");
  mend("seedling_vigor");
  tablet.tap(MendBy{Mend::kTakeBack});
  because("not_valid");
  EXPECT_EQ(tablet.ledger.back().kind, kind::kWithdrawal);
  EXPECT_EQ(tablet.ledger.back().entered, "");
  EXPECT_FALSE(tablet.ledger.back().state);
  tablet.open(grass_plan(), "stand");
  EXPECT_EQ(tablet.rate().measures[1].mark, Mark::kOpen);
}

TEST_F(PutRight, OneTapTakesACorrectionBack) {
  rate();
  review("stand", "101");
  mend("percent_stand");
  tablet.type("85");
  because("misread");
  ASSERT_TRUE(tablet.review().can_take_back);
  tablet.tap(TakeBack{});
  tablet.settle();
  EXPECT_EQ(tablet.ledger.back().entered, "35");
  EXPECT_FALSE(tablet.review().can_take_back);
  EXPECT_EQ(tablet.history().rows.front().shown, "35\u00A0%");
}

TEST_F(PutRight, AConflictIsSettledByNamingEveryValueThatStands) {
  rate();
  Record other = *std::ranges::find(tablet.ledger, "percent_stand", &Record::measure);
  const RecordId mine = other.id;
  other.id.uuid.bytes[0] = 7;
  other.entered = "60";
  other.value = 60;
  other.person = person_id("CD");
  tablet.ledger.push_back(other);
  review("stand", "101");
  mend("percent_stand");
  EXPECT_THAT(sheet().ways, ElementsAre(Mend::kSettle));
  ASSERT_THAT(sheet().claims, SizeIs(2));
  EXPECT_EQ(sheet().claims[0].shown, "60\u00A0%");
  EXPECT_TRUE(sheet().claims[0].chosen);
  EXPECT_EQ(sheet().claims[1].who, "AB");
  tablet.tap(MendValue{mine});
  EXPECT_TRUE(sheet().claims[1].chosen);
  tablet.tap(MendBy{Mend::kCorrect});
  EXPECT_EQ(sheet().what, Mend::kSettle) << "several values are settled first";
  because("agreed");
  const Record& kept = tablet.ledger.back();
  EXPECT_EQ(kept.kind, kind::kSettlement);
  EXPECT_EQ(kept.entered, "35");
  EXPECT_EQ(kept.reason, "agreed");
  EXPECT_THAT(kept.targets, UnorderedElementsAre(mine, other.id));
  EXPECT_TRUE(tablet.history().rows.front().standing);
  EXPECT_FALSE(tablet.history().rows.front().conflict);
  tablet.tap(ReviewBack{});
  EXPECT_FALSE(tablet.on_map("101").conflict);
  EXPECT_EQ(tablet.on_map("101").shown, "35");
  // It names several: there is no one value before it to go back to.
  EXPECT_FALSE(tablet.review().can_take_back);
}

TEST_F(PutRight, AWeightOnHoldIsSettledOrCorrectedAndAskedAboutAgain) {
  weigh("5", "8");
  ASSERT_EQ(tablet.question(), "check.gross_under_tare");
  tablet.answer("not_known");
  tablet.settle();
  review("cut1", "101");
  EXPECT_EQ(tablet.history().rows.back().mark == Mark::kOnHold ||
                tablet.history().rows.front().mark == Mark::kOnHold,
            true);
  const auto held = std::ranges::find(tablet.ledger, ValueState::kOnHold, &Record::state);
  ASSERT_NE(held, tablet.ledger.end());
  const RecordId held_id = held->id;
  tablet.tap(MendValue{held_id});
  EXPECT_THAT(sheet().ways, ElementsAre(Mend::kCorrect, Mend::kTakeBack, Mend::kSettle));
  tablet.type("6");
  const std::string measure = sheet().measure;
  because("misread");
  EXPECT_EQ(tablet.question(), "check.gross_under_tare") << "still less than nothing";
  tablet.answer("not_known");
  tablet.settle();
  EXPECT_EQ(tablet.ledger.back().state, ValueState::kOnHold);
  EXPECT_THAT(tablet.ledger.back().answers, SizeIs(1));
  mend(measure);
  tablet.tap(MendBy{Mend::kSettle});
  because("on_paper");
  const Record& kept = tablet.ledger.back();
  EXPECT_EQ(kept.kind, kind::kSettlement);
  EXPECT_EQ(kept.state, ValueState::kValue);
  EXPECT_EQ(kept.entered, "6");
  mend(measure);
  EXPECT_THAT(sheet().ways, ElementsAre(Mend::kCorrect));
}

// Proves: what is put right is held against the same rules as on the card.
TEST_F(PutRight, AWeightPutRightIsHeldAgainstItsYield) {
  tablet.model.setup.definitions.limits.push_back(
      {"cutting_yield", "", "", "ton/acre", 0.1, 4, "s"});
  weigh("30", "3");
  tablet.settle();
  review("cut1", "101");
  mend(measure::kGrossWeight);
  tablet.type("200");
  because("misread");
  EXPECT_EQ(tablet.question(), "check.yield_unusual");
}

TEST_F(PutRight, ATarePutRightIsHeldAgainstItsGross) {
  weigh("30", "3");
  tablet.settle();
  review("cut1", "101");
  mend(measure::kTareWeight);
  tablet.type("100");
  because("misread");
  EXPECT_EQ(tablet.question(), "check.gross_under_tare");
  tablet.answer("not_known");
  tablet.settle();
  EXPECT_EQ(tablet.ledger.back().state, ValueState::kOnHold);
}

// Proves: of several bags each is held against its own weights.
TEST_F(PutRight, ASecondBagsTareIsHeldAgainstItsOwnGross) {
  weigh("30", "3");
  tablet.settle();
  tablet.tap(GoToPlot{"101"});
  tablet.tap(MoreBag{});
  tablet.fill(Field::kGross, "5");
  tablet.fill(Field::kTare, "3");
  tablet.tap(KeepPlot{});
  tablet.settle();
  review("cut1", "101");
  const auto tare_of_second = [&] {
    for (const HistoryRow& row : tablet.history().rows)
      if (row.measure == measure::kTareWeight && row.standing && row.bag == 2)
        tablet.tap(MendValue{row.id});
  };
  tare_of_second();
  tablet.type("4");
  because("misread");
  EXPECT_EQ(tablet.question(), "") << "under its own 5 and over nothing";
  tablet.settle();
  tare_of_second();
  tablet.type("6");
  because("misread");
  EXPECT_EQ(tablet.question(), "check.gross_under_tare");
}

TEST_F(PutRight, WhatIsReplacedOrOfAnotherOccasionIsNotPutRightHere) {
  rate();
  const RecordId first = std::ranges::find(tablet.ledger, "percent_stand", &Record::measure)->id;
  review("late", "101");
  tablet.tap(MendValue{first});
  EXPECT_FALSE(tablet.history().rows.back().can_mend);
  review("stand", "101");
  mend("percent_stand");
  tablet.type("85");
  because("misread");
  tablet.tap(MendValue{first});
  EXPECT_FALSE(tablet.history().rows.back().can_mend);
  EXPECT_TRUE(tablet.history().rows.front().can_mend);
}

TEST_F(PutRight, ACorrectionThatIsNotSavedIsSaidAndCanBeSavedAgain) {
  rate();
  review("stand", "101");
  mend("percent_stand");
  tablet.type("85");
  tablet.break_disk(true);
  because("misread");
  ASSERT_TRUE(tablet.above().unsaved);
  EXPECT_THAT(tablet.above().unsaved->plots, ElementsAre("101"));
  tablet.break_disk(false);
  tablet.tap(RetryUnsaved{});
  tablet.settle();
  EXPECT_EQ(tablet.ledger.back().entered, "85");
  EXPECT_EQ(tablet.history().rows.front().shown, "85\u00A0%");
}

TEST_F(PutRight, BackLeavesTheValueAlone) {
  rate();
  review("stand", "101");
  mend("percent_stand");
  tablet.type("85");
  const std::size_t kept = tablet.ledger.size();
  tablet.tap(ReviewBack{});
  EXPECT_EQ(tablet.history().plot, "101");
  EXPECT_EQ(tablet.ledger.size(), kept);
}

}  // namespace
}  // namespace ligule::flow
