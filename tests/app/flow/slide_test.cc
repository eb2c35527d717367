// Slide: a run of values moves along the path, as one act that can be taken back.
#include "app/flow/slide.h"

#include "storage/trial/details.h"
#include "tests/app/flow/slide_fixture.h"

namespace ligule::flow {
namespace {

using ::testing::ElementsAre;
using ::testing::IsEmpty;
using ::testing::SizeIs;

using SlideTest = SlideFixture;

TEST_F(SlideTest, MovesARunOnByOnePlot) {
  rate({"10", "20", "30"});
  review("late");
  slide("101", "103", 1);
  EXPECT_EQ(stand("101"), "");
  EXPECT_EQ(stand("102"), "value 10%");
  EXPECT_EQ(stand("103"), "value 20%");
  EXPECT_EQ(stand("201"), "value 30%");
}

// FORMAT.md, section 5: corrections where a slot had a value, a reading where it was empty, a
// withdrawal where it is left empty; one transaction.
TEST_F(SlideTest, IsOneActOfReasonedRecords) {
  rate({"10", "20"});
  const Record first = tablet.ledger[tablet.ledger.size() - 2];
  const Record second = tablet.ledger.back();
  review("late");
  const std::size_t before = tablet.ledger.size();
  ask("101", "102", 1);
  const Effects effects = tablet.tap(DoSlide{});
  EXPECT_EQ(
      std::ranges::count_if(
          effects, [](const Effect& effect) { return std::holds_alternative<Append>(effect); }),
      1);
  tablet.settle();
  const auto records = new_records(before);
  ASSERT_THAT(records, SizeIs(3));
  EXPECT_EQ(records[0].kind, kind::kWithdrawal);  // 101
  EXPECT_THAT(records[0].targets, ElementsAre(first.id));
  EXPECT_FALSE(records[0].value);
  EXPECT_EQ(records[1].kind, kind::kCorrection);  // 102
  EXPECT_THAT(records[1].targets, ElementsAre(second.id));
  EXPECT_EQ(records[1].entered, "10");
  EXPECT_EQ(records[1].value, 10);
  EXPECT_EQ(records[1].details, details_text({{"moved_from", first.id.text()}}));
  EXPECT_EQ(records[1].definition, first.definition);
  EXPECT_EQ(records[2].kind, kind::kReading);  // 103
  EXPECT_EQ(records[2].entered, "20");
  for (const Record& record : records) EXPECT_EQ(record.reason, "slid");
}

// Proves: what would fall off the end of the path is shown before anything is done.
TEST_F(SlideTest, ShowsWhatFallsOffFirst) {
  rate({"10", "20", "30", "40", "50", "60"});
  review("late");
  const std::size_t before = tablet.ledger.size();
  ask("101", "203", 1);
  ASSERT_THAT(view().lost, SizeIs(1));
  EXPECT_EQ(view().lost[0].plot, "203");
  EXPECT_EQ(view().lost[0].cells.front().shown, "60");
  EXPECT_TRUE(view().rows.back().lost);
  EXPECT_EQ(tablet.ledger.size(), before);
  ask("101", "203", -1);
  ASSERT_THAT(view().lost, SizeIs(1));
  EXPECT_EQ(view().lost[0].plot, "101");
}

TEST_F(SlideTest, ShowsWhatIsPushedOutOfThePlotsItComesTo) {
  rate({"10", "20", "30"});
  review("late");
  ask("101", "102", 1);
  ASSERT_THAT(view().lost, SizeIs(1));
  EXPECT_EQ(view().lost[0].plot, "103");
  EXPECT_EQ(view().lost[0].cells.front().shown, "30");
  tablet.tap(DoSlide{});
  tablet.settle();
  EXPECT_EQ(stand("103"), "value 20%");
}

TEST_F(SlideTest, GapsTravelToo) {
  rate({"10", "", "30"});
  review("late");
  slide("101", "103", 1);
  EXPECT_EQ(stand("102"), "value 10%");
  EXPECT_EQ(stand("103"), "");
  EXPECT_EQ(stand("201"), "value 30%");
}

TEST_F(SlideTest, MovesWhatWasPutOff) {
  rate({"later", "20"});
  review("late");
  slide("101", "102", 1);
  EXPECT_EQ(stand("101"), "");
  EXPECT_EQ(stand("102"), "later ");
  EXPECT_EQ(stand("103"), "value 20%");
  // A mark that says there is no value is no loss.
  ask("103", "103", -1);
  EXPECT_THAT(view().lost, IsEmpty());
}

TEST_F(SlideTest, IsTakenBackInOneTap) {
  rate({"10", "20", "30", "40", "50", "60"});
  const Standing was = standing("late");
  review("late");
  slide("101", "203", 2);
  ASSERT_NE(standing("late"), was);
  EXPECT_TRUE(view().can_take_back);
  tablet.tap(TakeBack{});
  tablet.settle();
  EXPECT_EQ(standing("late"), was);
  EXPECT_FALSE(view().can_take_back);
  EXPECT_EQ(view().from, "101");
  EXPECT_EQ(view().to, "203");
}

// Proves: taking back before the writer has answered is as good.
TEST_F(SlideTest, IsTakenBackWhileItIsStillBeingWritten) {
  rate({"10", "20", "30"});
  const Standing was = standing("late");
  review("late");
  ask("101", "103", 1);
  tablet.tap(DoSlide{});
  tablet.tap(TakeBack{});
  tablet.settle();
  EXPECT_EQ(standing("late"), was);
}

TEST_F(SlideTest, BackAndForthIsWhereItWas) {
  rate({"10", "20", "30"});
  const Standing was = standing("late");
  review("late");
  slide("101", "103", 2);
  EXPECT_EQ(view().from, "103");  // the run went along
  tablet.tap(SlideBy{-1});
  tablet.tap(SlideBy{-1});
  tablet.tap(DoSlide{});
  tablet.settle();
  EXPECT_EQ(standing("late"), was);
}

TEST_F(SlideTest, RefusesWhatAPlotCannotHave) {
  // 103 and 201 hold alfalfa, whose stages are on another scale than a grass's.
  tablet.open(grass_plan(), "stand");
  tablet.choose("maturity", "R0");
  tablet.tap(GoToPlot{"102"});
  tablet.choose("maturity", "E0");
  tablet.settle();
  review("stand");
  ask("101", "102", 1);
  ASSERT_TRUE(view().problem);
  EXPECT_EQ(view().problem->key, "slide.not_measured");
  EXPECT_THAT(view().problem->arguments, ElementsAre("103"));
  EXPECT_EQ(view().problem_measure, "maturity");
  EXPECT_FALSE(view().can_do);
  const std::size_t before = tablet.ledger.size();
  tablet.tap(DoSlide{});
  tablet.settle();
  EXPECT_EQ(tablet.ledger.size(), before);
  ask("101", "101", 1);
  EXPECT_FALSE(view().problem);
}

TEST_F(SlideTest, RefusesValuesThatContradictEachOther) {
  rate({"10", "20"});
  Record other = tablet.ledger.back();
  other.id.uuid.bytes[0] = 9;
  other.entered = "25";
  other.value = 25;
  tablet.ledger.push_back(other);
  review("late");
  ask("101", "102", 1);
  ASSERT_TRUE(view().problem);
  EXPECT_EQ(view().problem->key, "slide.conflict");
  EXPECT_THAT(view().problem->arguments, ElementsAre("102"));
}

TEST_F(SlideTest, WithoutValuesThereIsNothingToSlide) {
  review("late");
  EXPECT_EQ(tablet.notice(), "notice.nothing_to_slide");
  EXPECT_TRUE(std::holds_alternative<MapView>(tablet.review().page));
  tablet.tap(DoSlide{});  // on another page
  tablet.tap(SlideBy{1});
  rate({"10"});
  review("late");
  ask("102", "103", 1);
  EXPECT_EQ(view().problem->key, "slide.nothing");
}

TEST_F(SlideTest, NotesStandBesideThoseThatAreThere) {
  tablet.open(grass_plan(), "stand");
  for (const char* plot : {"101", "102"}) {
    tablet.tap(GoToPlot{plot});
    tablet.tap(OpenNote{});
    tablet.type(plot);
    tablet.tap(KeyDone{});
    tablet.settle();
  }
  const Standing was = standing("stand");
  review("stand");
  slide("101", "101", 1);
  auto now = standing("stand");
  EXPECT_EQ((now.at({"102", "note", 1})), "value 102");
  EXPECT_EQ((now.at({"102", "note", 2})), "value 101");
  EXPECT_THAT(view().lost, IsEmpty());
  tablet.tap(TakeBack{});
  tablet.settle();
  EXPECT_EQ(standing("stand"), was);
}

TEST_F(SlideTest, TheRunIsChosenByItsEnds) {
  rate({"10", "20", "30"});
  review("late");
  EXPECT_EQ(view().from, "101");  // all that stands
  EXPECT_EQ(view().to, "103");
  EXPECT_FALSE(view().can_do);  // by no plot
  tablet.tap(ChooseSlidePlot{"102"});
  EXPECT_TRUE(view().choosing_to);
  tablet.tap(ChooseSlidePlot{"101"});  // before the beginning: both
  EXPECT_EQ(view().from, "101");
  EXPECT_EQ(view().to, "101");
  for (int n = 0; n < 9; ++n) tablet.tap(SlideBy{1});
  EXPECT_EQ(view().by, 5);  // never further than the path
  tablet.tap(ReviewBack{});
  EXPECT_TRUE(std::holds_alternative<MapView>(tablet.review().page));
}

// Proves: the stake question leads to the run in doubt, and back to where one stands.
TEST_F(SlideTest, IsReachedFromTheStakeAndLeadsBack) {
  tablet.agrees = false;
  tablet.open(grass_plan(), "late");
  tablet.tap(NameStake{"101"});
  for (const char* value : {"10", "20", "30"}) {
    tablet.choose("percent_stand", value);
    tablet.settle();
  }
  tablet.tap(NameStake{"202"});
  ASSERT_TRUE(tablet.rate().stake.slipped);
  tablet.tap(SlideSlipped{});
  tablet.settle();
  EXPECT_EQ(view().from, "101");
  EXPECT_EQ(view().to, "103");
  EXPECT_EQ(view().by, 1);
  tablet.tap(DoSlide{});
  tablet.settle();
  tablet.tap(ReviewBack{});
  tablet.settle();
  EXPECT_EQ(tablet.rate().plot, "202");
  EXPECT_FALSE(tablet.rate().stake.any());
  EXPECT_EQ(stand("201"), "value 30%");
  EXPECT_EQ(stand("101"), "");
  // What was moved is settled: only what is given from here on may slip anew.
  tablet.choose("percent_stand", "40");
  tablet.settle();
  ASSERT_EQ(tablet.rate().stake.question->expected, "203");
  tablet.tap(NameStake{"202"});
  ASSERT_TRUE(tablet.rate().stake.slipped);
  EXPECT_EQ(tablet.rate().stake.slipped->from, "202");
}

TEST_F(SlideTest, ThatIsNotSavedStaysAndIsWrittenAgain) {
  rate({"10", "20"});
  const Standing was = standing("late");
  review("late");
  ask("101", "102", 1);
  tablet.break_disk(true);
  tablet.tap(DoSlide{});
  tablet.settle();
  ASSERT_TRUE(tablet.above().unsaved);
  EXPECT_EQ(standing("late"), was);
  tablet.break_disk(false);
  tablet.tap(RetryUnsaved{});
  tablet.settle();
  EXPECT_EQ(stand("103"), "value 20%");
  tablet.tap(TakeBack{});
  tablet.settle();
  EXPECT_EQ(standing("late"), was);
}

}  // namespace
}  // namespace ligule::flow
