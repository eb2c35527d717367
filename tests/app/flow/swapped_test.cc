// Two neighbours whose bags were exchanged.
#include "app/flow/swapped.h"

#include "storage/trial/details.h"
#include "tests/app/flow/harvest_fixture.h"

namespace ligule::flow {
namespace {

class SwappedTest : public HarvestTest {
 protected:
  SwappedTest() {
    start();
    // Block 1: A 30, B 44, C 16 lb.
    keep("30.1");
    keep("44.2");
    keep("16.3");
  }
  void keep(std::string_view gross) {
    tablet.fill(Field::kGross, gross);
    if (tablet.text(Field::kBag).empty()) tablet.fill(Field::kBag, std::to_string(++bags_));
    tablet.tap(KeepPlot{});
    tablet.settle();
  }
  // Block 2 stands in the order C, A, B.
  void exchanged() {
    keep("17.4");
    keep("45.5");  // A with B's
    keep("31.6");
  }
  std::string standing(const char* plot) {
    tablet.tap(GoToPlot{plot});
    return tablet.text(Field::kGross);
  }

 private:
  int bags_ = 0;
};

// Proves: two neighbours' bags swapped are noticed.
TEST_F(SwappedTest, NeighboursThatFitEachOthersPlotAreAskedAbout) {
  exchanged();
  const auto view = tablet.above().swapped;
  ASSERT_TRUE(view);
  EXPECT_EQ(view->one, "203");
  EXPECT_EQ(view->one_weight, "31.6\u00a0lb");
  EXPECT_EQ(view->other, "202");
  EXPECT_EQ(view->other_weight, "45.5\u00a0lb");
}

TEST_F(SwappedTest, ExchangedByOneTapAndBackByAnother) {
  exchanged();
  tablet.tap(AnswerSwapped{true});
  tablet.settle();
  EXPECT_EQ(standing("202"), "31.6");
  EXPECT_EQ(standing("203"), "45.5");
  const Record& moved = last_of(measure::kGrossWeight);
  EXPECT_EQ(moved.kind, kind::kCorrection);
  EXPECT_EQ(moved.reason, "exchanged");
  EXPECT_NE(detail(moved.details, "moved_from"), "");
  EXPECT_FALSE(tablet.above().swapped);
  tablet.tap(TakeBack{});
  tablet.settle();
  EXPECT_EQ(standing("202"), "45.5");
  EXPECT_EQ(standing("203"), "31.6");
}

TEST_F(SwappedTest, LeftAsTheyAreTheyAreNotAskedAboutAgain) {
  exchanged();
  tablet.tap(AnswerSwapped{false});
  // Of two blocks the other may be the one that was exchanged.
  ASSERT_TRUE(tablet.above().swapped);
  EXPECT_EQ(tablet.above().swapped->one, "102");
  EXPECT_EQ(tablet.above().swapped->other, "101");
  tablet.tap(AnswerSwapped{false});
  ASSERT_FALSE(tablet.above().swapped);
  EXPECT_EQ(standing("202"), "45.5");
  tablet.tap(GoToPlot{"203"});
  keep("31.7");
  EXPECT_FALSE(tablet.above().swapped);
}

TEST_F(SwappedTest, TheFirstOfSeveralBagsIsNoWholePlot) {
  keep("17.4");
  keep("45.5");
  tablet.fill(Field::kGross, "31.6");
  tablet.tap(MoreBag{});
  tablet.settle();
  EXPECT_FALSE(tablet.above().swapped);
}

TEST_F(SwappedTest, WhatWasSaidGoesWithTheWeight) {
  keep("17.4");
  tablet.tap(SayWeedsOnly{});
  keep("45.5");  // 202, weeds only
  keep("31.6");
  ASSERT_TRUE(tablet.above().swapped);
  tablet.tap(AnswerSwapped{true});
  tablet.settle();
  tablet.tap(GoToPlot{"203"});
  EXPECT_TRUE(tablet.weighing().weeds_only) << "it came with the weight";
  tablet.tap(GoToPlot{"202"});
  EXPECT_FALSE(tablet.weighing().weeds_only);
}

TEST_F(SwappedTest, OneOddWeightAloneIsNoExchange) {
  keep("17.4");
  keep("45.5");
  keep("45.8");
  EXPECT_FALSE(tablet.above().swapped);
}

TEST_F(SwappedTest, WeightsAtTheEdgesOfTheirRangesAreNoExchange) {
  keep("17.4");
  keep("35.6");
  keep("40.6");
  EXPECT_FALSE(tablet.above().swapped);
}

TEST_F(SwappedTest, WeightsThatFitAreLeftAlone) {
  keep("17.4");
  keep("31.6");
  keep("45.5");
  EXPECT_FALSE(tablet.above().swapped);
}

TEST_F(SwappedTest, NothingElseCanBeTappedBeforeItIsAnswered) {
  exchanged();
  tablet.tap(GoToPlot{"101"});
  EXPECT_TRUE(tablet.above().swapped);
  EXPECT_EQ(tablet.weighing().plot, "203");
}

TEST_F(SwappedTest, WhoeverTakesTheTabletIsNotAskedForAnother) {
  exchanged();
  tablet.tap(HandOver{});
  EXPECT_TRUE(tablet.above().swapped) << "a question first";
}

TEST_F(SwappedTest, WhatIsNotSavedComesFirstAndTheQuestionWaits) {
  keep("17.4");
  keep("45.5");
  tablet.break_disk(true);
  keep("31.6");
  ASSERT_TRUE(tablet.above().unsaved);
  EXPECT_FALSE(tablet.above().swapped);
  tablet.break_disk(false);
  tablet.tap(RetryUnsaved{});
  tablet.settle();
  EXPECT_TRUE(tablet.above().swapped);
}

TEST_F(SwappedTest, OfAWeightThatIsLetGoNothingIsAsked) {
  keep("17.4");
  keep("45.5");
  tablet.break_disk(true);
  keep("31.6");
  tablet.break_disk(false);
  tablet.tap(DropUnsaved{});
  tablet.settle();
  EXPECT_FALSE(tablet.above().swapped);
}

TEST_F(SwappedTest, WhileAnotherHoldsTheTabletItWaitsForWhoWasAsked) {
  exchanged();
  tablet.rest(std::chrono::minutes{31});
  tablet.tap(Tick{});
  tablet.tap(PickPerson{"CD"});
  tablet.settle();
  EXPECT_FALSE(tablet.above().swapped);
  EXPECT_EQ(tablet.notice(), "notice.exchange_waits");
  tablet.tap(HandOver{});
  tablet.tap(PickPerson{"AB"});
  tablet.settle();
  EXPECT_TRUE(tablet.above().swapped);
}

TEST_F(SwappedTest, ItIsAskedWhenTheCuttingIsOpenedAgain) {
  exchanged();
  tablet.rest(std::chrono::minutes{31});
  tablet.tap(Tick{});
  tablet.tap(PickPerson{"CD"});
  tablet.settle();
  tablet.tap(ShowToday{});
  tablet.tap(HandOver{});
  tablet.tap(PickPerson{"AB"});
  tablet.open(grass_plan(), "cut1");
  EXPECT_TRUE(tablet.above().swapped);
}

// Block 2 in the order C, A, B: C with A's and A with C's weight; only 203 tells them apart.
TEST_F(SwappedTest, TheFirstPairOfABlockIsFoundOnceAThirdPlotTells) {
  keep("31.6");
  keep("17.4");
  EXPECT_FALSE(tablet.above().swapped) << "nothing else of the block is weighed";
  keep("45.5");
  const auto view = tablet.above().swapped;
  ASSERT_TRUE(view);
  EXPECT_EQ(view->one, "202");
  EXPECT_EQ(view->other, "201");
  tablet.tap(AnswerSwapped{true});
  tablet.settle();
  EXPECT_EQ(standing("201"), "17.4");
  EXPECT_EQ(standing("202"), "31.6");
  EXPECT_FALSE(tablet.above().swapped);
}

class SwappedInBlockOneTest : public HarvestTest {
 protected:
  SwappedInBlockOneTest() { start(); }
  void keep(std::string_view gross) {
    tablet.fill(Field::kGross, gross);
    if (tablet.text(Field::kBag).empty()) tablet.fill(Field::kBag, std::to_string(++bags_));
    tablet.tap(KeepPlot{});
    tablet.settle();
  }

 private:
  int bags_ = 0;
};

// 101 and 102 exchanged: A has B's weight. Block 2 makes it plain.
TEST_F(SwappedInBlockOneTest, IsFoundOnceBlockTwoMakesItPlain) {
  keep("44.2");
  keep("30.1");
  keep("16.3");
  EXPECT_FALSE(tablet.above().swapped);
  keep("17.4");  // C
  keep("31.6");  // A
  EXPECT_FALSE(tablet.above().swapped) << "nobody knows yet what B gives elsewhere";
  keep("45.5");  // B
  ASSERT_TRUE(tablet.above().swapped);
  // Of two blocks either may be the one: the nearer pair first, and then the other.
  EXPECT_EQ(tablet.above().swapped->one, "203");
  tablet.tap(AnswerSwapped{false});
  ASSERT_TRUE(tablet.above().swapped) << "one question at a time";
  EXPECT_EQ(tablet.above().swapped->one, "102");
  EXPECT_EQ(tablet.above().swapped->other, "101");
  tablet.tap(AnswerSwapped{true});
  tablet.settle();
  EXPECT_FALSE(tablet.above().swapped);
  tablet.tap(GoToPlot{"101"});
  EXPECT_EQ(tablet.text(Field::kGross), "30.1");
}

TEST_F(SwappedInBlockOneTest, WhatWasToldApartStaysSoWhenTheCuttingIsOpenedAgain) {
  for (const char* gross : {"44.2", "30.1", "16.3", "17.4", "31.6", "45.5"}) keep(gross);
  tablet.tap(AnswerSwapped{false});
  tablet.tap(AnswerSwapped{false});
  EXPECT_FALSE(tablet.above().swapped);
  tablet.open(grass_plan(), "cut1");
  tablet.tap(GoToPlot{"203"});
  keep("45.6");
  EXPECT_FALSE(tablet.above().swapped);
}

}  // namespace
}  // namespace ligule::flow
