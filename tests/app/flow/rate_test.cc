#include <algorithm>

#include "app/flow/book.h"
#include "storage/trial/details.h"
#include "tests/app/flow/rate_fixture.h"

namespace ligule::flow {
namespace {

using ::testing::ElementsAre;
using ::testing::IsEmpty;
using ::testing::SizeIs;

TEST_F(Rate, BeginsOnTheFirstPlotWithAllMeasuresOnOneCard) {
  view = tablet.rate();
  EXPECT_EQ(view.plot, "101");
  EXPECT_EQ(view.place, 1U);
  EXPECT_EQ(view.plots, 6U);
  ASSERT_EQ(view.measures.size(), 4U);  // the note has a key of its own
  EXPECT_EQ(view.focus, 0U);
  EXPECT_EQ(view.measures[0].pad, PadKind::kTiles);
  EXPECT_EQ(view.measures[2].pad, PadKind::kLadder);
  EXPECT_EQ(view.measures[3].pad, PadKind::kAmount);
  EXPECT_EQ(view.measures[0].choices.size(), 21U);
  EXPECT_EQ(view.measures[2].choices.front().word, "scale.maturity_grass.E0");
  EXPECT_TRUE(view.lane.front().lane_start);
  EXPECT_FALSE(view.lane.at(1).lane_start);
  EXPECT_TRUE(view.lane.at(3).lane_start);
  EXPECT_TRUE(view.blind);
  EXPECT_EQ(view.names, "");
  EXPECT_FALSE(view.can_take_back);
}

TEST_F(Rate, AStepWithoutANameShowsItsNumberOnly) {
  const MeasureView& vigor = measure("seedling_vigor");
  EXPECT_EQ(vigor.choices.front().word, "scale.seedling_vigor.1");
  EXPECT_EQ(vigor.choices.at(1).word, "");
}

TEST_F(Rate, AValueBecomesARecordAsTheFormatAsks) {
  tablet.choose("percent_stand", "85");
  tablet.settle();
  const Plan plan = grass_plan();
  const Record& record = last();
  EXPECT_EQ(record.kind, kind::kReading);
  EXPECT_EQ(record.person, person_id("AB"));
  EXPECT_EQ(record.trial, plan.id());
  EXPECT_EQ(record.plan, "plan digest G1");
  EXPECT_EQ(record.subject, plan.plot(plan.plots.front()).uuid);
  EXPECT_EQ(record.measure, "percent_stand");
  EXPECT_EQ(record.occasion, plan.occasion(plan.occasions.front()));
  EXPECT_EQ(record.part, 1);
  EXPECT_EQ(record.purpose, Purpose::kSurvey);
  EXPECT_EQ(record.state, ValueState::kValue);
  EXPECT_EQ(record.entered, "85");
  EXPECT_EQ(record.unit, "%");
  EXPECT_EQ(record.value, 85.0);
  EXPECT_EQ(record.definition, "digest of percent_stand");
  EXPECT_EQ(record.blind, true);
  EXPECT_EQ(record.source, Source::kTapped);
  EXPECT_FALSE(record.run);
  EXPECT_THAT(record.targets, IsEmpty());
  EXPECT_THAT(record.answers, IsEmpty());
  EXPECT_EQ(record.reason, "");
}

// Proves: design.md 4, Kept shows only after the commit; the path moves on meanwhile.
TEST_F(Rate, ShowsKeptOnlyAfterTheWriterSaysSo) {
  tablet.cues.clear();
  rate_plot();
  EXPECT_EQ(tablet.rate().plot, "102") << "moves on by itself";
  EXPECT_EQ(tablet.mark("101"), Mark::kSaving);
  EXPECT_THAT(tablet.cues, IsEmpty());
  tablet.settle();
  EXPECT_EQ(tablet.cues.size(), 4U);
  EXPECT_EQ(tablet.cues.front(), Cue{CueKind::kKept});
  EXPECT_EQ(tablet.mark("101"), Mark::kKept);
  EXPECT_EQ(tablet.rate().last_plot, "101");
}

TEST_F(Rate, WalksAWholeRatingAndSaysSo) {
  for (int plot = 0; plot < 6; ++plot) {
    EXPECT_FALSE(tablet.rate().all_done);
    rate_plot();
    tablet.settle();
  }
  view = tablet.rate();
  EXPECT_TRUE(view.all_done);
  EXPECT_EQ(view.done, 6U);
  EXPECT_EQ(view.plot, "203") << "stays on the last one";
  EXPECT_FALSE(view.focus);
  EXPECT_EQ(tablet.ledger.size(), 1U + 24U);
  const auto progress = progress_of(
      {grass_plan(), "", {}}, grass_plan().occasions[0], test_definitions(),
      tablet.claims(grass_plan().occasion(grass_plan().occasions[0])), tablet.model.now.local_date);
  EXPECT_EQ(progress.done, 6);
  EXPECT_EQ(progress.values_today, 24);
  EXPECT_THAT(progress.open_plots, IsEmpty());
}

TEST_F(Rate, TheLadderFollowsTheSpecies) {
  EXPECT_EQ(measure("maturity").scale, "maturity_grass");
  tablet.tap(GoToPlot{"103"});
  EXPECT_EQ(measure("maturity").scale, "maturity_legume");
  tablet.choose("maturity", "R0");
  EXPECT_EQ(tablet.notice(), "check.off_scale");
  tablet.choose("maturity", "5");
  tablet.settle();
  EXPECT_EQ(last().value, 5.0);
  EXPECT_EQ(last().definition, "digest of maturity_legume");
}

TEST_F(Rate, AMeasureWithoutAScaleForTheSpeciesIsNotAsked) {
  tablet.open(annual_plan(), "vigor");
  view = tablet.rate();
  ASSERT_EQ(view.measures.size(), 1U);
  tablet.choose("maturity", "R0");
  tablet.choose("seedling_vigor", "5");
  EXPECT_EQ(tablet.rate().plot, "102");
  tablet.settle();
  EXPECT_EQ(last().measure, "seedling_vigor");
}

TEST_F(Rate, ARefusedValueSaysWhyAndIsNotKept) {
  const std::size_t before = tablet.ledger.size();
  tablet.tap(ChooseValue{"percent_stand", "140"});
  const Overlay above = tablet.above();
  ASSERT_TRUE(above.notice);
  EXPECT_EQ(above.notice->text.key, "check.off_scale");
  EXPECT_THAT(above.notice->text.arguments, ElementsAre("0", "100\u00a0%"));
  EXPECT_EQ(tablet.cues.back(), Cue{CueKind::kRefused});
  tablet.settle();
  EXPECT_EQ(tablet.ledger.size(), before);
  tablet.tap(DismissNotice{});
  EXPECT_EQ(tablet.notice(), "");
}

TEST_F(Rate, LaterPutsOffWhatIsOpenAndWalksOn) {
  tablet.choose("percent_stand", "85");
  tablet.tap(PutOff{});
  EXPECT_EQ(tablet.rate().plot, "102");
  tablet.settle();
  ASSERT_EQ(tablet.ledger.size(), 5U);
  for (std::size_t at = 2; at < 5; ++at) {
    EXPECT_EQ(tablet.ledger[at].state, ValueState::kLater);
    EXPECT_FALSE(tablet.ledger[at].value);
    EXPECT_EQ(tablet.ledger[at].entered, "");
  }
  EXPECT_EQ(tablet.mark("101"), Mark::kLater);
  EXPECT_EQ(tablet.question(), "") << "no question";
  for (int plot = 0; plot < 5; ++plot) rate_plot(), tablet.settle();
  EXPECT_EQ(tablet.rate().plot, "101") << "what was put off comes up at the end";
  EXPECT_FALSE(tablet.rate().all_done);
  tablet.choose("seedling_vigor", "2");
  tablet.settle();
  EXPECT_EQ(last().kind, kind::kCorrection);
  EXPECT_EQ(last().reason, "after_later");
  EXPECT_EQ(last().state, ValueState::kValue);
}

TEST_F(Rate, LaterOnAPlotPutOffJustWalksOn) {
  tablet.tap(PutOff{});
  tablet.settle();
  tablet.tap(GoToPlot{"101"});
  const std::size_t before = tablet.ledger.size();
  tablet.tap(PutOff{});
  tablet.settle();
  EXPECT_EQ(tablet.ledger.size(), before);
  EXPECT_EQ(tablet.rate().plot, "102");
}

TEST_F(Rate, LaterIsTakenBackAsOneAct) {
  tablet.tap(PutOff{});
  tablet.settle();
  tablet.tap(TakeBack{});
  tablet.settle();
  EXPECT_EQ(tablet.ledger.size(), 1U + 4U + 4U);
  EXPECT_EQ(tablet.mark("101"), Mark::kOpen);
}

TEST_F(Rate, AStakeIsTheWayToItsPlot) {
  tablet.tap(GoToPlot{"202"});
  EXPECT_EQ(tablet.rate().plot, "202");
  EXPECT_EQ(tablet.rate().present, 4U);
  tablet.tap(GoToPlot{"999"});
  EXPECT_EQ(tablet.notice(), "notice.unknown_plot");
  EXPECT_EQ(tablet.rate().plot, "202");
}

TEST_F(Rate, WrapsRoundToWhatWasLeftOpenBefore) {
  tablet.tap(GoToPlot{"203"});
  rate_plot();
  EXPECT_EQ(tablet.rate().plot, "101");
}

// Proves: reopening shows every value kept and goes on at the first open plot.
TEST_F(Rate, ResumesAtTheFirstOpenPlot) {
  rate_plot();
  tablet.choose("percent_stand", "70");
  tablet.settle();
  tablet.restart();
  tablet.next_day();
  tablet.sign_in("AB");
  tablet.open(grass_plan(), "stand");
  view = tablet.rate();
  EXPECT_EQ(view.plot, "102");
  EXPECT_EQ(view.measures.at(0).shown, "70");
  EXPECT_EQ(view.measures.at(*view.focus).measure, "seedling_vigor");
  EXPECT_EQ(tablet.mark("101"), Mark::kKept);
}

TEST_F(Rate, FineStepsLieAroundATile) {
  tablet.tap(ShowFine{"85"});
  EXPECT_TRUE(measure("percent_stand").fine);
  EXPECT_EQ(measure("percent_stand").choices.size(), 11U);
  EXPECT_EQ(measure("percent_stand").choices.front().entered, "80");
  tablet.choose("percent_stand", "83");
  tablet.settle();
  EXPECT_EQ(last().entered, "83");
  tablet.tap(ShowFine{"3"});
  EXPECT_FALSE(measure("seedling_vigor").fine) << "scores have no steps between";
  tablet.tap(FocusMeasure{"percent_stand"});
  tablet.tap(ShowFine{"0"});
  EXPECT_EQ(measure("percent_stand").choices.size(), 6U);
  tablet.tap(ShowFine{""});
  EXPECT_FALSE(measure("percent_stand").fine);
}

// Proves: 87 costs three taps, and is a first value, not a correction.
TEST_F(Rate, ASinglePointIsChosenBeforeAnythingIsKept) {
  EXPECT_TRUE(measure("percent_stand").can_fine);
  EXPECT_FALSE(measure("seedling_vigor").can_fine);
  tablet.tap(ShowTens{});
  EXPECT_TRUE(measure("percent_stand").tens);
  ASSERT_EQ(measure("percent_stand").choices.size(), 10U);
  const ChoiceView eighties = measure("percent_stand").choices[8];
  EXPECT_EQ(eighties.label, "80-90");
  tablet.tap(ShowFine{eighties.entered});
  EXPECT_TRUE(measure("percent_stand").fine);
  EXPECT_FALSE(measure("percent_stand").tens);
  EXPECT_EQ(measure("percent_stand").choices.front().entered, "80");
  EXPECT_EQ(measure("percent_stand").choices.back().entered, "90");
  tablet.choose("percent_stand", "87");
  tablet.settle();
  EXPECT_EQ(last().kind, kind::kReading);
  EXPECT_EQ(last().entered, "87");
  EXPECT_EQ(measure("percent_stand").choices.size(), 21U) << "the next look has its tiles again";
}

TEST_F(Rate, TheStretchesAreLeftByTheSameKeyAndOnlyPercentsHaveThem) {
  tablet.tap(ShowTens{});
  tablet.tap(ShowTens{});
  EXPECT_FALSE(measure("percent_stand").tens);
  EXPECT_EQ(measure("percent_stand").choices.size(), 21U);
  tablet.tap(ShowFine{"85"});
  tablet.tap(ShowTens{});
  EXPECT_EQ(measure("percent_stand").choices.size(), 21U);
  tablet.tap(ShowTens{});
  tablet.type("87");  // a keyboard needs no stretch
  tablet.tap(KeyDone{});
  tablet.settle();
  EXPECT_EQ(last().entered, "87");
  tablet.tap(ShowTens{});  // of vigor
  EXPECT_FALSE(measure("seedling_vigor").tens);
  EXPECT_EQ(measure("seedling_vigor").choices.size(), 5U);
}

TEST_F(Rate, ThePersonsUnitIsKeptWithTheValue) {
  tablet.model.setup.units["stubble_height"] = "cm";
  tablet.tap(FocusMeasure{"stubble_height"});
  EXPECT_EQ(measure("stubble_height").unit, "cm");
  EXPECT_EQ(measure("stubble_height").choices.front().entered, "1");
  tablet.choose("stubble_height", "8");
  tablet.settle();
  EXPECT_EQ(last().unit, "cm");
  EXPECT_EQ(last().value, 8.0);
  tablet.model.setup.units["stubble_height"] = "in";
  EXPECT_EQ(measure("stubble_height").unit, "cm") << "shown and corrected as entered";
  EXPECT_EQ(measure("stubble_height").choices.front().entered, "1");
  tablet.tap(FocusMeasure{"stubble_height"});
  tablet.tap(StepAmount{1});
  tablet.tap(KeepAmount{});
  tablet.settle();
  EXPECT_EQ(last().entered, "8.5");
  EXPECT_EQ(last().unit, "cm");
  tablet.tap(GoToPlot{"102"});
  EXPECT_EQ(measure("stubble_height").unit, "in");
}

TEST_F(Rate, AMeasureThatIsNotOnTheCardIsNotOpened) {
  tablet.tap(FocusMeasure{"gross_weight"});
  EXPECT_EQ(tablet.rate().focus, 0U);
  tablet.choose("gross_weight", "12");
  tablet.settle();
  EXPECT_EQ(tablet.ledger.size(), 1U);
}

TEST_F(Rate, NotesAddUpOnAPlot) {
  tablet.tap(OpenNote{});
  ASSERT_TRUE(tablet.rate().note);
  EXPECT_FALSE(tablet.rate().note->can_keep);
  tablet.tap(KeyDone{});
  EXPECT_TRUE(tablet.rate().note) << "an empty note is no note";
  tablet.tap(KeyText{"  vole runs "});
  EXPECT_TRUE(tablet.rate().note->can_keep);
  tablet.tap(KeyDone{});
  tablet.settle();
  EXPECT_EQ(last().measure, "note");
  EXPECT_EQ(last().entered, "vole runs");
  EXPECT_EQ(last().part, 1);
  EXPECT_EQ(tablet.rate().plot, "101") << "a note does not walk on";
  tablet.tap(FocusMeasure{"note"});
  tablet.type("wet");
  tablet.tap(KeyDone{});
  EXPECT_THAT(tablet.rate().notes, ElementsAre("vole runs", "wet")) << "under way counts too";
  tablet.settle();
  EXPECT_EQ(last().part, 2);
  tablet.tap(TakeBack{});
  tablet.settle();
  EXPECT_EQ(last().kind, kind::kWithdrawal);
  EXPECT_EQ(last().part, 2);
  EXPECT_THAT(tablet.rate().notes, ElementsAre("vole runs"));
}

TEST_F(Rate, ANoteGoesOnThePlotJustLeft) {
  tablet.tap(OpenNote{true});
  EXPECT_FALSE(tablet.rate().note) << "none was left yet";
  rate_plot();
  tablet.tap(OpenNote{true});
  ASSERT_TRUE(tablet.rate().note);
  EXPECT_EQ(tablet.rate().note->plot, "101");
  tablet.type("deer");
  tablet.tap(KeyErase{});
  tablet.tap(KeyDone{});
  tablet.settle();
  EXPECT_EQ(last().entered, "dee");
  EXPECT_EQ(last().subject, grass_plan().plot(grass_plan().plots.front()).uuid);
  EXPECT_EQ(tablet.rate().plot, "102");
  tablet.tap(OpenNote{});
  tablet.tap(CloseNote{});
  EXPECT_FALSE(tablet.rate().note);
}

// Proves: design.md 4, blind: once unlocked the rest is 0.
TEST_F(Rate, UnlockedNamesMakeTheRestNotBlind) {
  tablet.choose("percent_stand", "85");
  tablet.tap(ShowNames{});
  tablet.tap(ShowNames{});  // once is enough
  EXPECT_EQ(tablet.rate().names, "Alder Brook");
  EXPECT_FALSE(tablet.rate().blind);
  tablet.choose("seedling_vigor", "3");
  tablet.settle();
  ASSERT_EQ(tablet.ledger.size(), 4U);
  EXPECT_EQ(tablet.ledger[1].blind, true);
  EXPECT_EQ(tablet.ledger[2].kind, kind::kEvent);
  EXPECT_EQ(tablet.ledger[3].blind, false);
  tablet.restart();
  tablet.sign_in("AB");
  tablet.open(grass_plan(), "stand");
  EXPECT_FALSE(tablet.rate().blind) << "what was seen stays seen";
  tablet.tap(HandOver{});
  tablet.sign_in("CD");
  EXPECT_TRUE(tablet.rate().blind) << "another person has not seen them";
}

TEST_F(Rate, NamesStayHiddenOnTheOtherOccasion) {
  tablet.tap(ShowNames{});
  tablet.settle();
  tablet.open(grass_plan(), "late");
  EXPECT_TRUE(tablet.rate().blind);
}

TEST(RateBeforeSowing, AsksOnceForTheDayAndWritesTheAnswerWithEachValue) {
  Tablet tablet(date::year{2024} / 9 / 9);
  tablet.open(grass_plan(), "stand");
  tablet.choose("percent_stand", "85");
  ASSERT_EQ(tablet.question(), "check.before_sowing");
  const QuestionView question = *tablet.above().question;
  EXPECT_EQ(question.plot, "101");
  EXPECT_EQ(question.shown, "85\u00A0%");
  EXPECT_FALSE(question.on_hold);
  EXPECT_EQ(question.phrases.size(), 3U);
  EXPECT_EQ(tablet.cues.back(), Cue{CueKind::kQuestioned});
  tablet.choose("seedling_vigor", "1");
  tablet.tap(TakeBack{});
  EXPECT_EQ(tablet.question(), "check.before_sowing") << "nothing else can be tapped";
  tablet.answer("no_such_phrase");
  EXPECT_EQ(tablet.question(), "check.before_sowing");
  tablet.answer("date_is_right");
  tablet.settle();
  EXPECT_EQ(tablet.question(), "");
  const std::vector<Answer> answer{{"before_sowing", "date_is_right"}};
  EXPECT_EQ(tablet.ledger.back().answers, answer);
  EXPECT_EQ(tablet.ledger.back().state, ValueState::kValue);
  tablet.choose("seedling_vigor", "1");
  EXPECT_EQ(tablet.question(), "") << "answered for the day";
  tablet.settle();
  EXPECT_EQ(tablet.ledger.back().answers, answer);
  tablet.restart();
  tablet.sign_in("AB");
  tablet.open(grass_plan(), "stand");
  tablet.choose("maturity", "R0");
  EXPECT_EQ(tablet.question(), "") << "a restart forgets no answer";
}

TEST(RateBeforeSowing, EnteringAgainDropsTheValue) {
  Tablet tablet(date::year{2024} / 9 / 9);
  tablet.open(grass_plan(), "stand");
  tablet.choose("seedling_vigor", "1");
  tablet.answer("enter_again");
  tablet.settle();
  EXPECT_EQ(tablet.question(), "");
  EXPECT_EQ(tablet.ledger.size(), 1U);
  const RateView view = tablet.rate();
  EXPECT_EQ(view.measures.at(*view.focus).measure, "seedling_vigor");
}

TEST_F(Rate, DeclaringDoneAsksOnceAboutWhatIsOpen) {
  rate_plot();
  tablet.settle();
  tablet.tap(DeclareDone{});
  ASSERT_TRUE(tablet.above().closing);
  EXPECT_THAT(tablet.above().closing->open, SizeIs(5));
  const std::size_t before = tablet.ledger.size();
  tablet.choose("seedling_vigor", "1");
  tablet.settle();
  EXPECT_EQ(tablet.ledger.size(), before) << "the question comes first";
  tablet.tap(AnswerClosing{false});
  EXPECT_FALSE(tablet.above().closing);
  tablet.tap(DeclareDone{});
  tablet.tap(AnswerClosing{true});
  tablet.settle();
  EXPECT_EQ(last().kind, kind::kClosed);
  EXPECT_EQ(last().reason, "left_open");
  EXPECT_TRUE(std::holds_alternative<TodayView>(view_of(tablet.model)));
}

TEST_F(Rate, WithOnlyPutOffPlotsLeftItCanBeClosed) {
  for (int plot = 0; plot < 4; ++plot) rate_plot(), tablet.settle();
  tablet.tap(PutOff{});
  tablet.settle();
  EXPECT_FALSE(tablet.rate().can_close) << "the last plot was not looked at";
  tablet.tap(PutOff{});
  tablet.settle();
  EXPECT_TRUE(tablet.rate().can_close);
  tablet.tap(DeclareDone{});
  EXPECT_THAT(tablet.above().closing->open, SizeIs(2));
}

TEST_F(Rate, DeclaringAWholeRatingDoneNeedsNoQuestion) {
  for (int plot = 0; plot < 6; ++plot) rate_plot(), tablet.settle();
  tablet.tap(DeclareDone{});
  tablet.settle();
  EXPECT_EQ(last().kind, kind::kClosed);
  EXPECT_EQ(last().reason, "all_done");
}

TEST_F(Rate, AClosedRatingIsNotClosedAgain) {
  OccasionProgress progress;
  progress.trial = grass_plan().id();
  progress.occasion = grass_plan().occasion(grass_plan().occasions[0]);
  tablet.today_answer.progress = {progress};
  tablet.tap(TodayLoaded{tablet.today_answer});
  for (int plot = 0; plot < 6; ++plot) rate_plot(), tablet.settle();
  EXPECT_FALSE(tablet.rate().closed);
  tablet.tap(DeclareDone{});
  const std::size_t before = tablet.ledger.size();
  tablet.today_answer.progress.front().closed = true;
  tablet.settle();
  EXPECT_EQ(tablet.ledger.size(), before + 1);
  tablet.open(grass_plan(), "stand");
  EXPECT_TRUE(tablet.rate().all_done);
  EXPECT_TRUE(tablet.rate().closed);
  tablet.tap(DeclareDone{});
  tablet.settle();
  EXPECT_EQ(tablet.ledger.size(), before + 1) << "said once";
  EXPECT_TRUE(std::holds_alternative<TodayView>(view_of(tablet.model)));
}

TEST(RateAbandoned, PlotsAreWalkedPastAndEntriesAreAsSown) {
  Tablet tablet;
  const Plan plan = grass_plan();
  OccasionLoaded loaded;
  loaded.trial = plan.id();
  loaded.occasion = plan.occasion(plan.occasions[0]);
  AsSown gone{plan.plot(plan.plots[0]), AsSownStatus::kAbandoned, std::nullopt,
              date::year{2026} / 5 / 4, "flood"};
  AsSown other{plan.plot(plan.plots[1]), AsSownStatus::kHolds, plan.entry(plan.entries[2]),
               date::year{2025} / 4 / 1, "packet swapped"};
  loaded.as_sown = {gone, other};
  tablet.tap(OpenOccasion{loaded.trial, loaded.occasion});
  tablet.tap(loaded);
  const RateView view = tablet.rate();
  EXPECT_EQ(view.plots, 5U);
  EXPECT_EQ(view.plot, "102");
  EXPECT_EQ(view.measures.at(2).scale, "maturity_legume") << "the species that stands there";
}

}  // namespace
}  // namespace ligule::flow
