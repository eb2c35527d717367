#include "app/flow/hand_over.h"

#include "tests/app/flow/harvest_fixture.h"
#include "tests/app/flow/pads_fixture.h"
#include "tests/app/flow/rate_fixture.h"

namespace ligule::flow {
namespace {

using std::chrono::minutes;
using testing::ElementsAre;
using testing::IsEmpty;

SignInView asked(const Tablet& tablet) {
  const View view = view_of(tablet.model);
  const auto* const who = std::get_if<SignInView>(&view);
  if (who == nullptr) ADD_FAILURE() << "nobody is asked who has the tablet";
  return who == nullptr ? SignInView{} : *who;
}

class HandOverOfARating : public Rate {};

TEST_F(HandOverOfARating, StaysOnThePlotAndTheNextValueIsTheOthers) {
  rate_plot();
  tablet.settle();
  ASSERT_EQ(tablet.rate().plot, "102");
  tablet.tap(HandOver{});
  EXPECT_EQ(asked(tablet).held_by, "AB");
  EXPECT_FALSE(asked(tablet).after_rest);
  tablet.type("CD");
  tablet.tap(KeyDone{});
  tablet.settle();
  EXPECT_EQ(tablet.rate().plot, "102");
  EXPECT_EQ(tablet.rate().head.initials, "CD");
  EXPECT_EQ(last().kind, kind::kPerson);
  tablet.choose("percent_stand", "60");
  tablet.answer("go_on");
  tablet.settle();
  EXPECT_EQ(last().person, person_id("CD"));
}

TEST_F(HandOverOfARating, GoesBackWhenItWasAMistap) {
  tablet.tap(HandOver{});
  tablet.tap(ChooseValue{"percent_stand", "60"});  // lies below: not reached
  tablet.tap(KeepTablet{});
  EXPECT_EQ(tablet.rate().head.initials, "AB");
  EXPECT_EQ(tablet.ledger.size(), 1U) << "the person only";
}

TEST_F(HandOverOfARating, ThoseKnownAreOneTapTheHolderFirst) {
  tablet.tap(HandOver{});
  tablet.sign_in("CD");
  tablet.tap(HandOver{});
  EXPECT_THAT(asked(tablet).known, ElementsAre("CD", "AB"));
  tablet.tap(KeyDone{});
  EXPECT_THAT(asked(tablet).known, ElementsAre("CD", "AB")) << "nobody was typed";
  tablet.type("XY");
  tablet.tap(KeyErase{});
  EXPECT_EQ(asked(tablet).typed, "X");
}

TEST_F(HandOverOfARating, ANoteBeingTypedGoesOnWithTheSamePerson) {
  tablet.tap(OpenNote{});
  tablet.type("gopher mo");
  tablet.tap(HandOver{});
  tablet.sign_in("AB");
  EXPECT_EQ(tablet.rate().note->text, "gopher mo");
  tablet.type("und");
  EXPECT_EQ(tablet.rate().note->text, "gopher mound");
}

TEST_F(HandOverOfARating, ANoteBeingTypedIsKeptAsTheirsWhoTypedIt) {
  tablet.tap(OpenNote{});
  tablet.type("gopher mo");
  tablet.tap(HandOver{});
  tablet.type("CD");
  tablet.tap(KeyDone{});
  EXPECT_FALSE(tablet.rate().note) << "the card is the next person's";
  EXPECT_EQ(tablet.notice(), "notice.note_kept");
  EXPECT_THAT(tablet.above().notice->text.arguments, ElementsAre("AB", "101"));
  tablet.settle();
  EXPECT_EQ(last().measure, "note");
  EXPECT_EQ(last().entered, "gopher mo");
  EXPECT_EQ(last().person, person_id("AB"));
  EXPECT_EQ(tablet.rate().head.initials, "CD");
  EXPECT_THAT(tablet.rate().notes, ElementsAre("gopher mo"));
  tablet.tap(TakeBack{});
  tablet.settle();
  EXPECT_EQ(last().kind, kind::kWithdrawal);
  EXPECT_EQ(last().person, person_id("CD")) << "whoever took it back";
  EXPECT_THAT(tablet.rate().notes, IsEmpty());
}

TEST_F(HandOverOfARating, ANoteWithoutAWordIsNone) {
  tablet.tap(OpenNote{});
  tablet.type("  ");
  tablet.tap(HandOver{});
  tablet.type("CD");
  tablet.tap(KeyDone{});
  tablet.settle();
  EXPECT_EQ(last().kind, kind::kPerson);
  EXPECT_EQ(tablet.notice(), "");
}

TEST_F(HandOverOfARating, NobodyTakesBackWhatAnotherGave) {
  tablet.choose("percent_stand", "60");
  tablet.settle();
  tablet.tap(HandOver{});
  tablet.sign_in("AB");
  EXPECT_TRUE(tablet.rate().can_take_back) << "the same person as before";
  tablet.tap(HandOver{});
  tablet.sign_in("CD");
  EXPECT_FALSE(tablet.rate().can_take_back);
}

TEST_F(HandOverOfARating, DoesNotWaitForTheWriter) {
  tablet.choose("percent_stand", "60");
  tablet.tap(HandOver{});
  tablet.type("CD");
  tablet.break_disk(true);
  tablet.tap(KeyDone{});
  tablet.settle();
  ASSERT_TRUE(tablet.above().unsaved);
  tablet.break_disk(false);
  tablet.tap(RetryUnsaved{});
  tablet.settle();
  EXPECT_EQ(tablet.ledger[1].entered, "60");
  EXPECT_EQ(tablet.ledger[1].person, person_id("AB")) << "who gave it, whoever saved it";
}

TEST_F(HandOverOfARating, AfterARestItAsksBeforeItTakesAnythingIn) {
  tablet.choose("percent_stand", "60");
  tablet.rest(minutes(29));
  tablet.tap(Tick{});
  EXPECT_EQ(tablet.rate().plot, "101") << "29 minutes";
  tablet.choose("seedling_vigor", "3");
  tablet.rest(minutes(30));
  tablet.tap(Tick{});
  EXPECT_TRUE(asked(tablet).after_rest);
  tablet.tap(KeepTablet{});
  EXPECT_TRUE(asked(tablet).after_rest) << "somebody has to say who";
  tablet.sign_in("AB");
  EXPECT_EQ(tablet.rate().measures.at(1).shown, "3");
}

TEST_F(HandOverOfARating, TheFirstTapAfterASleepIsNoValue) {
  tablet.choose("percent_stand", "60");
  tablet.settle();
  tablet.rest(minutes(30));
  tablet.choose("seedling_vigor", "3");  // no tick came before: the tablet slept
  EXPECT_TRUE(asked(tablet).after_rest);
  tablet.sign_in("CD");
  tablet.settle();
  EXPECT_EQ(tablet.rate().measures.at(1).shown, "");
}

TEST_F(HandOverOfARating, AClockSetBackAsksNobody) {
  tablet.choose("percent_stand", "60");
  tablet.rest(minutes(-300));
  tablet.tap(Tick{});
  EXPECT_EQ(tablet.rate().plot, "101");
}

TEST_F(HandOverOfARating, BlindnessIsEachPersonsOwn) {
  tablet.tap(ShowNames{});
  EXPECT_NE(tablet.rate().names, "");
  tablet.tap(HandOver{});
  tablet.sign_in("CD");
  EXPECT_EQ(tablet.rate().names, "");
  tablet.tap(HandOver{});
  tablet.sign_in("AB");
  EXPECT_NE(tablet.rate().names, "");
}

// --- another rater inside a block

class RaterChanged : public Rate {
 protected:
  RaterChanged() {
    rate_plot();
    tablet.settle();
    tablet.tap(HandOver{});
    tablet.sign_in("CD");
  }
};

TEST_F(RaterChanged, IsAskedOnceAndTheAnswerStandsWithTheValue) {
  tablet.choose("percent_stand", "60");
  ASSERT_EQ(tablet.question(), "check.rater_changed");
  EXPECT_THAT(tablet.above().question->text.arguments, ElementsAre("AB", "CD"));
  tablet.answer("go_on");
  tablet.settle();
  EXPECT_THAT(last().answers, ElementsAre(Answer{"rater_changed", "go_on"}));
  tablet.choose("seedling_vigor", "3");
  tablet.choose("maturity", "R0");
  tablet.choose("stubble_height", "3.5");
  EXPECT_EQ(tablet.question(), "");
  EXPECT_EQ(tablet.rate().plot, "103");
  tablet.choose("percent_stand", "60");
  EXPECT_EQ(tablet.question(), "") << "the same block";
  tablet.settle();
  EXPECT_THAT(last().answers, IsEmpty());
}

TEST_F(RaterChanged, TheNextBlockIsOneTapAndTheValueIsNotKept) {
  tablet.choose("percent_stand", "60");
  tablet.answer("next_block");
  EXPECT_EQ(tablet.rate().plot, "201");
  EXPECT_EQ(tablet.question(), "");
  EXPECT_EQ(tablet.mark("102"), Mark::kOpen);
  tablet.choose("percent_stand", "60");
  EXPECT_EQ(tablet.question(), "") << "nobody rated there";
}

TEST_F(RaterChanged, ThePersonWhoBeganTheBlockIsNotAsked) {
  tablet.choose("percent_stand", "60");
  tablet.answer("go_on");
  tablet.settle();
  tablet.tap(HandOver{});
  tablet.sign_in("AB");
  tablet.choose("seedling_vigor", "3");
  EXPECT_EQ(tablet.question(), "");
}

// Proves: another's value is not replaced unasked.
TEST_F(RaterChanged, WhatAnotherRatedIsPutRightOrLeft) {
  tablet.tap(GoToPlot{"101"});
  tablet.choose("percent_stand", "60");
  ASSERT_EQ(tablet.question(), "check.rated_twice");
  EXPECT_THAT(tablet.above().question->text.arguments, ElementsAre("AB"));
  const std::size_t before = tablet.ledger.size();
  tablet.answer("leave_theirs");
  tablet.settle();
  EXPECT_EQ(tablet.ledger.size(), before);
  tablet.choose("percent_stand", "60");
  tablet.answer("put_theirs_right");
  tablet.settle();
  EXPECT_EQ(last().kind, kind::kCorrection);
  EXPECT_THAT(last().answers, ElementsAre(Answer{"rated_twice", "put_theirs_right"}));
  tablet.choose("percent_stand", "55");
  EXPECT_EQ(tablet.question(), "") << "now it is their own";
}

TEST_F(RaterChanged, PuttingOffAsksNobody) {
  tablet.tap(PutOff{});
  EXPECT_EQ(tablet.question(), "");
  EXPECT_EQ(tablet.rate().plot, "103");
}

TEST_F(RaterChanged, WithNoOtherBlockOpenItSaysSo) {
  for (const char* plot : {"201", "202", "203"}) {
    tablet.tap(GoToPlot{plot});
    rate_plot();
    tablet.settle();
  }
  tablet.tap(GoToPlot{"102"});
  tablet.choose("percent_stand", "60");
  tablet.answer("next_block");
  EXPECT_EQ(tablet.notice(), "notice.no_other_block");
  EXPECT_EQ(tablet.rate().plot, "102");
}

TEST_F(RaterChanged, ABlockPutOffIsTheNextOneWhenNoOtherIsOpen) {
  for (const char* plot : {"201", "202", "203"}) {
    tablet.tap(GoToPlot{plot});
    tablet.tap(PutOff{});
    tablet.settle();
  }
  tablet.tap(GoToPlot{"102"});
  tablet.choose("percent_stand", "60");
  tablet.answer("next_block");
  EXPECT_EQ(tablet.rate().plot, "201");
}

TEST_F(RaterChanged, AQuestionIsNotAnsweredByTheNextPerson) {
  tablet.choose("percent_stand", "60");
  ASSERT_EQ(tablet.question(), "check.rater_changed");
  tablet.rest(minutes(45));
  tablet.tap(Tick{});
  EXPECT_EQ(tablet.question(), "") << "who has the tablet comes first";
  tablet.sign_in("CD");
  EXPECT_EQ(tablet.question(), "check.rater_changed") << "the same person";
  tablet.rest(minutes(45));
  tablet.tap(Tick{});
  tablet.tap(PickPerson{"AB"});
  EXPECT_EQ(tablet.notice(), "notice.question_let_go");
  EXPECT_EQ(tablet.question(), "");
  EXPECT_EQ(tablet.rate().plot, "102");
}

// --- at the scale and in the oven

class HandOverOfAHarvest : public HarvestTest {
 protected:
  HandOverOfAHarvest() { start(); }
};

TEST_F(HandOverOfAHarvest, KeepsAWeightThatIsBeingTyped) {
  tablet.fill(Field::kGross, "12.5");
  tablet.tap(HandOver{});
  tablet.sign_in("CD");
  EXPECT_EQ(tablet.text(Field::kGross), "12.5");
  tablet.tap(KeepPlot{});
  EXPECT_EQ(tablet.question(), "") << "a scale weighs alike for everybody";
  tablet.settle();
  EXPECT_EQ(tablet.ledger.back().person, person_id("CD"));
}

// --- what was typed before it went on

class HandOverWeights : public HandOverOfAHarvest {
 protected:
  HandOverWeights() { tablet.model.preferences.people[person_id("CD")].mass = "kg"; }
  [[nodiscard]] std::string typed() const {
    for (const FieldView& each : tablet.weighing().fields)
      if (each.field == Field::kGross) return each.text + " " + each.unit;
    return "nowhere";
  }
};

TEST_F(HandOverWeights, AWeightTypedInPoundsIsNeverAKilogram) {
  tablet.fill(Field::kGross, "17.4");
  ASSERT_EQ(typed(), "17.4 lb");
  tablet.tap(HandOver{});
  tablet.sign_in("CD");
  EXPECT_EQ(typed(), " kg");
  EXPECT_EQ(tablet.notice(), "notice.unit_changed");
  EXPECT_THAT(tablet.above().notice->text.arguments, ElementsAre("lb", "kg"));
}

TEST_F(HandOverWeights, OfTheSameUnitItStays) {
  tablet.model.preferences.people[person_id("CD")].mass = "lb";
  tablet.fill(Field::kGross, "17.4");
  tablet.tap(HandOver{});
  tablet.sign_in("CD");
  EXPECT_EQ(typed(), "17.4 lb");
  EXPECT_EQ(tablet.notice(), "");
}

TEST_F(HandOverWeights, WhatIsTypedWaitsWhileTheScreenIsLeft) {
  tablet.fill(Field::kGross, "17.4");
  tablet.tap(ShowToday{});
  tablet.settle();
  tablet.open(grass_plan(), "cut1");
  EXPECT_EQ(typed(), "17.4 lb");
  tablet.tap(ShowToday{});
  tablet.tap(HandOver{});
  tablet.sign_in("CD");
  tablet.settle();
  tablet.open(grass_plan(), "cut1");
  EXPECT_EQ(typed(), " kg") << "no weight of hers";
  EXPECT_EQ(tablet.notice(), "notice.unit_changed");
}

class HandOverPads : public Pads {};

TEST_F(HandOverPads, HeightsBegunInInchesAreNeverCentimetres) {
  tablet.model.preferences.people[person_id("CD")].length = "cm";
  open("height");
  tablet.choose("height", "20");
  ASSERT_THAT(gather().readings, ElementsAre("20"));
  tablet.tap(HandOver{});
  tablet.sign_in("CD");
  EXPECT_THAT(gather().readings, testing::IsEmpty());
  EXPECT_EQ(tablet.notice(), "notice.unit_changed");
  EXPECT_THAT(tablet.above().notice->text.arguments, ElementsAre("in", "cm"));
}

TEST_F(HandOverPads, HeightsBegunInTheSameUnitStay) {
  tablet.model.preferences.people[person_id("CD")].length = "in";
  open("height");
  tablet.choose("height", "20");
  tablet.tap(HandOver{});
  tablet.sign_in("CD");
  EXPECT_THAT(gather().readings, ElementsAre("20"));
  EXPECT_EQ(tablet.notice(), "");
}

TEST(HandOver, TheQuestionToCloseIsNotPutToAnother) {
  Tablet tablet;
  tablet.open(grass_plan(), "stand");
  tablet.tap(DeclareDone{});
  ASSERT_TRUE(tablet.above().closing);
  tablet.model.closing.reset();
  tablet.tap(HandOver{});
  tablet.model.closing = Closing{grass_plan().id(), {}, {"101"}};
  tablet.sign_in("CD");
  EXPECT_FALSE(tablet.above().closing);
}

}  // namespace
}  // namespace ligule::flow
