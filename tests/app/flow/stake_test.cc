// The question which stake one sees: where it is asked, what each answer leads to.
#include "app/flow/stake.h"

#include "app/flow/turn.h"
#include "tests/app/flow/rate_fixture.h"

namespace ligule::flow {
namespace {

using testing::ElementsAre;
using testing::IsEmpty;

PlanPlot plot_at(int row, int block, int column = 1) {
  PlanPlot plot;
  plot.row = row;
  plot.column = column;
  plot.block = block;
  return plot;
}

TEST(StakePlaces, AreTheTurnsOfThePathAndItsEnd) {
  const std::vector<PlanPlot> rows{plot_at(1, 1), plot_at(1, 1), plot_at(2, 1), plot_at(2, 1),
                                   plot_at(2, 1)};
  EXPECT_THAT(stake_places(rows, PathAlong::kRows), ElementsAre(0, 2, 4));
  // Two blocks side by side in one field row.
  const std::vector<PlanPlot> blocks{plot_at(1, 1), plot_at(1, 1), plot_at(1, 2), plot_at(1, 2)};
  EXPECT_THAT(stake_places(blocks, PathAlong::kRows), ElementsAre(0, 2, 3));
  // Two rows of one block, and a block that begins with a row: asked once.
  const std::vector<PlanPlot> both{plot_at(1, 1), plot_at(2, 2), plot_at(2, 2)};
  EXPECT_THAT(stake_places(both, PathAlong::kRows), ElementsAre(0, 1, 2));
}

TEST(StakePlaces, OfOnePlotIsThatPlotAndOfNoneNothing) {
  for (const PathAlong along : {PathAlong::kRows, PathAlong::kColumns}) {
    EXPECT_THAT(stake_places({}, along), IsEmpty());
    EXPECT_THAT(stake_places(std::vector{plot_at(1, 1)}, along), ElementsAre(0));
  }
}

TEST(StakePlaces, AlongColumnsAreWhereTheColumnTurns) {
  // Up the first column and down the second, in which a plot is missing.
  const std::vector<PlanPlot> path{plot_at(1, 1, 1), plot_at(2, 1, 1), plot_at(3, 1, 1),
                                   plot_at(3, 1, 2), plot_at(1, 1, 2)};
  EXPECT_THAT(stake_places(path, PathAlong::kColumns), ElementsAre(0, 3, 4));
  // Two blocks behind each other in one column.
  const std::vector<PlanPlot> blocks{plot_at(1, 1), plot_at(2, 1), plot_at(3, 2), plot_at(4, 2)};
  EXPECT_THAT(stake_places(blocks, PathAlong::kColumns), ElementsAre(0, 2, 3));
}

class Stake : public Rate {
 protected:
  Stake() { tablet.agrees = false; }

  std::optional<StakeQuestionView> question() const { return tablet.rate().stake.question; }
  void agree() { tablet.tap(NameStake{tablet.rate().plot}); }
  void rate_next() {
    rate_plot();
    tablet.settle();
  }
  // 101 to 103, the first row; then the program is at 201.
  void rate_row() {
    agree();
    for (int n = 0; n < 3; ++n) rate_next();
  }
};

TEST_F(Stake, IsAskedAtTheFirstPlotAndAgreedInOneTap) {
  ASSERT_TRUE(question());
  EXPECT_EQ(question()->expected, "101");
  EXPECT_EQ(question()->before, "");
  EXPECT_EQ(question()->after, "102");
  agree();
  EXPECT_FALSE(question());
  EXPECT_EQ(tablet.rate().plot, "101");
  tablet.settle();
  EXPECT_EQ(last().kind, kind::kPerson);  // agreeing is no record
}

// Proves: a person who hits a tile, a key or a hard digit before answering has recorded nothing.
TEST_F(Stake, NothingIsRecordedBeforeItIsAnswered) {
  EXPECT_FALSE(tablet.rate().can_enter);
  tablet.choose("percent_stand", "85");
  tablet.tap(PutOff{});
  tablet.tap(OpenNote{});
  EXPECT_FALSE(tablet.rate().note);
  tablet.tap(KeyText{"4"});
  tablet.tap(KeyDone{});
  tablet.settle();
  EXPECT_EQ(last().kind, kind::kPerson);
  EXPECT_EQ(tablet.rate().plot, "101");
}

TEST_F(Stake, IsAskedAgainWhereTheRowTurnsAndNotBetween) {
  agree();
  rate_next();
  EXPECT_EQ(tablet.rate().plot, "102");
  EXPECT_FALSE(question());
  rate_next();
  EXPECT_EQ(tablet.rate().plot, "103");
  EXPECT_FALSE(question());
  rate_next();
  EXPECT_EQ(tablet.rate().plot, "201");
  ASSERT_TRUE(question());
  EXPECT_EQ(question()->before, "103");
  EXPECT_EQ(question()->after, "202");
}

// Proves: a round of six plots in two rows costs three taps beside its values.
TEST_F(Stake, ARoundCostsOneTapATurn) {
  int asked = 0;
  for (int n = 0; n < 6; ++n) {
    if (question()) {
      ++asked;
      agree();
    }
    rate_next();
  }
  EXPECT_TRUE(tablet.rate().all_done);
  EXPECT_FALSE(question());
  EXPECT_EQ(asked, 3);
}

// The same trial laid the other way: its blocks are columns of the field, the path runs along them.
class StakeInColumns : public Stake {
 protected:
  StakeInColumns() {
    Plan plan = grass_plan();
    for (PlanPlot& plot : plan.plots) std::swap(plot.row, plot.column);
    tablet.model.trials.at(0).plan = plan;
    tablet.tap(ShowToday{});
    tablet.settle();
    tablet.open(plan, "stand");
  }
};

TEST_F(StakeInColumns, IsAskedWhereTheColumnTurnsAndNotBetween) {
  std::vector<std::string> asked;
  for (int n = 0; n < 6; ++n) {
    if (question()) {
      asked.push_back(question()->expected);
      agree();
    }
    rate_next();
  }
  EXPECT_TRUE(tablet.rate().all_done);
  EXPECT_THAT(asked, ElementsAre("101", "201", "203"));
}

// Proves: a plot that takes no part, and one that was given up, move no turn of the path.
TEST_F(StakeInColumns, PlotsThatAreLeftOutMoveNoTurn) {
  tablet.model.trials.at(0).plan.occasions.at(0).entries = {"A", "B"};  // 102 203, 101 202
  tablet.tap(ShowToday{});
  tablet.settle();
  tablet.open(tablet.model.trials.at(0).plan, "stand");
  std::vector<std::string> lanes;
  for (const StakeView& stake : tablet.rate().lane)
    if (stake.lane_start) lanes.push_back(stake.plot);
  EXPECT_THAT(lanes, ElementsAre("101", "202"));
}

TEST_F(Stake, IsAskedOncePerPlacePersonAndSitting) {
  agree();
  tablet.tap(ShowToday{});
  tablet.settle();
  tablet.open(grass_plan(), "stand");
  EXPECT_FALSE(question());
  // Another person was not asked.
  tablet.tap(HandOver{});
  tablet.sign_in("CD");
  tablet.open(grass_plan(), "stand");
  EXPECT_TRUE(question());
  // Nor was the first one in another rating, or the next day.
  tablet.tap(HandOver{});
  tablet.sign_in("AB");
  tablet.open(grass_plan(), "late");
  EXPECT_TRUE(question());
  tablet.open(grass_plan(), "stand");
  EXPECT_FALSE(question());
  tablet.next_day();
  tablet.tap(Tick{});
  EXPECT_TRUE(question());
}

TEST_F(Stake, IsNotAskedAboutAPlotThatOneWentToByItsNumber) {
  tablet.tap(GoToPlot{"201"});
  EXPECT_FALSE(question());
  tablet.tap(GoToPlot{"101"});
  EXPECT_FALSE(question());
}

TEST_F(Stake, TheStakeInTheLaneThatIsExpectedAgreesToo) {
  tablet.tap(GoToPlot{"101"});
  EXPECT_FALSE(question());
  EXPECT_TRUE(tablet.model.stakes.back().answered);
}

TEST_F(Stake, IsNotAskedAboutAPlotThatIsDone) {
  rate_row();
  agree();
  tablet.tap(ShowToday{});
  tablet.settle();
  tablet.tap(HandOver{});
  tablet.sign_in("CD");
  tablet.open(grass_plan(), "stand");
  tablet.tap(GoToPlot{"103"});
  EXPECT_FALSE(question());
}

TEST_F(Stake, AnotherStakeIsTypedAndGoneTo) {
  tablet.tap(OtherStake{});
  EXPECT_TRUE(question()->other);
  tablet.type("20");
  tablet.tap(KeyErase{});
  tablet.type("02");
  EXPECT_EQ(question()->typed, "202");
  tablet.tap(KeyDone{});
  EXPECT_EQ(tablet.rate().plot, "202");
  EXPECT_FALSE(question());
  EXPECT_FALSE(tablet.rate().stake.slipped);  // nothing was given before
  tablet.settle();
  EXPECT_EQ(last().kind, kind::kPerson);
}

TEST_F(Stake, ANumberTypedOnHardKeysNeedsNoKeyFirst) {
  tablet.type("102");
  EXPECT_TRUE(question()->other);
  tablet.tap(KeyDone{});
  EXPECT_EQ(tablet.rate().plot, "102");
}

TEST_F(Stake, GoesBackFromTheNumberToTheStakesOffered) {
  tablet.tap(OtherStake{});
  tablet.type("9");
  tablet.tap(OtherStake{false});
  EXPECT_FALSE(question()->other);
  EXPECT_EQ(question()->typed, "");
}

TEST_F(Stake, ANumberNoStakeHasIsRefused) {
  tablet.type("999");
  tablet.tap(KeyDone{});
  EXPECT_EQ(tablet.notice(), "notice.unknown_plot");
  ASSERT_TRUE(question());
  EXPECT_EQ(tablet.rate().plot, "101");
  tablet.type("103");  // begins anew
  EXPECT_EQ(question()->typed, "103");
}

TEST_F(Stake, EnterWithoutANumberAgreesToNothing) {
  tablet.tap(KeyDone{});
  EXPECT_TRUE(question());
}

TEST_F(Stake, TellsWhichValuesMaySitOff) {
  rate_row();
  tablet.tap(NameStake{"202"});
  EXPECT_EQ(tablet.rate().plot, "202");
  const auto slipped = tablet.rate().stake.slipped;
  ASSERT_TRUE(slipped);
  EXPECT_EQ(slipped->expected, "201");
  EXPECT_EQ(slipped->named, "202");
  EXPECT_EQ(slipped->from, "101");
  EXPECT_EQ(slipped->to, "103");
  // Nothing is entered until that is settled.
  EXPECT_FALSE(tablet.rate().can_enter);
  tablet.choose("percent_stand", "50");
  tablet.type("50");
  tablet.settle();
  EXPECT_NE(last().entered, "50");
  tablet.tap(LeaveSlipped{});
  EXPECT_FALSE(tablet.rate().stake.any());
  tablet.choose("percent_stand", "50");
  tablet.settle();
  EXPECT_EQ(last().entered, "50");
}

TEST_F(Stake, OnlyValuesSinceTheLastAgreementAreInDoubt) {
  rate_row();
  agree();
  rate_next();
  rate_next();
  tablet.settle();
  ASSERT_EQ(question()->expected, "203");
  tablet.tap(NameStake{"202"});
  const auto slipped = tablet.rate().stake.slipped;
  ASSERT_TRUE(slipped);
  EXPECT_EQ(slipped->from, "201");
  EXPECT_EQ(slipped->to, "202");
}

TEST_F(Stake, AFarPlaceIsAnotherBeginningAndNoSlip) {
  agree();
  rate_next();
  tablet.tap(GoToPlot{"103"});
  rate_next();
  // 201 is expected after 103 (102 comes last); nobody slips to the far end.
  tablet.settle();
  ASSERT_TRUE(question());
  const std::size_t far = tablet.rate().plots - 1;
  const Book& book = *entry_book(tablet.model.screen);
  EXPECT_TRUE(slipped(tablet.model, book, book.present + 1));
  EXPECT_TRUE(slipped(tablet.model, book, book.present - kMostSlipped));
  EXPECT_EQ(slipped(tablet.model, book, book.present + 2)->by, 2);
  EXPECT_EQ(far, book.present + 2);
  EXPECT_FALSE(slipped(tablet.model, book, book.present));
  EXPECT_FALSE(slipped(tablet.model, book, book.present + kMostSlipped + 1));
}

TEST_F(Stake, TheWayOutStaysOpen) {
  tablet.tap(ShowToday{});
  tablet.settle();
  EXPECT_TRUE(std::holds_alternative<TodayView>(view_of(tablet.model)));
}

TEST_F(Stake, AValueIsTakenBackWhileItIsAsked) {
  rate_row();
  ASSERT_TRUE(question());
  tablet.tap(TakeBack{});
  EXPECT_EQ(tablet.rate().plot, "103");
  EXPECT_FALSE(question());
  tablet.settle();
  EXPECT_EQ(measure("stubble_height").mark, Mark::kOpen);
}

// Harvest asks the same way.
TEST(StakeAtHarvest, StandsBeforeTheFirstWeightAndTakesANumber) {
  Tablet tablet;
  tablet.agrees = false;
  tablet.open(grass_plan(), "cut1");
  tablet.type("Mower 1");  // the head of the run is no plot
  tablet.tap(StartRun{});
  ASSERT_TRUE(tablet.weighing().stake.question);
  EXPECT_FALSE(tablet.weighing().can_enter);
  tablet.type("2");
  tablet.tap(KeepPlot{});
  EXPECT_EQ(tablet.text(Field::kPlot), "2");
  EXPECT_EQ(tablet.text(Field::kGross), "");
  tablet.tap(OtherStake{false});
  tablet.tap(FocusField{Field::kPlot});  // "Find" names the stake too
  EXPECT_TRUE(tablet.weighing().stake.question->other);
  tablet.type("102");
  tablet.tap(KeyDone{});
  EXPECT_EQ(tablet.weighing().plot, "102");
  EXPECT_FALSE(tablet.weighing().stake.any());
  tablet.fill(Field::kGross, "20");
  tablet.tap(KeepPlot{});
  EXPECT_EQ(tablet.mark("102"), Mark::kSaving);
}

}  // namespace
}  // namespace ligule::flow
