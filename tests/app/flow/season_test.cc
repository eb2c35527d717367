// What a value is held against of its species and of the plot's own season.
#include <gtest/gtest.h>

#include "tests/app/flow/harvest_fixture.h"
#include "tests/app/flow/rate_fixture.h"

namespace ligule::flow {
namespace {

class SeasonTest : public Rate {
 protected:
  // Plot 101 was rated in "stand"; now "late" is open some days on.
  void go_on(int days) {
    tablet.rest(std::chrono::days{days});
    tablet.tap(Tick{});
    tablet.tap(PickPerson{"AB"});  // it asks who holds it
    tablet.settle();
    tablet.tap(ShowToday{});
    tablet.settle();
    tablet.open(grass_plan(), "late");
  }
};

// Proves: a stand that rises within a season asks, without saying what was seen before.
TEST_F(SeasonTest, AStandThatRisesAsks) {
  tablet.choose("percent_stand", "60");
  tablet.settle();
  go_on(20);
  tablet.choose("percent_stand", "85");
  EXPECT_EQ(tablet.question(), "check.stand_rose");
  tablet.answer("measured_so");
  tablet.settle();
  EXPECT_EQ(last().entered, "85");
  EXPECT_THAT(last().answers, ::testing::ElementsAre(Answer{"stand_rose", "measured_so"}));
}

TEST_F(SeasonTest, LookedAtAgainTheValueIsGivenAnew) {
  tablet.choose("percent_stand", "60");
  tablet.settle();
  go_on(20);
  const std::size_t before = tablet.ledger.size();
  tablet.choose("percent_stand", "85");
  tablet.answer("look_again");
  EXPECT_EQ(tablet.ledger.size(), before);
  tablet.choose("percent_stand", "65");
  EXPECT_EQ(tablet.question(), "");
  tablet.settle();
  EXPECT_EQ(last().entered, "65");
}

// Proves: who looks again and sees the same has answered by it.
TEST_F(SeasonTest, LookedAtAgainTheSameIsNotAskedAboutTwice) {
  tablet.choose("percent_stand", "60");
  tablet.settle();
  go_on(20);
  tablet.choose("percent_stand", "85");
  tablet.answer("look_again");
  tablet.choose("percent_stand", "85");
  EXPECT_EQ(tablet.question(), "");
  tablet.settle();
  EXPECT_EQ(last().entered, "85");
  EXPECT_THAT(last().answers, ::testing::ElementsAre(Answer{"stand_rose", "same_again"}));
}

TEST_F(SeasonTest, WhoDidNotLookBeforeIsAsked) {
  tablet.choose("percent_stand", "60");
  tablet.settle();
  go_on(20);
  tablet.choose("percent_stand", "85");
  tablet.answer("look_again");
  tablet.tap(HandOver{});
  tablet.type("CD");
  tablet.tap(KeyDone{});
  tablet.settle();
  tablet.choose("percent_stand", "85");
  EXPECT_EQ(tablet.question(), "check.stand_rose");
}

TEST_F(SeasonTest, OfAnotherYearNothingIsAsked) {
  tablet.choose("percent_stand", "60");
  tablet.settle();
  go_on(300);
  tablet.choose("percent_stand", "85");
  EXPECT_EQ(tablet.question(), "");
}

TEST_F(SeasonTest, OfSpeciesThatSpreadNothingIsAsked) {
  tablet.choose("percent_stand", "60");
  tablet.settle();
  for (Species& species : tablet.model.setup.definitions.species) species.spreads = true;
  go_on(20);
  tablet.choose("percent_stand", "85");
  EXPECT_EQ(tablet.question(), "");
}

// Proves: what was sown again since is another stand.
TEST_F(SeasonTest, OfAPlotThatWasSownAgainNothingIsAsked) {
  tablet.choose("percent_stand", "20");
  tablet.settle();
  go_on(20);
  AsSown again;
  again.plot = grass_plan().plot(grass_plan().plots.front());
  again.status = AsSownStatus::kReseeded;
  again.since = tablet.model.now.local_date;
  tablet.model.trials.front().as_sown.push_back(again);
  tablet.choose("percent_stand", "85");
  EXPECT_EQ(tablet.question(), "");
}

TEST_F(SeasonTest, AStageThatGoesBackAsksUntilTheTrialIsCut) {
  Plan plan = grass_plan();
  tablet.choose("percent_stand", "80");
  tablet.choose("seedling_vigor", "4");
  tablet.choose("maturity", "R0");
  tablet.settle();
  tablet.model.trials.front().plan.occasions.back().measures = {"maturity"};
  go_on(10);
  tablet.choose("maturity", "E0");
  EXPECT_EQ(tablet.question(), "check.stage_went_back");
  tablet.answer("look_again");
  std::get<Rating>(tablet.model.screen).book.past.last_cut = tablet.model.now.local_date;
  tablet.choose("maturity", "E0");
  EXPECT_EQ(tablet.question(), "") << "what was cut grows anew";
}

// Proves: a limit of the species asks in a rating, in whatever unit, and one refuses.
TEST_F(SeasonTest, WhatIsUnusualOfTheSpeciesAsks) {
  tablet.model.setup.definitions.limits.push_back(
      {"stubble_height", "", "", "in", 2, 6, "s", 1, 20});
  tablet.choose("percent_stand", "80");
  tablet.choose("seedling_vigor", "4");
  tablet.choose("maturity", "R0");
  tablet.choose("stubble_height", "7");
  EXPECT_EQ(tablet.question(), "check.unusual");
  tablet.answer("enter_again");
  tablet.choose("stubble_height", "21");
  EXPECT_EQ(tablet.question(), "");
  EXPECT_EQ(tablet.notice(), "check.out_of_limits");
  tablet.choose("stubble_height", "6");
  tablet.settle();
  EXPECT_EQ(last().entered, "6");
}

class CutSeasonTest : public HarvestTest {
 protected:
  CutSeasonTest() {
    start();
    auto& harvest = std::get<Harvest>(tablet.model.screen);
    harvest.book.past.before["101"].stand = RatedBefore::Value{0, tablet.model.now.local_date};
  }
};

TEST_F(CutSeasonTest, AWeightWithoutAStandAsks) {
  weigh("30", "1", "430");
  EXPECT_EQ(tablet.question(), "check.weight_without_stand");
  tablet.answer("weeds_mostly");
  tablet.settle();
  EXPECT_THAT(last_of(measure::kGrossWeight).answers,
              ::testing::ElementsAre(Answer{"weight_without_stand", "weeds_mostly"}));
}

TEST_F(CutSeasonTest, AWeightOfAnotherPlotIsNotKeptHere) {
  const std::size_t before = tablet.ledger.size();
  weigh("30", "1", "430");
  tablet.answer("other_plot");
  tablet.settle();
  EXPECT_EQ(tablet.question(), "");
  EXPECT_EQ(tablet.ledger.size(), before);
}

// Proves: a tare that comes after its weight is held against what is left.
TEST_F(CutSeasonTest, ATareThatLeavesAlmostNothingAsks) {
  tablet.model.setup.definitions.limits.push_back(
      {"cutting_yield", "", "", "ton/acre", 0.1, 4, "s"});
  tablet.tap(GoToPlot{"102"});
  tablet.fill(Field::kGross, "40");
  tablet.tap(KeepPlot{});
  tablet.settle();
  tablet.tap(GoToPlot{"102"});
  tablet.fill(Field::kTare, "39.9");
  tablet.tap(KeepPlot{});
  EXPECT_EQ(tablet.question(), "check.yield_unusual");
}

// The strip of the plan is 18 by 3 ft, 54 / 43560 acre. 250 lb at 10 percent: 10.08 ton/acre.
TEST_F(CutSeasonTest, AYieldThatNobodyKnowsAsks) {
  tablet.model.setup.definitions.limits.push_back(
      {"cutting_yield", "", "", "ton/acre", 0.1, 4, "s"});
  tablet.tap(GoToPlot{"102"});
  weigh("150", "1", "430");
  ASSERT_EQ(tablet.question(), "check.yield_unusual");
  EXPECT_EQ(tablet.above().question->text.arguments,
            (std::vector<std::string>{"6.05", "0.1", "4"}));
  tablet.answer("weigh_again");
  EXPECT_EQ(tablet.question(), "");
  weigh("40", "1", "430");
  EXPECT_EQ(tablet.question(), "");
}

// Proves: the strip measured at the plot counts, not the plan's.
TEST_F(CutSeasonTest, TheStripThatWasMeasuredCounts) {
  tablet.model.setup.definitions.limits.push_back(
      {"cutting_yield", "", "", "ton/acre", 0.1, 4, "s"});
  tablet.tap(GoToPlot{"102"});
  tablet.tap(ShowPage{PlotPage::kSwath});
  tablet.fill(Field::kSwathLength, "9");
  tablet.tap(KeepSwath{false});
  while (!tablet.question().empty()) tablet.answer("measured_so");
  tablet.settle();
  weigh("60", "1", "430");  // at 10 percent 4.84 ton/acre of half the strip
  EXPECT_EQ(tablet.question(), "check.yield_unusual");
}

TEST_F(CutSeasonTest, ASecondCuttingSoonAfterTheFirstAsksOnce) {
  tablet.tap(GoToPlot{"102"});
  weigh("30", "1", "430");
  tablet.settle();
  const CalendarDate first = tablet.model.now.local_date;
  tablet.rest(std::chrono::days{12});
  tablet.tap(Tick{});
  tablet.tap(PickPerson{"AB"});
  tablet.settle();
  tablet.tap(ShowToday{});
  tablet.settle();
  tablet.open(grass_plan(), "cut2");
  std::get<Harvest>(tablet.model.screen).book.past.last_cut = first;
  start();
  weigh("20");
  ASSERT_EQ(tablet.question(), "check.cut_again_soon");
  EXPECT_EQ(tablet.above().question->text.arguments, (std::vector<std::string>{"12"}));
  tablet.answer("measured_so");
  tablet.settle();
  weigh("21");
  EXPECT_EQ(tablet.question(), "");
}

}  // namespace
}  // namespace ligule::flow
