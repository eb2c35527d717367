// After a spray: Today says until when nobody is to go in, and opening the trial asks.
#include <algorithm>

#include "app/flow/trials_codes.h"
#include "storage/trial/details.h"
#include "tests/app/flow/tablet.h"

namespace ligule::flow {
namespace {

using testing::ElementsAre;
using testing::IsEmpty;
using testing::SizeIs;

class Sprayed : public ::testing::Test {
 protected:
  void write(const char* key, std::string_view text) {
    tablet.tap(DescribeEvent{.writing = key});
    tablet.type(text);
    tablet.tap(KeyDone{});
  }
  // Of the grass trial, ended at 7 o'clock this morning.
  void spray(std::string_view hours) {
    tablet.tap(ShowTrials{});
    tablet.tap(ShowTrial{grass_plan().id()});
    tablet.settle();
    tablet.tap(NewEvent{});
    tablet.tap(DescribeEvent{.what = "spray"});
    tablet.tap(DescribeEvent{.block = 2});
    write("material", "a herbicide");
    tablet.tap(DescribeEvent{.no_entry = hours.empty() ? NoEntryBy::kNotKnown : NoEntryBy::kHours});
    if (!hours.empty()) {
      write("no_entry_hours", hours);
      write("ended", "7:00");
    }
    tablet.tap(KeepEvent{});
    tablet.settle();
    today();
  }
  void today() {
    tablet.tap(ShowToday{});
    tablet.settle();
  }
  void later(UtcInstant::duration time) {
    tablet.rest(time);
    tablet.tap(Tick{});  // left alone so long it asks who has it
    tablet.tap(PickPerson{"AB"});
  }
  void open(std::string_view occasion, const Plan& plan = grass_plan()) {
    for (const PlanOccasion& each : plan.occasions)
      if (each.code == occasion) tablet.tap(OpenOccasion{plan.id(), plan.occasion(each)});
  }
  bool asked() const { return tablet.above().no_entry.has_value(); }
  std::size_t went_in() const {
    return static_cast<std::size_t>(std::ranges::count(tablet.ledger, kWentIn, &Record::entered));
  }
  bool on_today() const { return std::holds_alternative<OnToday>(tablet.model.screen); }

  Tablet tablet;
};

TEST_F(Sprayed, TodaySaysUntilWhenAndStopsWhenThatHasPassed) {
  EXPECT_THAT(tablet.today().no_entry, IsEmpty());
  spray("4");
  const auto views = tablet.today().no_entry;
  ASSERT_THAT(views, SizeIs(1));
  EXPECT_EQ(views[0].trial, "G1");
  EXPECT_EQ(views[0].field, "North");
  EXPECT_EQ(views[0].block, "2");
  EXPECT_EQ(views[0].on, "2026-05-04");
  EXPECT_EQ(views[0].material, "a herbicide");
  EXPECT_EQ(views[0].until, "2026-05-04 11:00");
  later(std::chrono::hours{2});
  EXPECT_THAT(tablet.today().no_entry, SizeIs(1));
  later(std::chrono::hours{1});
  EXPECT_THAT(tablet.today().no_entry, IsEmpty()) << "it is past eleven";
}

TEST_F(Sprayed, TodayKnowsItBeforeItIsReadAnewAndAfterARestart) {
  spray("30");
  tablet.restart();
  tablet.sign_in("AB");
  ASSERT_THAT(tablet.today().no_entry, SizeIs(1));
  EXPECT_EQ(tablet.today().no_entry[0].until, "2026-05-05 13:00");
}

TEST_F(Sprayed, WhatNobodyKnowsStaysAndStandsFirst) {
  spray("30");
  spray("");
  spray("40");
  const auto views = tablet.today().no_entry;
  ASSERT_THAT(views, SizeIs(3));
  EXPECT_EQ(views[0].until, "");
  EXPECT_EQ(views[1].until, "2026-05-05 23:00");
  EXPECT_EQ(views[2].until, "2026-05-05 13:00");
  for (int day = 0; day < 30; ++day) tablet.next_day();
  today();
  EXPECT_THAT(tablet.today().no_entry, SizeIs(1)) << "no time is made up";
}

TEST_F(Sprayed, ASprayTakenBackKeepsNobodyOut) {
  spray("30");
  tablet.tap(ShowTrials{});
  tablet.tap(ShowTrial{grass_plan().id()});
  tablet.settle();
  tablet.tap(ShowEventBack{tablet.ledger.back().id});
  tablet.tap(TakeEventBack{"mistap"});
  tablet.settle();
  EXPECT_THAT(tablet.model.today.sprays, IsEmpty());
  today();
  EXPECT_THAT(tablet.today().no_entry, IsEmpty());
  open("stand");
  EXPECT_FALSE(asked());
}

TEST_F(Sprayed, OpeningARatingAsksAndGoingInIsNoted) {
  spray("30");
  open("stand");
  ASSERT_TRUE(asked());
  EXPECT_EQ(tablet.above().no_entry->until, "2026-05-05 13:00");
  EXPECT_EQ(tablet.above().no_entry->block, "2");
  tablet.tap(ShowTrials{});
  EXPECT_TRUE(on_today()) << "it is answered first";
  tablet.tap(AnswerNoEntry{false});
  EXPECT_FALSE(asked());
  EXPECT_TRUE(on_today());
  EXPECT_EQ(went_in(), 0U);
  open("stand");
  tablet.tap(AnswerNoEntry{true});
  tablet.settle();
  EXPECT_EQ(tablet.rate().head.initials, "AB");
  ASSERT_EQ(went_in(), 1U);
  const Record& noted = tablet.ledger.back();
  EXPECT_EQ(noted.kind, kind::kEvent);
  EXPECT_EQ(noted.reason, "label_allows");
  EXPECT_EQ(noted.person, person_id("AB"));
  EXPECT_EQ(noted.trial, grass_plan().id());
  EXPECT_EQ(detail(noted.details, "occasion"),
            grass_plan().occasion(grass_plan().occasions[0]).text());
  // Once a day: not again for the same rating, but for another one.
  today();
  open("stand");
  EXPECT_FALSE(asked());
  tablet.settle();
  today();
  open("late");
  EXPECT_TRUE(asked());
}

TEST_F(Sprayed, AnotherDayAndAnotherPersonAreAskedAnew) {
  spray("60");
  open("stand");
  tablet.tap(AnswerNoEntry{true});
  tablet.settle();
  today();
  tablet.tap(HandOver{});
  tablet.tap(PickPerson{"CD"});
  tablet.settle();
  open("stand");
  EXPECT_TRUE(asked());
  tablet.tap(AnswerNoEntry{false});
  tablet.next_day();
  tablet.tap(HandOver{});
  tablet.tap(PickPerson{"AB"});
  tablet.settle();
  open("stand");
  EXPECT_TRUE(asked());
}

TEST_F(Sprayed, GoingInThatWasNotWrittenDownIsAskedAgain) {
  spray("30");
  tablet.break_disk(true);
  open("stand");
  tablet.tap(AnswerNoEntry{true});
  tablet.settle();
  ASSERT_TRUE(tablet.above().unsaved);
  tablet.break_disk(false);
  tablet.tap(DropUnsaved{});
  tablet.settle();
  EXPECT_EQ(went_in(), 0U);
  today();
  open("stand");
  EXPECT_TRUE(asked());
}

TEST_F(Sprayed, AQuestionIsLetGoWhenSomebodyElseTakesTheTablet) {
  spray("30");
  open("stand");
  ASSERT_TRUE(asked());
  tablet.rest(std::chrono::hours{1});
  tablet.tap(Tick{});
  tablet.tap(PickPerson{"CD"});
  tablet.settle();
  EXPECT_FALSE(asked());
}

TEST_F(Sprayed, ACuttingBeforeItsDayAsksBoth) {
  spray("30");
  open("cut2");
  ASSERT_TRUE(asked());
  tablet.tap(AnswerNoEntry{true});
  EXPECT_FALSE(asked());
  ASSERT_TRUE(tablet.above().early);
  tablet.tap(AnswerEarly{true});
  tablet.settle();
  EXPECT_TRUE(std::holds_alternative<Harvest>(tablet.model.screen));
}

TEST_F(Sprayed, ATrialOfAnotherFieldIsOpenedAsEver) {
  for (KnownTrial& trial : tablet.model.trials)
    if (trial.plan.codes == annual_plan().codes) trial.plan.field = "South";
  spray("30");
  open("vigor", annual_plan());
  EXPECT_FALSE(asked());
}

// Proves: a crew next to what was sprayed is told before it goes there, not only on Today.
TEST_F(Sprayed, ATrialBesideItOnTheFieldAsksInWordsOfItsOwn) {
  for (KnownTrial& trial : tablet.model.trials) trial.plan.field = "North";
  spray("30");
  open("vigor", annual_plan());
  ASSERT_TRUE(asked());
  EXPECT_TRUE(tablet.above().no_entry->beside);
  EXPECT_EQ(tablet.above().no_entry->trial, "G1") << "what was sprayed";
  tablet.tap(AnswerNoEntry{true});
  tablet.settle();
  EXPECT_EQ(went_in(), 0U);
  EXPECT_EQ(tablet.ledger.back().entered, "went_beside");
  EXPECT_EQ(tablet.ledger.back().person, person_id("AB"));
  EXPECT_EQ(tablet.ledger.back().trial, annual_plan().id());
  today();
  open("vigor", annual_plan());
  EXPECT_FALSE(asked()) << "once a day";
  tablet.settle();
  today();
  open("stand");
  ASSERT_TRUE(asked());
  EXPECT_FALSE(tablet.above().no_entry->beside);
}

TEST_F(Sprayed, WhatWasNotedIsListedInWords) {
  spray("30");
  open("stand");
  tablet.tap(AnswerNoEntry{true});
  tablet.settle();
  today();
  tablet.tap(ShowTrials{});
  tablet.tap(ShowTrial{grass_plan().id()});
  tablet.settle();
  tablet.tap(ShowTrialTab{TrialTab::kEvents});
  const View view = view_of(tablet.model);
  const auto& page = std::get<TrialPageView>(std::get<TrialsView>(view).page);
  ASSERT_THAT(page.events, SizeIs(2));
  EXPECT_EQ(page.events[0].what, "went_in");
  EXPECT_TRUE(page.events[0].known);
  EXPECT_EQ(page.events[0].words, "");
  EXPECT_THAT(page.events[0].facts, ElementsAre(Words{"event.fact.label_allows"}));
}

}  // namespace
}  // namespace ligule::flow
