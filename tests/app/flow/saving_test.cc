// What happens between the tap and the durable commit, and when there is none.
#include <algorithm>

#include "tests/app/flow/tablet.h"

namespace ligule::flow {
namespace {

using ::testing::ElementsAre;

class Saving : public ::testing::Test {
 protected:
  Saving() { tablet.open(grass_plan(), "stand"); }

  void rate_plot(std::string_view stand) {
    tablet.choose("percent_stand", stand);
    tablet.choose("seedling_vigor", "4");
    tablet.choose("maturity", tablet.rate().measures.at(2).scale == "maturity_legume" ? "3" : "R0");
    tablet.choose("stubble_height", "3.5");
  }

  Tablet tablet;
};

TEST_F(Saving, AtMostEightActsWait) {
  rate_plot("10");
  rate_plot("20");
  EXPECT_EQ(tablet.rate().plot, "103");
  EXPECT_EQ(tablet.rate().head.saving, 8U);
  EXPECT_FALSE(tablet.rate().can_enter);
  tablet.choose("percent_stand", "30");
  EXPECT_EQ(tablet.rate().head.saving, 8U);
  EXPECT_EQ(tablet.rate().measures.front().mark, Mark::kOpen);
  tablet.tap(PutOff{});
  tablet.tap(TakeBack{});
  tablet.tap(OpenNote{});
  tablet.tap(ShowNames{});
  tablet.tap(DeclareDone{});
  EXPECT_EQ(tablet.rate().head.saving, 8U);
  EXPECT_EQ(tablet.rate().plot, "103");
  tablet.settle();
  EXPECT_TRUE(tablet.rate().can_enter);
  EXPECT_EQ(tablet.ledger.size(), 9U);
}

// Proves: design.md 4, if a commit fails all later ones are NOT SAVED too and the screen returns to
// that plot with its value.
TEST_F(Saving, AFailedCommitTakesTheLaterOnesWithItAndReturnsToItsPlot) {
  tablet.choose("percent_stand", "10");
  tablet.settle();
  tablet.break_disk(true);
  tablet.choose("seedling_vigor", "4");
  tablet.choose("maturity", "R0");
  tablet.choose("stubble_height", "3.5");
  tablet.choose("percent_stand", "20");
  ASSERT_EQ(tablet.rate().plot, "102");
  tablet.settle();
  const Overlay above = tablet.above();
  ASSERT_TRUE(above.unsaved);
  EXPECT_EQ(above.unsaved->acts, 4U);
  EXPECT_THAT(above.unsaved->plots, ElementsAre("101", "102"));
  EXPECT_EQ(above.unsaved->error.kind, ErrorKind::kIo);
  const RateView view = tablet.rate();
  EXPECT_EQ(view.plot, "101");
  EXPECT_EQ(view.measures.at(1).shown, "4") << "with its value";
  EXPECT_EQ(view.measures.at(1).mark, Mark::kNotSaved);
  EXPECT_EQ(view.measures.at(0).mark, Mark::kKept);
  EXPECT_EQ(tablet.mark("101"), Mark::kNotSaved);
  EXPECT_EQ(tablet.mark("102"), Mark::kNotSaved);
  EXPECT_FALSE(view.can_enter);
  EXPECT_EQ(tablet.cues.back(), Cue{CueKind::kNotSaved});
  EXPECT_EQ(tablet.ledger.size(), 2U);
}

TEST_F(Saving, NothingElseIsTakenInWhileSomethingIsNotSaved) {
  tablet.break_disk(true);
  tablet.choose("percent_stand", "10");
  tablet.settle();
  tablet.choose("seedling_vigor", "4");
  tablet.tap(GoToPlot{"203"});
  tablet.tap(ShowToday{});
  tablet.tap(HandOver{});
  EXPECT_EQ(tablet.rate().plot, "101");
  EXPECT_EQ(tablet.above().unsaved->acts, 1U);
}

TEST_F(Saving, TryingAgainWritesTheSameRecordsInOrder) {
  tablet.break_disk(true);
  tablet.choose("percent_stand", "10");
  tablet.choose("percent_stand", "15");
  tablet.settle();
  tablet.break_disk(false);
  tablet.tap(RetryUnsaved{});
  EXPECT_FALSE(tablet.above().unsaved);
  EXPECT_EQ(tablet.rate().measures.front().mark, Mark::kSaving);
  tablet.settle();
  ASSERT_EQ(tablet.ledger.size(), 3U);
  EXPECT_EQ(tablet.ledger[1].entered, "10");
  EXPECT_THAT(tablet.ledger[2].targets, ElementsAre(tablet.ledger[1].id));
  EXPECT_EQ(tablet.rate().measures.front().shown, "15");
  EXPECT_EQ(tablet.rate().measures.front().mark, Mark::kKept);
  tablet.tap(TakeBack{});
  tablet.settle();
  EXPECT_EQ(tablet.rate().measures.front().shown, "10");
}

TEST_F(Saving, TryingAgainInVainSaysSoAgain) {
  tablet.break_disk(true);
  tablet.choose("percent_stand", "10");
  tablet.settle();
  tablet.tap(RetryUnsaved{});
  tablet.settle();
  ASSERT_TRUE(tablet.above().unsaved);
  EXPECT_EQ(tablet.above().unsaved->acts, 1U);
}

TEST_F(Saving, LettingGoShowsWhatTheLedgerHolds) {
  tablet.choose("percent_stand", "10");
  tablet.settle();
  tablet.break_disk(true);
  tablet.choose("percent_stand", "15");
  tablet.choose("seedling_vigor", "4");
  tablet.settle();
  tablet.break_disk(false);
  tablet.tap(DropUnsaved{});
  const RateView view = tablet.rate();
  EXPECT_EQ(view.measures.at(0).shown, "10");
  EXPECT_EQ(view.measures.at(0).mark, Mark::kKept);
  EXPECT_EQ(view.measures.at(1).mark, Mark::kOpen);
  tablet.tap(TakeBack{});
  tablet.settle();
  EXPECT_EQ(tablet.ledger.back().kind, kind::kWithdrawal)
      << "of the first value, not of what is gone";
  EXPECT_EQ(tablet.ledger.size(), 3U);
}

TEST_F(Saving, AFailureFindsThePersonOnAnotherScreen) {
  tablet.choose("percent_stand", "10");
  tablet.settle();
  tablet.tap(GoToPlot{"202"});
  tablet.break_disk(true);
  tablet.choose("percent_stand", "25");
  tablet.tap(ShowToday{});
  tablet.settle();
  EXPECT_EQ(tablet.rate().plot, "202");
  EXPECT_EQ(tablet.rate().measures.front().shown, "25");
  EXPECT_EQ(tablet.mark("202"), Mark::kNotSaved);
  tablet.break_disk(false);
  tablet.tap(RetryUnsaved{});
  tablet.settle();
  EXPECT_EQ(tablet.mark("202"), Mark::kOpen) << "three measures to go";
  EXPECT_EQ(tablet.rate().measures.front().mark, Mark::kKept);
  EXPECT_TRUE(tablet.rate().can_take_back);
}

// Half typed in a cutting while a value of the rating before it turns out not to be saved.
TEST_F(Saving, GoingBackToWhatIsNotSavedLeavesWhatIsTypedInACutting) {
  tablet.choose("percent_stand", "35");
  const Act act = tablet.model.pending.front();
  tablet.settle();
  tablet.open(grass_plan(), "cut1");
  const auto head = [&] {
    return std::get<RunHeadView>(std::get<HarvestView>(view_of(tablet.model)).step);
  };
  tablet.type("Mower 1");
  const auto fails = [&] {
    tablet.model.pending.push_back(act);
    tablet.tap(NotKept{act.number, {ErrorKind::kIo, "no space left", "", ""}, tablet.model.epoch});
    tablet.settle();
    ASSERT_EQ(tablet.rate().plot, "101");
    tablet.tap(DropUnsaved{});
    tablet.open(grass_plan(), "cut1");
  };
  fails();
  EXPECT_EQ(head().fields.front().text, "Mower 1");
  tablet.tap(StartRun{});
  tablet.settle();
  tablet.fill(Field::kGross, "30.5");
  fails();
  EXPECT_EQ(tablet.text(Field::kGross), "30.5");
  tablet.tap(ShowDryWeights{});
  tablet.settle();
  tablet.open(grass_plan(), "cut1");
  EXPECT_EQ(tablet.text(Field::kGross), "30.5");
}

// A slow card: the first value's failure comes, both are sent again, and only then comes what the
// second one's first sending came to. It is on its way, and not to be told as not saved.
TEST_F(Saving, WhatAnEarlierSendingCameToSaysNothingOfTheNext) {
  const Error full{ErrorKind::kIo, "no space left", "", ""};
  const int epoch = tablet.model.epoch;
  tablet.choose("percent_stand", "35");
  tablet.choose("percent_stand", "40");
  ASSERT_EQ(tablet.model.pending.size(), 2U);
  const ActNumber first = tablet.model.pending.front().number;
  const ActNumber second = tablet.model.pending.back().number;
  tablet.tap(NotKept{first, full, epoch});
  ASSERT_TRUE(tablet.above().unsaved);
  tablet.tap(RetryUnsaved{});
  tablet.tap(NotKept{second, full, epoch});
  EXPECT_FALSE(tablet.above().unsaved);
  EXPECT_EQ(tablet.model.pending.size(), 2U);
  tablet.tap(NotKept{second, full, tablet.model.epoch});
  EXPECT_TRUE(tablet.above().unsaved) << "that it failed again is told";
}

TEST_F(Saving, AnOutcomeOfAnUnknownActChangesNothing) {
  tablet.tap(Kept{999});
  tablet.tap(NotKept{999, {ErrorKind::kIo, "no space left", "", ""}, tablet.model.epoch});
  EXPECT_FALSE(tablet.above().unsaved);
  EXPECT_TRUE(tablet.rate().can_enter);
}

TEST(SavingAQuestion, WhatWasBeingAskedGoesWithWhatIsLetGo) {
  Tablet tablet(date::year{2024} / 9 / 9);
  tablet.open(grass_plan(), "stand");
  tablet.tap(OpenNote{});
  tablet.type("x");
  tablet.break_disk(true);
  tablet.tap(KeyDone{});
  tablet.choose("percent_stand", "85");
  ASSERT_EQ(tablet.question(), "check.before_sowing");
  tablet.settle();
  ASSERT_TRUE(tablet.above().unsaved);
  tablet.answer("date_is_right");
  EXPECT_EQ(tablet.question(), "check.before_sowing") << "NOT SAVED comes first";
  tablet.tap(DropUnsaved{});
  EXPECT_EQ(tablet.question(), "");
}

TEST(SavingAPerson, ANewPersonIsARecordAndAKnownOneIsNot) {
  Tablet tablet;
  ASSERT_EQ(tablet.ledger.size(), 1U);
  EXPECT_EQ(tablet.ledger[0].kind, kind::kPerson);
  EXPECT_EQ(tablet.ledger[0].entered, "AB");
  EXPECT_EQ(tablet.ledger[0].subject, person_id("AB").uuid);
  EXPECT_EQ(tablet.ledger[0].person, person_id("AB"));
  EXPECT_EQ(tablet.today().head.initials, "AB");
  tablet.tap(HandOver{});
  EXPECT_THAT(std::get<SignInView>(view_of(tablet.model)).known, ElementsAre("AB"));
  tablet.sign_in("ab");
  EXPECT_EQ(tablet.ledger.size(), 1U) << "case makes nobody new";
  tablet.tap(HandOver{});
  tablet.type("KÑ");
  EXPECT_TRUE(std::get<SignInView>(view_of(tablet.model)).can_done);
  tablet.tap(KeyErase{});
  EXPECT_EQ(std::get<SignInView>(view_of(tablet.model)).typed, "K");
  tablet.tap(KeyErase{});
  tablet.tap(KeyDone{});
  EXPECT_TRUE(std::holds_alternative<SignInView>(view_of(tablet.model))) << "nobody typed";
  tablet.type("K");
  tablet.tap(KeyDone{});
  tablet.settle();
  EXPECT_EQ(tablet.ledger.back().entered, "K");
}

TEST(SavingAPerson, APersonWhoCouldNotBeSavedSignsInAgain) {
  Tablet tablet;
  tablet.tap(HandOver{});
  tablet.break_disk(true);
  tablet.sign_in("ZZ");
  ASSERT_TRUE(tablet.above().unsaved);
  tablet.tap(DropUnsaved{});
  EXPECT_TRUE(std::holds_alternative<SignInView>(view_of(tablet.model)));
  EXPECT_THAT(std::get<SignInView>(view_of(tablet.model)).known, ElementsAre("AB"));
}

}  // namespace
}  // namespace ligule::flow
