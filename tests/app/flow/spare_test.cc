// Spare copies while people work, and going on from another tablet's.
#include <algorithm>

#include "app/flow/spare.h"
#include "tests/app/flow/trials_fixture.h"

namespace ligule::flow {
namespace {

using ::testing::IsEmpty;
using ::testing::SizeIs;

constexpr std::chrono::minutes kMinute{1};
const Error card_full{ErrorKind::kIo, "no space left on device", "card", "free some"};

class Spare : public ::testing::Test {
 protected:
  Spare() { tablet.copies_answer = {{{"/media/CARD", "a.ledger", UtcInstant{}}}, {}}; }
  [[nodiscard]] std::size_t copies() const { return tablet.copied; }
  // One value more; the writer catches up.
  void rate(std::string_view plot, std::string_view stand = "80") {
    tablet.tap(GoToPlot{std::string(plot)});
    tablet.choose("percent_stand", stand);
    tablet.settle();
  }
  void open() { tablet.open(grass_plan(), "stand"); }
  // Time goes on by minutes, as the program tells it.
  void wait(int minutes) {
    for (int n = 0; n < minutes; ++n) {
      tablet.rest(kMinute);
      tablet.tap(Tick{});
      tablet.settle();
    }
    if (tablet.model.handing) tablet.sign_in("AB");  // left alone it asked who has it
  }

  Tablet tablet;
};

// Signing in made a record: what waits for a copy is there from the start.
TEST_F(Spare, IsMadeAQuarterOfAnHourAfterTheFirstRecord) {
  wait(13);
  EXPECT_EQ(copies(), 0U);
  wait(2);
  EXPECT_EQ(copies(), 1U);
  wait(60);
  EXPECT_EQ(copies(), 1U) << "nothing was recorded since";
}

TEST_F(Spare, EveryQuarterOfAnHourOfWorkIsCopied) {
  open();
  rate("101");
  wait(15);
  EXPECT_EQ(copies(), 1U);
  wait(10);
  rate("102");
  EXPECT_EQ(copies(), 1U);
  wait(5);
  EXPECT_EQ(copies(), 2U) << "a quarter of an hour after the last, not after the value";
  wait(40);
  rate("103");
  EXPECT_EQ(copies(), 3U) << "after a rest at once";
}

TEST_F(Spare, ABlockThatBecomesWholeIsCopiedAtOnceAndOnlyOnce) {
  open();
  const std::vector<PlanPlot> path = grass_plan().along_path();
  for (const PlanPlot& plot : path) {
    if (plot.block != path.front().block) break;
    rate(plot.number);
    EXPECT_EQ(copies(), 0U) << plot.number << ": other measures are open";
    tablet.tap(GoToPlot{plot.number});
    tablet.tap(PutOff{});
    tablet.settle();
  }
  EXPECT_EQ(copies(), 1U) << "what is put off is not open";
  rate(path.front().number, "70");
  EXPECT_EQ(copies(), 1U) << "it was whole before";
}

// A slow card: the next block is whole before the copy of the one before it is made.
TEST_F(Spare, ABlockThatBecomesWholeMeanwhileIsCopiedNext) {
  open();
  for (const PlanPlot& plot : grass_plan().along_path()) {
    tablet.tap(GoToPlot{plot.number});
    tablet.tap(PutOff{});
    tablet.settle_but_copies();
  }
  EXPECT_EQ(tablet.copied, 1U) << "two blocks, one copy runs";
  tablet.tap(LedgerCopied{tablet.copies_answer});
  tablet.settle_but_copies();
  EXPECT_EQ(tablet.copied, 2U);
  tablet.tap(LedgerCopied{tablet.copies_answer});
  wait(14);
  EXPECT_EQ(tablet.copied, 2U);
}

TEST_F(Spare, WhatWasKeptBeforeTheStartIsCopiedToo) {
  tablet.restart();
  tablet.today_answer.newest = tablet.model.now;
  tablet.sign_in("AB");
  tablet.tap(ShowToday{});
  tablet.settle();
  EXPECT_EQ(copies(), 0U);
  wait(15);
  EXPECT_EQ(copies(), 1U);
}

TEST_F(Spare, OneOfTwoPlacesThatFailsIsToldBesideTheAge) {
  tablet.copies_answer = {{{"/media/CARD", "a.ledger", tablet.model.now.utc}},
                          {{"/media/STICK", card_full}}};
  wait(15);
  EXPECT_EQ(tablet.notice(), "notice.spare_failed");
  EXPECT_TRUE(tablet.today().spare.age);
  EXPECT_FALSE(tablet.today().spare.failed);
  tablet.copies_answer = {};  // both were pulled
  open();
  rate("101");
  wait(15);
  tablet.tap(ShowToday{});
  EXPECT_FALSE(tablet.today().spare.age);
  EXPECT_FALSE(tablet.today().spare.place);
}

TEST_F(Spare, WithoutACardItIsTriedAgainInItsTime) {
  tablet.copies_answer = {};
  wait(15);
  EXPECT_EQ(copies(), 1U);
  EXPECT_EQ(tablet.notice(), "");
  EXPECT_FALSE(tablet.today().spare.failed);
  wait(14);
  EXPECT_EQ(copies(), 1U);
  wait(1);
  EXPECT_EQ(copies(), 2U);
}

TEST_F(Spare, AFailureIsToldOnceAndTriedAgain) {
  tablet.copies_answer = {{}, {{"/media/CARD", card_full}}};
  wait(15);
  EXPECT_EQ(tablet.notice(), "notice.spare_failed");
  EXPECT_TRUE(tablet.today().spare.failed);
  EXPECT_FALSE(tablet.today().spare.age);
  tablet.tap(DismissNotice{});
  wait(15);
  EXPECT_EQ(copies(), 2U);
  EXPECT_EQ(tablet.notice(), "") << "it was told";
  tablet.copies_answer = {{{"/media/CARD", "b.ledger", tablet.model.now.utc}}, {}};
  wait(15);
  EXPECT_FALSE(tablet.today().spare.failed);
  EXPECT_TRUE(tablet.today().spare.age);
}

TEST_F(Spare, TodayTellsHowOldItIs) {
  EXPECT_FALSE(tablet.today().spare.age);
  EXPECT_FALSE(tablet.today().spare.place);
  tablet.today_answer.places = {{"/media/CARD", "CARD"}};
  tablet.today_answer.spare = SpareCopy{"/media/CARD", "a.ledger", tablet.model.now.utc};
  tablet.tap(ShowToday{});
  tablet.settle();
  tablet.rest(kMinute * 12);
  tablet.tap(Tick{});
  EXPECT_TRUE(tablet.today().spare.place);
  EXPECT_EQ(tablet.today().spare.age, (Age{"minutes", 12}));
}

TEST_F(Spare, AClockThatWasSetBackDoesNotPutItOff) {
  wait(15);
  open();
  rate("101");
  EXPECT_EQ(copies(), 1U);
  tablet.rest(-std::chrono::hours(3));
  tablet.tap(Tick{});
  EXPECT_EQ(copies(), 1U) << "asked for, not made yet";
  tablet.settle();
  EXPECT_EQ(copies(), 2U);
}

class TakingOver : public OnTrials {
 protected:
  TakingOver() {
    tablet.copies_found = {{"/media/CARD/a.ledger", "CARD", "North 1", tablet.model.now.utc, 312}};
    tablet.tap(LookForPlans{});
    tablet.settle();
  }
};

TEST_F(TakingOver, IsTwoTapsAndASureWord) {
  const auto found = page<PlanPickView>();
  ASSERT_THAT(found.copies, SizeIs(1));
  EXPECT_EQ(found.copies[0].device, "North 1");
  EXPECT_EQ(found.copies[0].records, 312);
  tablet.tap(OfferCopy{"/media/CARD/a.ledger"});
  EXPECT_TRUE(page<OfferedCopyView>().can_go_on);
  tablet.over_answer =
      TakenOver{{tablet.model.setup, {{annual_plan(), "digest A1", {}}}, tablet.model.people},
                "North 1",
                312};
  const Effects effects = tablet.tap(GoOnFromCopy{});
  ASSERT_THAT(effects, SizeIs(1));
  EXPECT_EQ(std::get<TakeOver>(effects[0]).path, "/media/CARD/a.ledger");
  EXPECT_TRUE(page<OfferedCopyView>().reading);
  EXPECT_THAT(tablet.tap(GoOnFromCopy{}), IsEmpty()) << "it is being read";
  tablet.settle();
  EXPECT_EQ(tablet.notice(), "notice.taken_over");
  ASSERT_THAT(tablet.model.trials, SizeIs(1));
  EXPECT_EQ(tablet.model.trials[0].plan, annual_plan());
  EXPECT_TRUE(std::holds_alternative<OnToday>(tablet.model.screen));
}

TEST_F(TakingOver, WhatCouldNotBeTakenIsSaidAndTheCardOfferedAgain) {
  tablet.tap(OfferCopy{"/media/CARD/a.ledger"});
  tablet.over_answer = NotTakenOver{{ErrorKind::kDamaged, "not a ledger", "a.ledger", "another"}};
  tablet.tap(GoOnFromCopy{});
  tablet.settle();
  EXPECT_EQ(tablet.notice(), "notice.not_taken_over");
  EXPECT_TRUE(page<OfferedCopyView>().can_go_on);
  tablet.tap(TrialsBack{});
  tablet.settle();
  EXPECT_THAT(page<PlanPickView>().copies, SizeIs(1));
}

TEST_F(TakingOver, ACopyOfANewerVersionIsToldAndNotOffered) {
  tablet.copies_found = {{"/media/CARD/b.ledger", "CARD", "", tablet.model.now.utc, 0,
                          Error{ErrorKind::kNewerVersion, "of version 99", "b.ledger", "newer"}}};
  tablet.tap(LookForPlans{});
  tablet.settle();
  EXPECT_EQ(page<PlanPickView>().copies.at(0).device, "");
  tablet.tap(OfferCopy{"/media/CARD/b.ledger"});
  ASSERT_THAT(page<FileFaultyView>().faults, SizeIs(1));
  EXPECT_EQ(page<FileFaultyView>().faults[0].kind, ErrorKind::kNewerVersion);
  EXPECT_THAT(tablet.tap(GoOnFromCopy{}), IsEmpty());
  tablet.tap(TrialsBack{});
  tablet.settle();
  EXPECT_THAT(page<PlanPickView>().copies, SizeIs(1));
}

TEST_F(TakingOver, ACopyThatIsNotThereIsNotOffered) {
  tablet.tap(OfferCopy{"/media/CARD/other.ledger"});
  EXPECT_THAT(page<PlanPickView>().copies, SizeIs(1));
  tablet.tap(GoOnFromCopy{});
  EXPECT_THAT(page<PlanPickView>().copies, SizeIs(1));
}

// Whoever went elsewhere while it was read stays there.
TEST_F(TakingOver, DoesNotThrowAnybodyOffTheirScreen) {
  tablet.tap(OfferCopy{"/media/CARD/a.ledger"});
  tablet.over_answer =
      TakenOver{{tablet.model.setup, tablet.model.trials, tablet.model.people}, "North 1", 0};
  tablet.tap(GoOnFromCopy{});
  tablet.tap(ShowDaysEnd{});
  tablet.settle();
  EXPECT_TRUE(std::holds_alternative<OnDaysEnd>(tablet.model.screen));
}

}  // namespace
}  // namespace ligule::flow
