#include "app/flow/trials.h"

#include "app/flow/book.h"
#include "storage/trial/details.h"
#include "tests/app/flow/trials_fixture.h"

namespace ligule::flow {
namespace {

using testing::ElementsAre;
using testing::IsEmpty;
using testing::Pair;
using testing::SizeIs;

const Error plan_fault{ErrorKind::kInvalid, "entry D is nowhere", "plots.csv line 4", "name it"};

TEST_F(OnTrials, TheTrialsOfThisTabletAreListedByCode) {
  const auto list = page<TrialListView>();
  ASSERT_THAT(list.rows, SizeIs(2));
  EXPECT_EQ(list.rows[0].code, "A1");
  EXPECT_EQ(list.rows[1].plots, 6U);
  EXPECT_EQ(list.rows[1].entries, 3U);
  EXPECT_EQ(list.rows[1].sown, "2024-09-10");
}

TEST_F(OnTrials, BackLeadsOneStepAtATime) {
  open();
  tablet.tap(NewEvent{});
  tablet.tap(DescribeEvent{.writing = "words"});
  tablet.tap(TrialsBack{});
  EXPECT_FALSE(page<EventFormView>().writing);
  tablet.tap(TrialsBack{});
  EXPECT_EQ(page<TrialPageView>().code, "G1");
  tablet.tap(TrialsBack{});
  EXPECT_THAT(page<TrialListView>().rows, SizeIs(2));
  tablet.tap(TrialsBack{});
  EXPECT_TRUE(std::holds_alternative<TodayView>(view_of(tablet.model)));
  tablet.tap(ShowTrial{grass_plan().id()});  // means nothing there
  EXPECT_TRUE(std::holds_alternative<TodayView>(view_of(tablet.model)));
}

TEST_F(OnTrials, AnUnknownTrialOpensNothing) {
  tablet.tap(ShowTrial{TrialId{}});
  EXPECT_THAT(page<TrialListView>().rows, SizeIs(2));
  tablet.tap(NewEvent{});
  EXPECT_THAT(page<TrialListView>().rows, SizeIs(2)) << "of no trial";
}

// Proves: plots stand in lines as one walks, whichever way the path runs.
TEST_F(OnTrials, EveryLaneOfThePathBeginsALine) {
  const auto begin_lines = [&] {
    open();
    std::vector<std::string> plots;
    for (const SownPlot& plot : tab(TrialTab::kPlots).plots)
      if (plot.lane_start) plots.push_back(plot.plot);
    return plots;
  };
  EXPECT_THAT(begin_lines(), ElementsAre("101", "201"));
  for (PlanPlot& plot : tablet.model.trials.at(0).plan.plots) std::swap(plot.row, plot.column);
  EXPECT_THAT(begin_lines(), ElementsAre("101", "201"));
}

// --- the soil

class SoilOnTrials : public OnTrials {
 protected:
  SoilOnTrials() {
    SoilTables& tables = tablet.model.setup.soil;
    tables.extractants = {{"mehlich_3", "Mehlich-3", {"M3"}}};
    tables.properties = {{"ph", "pH", {}, {}, {}, {}, {}, "a source"},
                         {"p", "P", {"ppm", "lb/acre"}, {}, {}, {}, {}, "a source"},
                         {"k", "K", {"ppm", "lb/acre"}, {}, {}, {}, {}, "a source"}};
    tables.ranges = {{"ph", {"tall_fescue"}, 5.6, 6.5, {}, "a table"}};
    tables.classes = {
        {"p", "lb/acre", "mehlich_3", {{"low", 0}, {"very high", 50}}, "low", "another table"}};
    tables.checks = {{"k", "grass", "a stand", "lb/acre", true, 200, 250, {}, "practice"}};
  }
  void test(std::vector<SoilTest> soil) {
    tablet.model.trials.at(0).plan.soil = std::move(soil);
    open();
  }
};

TEST_F(SoilOnTrials, HasNoTabWithoutASoilTest) {
  test({});
  EXPECT_FALSE(tab(TrialTab::kSoil).soil_tested);
  EXPECT_THAT(tab(TrialTab::kSoil).soil, IsEmpty());
}

TEST_F(SoilOnTrials, TellsEachValueAndHowItStandsToItsTable) {
  const CalendarDate on = date::year{2024} / 8 / 2;
  test({{"ph", "6.4", "", "", "6", "in", "Valley laboratory", on},
        {"p", "41", "ppm", "M3", "6", "in", "Valley laboratory", on}});
  const TrialPageView view = tab(TrialTab::kSoil);
  EXPECT_TRUE(view.soil_tested);
  ASSERT_THAT(view.soil, SizeIs(3));
  const SoilSampleView sample{"2024-08-02", "6 in", "Valley laboratory"};
  // Alfalfa is sown, too, and has no range there.
  EXPECT_EQ(view.soil[0],
            (SoilRow{"ph",
                     "6.4",
                     "",
                     "",
                     sample,
                     {{{"Tall fescue"},
                       checks::SoilStanding::kGood,
                       {{"soil.range_within", {"5.6", "6.5"}}},
                       "a table"},
                      {{"Alfalfa"}, checks::SoilStanding::kNoVerdict, {{"soil.no_range"}}, ""}}}));
  // ppm x 2 in a furrow slice: Penn State Agronomy Guide, section 2.
  EXPECT_EQ(view.soil[1], (SoilRow{"p",
                                   "41 ppm",
                                   "mehlich_3",
                                   "82 lb/acre",
                                   sample,
                                   {{{},
                                     checks::SoilStanding::kAbove,
                                     {{"soil.class.very_high"}, {"soil.optimum_above"}},
                                     "another table"}}}));
  EXPECT_EQ(view.soil[2], (SoilRow{"k", "", "", "", {}, {}})) << "not tested, and looked for";
}

TEST_F(SoilOnTrials, SaysWhatIsAssumed) {
  test({{"k", "190", "", "", "", "", "", std::nullopt}});
  const auto rows = tab(TrialTab::kSoil).soil;
  const auto k = std::ranges::find(rows, "k", &SoilRow::property);
  ASSERT_NE(k, rows.end());
  EXPECT_EQ(k->sample, SoilSampleView{});
  EXPECT_EQ(k->judged.at(0),
            (SoilJudgedView{{"Tall fescue"},
                            checks::SoilStanding::kBelow,
                            {{"soil.minimum_below", {"200 lb/acre", "250 lb/acre"}},
                             {"soil.unit_assumed", {"lb/acre"}}},
                            "practice"}));
  EXPECT_THAT(k->judged.at(1).said, ElementsAre(Words{"soil.no_unit"}));
}

// --- no influence

// Values can still be given or put right in each of them: entries stay unnamed until somebody
// unlocks them, and that is a record for each, so that no value given later says it was blind.
TEST_F(OnTrials, NamesAreHiddenFromAPersonUntilTheyUnlockThemForEveryOccasionOfTheYear) {
  open();
  auto entries = tab(TrialTab::kEntries);
  EXPECT_TRUE(entries.names_hidden);
  ASSERT_THAT(entries.entries, SizeIs(3));
  EXPECT_EQ(entries.entries[0].code, "A");
  EXPECT_EQ(entries.entries[0].label, "");
  EXPECT_EQ(entries.entries[0].species, "Tall fescue");
  EXPECT_EQ(tab(TrialTab::kPlots).plots[0].entry, "");
  tablet.tap(ShowNames{});
  tablet.settle();
  const PersonId ab = person_id("AB");
  EXPECT_THAT(shown(), ElementsAre(Pair(ab, occasion(0)), Pair(ab, occasion(1)),
                                   Pair(ab, occasion(2)), Pair(ab, occasion(3))));
  EXPECT_EQ(tab(TrialTab::kEntries).entries[0].label, "Alder Brook");
  EXPECT_EQ(tab(TrialTab::kPlots).plots[0].entry, "A");
  const std::size_t records = tablet.ledger.size();
  tablet.tap(ShowNames{});
  tablet.settle();
  EXPECT_EQ(tablet.ledger.size(), records) << "once";
  tablet.open(grass_plan(), "late");
  EXPECT_FALSE(tablet.rate().blind);
  tablet.choose("percent_stand", "80");
  tablet.settle();
  EXPECT_EQ(last().blind, false);
  tablet.tap(HandOver{});
  tablet.sign_in("CD");
  EXPECT_TRUE(tablet.rate().blind) << "another person has not seen them";
  tablet.tap(ShowTrials{});
  open();
  EXPECT_TRUE(tab(TrialTab::kEntries).names_hidden);
}

TEST_F(OnTrials, WhoUnlockedNamesInOneRatingUnlocksTheOthersHere) {
  tablet.open(grass_plan(), "stand");
  tablet.tap(ShowNames{});
  tablet.settle();
  tablet.tap(ShowToday{});
  tablet.tap(ShowTrials{});
  open();
  EXPECT_TRUE(tab(TrialTab::kEntries).names_hidden);
  tablet.tap(ShowNames{});
  tablet.settle();
  EXPECT_THAT(shown(), SizeIs(4)) << "none of them twice";
  EXPECT_FALSE(tab(TrialTab::kEntries).names_hidden);
}

TEST_F(OnTrials, WhatIsNotYetDueFinishedOrClosedHidesNamesToo) {
  open(annual_plan());
  EXPECT_TRUE(tab(TrialTab::kEntries).names_hidden) << "due in 16 days";
  const Plan plan = grass_plan();
  for (const PlanOccasion& each : plan.occasions) {
    OccasionProgress progress;
    progress.trial = plan.id();
    progress.occasion = plan.occasion(each);
    progress.total = progress.done = 6;
    progress.closed = true;
    tablet.today_answer.progress.push_back(progress);
  }
  tablet.tap(ShowToday{});
  tablet.settle();
  tablet.tap(ShowTrials{});
  open();
  EXPECT_TRUE(tab(TrialTab::kEntries).names_hidden) << "values can still be put right";
}

TEST_F(OnTrials, NamesAreFreeOnceEveryOccasionIsOfAPastYear) {
  later_year();
  open();
  EXPECT_FALSE(tab(TrialTab::kEntries).names_hidden);
  EXPECT_EQ(tab(TrialTab::kEntries).entries[0].label, "Alder Brook");
  tablet.tap(ShowNames{});
  tablet.settle();
  EXPECT_THAT(shown(), IsEmpty());
}

TEST_F(OnTrials, NamesShownBeforeARestartAreKnownFromTheStart) {
  open();
  tablet.tap(ShowNames{});
  tablet.settle();
  tablet.restart();
  tablet.sign_in("AB");
  const Plan plan = grass_plan();
  for (const PlanOccasion& each : plan.occasions)
    EXPECT_TRUE(names_shown(tablet.model, plan.occasion(each))) << each.code;
  tablet.tap(ShowTrials{});
  open();
  EXPECT_FALSE(tab(TrialTab::kEntries).names_hidden);
}

// --- what a plot really holds

class Stating : public OnTrials {
 protected:
  Stating() {
    open();
    tablet.tap(ShowNames{});
    tablet.settle();
    tablet.tap(StatePlot{"102"});
  }
  void state(AsSownStatus status, int days_ago) {
    tablet.tap(StatePlot{"102"});
    tablet.tap(StateSown{.status = status});
    tablet.tap(StepDay{days_ago});
    tablet.tap(KeepSown{"poor_stand"});
    tablet.settle();
  }
};

TEST_F(Stating, AnotherEntryIsADatedRecordWithAReason) {
  EXPECT_FALSE(page<SownFormView>().stated);
  tablet.tap(StateSown{.status = AsSownStatus::kHolds});
  EXPECT_FALSE(page<SownFormView>().can_keep) << "which entry?";
  EXPECT_THAT(page<SownFormView>().entries, ElementsAre("A", "B", "C"));
  tablet.tap(StateSown{.status = {}, .entry = "C"});
  tablet.tap(StepDay{1});
  tablet.tap(StepDay{1});
  tablet.tap(StepDay{-1});
  EXPECT_EQ(page<SownFormView>().since, "2026-05-03");
  tablet.tap(KeepSown{"packet_mixed"});
  tablet.settle();
  const auto sown = read_as_sown(last());
  ASSERT_TRUE(sown);
  EXPECT_EQ(sown->plot, plot_id(grass_plan().id(), "102"));
  EXPECT_EQ(sown->status, AsSownStatus::kHolds);
  EXPECT_EQ(sown->holds, entry_id(grass_plan().id(), "C"));
  EXPECT_EQ(format_date(sown->since), "2026-05-03");
  EXPECT_EQ(sown->reason, "packet_mixed");
  EXPECT_EQ(last().person, person_id("AB"));
  EXPECT_EQ(last().plan, "plan digest G1");
  const auto plots = page<TrialPageView>().plots;
  EXPECT_EQ(plots[1].status, AsSownStatus::kHolds);
  EXPECT_EQ(plots[1].entry, "C");
  tablet.tap(StatePlot{"102"});
  EXPECT_EQ(page<SownFormView>().stated, AsSownStatus::kHolds);
}

TEST_F(Stating, ANewerStatementHoldsAndAnOlderDateDoesNot) {
  tablet.tap(StateSown{.status = AsSownStatus::kReseeded});
  tablet.tap(KeepSown{"poor_stand"});
  tablet.settle();
  tablet.tap(StatePlot{"102"});
  tablet.tap(StateSown{.status = AsSownStatus::kUnknown});
  tablet.tap(StepDay{10});
  tablet.tap(KeepSown{"not_known"});
  tablet.settle();
  EXPECT_EQ(page<TrialPageView>().plots[1].status, AsSownStatus::kReseeded);
  EXPECT_EQ(read_as_sown(last())->status, AsSownStatus::kUnknown) << "kept all the same";
  ASSERT_EQ(tablet.notice(), "notice.sown_holds_on");
  EXPECT_THAT(tablet.above().notice->text.arguments, ElementsAre("2026-05-04"));
  tablet.tap(StatePlot{"102"});
  tablet.tap(StateSown{.status = AsSownStatus::kAsPlanned});
  tablet.tap(KeepSown{"checked"});
  tablet.settle();
  EXPECT_EQ(tablet.notice(), "") << "of one day the last holds";
  EXPECT_EQ(page<TrialPageView>().plots[1].status, AsSownStatus::kAsPlanned);
}

TEST_F(Stating, TheSameStatedWithAnEarlierDatePutsItsDateRight) {
  for (const int days : {0, 10}) state(AsSownStatus::kReseeded, days);
  EXPECT_EQ(tablet.notice(), "");
  tablet.tap(StatePlot{"102"});
  EXPECT_EQ(page<SownFormView>().stated, AsSownStatus::kReseeded);
  EXPECT_EQ(page<SownFormView>().stated_since, "2026-04-24");
}

// Proves: where something else was stated of a day between, the page stays as it was and says so.
TEST_F(Stating, TheSameStatedAgainBeforeAnotherStatementIsTold) {
  state(AsSownStatus::kUnknown, 5);
  for (const int days : {0, 10}) state(AsSownStatus::kReseeded, days);
  ASSERT_EQ(tablet.notice(), "notice.sown_holds_on");
  EXPECT_THAT(tablet.above().notice->text.arguments, ElementsAre("2026-05-04"));
}

TEST_F(Stating, WithoutAStatusOrForAnUnknownReasonNothingIsKept) {
  const std::size_t records = tablet.ledger.size();
  tablet.tap(KeepSown{"checked"});
  tablet.tap(StateSown{.status = AsSownStatus::kAbandoned});
  tablet.tap(KeepSown{"because"});
  tablet.tap(StateSown{.status = AsSownStatus::kHolds});
  tablet.tap(KeepSown{"checked"});
  EXPECT_EQ(tablet.notice(), "notice.choose_entry");
  tablet.settle();
  EXPECT_EQ(tablet.ledger.size(), records);
}

TEST_F(Stating, ADayBeforeSowingIsRefusedAndNoDayIsToCome) {
  tablet.tap(StepDay{-1});
  EXPECT_EQ(page<SownFormView>().since, "2026-05-04");
  EXPECT_FALSE(page<SownFormView>().can_later);
  tablet.tap(StateSown{.status = AsSownStatus::kUnknown});
  tablet.model.trials[0].plan.sown = tablet.model.now.local_date;
  tablet.tap(StepDay{1});
  tablet.tap(KeepSown{"not_known"});
  EXPECT_EQ(tablet.notice(), "notice.before_sowing");
  tablet.tap(StepDay{9999});
  EXPECT_EQ(page<SownFormView>().since,
            format_date(day_before(tablet.model.now.local_date, kMostDaysAgo)));
}

TEST_F(Stating, AnAbandonedPlotLeavesTheRating) {
  tablet.tap(StateSown{.status = AsSownStatus::kAbandoned});
  tablet.tap(KeepSown{"washed_out"});
  tablet.settle();
  EXPECT_THAT(plots_on(tablet.model.trials[0], tablet.model.now.local_date), SizeIs(5));
}

// --- a plan from a stick

class Loading : public OnTrials {
 protected:
  Loading() {
    tablet.plan_folders = {{"/media/stick/N1", "N1", "stick"}};
    tablet.tap(LookForPlans{});
    EXPECT_FALSE(page<PlanPickView>().loaded);
    tablet.settle();
  }
  CheckedPlan checked() {
    CheckedPlan checked;
    checked.path = "/media/stick/N1";
    checked.plan = annual_plan();
    checked.plan.codes.trial = "N1";
    checked.text = plan_text(checked.plan);
    checked.digest = "digest of N1";
    return checked;
  }
};

TEST_F(Loading, APlanThatHoldsTogetherIsOneTapMore) {
  ASSERT_THAT(page<PlanPickView>().folders, SizeIs(1));
  tablet.plan_answer = PlanChecked{checked()};
  tablet.tap(CheckPlan{"/media/stick/N1"});
  EXPECT_EQ(page<PlanReadingView>().path, "/media/stick/N1");
  tablet.settle();
  const auto view = page<PlanCheckedView>();
  EXPECT_EQ(view.code, "N1");
  EXPECT_EQ(view.plots, 2U);
  EXPECT_FALSE(view.revision);
  EXPECT_TRUE(view.can_load);
  tablet.tap(LoadPlan{});
  EXPECT_THAT(page<TrialListView>().rows, SizeIs(2)) << "not kept yet";
  tablet.settle();
  EXPECT_EQ(last().kind, kind::kPlan);
  EXPECT_EQ(last().plan, "digest of N1");
  EXPECT_EQ(last().details, checked().text);
  EXPECT_EQ(last().trial, checked().plan.id());
  EXPECT_THAT(page<TrialListView>().rows, SizeIs(3));
  tablet.open(checked().plan, "vigor");
  EXPECT_EQ(tablet.rate().plots, 2U);
}

TEST_F(Loading, ARevisionTakesThePlaceOfItsPlan) {
  CheckedPlan revision = checked();
  revision.plan = grass_plan();
  revision.plan.title = "Mended";
  revision.plan.parent = std::string(64, 'a');
  revision.text = plan_text(revision.plan);
  tablet.plan_answer = PlanChecked{revision};
  tablet.tap(CheckPlan{revision.path});
  tablet.settle();
  EXPECT_TRUE(page<PlanCheckedView>().revision);
  tablet.tap(LoadPlan{});
  tablet.settle();
  ASSERT_THAT(tablet.model.trials, SizeIs(2));
  EXPECT_EQ(tablet.model.trials[0].plan.title, "Mended");
  EXPECT_EQ(tablet.model.trials[0].digest, "digest of N1");
}

TEST_F(Loading, APlanThatIsHeldIsNotLoadedAgain) {
  CheckedPlan held = checked();
  held.held = true;
  tablet.plan_answer = PlanChecked{held};
  tablet.tap(CheckPlan{held.path});
  tablet.settle();
  EXPECT_TRUE(page<PlanCheckedView>().held);
  tablet.tap(LoadPlan{});
  tablet.settle();
  EXPECT_NE(last().kind, kind::kPlan);
}

TEST_F(Loading, EveryFaultOfAPlanIsListed) {
  tablet.plan_answer = PlanFaulty{{"/media/stick/N1", {plan_fault, plan_fault}}};
  tablet.tap(CheckPlan{"/media/stick/N1"});
  tablet.settle();
  EXPECT_THAT(page<PlanFaultyView>().faults, ElementsAre(plan_fault, plan_fault));
  tablet.tap(LoadPlan{});
  tablet.settle();
  EXPECT_NE(last().kind, kind::kPlan);
}

TEST_F(Loading, BackFromAPlanLeadsToTheFoldersFound) {
  for (const Intent& answer :
       {Intent{PlanFaulty{{"/media/stick/N1", {plan_fault}}}}, Intent{PlanChecked{checked()}}}) {
    tablet.plan_answer = answer;
    tablet.tap(CheckPlan{"/media/stick/N1"});
    tablet.settle();
    tablet.tap(TrialsBack{});
    tablet.settle();
    EXPECT_THAT(page<PlanPickView>().folders, SizeIs(1));
  }
  tablet.tap(TrialsBack{});
  EXPECT_THAT(page<TrialListView>().rows, SizeIs(2));
}

TEST_F(Loading, AnAnswerThatComesTooLateChangesNothing) {
  tablet.plan_answer = PlanChecked{checked()};
  tablet.tap(CheckPlan{"/media/stick/N1"});
  tablet.tap(TrialsBack{});
  tablet.settle();
  EXPECT_THAT(page<PlanPickView>().folders, SizeIs(1));
}

TEST_F(Loading, APlanThatCouldNotBeWrittenIsNotThere) {
  tablet.plan_answer = PlanChecked{checked()};
  tablet.tap(CheckPlan{"/media/stick/N1"});
  tablet.settle();
  tablet.break_disk(true);
  tablet.tap(LoadPlan{});
  tablet.settle();
  ASSERT_TRUE(tablet.above().unsaved);
  tablet.tap(DropUnsaved{});
  EXPECT_THAT(page<TrialListView>().rows, SizeIs(2));
}

}  // namespace
}  // namespace ligule::flow
