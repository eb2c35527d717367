// Today, signing in, the day's end.
#include <algorithm>

#include "tests/app/flow/tablet.h"

namespace ligule::flow {
namespace {

using ::testing::ElementsAre;
using ::testing::IsEmpty;

const SealNote kSeal{"season-1.zip", UtcInstant{}, 25};
const Error kNoSpace{ErrorKind::kIo, "no space left", "stick", "free some"};

OccasionProgress progress(const PlanOccasion& occasion, int done, int total) {
  OccasionProgress made;
  made.trial = grass_plan().id();
  made.occasion = grass_plan().occasion(occasion);
  made.done = done;
  made.total = total;
  for (int i = done; i < total; ++i) made.open_plots.push_back(std::to_string(i));
  return made;
}

class Day : public ::testing::Test {
 protected:
  void load(Today today) { tablet.tap(TodayLoaded{std::move(today)}); }
  // The day's end is opened on this state.
  void today_is(const Today& today) {
    tablet.today_answer = today;
    tablet.tap(ShowDaysEnd{});
    tablet.settle();
  }
  static PlanOccasion occasion(std::size_t at) { return grass_plan().occasions.at(at); }

  Tablet tablet;
};

TEST_F(Day, BeginsWithSomebodyWhoHoldsTheTablet) {
  Tablet fresh;
  fresh.restart();
  EXPECT_TRUE(std::holds_alternative<SignInView>(view_of(fresh.model)));
  for (const Intent& intent : {Intent{ShowToday{}}, Intent{ShowDaysEnd{}}, Intent{ShowDryWeights{}},
                               Intent{HandOver{}}, Intent{TakeBack{}}, Intent{KeepDry{}}}) {
    fresh.tap(intent);
    EXPECT_TRUE(std::holds_alternative<SignInView>(view_of(fresh.model)));
  }
  fresh.open(grass_plan(), "stand");
  EXPECT_TRUE(std::holds_alternative<SignInView>(view_of(fresh.model)));
}

TEST_F(Day, BeforeTheLedgerIsReadThereIsNothingToShow) {
  const Model model;
  EXPECT_TRUE(std::holds_alternative<StartingView>(view_of(model)));
}

TEST_F(Day, TodayListsWhatIsDueInTheOrderItPresses) {
  Today today;
  today.progress = {progress(occasion(0), 2, 6), progress(occasion(1), 0, 6),
                    progress(occasion(2), 0, 6), progress(occasion(3), 6, 6)};
  today.progress[0].later = 1;
  load(today);
  const TodayView view = tablet.today();
  EXPECT_TRUE(view.loaded);
  EXPECT_THAT(view.sites, ElementsAre("Hill"));
  ASSERT_EQ(view.fields.size(), 1U);
  EXPECT_EQ(view.fields[0].name, "North");
  EXPECT_EQ(view.fields[0].trials.size(), 2U);
  EXPECT_EQ(view.fields[0].trials[0].plots, 6U);
  ASSERT_EQ(view.due.size(), 5U);
  const char* const codes[] = {"cut1", "stand", "vigor", "cut2", "late"};
  const DueState states[] = {DueState::kToday, DueState::kOverdue, DueState::kComing,
                             DueState::kComing, DueState::kDone};
  for (std::size_t i = 0; i < 5; ++i) {
    EXPECT_EQ(view.due[i].code, codes[i]);
    EXPECT_EQ(view.due[i].state, states[i]) << codes[i];
  }
  EXPECT_EQ(view.due[1].days, -3);
  EXPECT_EQ(view.due[1].done, 2);
  EXPECT_EQ(view.due[1].total, 6);
  EXPECT_EQ(view.due[1].later, 1);
  EXPECT_EQ(view.due[0].due, "2026-05-04");
  EXPECT_EQ(view.due[4].due, "");
  EXPECT_EQ(view.head.clock, "08:00");
  EXPECT_EQ(view.head.date, "2026-05-04");
}

// Proves: what was left undone long ago does not crowd out today's work.
TEST_F(Day, WhatIsTwoWeeksPastIsFoldedAway) {
  Tablet later(date::year{2026} / 5 / 15);
  later.today_answer.progress = {progress(occasion(0), 2, 6), progress(occasion(1), 0, 6)};
  later.tap(ShowToday{});
  later.settle();
  EXPECT_TRUE(later.today().earlier.empty()) << "14 days";
  Tablet one_more(date::year{2026} / 5 / 16);
  one_more.today_answer = later.today_answer;
  one_more.tap(ShowToday{});
  one_more.settle();
  TodayView view = one_more.today();
  ASSERT_EQ(view.earlier.size(), 1U);
  EXPECT_EQ(view.earlier[0].code, "stand");
  EXPECT_EQ(view.due.front().code, "cut1");
  EXPECT_FALSE(view.show_earlier);
  one_more.tap(ShowEarlier{});
  EXPECT_TRUE(one_more.today().show_earlier);
  one_more.tap(ShowEarlier{});
  EXPECT_FALSE(one_more.today().show_earlier);
}

TEST_F(Day, EarlierIsNewestFirstAndHoldsWhatIsDoneToo) {
  Tablet later(date::year{2026} / 7 / 20);
  later.today_answer.progress = {progress(occasion(0), 6, 6), progress(occasion(1), 0, 6),
                                 progress(occasion(2), 0, 6)};
  later.tap(ShowToday{});
  later.settle();
  const TodayView view = later.today();
  ASSERT_EQ(view.earlier.size(), 4U);
  EXPECT_EQ(view.earlier[0].code, "cut2");
  EXPECT_EQ(view.earlier[3].code, "stand");
  EXPECT_EQ(view.earlier[3].state, DueState::kDone);
  ASSERT_EQ(view.due.size(), 1U) << "what has no date is never past";
  EXPECT_EQ(view.due[0].code, "late");
}

TEST_F(Day, AnOccasionIsNamedByItsCuttingOrItsMeasures) {
  load({});
  const TodayView view = tablet.today();
  EXPECT_EQ(view.due[0].name, (OccasionName{Job::kHarvest, 1, {}, "cut1"}));
  EXPECT_EQ(view.due[1].name.measures, (std::vector<std::string>{"percent_stand", "seedling_vigor",
                                                                 "maturity", "stubble_height"}))
      << "the note is none";
}

// --- a cutting before its day

class EarlyCutting : public Day {
 protected:
  void open_second_cutting() {
    const Plan plan = grass_plan();
    tablet.tap(OpenOccasion{plan.id(), plan.occasion(plan.occasions[2])});
    tablet.settle();
  }
  bool at_harvest() { return std::holds_alternative<HarvestView>(view_of(tablet.model)); }
};

TEST_F(EarlyCutting, IsAskedOnceAndBeginsWhenItIsMeant) {
  load({});
  open_second_cutting();
  ASSERT_TRUE(tablet.above().early);
  EXPECT_EQ(*tablet.above().early, (EarlyView{2, "2026-06-10", 37}));
  tablet.tap(ShowDaysEnd{});  // the question comes first
  EXPECT_TRUE(tablet.above().early);
  tablet.tap(AnswerEarly{true});
  tablet.settle();
  EXPECT_TRUE(at_harvest());
  tablet.tap(ShowToday{});
  tablet.settle();
  open_second_cutting();
  EXPECT_FALSE(tablet.above().early) << "once";
  EXPECT_TRUE(at_harvest());
}

TEST_F(EarlyCutting, IsLeftWhenItWasAMistap) {
  load({});
  open_second_cutting();
  tablet.tap(AnswerEarly{false});
  EXPECT_FALSE(tablet.above().early);
  EXPECT_FALSE(at_harvest());
  open_second_cutting();
  EXPECT_TRUE(tablet.above().early);
}

TEST_F(EarlyCutting, IsNotAskedOnceItHasBegunNorOfARating) {
  Today today;
  today.progress = {progress(occasion(2), 1, 6)};
  load(today);
  open_second_cutting();
  EXPECT_FALSE(tablet.above().early);
  EXPECT_TRUE(at_harvest());
  tablet.open(annual_plan(), "vigor");
  EXPECT_FALSE(tablet.above().early) << "due in 16 days, but a rating";
  tablet.tap(AnswerEarly{true});  // nothing is asked
  EXPECT_TRUE(std::holds_alternative<RateView>(view_of(tablet.model)));
}

TEST_F(Day, ADeclaredOccasionIsDoneAndAnOpenOneWithoutDateComesLast) {
  Today today;
  today.progress = {progress(occasion(0), 2, 6), progress(occasion(3), 0, 6)};
  today.progress[0].closed = true;
  load(today);
  const TodayView view = tablet.today();
  EXPECT_EQ(view.due.back().code, "stand");
  EXPECT_EQ(view.due.back().state, DueState::kDone);
  EXPECT_EQ(view.due[3].state, DueState::kNoDate);
}

TEST_F(Day, AgesAreToldInWholeUnits) {
  struct Row {
    int minutes;
    const char* unit;
    int count;
  };
  for (const Row& row :
       {Row{0, "minutes", 0}, Row{119, "minutes", 119}, Row{120, "hours", 2},
        Row{48 * 60 - 1, "hours", 47}, Row{48 * 60, "days", 2}, Row{-5, "minutes", 0}}) {
    Today today;
    const UtcInstant now = tablet.model.now.utc + std::chrono::seconds{2};
    today.last_seal = SealNote{"a.zip", now - std::chrono::minutes{row.minutes}, 1};
    load(today);
    const TodayView view = tablet.today();
    ASSERT_TRUE(view.last_seal) << row.minutes;
    EXPECT_EQ(view.last_seal->unit, row.unit) << row.minutes;
    EXPECT_EQ(view.last_seal->count, row.count) << row.minutes;
    EXPECT_FALSE(view.last_copy);
  }
}

TEST_F(Day, WhatIsUnsealedCountsUpWithEachAct) {
  Today today;
  today.unsealed = 3;
  load(today);
  tablet.open(grass_plan(), "stand");
  tablet.tap(PutOff{});
  tablet.settle();
  EXPECT_EQ(tablet.model.today.unsealed, 3 + 4);
}

TEST_F(Day, AnOccasionThatCannotBeReadLeadsBackToToday) {
  tablet.tap(OpenOccasion{grass_plan().id(), grass_plan().occasion(occasion(0))});
  EXPECT_TRUE(std::holds_alternative<StartingView>(view_of(tablet.model)));
  tablet.tap(Failed{kNoSpace});
  EXPECT_EQ(tablet.notice(), "notice.load_failed");
  EXPECT_EQ(tablet.above().notice->error, kNoSpace);
  EXPECT_TRUE(std::holds_alternative<TodayView>(view_of(tablet.model)));
}

TEST_F(Day, AnOccasionOfNoPlanHereIsSaid) {
  const TrialId trial = trial_id({"ST", "HILL", "XX"});
  const OccasionId unknown = rating_id(trial, "stand");
  for (const TrialId named : {trial, grass_plan().id()}) {
    tablet.tap(OpenOccasion{named, unknown});
    OccasionLoaded loaded;
    loaded.trial = named;
    loaded.occasion = unknown;
    tablet.tap(loaded);
    EXPECT_EQ(tablet.notice(), "notice.unknown_occasion");
    EXPECT_TRUE(std::holds_alternative<TodayView>(view_of(tablet.model)));
  }
}

TEST_F(Day, WhatIsLoadedAfterAPersonWentElsewhereIsLeft) {
  tablet.tap(OpenOccasion{grass_plan().id(), grass_plan().occasion(occasion(0))});
  tablet.tap(ShowToday{});
  tablet.settle();
  EXPECT_TRUE(std::holds_alternative<TodayView>(view_of(tablet.model)));
  tablet.tap(BagsLoaded{});
  EXPECT_TRUE(std::holds_alternative<TodayView>(view_of(tablet.model)));
}

TEST_F(Day, AnOccasionWithoutPlotsIsDone) {
  tablet.model.trials.at(0).plan.plots.clear();
  tablet.open(grass_plan(), "stand");
  EXPECT_TRUE(tablet.rate().all_done);
  for (const Intent& intent : {Intent{ChooseValue{"percent_stand", "5"}}, Intent{PutOff{}},
                               Intent{StepAmount{1}}, Intent{OpenNote{}}, Intent{ShowFine{"5"}},
                               Intent{ShowTens{}}, Intent{FocusMeasure{"percent_stand"}},
                               Intent{TakeBack{}}, Intent{KeyText{"5"}}, Intent{KeyDone{}}}) {
    tablet.tap(intent);
  }
  tablet.open(grass_plan(), "cut1");
  tablet.type("Mower 1");
  tablet.tap(StartRun{});
  EXPECT_TRUE(tablet.weighing().all_done);
  tablet.tap(KeepPlot{});
  tablet.settle();
  EXPECT_EQ(tablet.ledger.size(), 2U);
}

// --- the day's end
TEST_F(Day, EndNamesWhatIsMissingHeldAndQuestioned) {
  Today today;
  today.progress = {progress(occasion(0), 4, 6), progress(occasion(1), 0, 6),
                    progress(occasion(2), 0, 6), progress(occasion(3), 0, 6)};
  today.progress[0].values_today = 16;
  today.progress[0].questioned = {{"102", "percent_stand", "before_sowing"}};
  today.progress[2].on_hold = {{"101", "gross_weight", "gross_under_tare"}};
  today.unsealed = 20;
  today_is(today);
  const DaysEndView view = tablet.days_end();
  ASSERT_EQ(view.rows.size(), 3U) << "rated today, due today, on hold; not what is only planned";
  EXPECT_EQ(view.rows[0].code, "stand");
  EXPECT_THAT(view.rows[0].open_plots, ElementsAre("4", "5"));
  EXPECT_EQ(view.rows[1].code, "cut1");
  EXPECT_EQ(view.rows[2].on_hold.size(), 1U);
  EXPECT_EQ(view.open, 2U + 6U + 6U);
  EXPECT_EQ(view.held, 1U);
  EXPECT_EQ(view.questioned, 1U);
  EXPECT_EQ(view.unsealed, 20);
  EXPECT_EQ(view.seal.state, StepState::kReady);
  EXPECT_EQ(view.copy.state, StepState::kWaiting);
}

TEST_F(Day, EndClosesWhatIsPartDoneAfterAQuestion) {
  Today today;
  OccasionProgress begun = progress(occasion(0), 2, 6);
  begun.open_plots = {"103", "201", "202", "203"};
  begun.values_today = 4;
  today.progress = {begun};
  today_is(today);
  ASSERT_EQ(tablet.days_end().rows.size(), 1U);
  ASSERT_TRUE(tablet.days_end().rows.front().can_close);
  const std::size_t before = tablet.ledger.size();
  tablet.tap(CloseOccasion{begun.trial, begun.occasion});
  tablet.settle();
  ASSERT_TRUE(tablet.above().closing);
  EXPECT_EQ(tablet.above().closing->open, begun.open_plots);
  EXPECT_THAT(tablet.tap(SealDay{}), IsEmpty()) << "the question comes first";
  begun.closed = true;
  tablet.today_answer.progress = {begun};
  tablet.tap(AnswerClosing{true});
  tablet.settle();
  ASSERT_EQ(tablet.ledger.size(), before + 1);
  EXPECT_EQ(tablet.ledger.back().kind, kind::kClosed);
  EXPECT_EQ(tablet.ledger.back().reason, "left_open");
  EXPECT_EQ(tablet.ledger.back().occasion, begun.occasion);
  const DaysEndView view = tablet.days_end();
  ASSERT_EQ(view.rows.size(), 1U);
  EXPECT_TRUE(view.rows.front().closed);
  EXPECT_FALSE(view.rows.front().can_close);
  EXPECT_EQ(view.open, 0U) << "closed: nobody is waited for";
  tablet.tap(CloseOccasion{begun.trial, begun.occasion});
  tablet.settle();
  EXPECT_FALSE(tablet.above().closing) << "asked once";
}

TEST_F(Day, WhatNobodyBeganIsNotClosedFromTheDaysEnd) {
  Today today;
  OccasionProgress untouched = progress(occasion(0), 0, 6);
  untouched.open_plots = {"101", "102", "103", "201", "202", "203"};
  today.progress = {untouched};
  today_is(today);
  for (const DayRow& row : tablet.days_end().rows) EXPECT_FALSE(row.can_close) << row.code;
}

TEST_F(Day, EndSealsThenCopies) {
  Today today;
  today.unsealed = 25;
  today.places = {{"/media/stick", "stick"}};
  today_is(today);
  EXPECT_THAT(tablet.tap(CopyTo{"/media/stick"}), IsEmpty());
  EXPECT_EQ(tablet.notice(), "notice.seal_first");
  EXPECT_THAT(tablet.tap(SealDay{}), ElementsAre(Effect{Seal{}}));
  EXPECT_EQ(tablet.days_end().seal.state, StepState::kBusy);
  EXPECT_THAT(tablet.tap(SealDay{}), IsEmpty()) << "one at a time";
  tablet.today_answer.unsealed = 0;
  tablet.today_answer.last_seal = kSeal;
  tablet.tap(Sealed{kSeal});
  tablet.settle();
  DaysEndView view = tablet.days_end();
  EXPECT_EQ(view.seal.state, StepState::kDone);
  EXPECT_EQ(view.seal.file_name, "season-1.zip");
  EXPECT_EQ(view.sealed_records, 25);
  EXPECT_EQ(view.copy.state, StepState::kReady);
  EXPECT_THAT(tablet.tap(SealDay{}), IsEmpty());
  EXPECT_EQ(tablet.notice(), "notice.nothing_to_seal");
  EXPECT_THAT(tablet.tap(CopyTo{"/media/stick"}),
              ElementsAre(Effect{CopySeal{"season-1.zip", "/media/stick"}}));
  EXPECT_EQ(tablet.days_end().copy.state, StepState::kBusy);
  EXPECT_EQ(tablet.days_end().copy.place, "stick");
  tablet.tap(ShowToday{});
  tablet.tap(ShowDaysEnd{});
  EXPECT_EQ(tablet.days_end().copy.state, StepState::kBusy) << "a copy goes on meanwhile";
  tablet.tap(Copied{{"/media/stick", "season-1.zip", UtcInstant{}}});
  view = tablet.days_end();
  EXPECT_EQ(view.copy.state, StepState::kDone);
  EXPECT_EQ(view.copy.place, "stick") << "as its key says";
  EXPECT_EQ(view.seal.state, StepState::kDone) << "results stay in order";
  EXPECT_TRUE(tablet.model.today.last_copy);
}

TEST_F(Day, EndSaysWhatWentWrongAndLetsOneTryAgain) {
  Today today;
  today.unsealed = 25;
  today.places = {{"/media/stick", "stick"}};
  today_is(today);
  tablet.tap(SealDay{});
  tablet.tap(NotSealed{kNoSpace});
  EXPECT_EQ(tablet.days_end().seal.state, StepState::kFailed);
  EXPECT_EQ(tablet.days_end().seal.error, kNoSpace);
  EXPECT_THAT(tablet.tap(SealDay{}), ElementsAre(Effect{Seal{}}));
  tablet.tap(Sealed{kSeal});
  tablet.tap(CopyTo{"/media/stick"});
  tablet.tap(NotCopied{"/media/stick", kNoSpace});
  EXPECT_EQ(tablet.days_end().copy.state, StepState::kFailed);
  EXPECT_EQ(tablet.days_end().copy.place, "stick");
  EXPECT_EQ(tablet.days_end().copy.error, kNoSpace);
  EXPECT_EQ(tablet.tap(CopyTo{"/media/stick"}).size(), 1U);
}

TEST_F(Day, EndWaitsUntilEverythingIsKept) {
  tablet.open(grass_plan(), "stand");
  tablet.choose("percent_stand", "85");
  tablet.tap(ShowDaysEnd{});
  EXPECT_EQ(tablet.days_end().seal.state, StepState::kWaiting);
  EXPECT_THAT(tablet.tap(SealDay{}), IsEmpty());
  EXPECT_EQ(tablet.notice(), "notice.still_saving");
}

TEST_F(Day, OutcomesFindThePersonElsewhere) {
  Today today;
  today.unsealed = 25;
  today_is(today);
  tablet.tap(SealDay{});
  tablet.tap(ShowToday{});
  EXPECT_THAT(tablet.tap(SealDay{}), IsEmpty()) << "sealing has its own screen";
  EXPECT_THAT(tablet.tap(CopyTo{"/x"}), IsEmpty());
  tablet.tap(NotSealed{kNoSpace});
  EXPECT_EQ(tablet.notice(), "notice.not_sealed");
  tablet.tap(Sealed{kSeal});
  EXPECT_EQ(tablet.notice(), "notice.sealed");
  tablet.tap(NotCopied{"/media/card", kNoSpace});
  EXPECT_EQ(tablet.notice(), "notice.not_copied");
  EXPECT_THAT(tablet.model.notice->arguments, ElementsAre("card")) << "gone meanwhile";
  tablet.tap(Copied{{"/x", "season-1.zip", UtcInstant{}}});
  EXPECT_EQ(tablet.notice(), "notice.copied");
}

TEST_F(Day, TicksMoveTheClock) {
  tablet.next_day();
  tablet.tap(Tick{});
  EXPECT_EQ(tablet.today().head.date, "2026-05-05");
}

}  // namespace
}  // namespace ligule::flow
