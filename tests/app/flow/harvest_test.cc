#include <algorithm>

#include "storage/trial/details.h"
#include "tests/app/flow/harvest_fixture.h"

namespace ligule::flow {
namespace {

using ::testing::ElementsAre;

TEST_F(HarvestTest, BeginsWithTheHeadOfTheRun) {
  EXPECT_FALSE(head().can_start);
  tablet.tap(StartRun{});
  EXPECT_EQ(tablet.notice(), "notice.machine_missing");
  tablet.type("Mower 1");
  tablet.tap(KeyDone{});
  tablet.type("3 ft");
  tablet.tap(KeyDone{});
  tablet.type("4 in");
  tablet.tap(ChooseSurface{"dew"});
  EXPECT_EQ(head().surface, "dew");
  EXPECT_TRUE(head().can_start);
  tablet.tap(KeyDone{});
  tablet.settle();
  const Record& run = tablet.ledger.back();
  EXPECT_EQ(run.kind, kind::kHarvestRun);
  EXPECT_EQ(run.person, person_id("AB"));
  EXPECT_EQ(run.trial, grass_plan().id());
  EXPECT_EQ(run.occasion, cutting_id(grass_plan().id(), 2026, 1));
  const Details details{
      {"cut_width", "3 ft"}, {"machine", "Mower 1"}, {"stubble", "4 in"}, {"surface", "dew"}};
  EXPECT_EQ(run.details, details_text(details));
  EXPECT_EQ(tablet.weighing().machine, "Mower 1");
}

TEST_F(HarvestTest, AskesForTheHeadOnceADayAndKnowsTheMachine) {
  tablet.tap(ChooseSurface{"dew"});
  tablet.tap(ChooseSurface{"dew"});
  EXPECT_EQ(head().surface, "") << "a second tap takes it off";
  start();
  EXPECT_EQ(tablet.ledger.back().details, details_text({{"machine", "Mower 1"}}));
  tablet.open(grass_plan(), "cut1");
  EXPECT_EQ(tablet.weighing().plot, "101") << "the same day goes on";
  tablet.next_day();
  tablet.open(grass_plan(), "cut1");
  EXPECT_EQ(head().fields.front().text, "Mower 1");
  EXPECT_THAT(head().machines, ElementsAre("Mower 1"));
}

// Proves: design.md 4, several readings of one act go in one transaction.
TEST_F(HarvestTest, APlotIsOneActOfSeveralReadings) {
  start();
  const RecordId run = tablet.ledger.back().id;
  tablet.fill(Field::kGross, "31.5");
  tablet.fill(Field::kTare, "2.5");
  tablet.fill(Field::kBag, "12");
  tablet.fill(Field::kSampleFresh, "412");
  const Effects effects = tablet.tap(KeepPlot{});
  ASSERT_EQ(effects.size(), 1U);
  const auto& append = std::get<Append>(effects.front());
  ASSERT_EQ(append.records.size(), 4U);
  const Plan plan = grass_plan();
  const Uuid plot = plan.plot(plan.plots[0]).uuid;
  const char* const measures[] = {"gross_weight", "tare_weight", "bag_number", "sample_fresh"};
  const char* const texts[] = {"31.5", "2.5", "12", "412"};
  const char* const units[] = {"lb", "lb", "", "g"};
  for (std::size_t i = 0; i < 4; ++i) {
    const Record& record = append.records[i];
    EXPECT_EQ(record.measure, measures[i]);
    EXPECT_EQ(record.entered, texts[i]);
    EXPECT_EQ(record.unit, units[i]);
    EXPECT_EQ(record.kind, kind::kReading);
    EXPECT_EQ(record.run, run);
    EXPECT_EQ(record.source, Source::kTyped);
    EXPECT_EQ(record.blind, true);
    EXPECT_EQ(record.state, ValueState::kValue);
    EXPECT_EQ(record.occasion, cutting_id(plan.id(), 2026, 1));
  }
  EXPECT_EQ(append.records[0].subject, plot);
  EXPECT_EQ(append.records[2].subject, plot);
  EXPECT_EQ(append.records[3].subject, append.records[2].id.uuid) << "the sample is the bag's";
  EXPECT_FALSE(append.records[2].value);
  EXPECT_EQ(tablet.weighing().plot, "102");
  EXPECT_EQ(tablet.mark("101"), Mark::kSaving);
  tablet.settle();
  EXPECT_EQ(tablet.mark("101"), Mark::kKept);
  EXPECT_EQ(tablet.text(Field::kTare), "2.5") << "the tare is remembered";
  EXPECT_EQ(tablet.text(Field::kGross), "");
}

TEST_F(HarvestTest, EnterWalksThroughTheFormAndKeepsThePlot) {
  start();
  tablet.type("31.5");
  tablet.tap(KeyDone{});
  tablet.type("2.5");
  tablet.tap(KeyDone{});
  tablet.type("12");
  tablet.tap(KeyDone{});
  tablet.type("412");
  tablet.tap(KeyDone{});
  tablet.settle();
  EXPECT_EQ(tablet.weighing().plot, "102");
  EXPECT_EQ(tablet.ledger.size(), 2U + 4U);
  tablet.type("30");
  tablet.tap(KeyDone{});
  tablet.type("13");
  tablet.tap(KeyDone{});
  tablet.type("400");
  tablet.tap(KeyDone{});
  tablet.settle();
  EXPECT_EQ(tablet.ledger.size(), 2U + 8U) << "the tare was not typed again, and is kept again";
}

TEST_F(HarvestTest, EnterNeverKeepsAPlotThatLacksItsBagOrSample) {
  const auto focused = [&] {
    const WeighingView view = tablet.weighing();
    return std::ranges::find(view.fields, true, &FieldView::focused)->field;
  };
  start();
  tablet.type("7");
  tablet.tap(KeyDone{});
  EXPECT_EQ(focused(), Field::kTare);
  tablet.tap(KeyDone{});
  EXPECT_EQ(focused(), Field::kBag) << "a plot may have no tare";
  tablet.tap(KeyDone{});
  EXPECT_EQ(focused(), Field::kSampleFresh);
  tablet.type("400");
  tablet.tap(KeyDone{});
  EXPECT_EQ(focused(), Field::kTare) << "round the form";
  tablet.type("2");
  tablet.tap(KeyDone{});
  EXPECT_EQ(focused(), Field::kBag);
  tablet.cues.clear();
  tablet.tap(KeyDone{});
  EXPECT_EQ(focused(), Field::kBag) << "the only one that is empty";
  EXPECT_EQ(tablet.cues.size(), 1U);
  tablet.settle();
  EXPECT_EQ(tablet.ledger.size(), 2U) << "nothing kept";
  tablet.type("12");
  tablet.tap(KeyDone{});
  tablet.settle();
  EXPECT_EQ(tablet.ledger.size(), 2U + 4U);
  tablet.fill(Field::kGross, "30");
  tablet.tap(KeepPlot{});
  tablet.settle();
  EXPECT_EQ(tablet.ledger.size(), 2U + 6U) << "the key keeps what there is";
}

TEST_F(HarvestTest, AWeightThatIsNoNumberIsRefusedNotMended) {
  start();
  for (const char* const text : {"-5", "12.5.5", "1-2", "-"}) {
    tablet.fill(Field::kGross, text);
    EXPECT_EQ(tablet.text(Field::kGross), text);
    tablet.tap(KeepPlot{});
    EXPECT_TRUE(tablet.notice() == "check.unreadable" || tablet.notice() == "check.off_scale")
        << text << ": " << tablet.notice();
  }
  tablet.settle();
  EXPECT_EQ(tablet.ledger.size(), 2U);
}

TEST_F(HarvestTest, AWholeCuttingIsWeighedAndResumed) {
  start();
  const char* const bags[] = {"1", "2", "3", "4", "5", "6"};
  for (int i = 0; i < 3; ++i) weigh("30", bags[i], "400"), tablet.settle();
  tablet.restart();
  tablet.sign_in("AB");
  tablet.open(grass_plan(), "cut1");
  EXPECT_EQ(tablet.weighing().plot, "201");
  EXPECT_EQ(tablet.weighing().done, 3U);
  for (int i = 3; i < 6; ++i) weigh("30", bags[i], "400"), tablet.settle();
  EXPECT_TRUE(tablet.weighing().all_done);
  EXPECT_EQ(tablet.question(), "");
}

TEST_F(HarvestTest, PlotsComeInAnyOrder) {
  start();
  tablet.fill(Field::kPlot, "203");
  tablet.tap(KeyDone{});
  EXPECT_EQ(tablet.weighing().plot, "203");
  tablet.fill(Field::kPlot, "777");
  tablet.tap(KeyDone{});
  EXPECT_EQ(tablet.notice(), "notice.unknown_plot");
  EXPECT_EQ(tablet.weighing().plot, "203");
  weigh("28");
  EXPECT_EQ(tablet.weighing().plot, "101") << "walks round to what is open";
}

TEST_F(HarvestTest, ACuttingForSomeEntriesWalksPastTheOthers) {
  for (KnownTrial& trial : tablet.model.trials) {
    for (PlanOccasion& occasion : trial.plan.occasions)
      if (occasion.code == "cut1") occasion.entries = {"A"};
  }
  tablet.open(grass_plan(), "cut1");
  start();
  EXPECT_EQ(tablet.weighing().lane.size(), 2U);
  weigh("30", "12", "400");
  tablet.settle();
  EXPECT_EQ(tablet.weighing().plot, "202");
  tablet.tap(GoToPlot{"102"});
  EXPECT_EQ(tablet.notice(), "notice.takes_no_part");
  tablet.fill(Field::kPlot, "203");
  tablet.tap(KeyDone{});
  EXPECT_EQ(tablet.notice(), "notice.takes_no_part");
  EXPECT_EQ(tablet.weighing().plot, "202");
}

// The plan may say so only after some plots of an entry were cut.
TEST_F(HarvestTest, APlotThatWasWeighedStaysThoughItsEntryIsNotCut) {
  start();
  weigh("30", "12", "400");
  tablet.settle();
  for (KnownTrial& trial : tablet.model.trials) {
    for (PlanOccasion& occasion : trial.plan.occasions)
      if (occasion.code == "cut1") occasion.entries = {"B"};
  }
  tablet.open(grass_plan(), "cut1");
  const auto lane = tablet.weighing().lane;
  ASSERT_EQ(lane.size(), 3U);
  EXPECT_EQ(lane.front().plot, "101");
}

TEST_F(HarvestTest, WhatWasTypedOnAPlotIsStillThereOnReturn) {
  start();
  tablet.fill(Field::kGross, "31");
  tablet.tap(GoToPlot{"102"});
  EXPECT_EQ(tablet.text(Field::kGross), "");
  tablet.tap(GoToPlot{"101"});
  EXPECT_EQ(tablet.text(Field::kGross), "31");
}

TEST_F(HarvestTest, AFormThatLacksAPartSaysWhich) {
  start();
  tablet.tap(KeepPlot{});
  EXPECT_EQ(tablet.notice(), "notice.gross_missing");
  EXPECT_FALSE(tablet.weighing().can_keep);
  tablet.fill(Field::kGross, "30");
  tablet.fill(Field::kSampleFresh, "400");
  tablet.tap(KeepPlot{});
  EXPECT_EQ(tablet.notice(), "notice.bag_missing");
  tablet.fill(Field::kBag, "7");
  tablet.fill(Field::kGross, "201");
  tablet.tap(KeepPlot{});
  EXPECT_EQ(tablet.notice(), "check.off_scale");
  EXPECT_THAT(tablet.above().notice->text.arguments, ElementsAre("0", "200\u00a0lb"));
  tablet.settle();
  EXPECT_EQ(tablet.ledger.size(), 2U);
}

TEST_F(HarvestTest, AMeasureWithoutAScaleIsNamed) {
  start();
  std::erase_if(tablet.model.setup.definitions.measures,
                [](const Measure& each) { return each.code == "tare_weight"; });
  tablet.fill(Field::kGross, "30");
  tablet.fill(Field::kTare, "2");
  tablet.tap(KeepPlot{});
  EXPECT_EQ(tablet.notice(), "notice.no_scale");
}

TEST_F(HarvestTest, TakingBackAPlotWithdrawsTheWholeAct) {
  start();
  weigh("30", "12", "400");
  tablet.settle();
  const std::size_t before = tablet.ledger.size();
  tablet.tap(TakeBack{});
  EXPECT_EQ(tablet.weighing().plot, "101");
  EXPECT_EQ(tablet.text(Field::kGross), "");
  tablet.settle();
  EXPECT_EQ(tablet.ledger.size(), before + 3);
  for (std::size_t i = before; i < tablet.ledger.size(); ++i) {
    EXPECT_EQ(tablet.ledger[i].kind, kind::kWithdrawal);
  }
  weigh("30", "12", "400");
  EXPECT_EQ(tablet.question(), "") << "the bag is free again";
}

TEST_F(HarvestTest, AnotherWeightOnAWeighedPlotIsACorrectionOfThatPartOnly) {
  start();
  weigh("30", "12", "400");
  tablet.settle();
  tablet.tap(GoToPlot{"101"});
  EXPECT_EQ(tablet.text(Field::kSampleFresh), "400");
  const RecordId bag = last_of("bag_number").id;
  const std::size_t before = tablet.ledger.size();
  tablet.fill(Field::kBag, "14");
  tablet.tap(KeepPlot{});
  tablet.settle();
  ASSERT_EQ(tablet.ledger.size(), before + 1);
  EXPECT_EQ(tablet.ledger.back().kind, kind::kCorrection);
  EXPECT_EQ(tablet.ledger.back().measure, "bag_number");
  // The bag stays the same bag under its new number.
  tablet.tap(GoToPlot{"101"});
  tablet.fill(Field::kSampleFresh, "410");
  tablet.tap(KeepPlot{});
  tablet.settle();
  EXPECT_EQ(tablet.ledger.back().subject, bag.uuid);
  EXPECT_EQ(tablet.ledger.back().kind, kind::kCorrection);
}

// A form that shows a kept weight keeps its unit, whatever the person works in now.
TEST_F(HarvestTest, AnotherUnitNeverRereadsAKeptWeight) {
  start();
  tablet.fill(Field::kTare, "2");
  weigh("30", "12", "400");
  tablet.settle();
  tablet.model.setup.units["gross_weight"] = "kg";
  tablet.model.setup.units["tare_weight"] = "kg";
  tablet.open(grass_plan(), "cut1");
  EXPECT_EQ(tablet.text(Field::kTare), "") << "2 lb is not 2 kg";
  EXPECT_EQ(tablet.weighing().fields.at(1).unit, "kg");
  tablet.tap(GoToPlot{"101"});
  EXPECT_EQ(tablet.weighing().fields.at(1).unit, "lb");
  const std::size_t before = tablet.ledger.size();
  tablet.tap(KeepPlot{});
  tablet.settle();
  EXPECT_EQ(tablet.ledger.size(), before) << "nothing was changed";
  tablet.tap(GoToPlot{"101"});
  tablet.fill(Field::kGross, "31");
  tablet.tap(KeepPlot{});
  stand_by();
  EXPECT_EQ(tablet.ledger.back().unit, "lb");
  EXPECT_EQ(tablet.text(Field::kTare), "");
  tablet.tap(GoToPlot{"101"});
  tablet.fill(Field::kTare, "3");
  tablet.tap(KeepPlot{});
  tablet.settle();
  EXPECT_EQ(tablet.text(Field::kTare), "") << "3 lb is not remembered as 3 kg";
  weigh("14");
  tablet.settle();
  EXPECT_EQ(tablet.ledger.back().unit, "kg");
}

// 12 shown, 5 typed: 5, never 125.
TEST_F(HarvestTest, TheFirstDigitReplacesAWeightThatIsShown) {
  start();
  tablet.fill(Field::kTare, "2");
  weigh("12", "7", "400");
  tablet.settle();
  EXPECT_EQ(tablet.text(Field::kTare), "2");
  tablet.tap(FocusField{Field::kTare});
  tablet.type("3.5");
  EXPECT_EQ(tablet.text(Field::kTare), "3.5") << "remembered from the plot before";
  tablet.tap(GoToPlot{"101"});
  tablet.type("41");
  EXPECT_EQ(tablet.text(Field::kSampleFresh), "41") << "the form opens on its last line";
  tablet.tap(FocusField{Field::kSampleFresh});
  tablet.type("410");
  tablet.tap(FocusField{Field::kGross});
  tablet.type("5");
  tablet.tap(FocusField{Field::kBag});
  tablet.tap(KeyErase{});
  tablet.type("8");
  EXPECT_EQ(tablet.text(Field::kBag), "8");
  tablet.tap(KeepPlot{});
  stand_by();
  EXPECT_EQ(last_of("gross_weight").entered, "5");
  EXPECT_EQ(last_of("sample_fresh").entered, "410");
  EXPECT_EQ(tablet.text(Field::kTare), "3.5") << "typed on the plot that was left";
  tablet.tap(FocusField{Field::kTare});
  tablet.tap(KeyErase{});
  tablet.type("6");
  EXPECT_EQ(tablet.text(Field::kTare), "3.6") << "erasing edits";
}

TEST_F(HarvestTest, APlotCanBePutOff) {
  start();
  tablet.tap(PutOff{});
  tablet.settle();
  EXPECT_EQ(last_of("gross_weight").state, ValueState::kLater);
  EXPECT_EQ(tablet.mark("101"), Mark::kLater);
  EXPECT_EQ(tablet.weighing().plot, "102");
  tablet.tap(GoToPlot{"101"});
  weigh("30");
  tablet.settle();
  EXPECT_EQ(last_of("gross_weight").reason, "after_later");
}

TEST_F(HarvestTest, NothingHappensToPlotsBeforeTheRunHasBegun) {
  tablet.tap(PutOff{});
  tablet.tap(KeepPlot{});
  tablet.tap(GoToPlot{"102"});
  tablet.tap(FocusField{Field::kGross});
  tablet.settle();
  EXPECT_EQ(tablet.ledger.size(), 1U);
  EXPECT_TRUE(head().fields.front().focused);
}

TEST_F(HarvestTest, AnUnsavedPlotComesBackWithItsWeights) {
  start();
  tablet.break_disk(true);
  weigh("30", "12", "400");
  EXPECT_EQ(tablet.weighing().plot, "102");
  tablet.settle();
  EXPECT_EQ(tablet.weighing().plot, "101");
  EXPECT_EQ(tablet.text(Field::kGross), "30");
  EXPECT_EQ(tablet.text(Field::kSampleFresh), "400");
  EXPECT_EQ(tablet.mark("101"), Mark::kNotSaved);
  tablet.break_disk(false);
  tablet.tap(DropUnsaved{});
  EXPECT_EQ(tablet.text(Field::kGross), "");
  EXPECT_EQ(tablet.mark("101"), Mark::kOpen);
}

TEST_F(HarvestTest, ARunThatCouldNotBeSavedIsAskedForAgain) {
  tablet.break_disk(true);
  start();
  ASSERT_TRUE(tablet.above().unsaved);
  tablet.tap(DropUnsaved{});
  EXPECT_FALSE(head().can_start);
}

// Whoever types or scans without looking must not believe that it stands there.
TEST_F(HarvestTest, WhatAFieldCannotTakeIsSaid) {
  start();
  tablet.fill(Field::kGross, "12.4");
  tablet.tap(KeyText{"kg"});
  EXPECT_EQ(tablet.notice(), "notice.not_taken");
  EXPECT_EQ(tablet.cues.back().kind, CueKind::kRefused);
  EXPECT_EQ(tablet.text(Field::kGross), "12.4");
  tablet.tap(KeyText{"5"});
  EXPECT_EQ(tablet.notice(), "");
  EXPECT_EQ(tablet.text(Field::kGross), "12.45");
}

// Proves: machine, bar or crop change at any plot of the day, and each plot goes with the run it
// was weighed in.
TEST_F(HarvestTest, AnotherRunBeginsAtAnyPlotOfTheDay) {
  tablet.type("Mower 1");
  tablet.tap(FocusField{Field::kStubble});
  tablet.type("3 in");
  tablet.tap(ChooseSurface{"dew"});
  tablet.tap(StartRun{});
  for (const char* const gross : {"30", "31", "32"}) {
    weigh(gross);
    tablet.settle();
  }
  tablet.fill(Field::kGross, "3");
  tablet.tap(OtherRun{});
  EXPECT_TRUE(head().again);
  EXPECT_EQ(tablet.text(Field::kMachine), "Mower 1");
  EXPECT_EQ(tablet.text(Field::kStubble), "3 in");
  EXPECT_EQ(head().surface, "dew");
  // Looked at and left: no run.
  const std::size_t before = tablet.ledger.size();
  tablet.tap(StartRun{});
  tablet.settle();
  EXPECT_EQ(tablet.ledger.size(), before);
  EXPECT_EQ(tablet.text(Field::kGross), "3") << "what was typed waits";
  tablet.tap(OtherRun{});
  tablet.tap(ChooseSurface{"dry"});
  tablet.tap(OtherRun{.open = false});
  EXPECT_EQ(tablet.weighing().plot, "201");
  tablet.tap(OtherRun{});
  tablet.tap(ChooseSurface{"dry"});
  tablet.tap(StartRun{});
  tablet.settle();
  ASSERT_EQ(tablet.ledger.back().kind, kind::kHarvestRun);
  const RecordId second = tablet.ledger.back().id;
  weigh("33");
  tablet.settle();
  EXPECT_EQ(last_of(measure::kGrossWeight).run, second);
}

TEST_F(HarvestTest, AHeadBegunForAnotherRunWaits) {
  start();
  weigh("30");
  tablet.settle();
  tablet.tap(OtherRun{});
  tablet.tap(ChooseSurface{"rain"});
  tablet.tap(ShowToday{});
  if (tablet.model.splitting) tablet.tap(AnswerSplit{SplitAnswer::kStop});
  tablet.open(grass_plan(), "cut1");
  EXPECT_TRUE(head().again);
  EXPECT_EQ(head().surface, "rain");
  tablet.tap(OtherRun{.open = false});
  EXPECT_EQ(tablet.weighing().plot, "101") << "whose bag is to come";
}

// Proves: a head left over night is that of the new day's first run.
TEST_F(HarvestTest, AHeadLeftOverNightBeginsTheDay) {
  start();
  weigh("30");
  tablet.settle();
  tablet.tap(OtherRun{});
  tablet.tap(ChooseSurface{"rain"});
  tablet.tap(ShowToday{});
  tablet.next_day();
  tablet.open(grass_plan(), "cut1");
  EXPECT_FALSE(head().again);
  const std::size_t before = tablet.ledger.size();
  tablet.tap(ChooseSurface{"rain"});
  tablet.tap(StartRun{});
  tablet.settle();
  ASSERT_EQ(tablet.ledger.size(), before + 1) << "a run of this day, whatever its texts";
  EXPECT_EQ(tablet.ledger.back().kind, kind::kHarvestRun);
}

}  // namespace
}  // namespace ligule::flow
