// Several numbers that are one act: heights, shares, counted stages, cells of a frame.
#include "storage/trial/details.h"
#include "tests/app/flow/pads_fixture.h"

namespace ligule::flow {
namespace {

using ::testing::ElementsAre;
using ::testing::IsEmpty;

// --- heights

TEST_F(Pads, HeightsAreKeptTogetherAsPartsOfOneAct) {
  open("height");
  EXPECT_EQ(gather().wanted, 3U);
  fresh();
  tablet.choose("height", "20");
  tablet.choose("height", "22.5");
  EXPECT_EQ(fresh(), 0U) << "nothing is kept before the last";
  EXPECT_THAT(gather().readings, ElementsAre("20", "22.5"));
  EXPECT_EQ(gather().mean, "") << "no mean before they are kept";
  EXPECT_EQ(measure().shown, "");
  tablet.type("24.5");
  tablet.tap(KeyDone{});
  EXPECT_EQ(tablet.rate().plot, "102");
  ASSERT_EQ(fresh(), 3U);
  for (std::size_t n = 0; n < 3; ++n) {
    const Record& record = tablet.ledger[tablet.ledger.size() - 3 + n];
    EXPECT_EQ(record.part, static_cast<int>(n) + 1);
    EXPECT_EQ(record.kind, kind::kReading);
    EXPECT_EQ(record.unit, "in");
    EXPECT_EQ(record.definition, "digest of height");
    EXPECT_EQ(record.source, n < 2 ? Source::kTapped : Source::kTyped);
  }
  tablet.tap(GoToPlot{"101"});
  EXPECT_EQ(measure().shown, "22.3");
  EXPECT_EQ(measure().mark, Mark::kKept);
  tablet.tap(FocusMeasure{"height"});
  EXPECT_EQ(gather().mean, "22.3");
}

// Proves: a height is stepped as well as typed, from the one read before it.
TEST_F(Pads, AHeightIsSteppedFromTheLastOne) {
  open("height");
  tablet.choose("height", "24");
  pad(StepAmount{1});
  const std::string near = measure().typed;
  EXPECT_GT(std::stod(near), 24);
  EXPECT_LT(std::stod(near), 26);
  pad(StepAmount{-1});
  EXPECT_EQ(std::stod(measure().typed), 24);
  pad(StepAmount{1});
  pad(KeepAmount{});
  EXPECT_THAT(gather().readings, ::testing::ElementsAre("24", near));
}

TEST_F(Pads, AHeightThatCannotBeIsRefusedAtOnce) {
  open("height");
  tablet.choose("height", "120");
  EXPECT_EQ(tablet.notice(), "check.off_scale");
  EXPECT_THAT(gather().readings, IsEmpty());
}

TEST_F(Pads, WhatIsBegunWaitsForThePersonToComeBack) {
  open("height");
  tablet.choose("height", "20");
  tablet.tap(GoToPlot{"103"});
  EXPECT_THAT(gather().readings, IsEmpty());
  tablet.tap(GoToPlot{"101"});
  EXPECT_THAT(gather().readings, ElementsAre("20"));
  pad(DropLast{});
  EXPECT_THAT(gather().readings, IsEmpty());
  EXPECT_FALSE(gather().can_drop);
  pad(DropLast{});
  EXPECT_EQ(tablet.rate().plot, "101");
}

TEST_F(Pads, WhatIsBegunWaitsWhileTheRatingIsLeft) {
  open("height");
  tablet.choose("height", "20");
  tablet.choose("height", "22.5");
  tablet.tap(ShowToday{});
  tablet.settle();
  open("height");
  EXPECT_THAT(gather().readings, ElementsAre("20", "22.5"));
  tablet.choose("height", "24.5");
  tablet.settle();
  tablet.tap(ShowToday{});
  tablet.settle();
  open("height");
  tablet.tap(GoToPlot{"101"});
  EXPECT_EQ(measure().shown, "22.3") << "kept, nothing waits any more";
}

TEST_F(Pads, NumbersBegunInAnotherUnitAreNotTakenUp) {
  open("height");
  tablet.choose("height", "20");
  tablet.tap(ShowToday{});
  tablet.settle();
  tablet.tap(Choose{Preference::kLength, "cm"});
  open("height");
  EXPECT_THAT(gather().readings, IsEmpty());
  EXPECT_EQ(tablet.notice(), "notice.unit_changed");
}

TEST_F(Pads, ErasingWithNothingTypedUndoesTheLastHeight) {
  open("height");
  tablet.choose("height", "20");
  tablet.choose("height", "22");
  tablet.type("2");
  tablet.tap(KeyErase{});
  EXPECT_THAT(gather().readings, ElementsAre("20", "22")) << "what is typed goes first";
  tablet.tap(KeyErase{});
  EXPECT_THAT(gather().readings, ElementsAre("20"));
  tablet.tap(KeyErase{});
  tablet.tap(KeyErase{});
  EXPECT_THAT(gather().readings, IsEmpty());
}

TEST_F(Pads, HeightsAreTakenBackTogetherAndMeasuredAgain) {
  open("height");
  for (const char* height : {"20", "22", "24"}) tablet.choose("height", height);
  fresh();
  tablet.tap(TakeBack{});
  EXPECT_EQ(fresh(), 3U);
  EXPECT_EQ(last().kind, kind::kWithdrawal);
  EXPECT_EQ(tablet.mark("101"), Mark::kOpen);
  EXPECT_EQ(tablet.rate().plot, "101");
  for (const char* height : {"20", "22", "24"}) tablet.choose("height", height);
  fresh();
  tablet.tap(GoToPlot{"101"});
  tablet.tap(FocusMeasure{"height"});
  for (const char* height : {"20", "22", "30"}) tablet.choose("height", height);
  EXPECT_EQ(fresh(), 3U);
  EXPECT_EQ(last().kind, kind::kCorrection);
  EXPECT_EQ(last().reason, "looked_again");
  EXPECT_EQ(last().part, 3);
}

TEST_F(Pads, AfterLaterTheFirstHeightIsACorrectionAndTheOthersAreNew) {
  open("height");
  tablet.tap(PutOff{});
  fresh();
  tablet.tap(GoToPlot{"101"});
  for (const char* height : {"20", "22", "24"}) tablet.choose("height", height);
  ASSERT_EQ(fresh(), 3U);
  EXPECT_EQ(tablet.ledger[tablet.ledger.size() - 3].reason, "after_later");
  EXPECT_EQ(last().kind, kind::kReading);
  EXPECT_EQ(tablet.mark("101"), Mark::kKept);
}

TEST_F(Pads, AQuestionAboutHeightsIsAskedOnceForAll) {
  tablet.model.trials.back().plan.sown = date::year{2026} / date::month{8} / date::day{1};
  open("height");
  for (const char* height : {"20", "22", "24"}) tablet.choose("height", height);
  EXPECT_EQ(tablet.question(), "check.before_sowing");
  tablet.answer("enter_again");
  EXPECT_THAT(gather().readings, ElementsAre("20", "22")) << "the last one is open again";
  tablet.choose("height", "25");
  tablet.answer("date_is_right");
  EXPECT_EQ(tablet.question(), "");
  tablet.settle();
  EXPECT_EQ(last().entered, "25");
  EXPECT_EQ(last().answers.size(), 1U);
}

// Proves: a value NOT SAVED stays on its plot, whole.
TEST_F(Pads, HeightsThatCannotBeWrittenReturnWhole) {
  open("height");
  tablet.break_disk(true);
  for (const char* height : {"20", "22", "24"}) tablet.choose("height", height);
  tablet.settle();
  EXPECT_EQ(tablet.rate().plot, "101");
  EXPECT_EQ(tablet.mark("101"), Mark::kNotSaved);
  tablet.break_disk(false);
  tablet.tap(RetryUnsaved{});
  EXPECT_EQ(fresh(), 4U) << "initials and three heights";
}

// --- shares

TEST_F(Pads, TwoSharesFillTheThird) {
  open("cover");
  EXPECT_TRUE(gather().parts.at(0).active);
  EXPECT_FALSE(gather().can_keep);
  pad(SetShare{"60"});
  EXPECT_TRUE(gather().parts.at(1).active);
  EXPECT_FALSE(measure().choices.back().enabled) << "100 does not fit beside 60";
  EXPECT_TRUE(measure().choices.at(8).enabled) << "40 does";
  pad(SetShare{"25"});
  EXPECT_EQ(gather().parts.at(2).number, "15");
  EXPECT_TRUE(gather().parts.at(2).rest);
  EXPECT_TRUE(gather().can_keep);
  fresh();
  pad(KeepGathered{});
  ASSERT_EQ(fresh(), 1U);
  EXPECT_EQ(last().entered, "sown=60 weed=25 bare=15");
  EXPECT_EQ(last().value, 60.0);
  EXPECT_EQ(last().unit, "%");
  EXPECT_EQ(tablet.rate().plot, "102");
  tablet.tap(GoToPlot{"101"});
  EXPECT_EQ(measure().shown, "60 25 15");
}

TEST_F(Pads, TheWholeInOnePartIsComplete) {
  open("cover");
  pad(FocusShare{"bare"});
  pad(SetShare{"100"});
  EXPECT_TRUE(gather().can_keep);
  pad(KeepGathered{});
  tablet.settle();
  EXPECT_EQ(last().entered, "sown=0 weed=0 bare=100");
}

TEST_F(Pads, SharesAreAdjustedAndAlwaysComeTo100) {
  open("cover");
  pad(SetShare{"60"});
  pad(StepShare{1});
  EXPECT_EQ(gather().parts.at(0).number, "65");
  pad(SetShare{"25"});
  pad(StepShare{-1});
  EXPECT_EQ(gather().parts.at(1).number, "20");
  EXPECT_EQ(gather().parts.at(2).number, "15");
  // Stating the rest frees what was stated first.
  pad(FocusShare{"bare"});
  pad(SetShare{"40"});
  EXPECT_EQ(gather().parts.at(1).number, "20");
  EXPECT_EQ(gather().parts.at(2).number, "40");
  EXPECT_EQ(gather().parts.at(0).number, "40");
  EXPECT_TRUE(gather().parts.at(0).rest);
  pad(FocusShare{"bare"});
  pad(SetShare{"90"});
  int sum = 0;
  for (const PartView& part : gather().parts)
    sum += part.number.empty() ? 0 : std::stoi(part.number);
  EXPECT_LE(sum, 100);
}

TEST_F(Pads, AShareThatDoesNotFitIsRefused) {
  open("cover");
  pad(SetShare{"60"});
  pad(SetShare{"45"});
  EXPECT_EQ(tablet.notice(), "notice.over_the_whole");
  EXPECT_EQ(gather().parts.at(1).number, "");
  pad(KeepGathered{});
  EXPECT_EQ(tablet.notice(), "notice.shares_open");
  fresh();
  pad(SetShare{"-5"});
  pad(SetShare{"many"});
  pad(FocusShare{"roots"});
  EXPECT_EQ(fresh(), 0U);
}

TEST_F(Pads, StandingSharesAreChangedFromWhatTheyAre) {
  open("cover");
  pad(SetShare{"60"});
  pad(SetShare{"25"});
  pad(KeepGathered{});
  fresh();
  tablet.tap(GoToPlot{"101"});
  tablet.tap(FocusMeasure{"cover"});
  EXPECT_EQ(gather().parts.at(1).number, "25");
  EXPECT_FALSE(gather().can_keep);
  pad(FocusShare{"weed"});
  pad(SetShare{"30"});
  EXPECT_EQ(gather().parts.at(0).number, "60");
  EXPECT_EQ(gather().parts.at(2).number, "10");
  pad(KeepGathered{});
  ASSERT_EQ(fresh(), 1U);
  EXPECT_EQ(last().kind, kind::kCorrection);
  EXPECT_EQ(last().entered, "sown=60 weed=30 bare=10");
}

// --- counted stages

TEST_F(Pads, CountedStagesGiveTheirMean) {
  open("counts");
  EXPECT_FALSE(gather().can_keep);
  pad(KeepGathered{});
  EXPECT_EQ(tablet.notice(), "notice.nothing_counted");
  for (const char* stage : {"V", "R0", "R0", "R1"}) pad(CountStage{stage});
  pad(CountStage{"S9"});
  EXPECT_EQ(gather().counted, 4U);
  EXPECT_EQ(gather().parts.at(1).number, "2");
  EXPECT_EQ(gather().parts.at(2).word, "");
  EXPECT_EQ(gather().mean, "2.65");
  pad(DropLast{});
  EXPECT_EQ(gather().counted, 3U);
  EXPECT_EQ(gather().mean, "2.50");
  fresh();
  pad(KeepGathered{});
  ASSERT_EQ(fresh(), 1U);
  EXPECT_EQ(last().entered, "V=1 R0=2");
  EXPECT_DOUBLE_EQ(last().value.value_or(0), 2.5);
  tablet.tap(GoToPlot{"101"});
  EXPECT_EQ(measure().shown, "2.50");
}

TEST_F(Pads, MoreIsCountedOnTopOfWhatStands) {
  open("counts");
  pad(CountStage{"V"});
  pad(KeepGathered{});
  tablet.tap(GoToPlot{"101"});
  tablet.tap(FocusMeasure{"counts"});
  pad(CountStage{"R0"});
  EXPECT_EQ(gather().counted, 2U);
  pad(KeepGathered{});
  tablet.settle();
  EXPECT_EQ(last().entered, "V=1 R0=1");
  EXPECT_EQ(last().kind, kind::kCorrection);
  fresh();
  // The same again says nothing new.
  tablet.tap(GoToPlot{"101"});
  tablet.tap(FocusMeasure{"counts"});
  pad(CountStage{"V"});
  pad(DropLast{});
  pad(KeepGathered{});
  EXPECT_EQ(fresh(), 0U);
}

// --- cells

TEST_F(Pads, FourPlacementsOfAFrameAreOneRecord) {
  open("grid");
  fresh();
  ASSERT_EQ(gather().cells.size(), 25U);
  EXPECT_EQ(gather().columns, 5U);
  pad(TapCell{0});
  pad(TapCell{24});
  pad(TapCell{7});
  pad(TapCell{7});
  pad(TapCell{25});
  pad(TapCell{-1});
  EXPECT_EQ(gather().counted, 2U);
  pad(NextPlacement{});
  EXPECT_THAT(gather().readings, ElementsAre("2"));
  EXPECT_EQ(gather().counted, 0U);
  pad(TapCell{3});
  pad(NextPlacement{});
  pad(NextPlacement{});
  EXPECT_TRUE(gather().last);
  EXPECT_EQ(fresh(), 0U);
  pad(TapCell{12});
  pad(NextPlacement{});
  ASSERT_EQ(fresh(), 1U);
  EXPECT_EQ(last().entered, "2 1 0 1");
  EXPECT_EQ(last().value, 4.0);
  const auto details = parse_details(last().details);
  ASSERT_TRUE(details);
  EXPECT_EQ(details->at("cells").substr(0, 26), "1000000000000000000000001 ");
  EXPECT_EQ(details->at("cells").size(), 4U * 25U + 3U);
  tablet.tap(GoToPlot{"101"});
  EXPECT_EQ(measure().shown, "4");
  tablet.tap(FocusMeasure{"grid"});
  EXPECT_THAT(gather().cells, IsEmpty());
  EXPECT_EQ(gather().mean, "4");
  EXPECT_EQ(gather().plants, "2") << "4 x 0.4 = 1.6";
  EXPECT_EQ(gather().factor, "0.4");
}

TEST_F(Pads, AFrameIsCountedAgainFromItsFirstPlacement) {
  open("grid");
  for (int n = 0; n < 4; ++n) pad(NextPlacement{});
  fresh();
  EXPECT_EQ(last().entered, "0 0 0 0");
  tablet.tap(GoToPlot{"101"});
  tablet.tap(FocusMeasure{"grid"});
  pad(NextPlacement{});
  EXPECT_EQ(gather().cells.size(), 25U);
  EXPECT_THAT(gather().readings, IsEmpty());
  pad(TapCell{0});
  for (int n = 0; n < 4; ++n) pad(NextPlacement{});
  ASSERT_EQ(fresh(), 1U);
  EXPECT_EQ(last().entered, "1 0 0 0");
  EXPECT_EQ(last().kind, kind::kCorrection);
}

TEST_F(Pads, APadTakesOnlyItsOwnTaps) {
  open("counts");
  fresh();
  pad(TapCell{1});
  pad(NextPlacement{});
  pad(SetShare{"5"});
  pad(StepShare{1});
  pad(FocusShare{"sown"});
  pad(MarkReached{"101"});
  pad(OthersNotYet{});
  pad(ShowBlock{2});
  EXPECT_EQ(gather().counted, 0U);
  EXPECT_EQ(fresh(), 0U);
}

// --- looking back

TEST_F(Pads, ReviewShowsWhatCounts) {
  open("height");
  for (const char* height : {"20", "22", "24"}) tablet.choose("height", height);
  tablet.settle();
  look_back(plan().occasions[0]);
  EXPECT_EQ(tablet.on_map("101").shown, "22.0");
  open("cover");
  pad(SetShare{"60"});
  pad(SetShare{"25"});
  pad(KeepGathered{});
  tablet.settle();
  look_back(plan().occasions[1]);
  EXPECT_EQ(tablet.on_map("101").shown, "60 25 15");
  EXPECT_EQ(tablet.on_map("101").share, 0.6);
  tablet.tap(ShowHistory{"101"});
  tablet.settle();
  EXPECT_EQ(tablet.history().rows.front().shown, "60 25 15\u00A0%");
  // Several numbers are taken back and given anew on their own pad.
  tablet.tap(MendValue{last().id});
  const ReviewView review = tablet.review();
  const auto* const mend = std::get_if<MendView>(&review.page);
  ASSERT_NE(mend, nullptr);
  EXPECT_THAT(mend->ways, ElementsAre(Mend::kTakeBack));
}

}  // namespace
}  // namespace ligule::flow
