// Two neighbours whose bags were exchanged.
#include "app/flow/swapped.h"

#include "storage/trial/details.h"
#include "tests/app/flow/harvest_fixture.h"

namespace ligule::flow {
namespace {

class WeighedTest : public HarvestTest {
 protected:
  explicit WeighedTest(const Plan& plan) : HarvestTest(plan) { start(); }
  void keep(std::string_view gross) {
    tablet.fill(Field::kGross, gross);
    if (tablet.text(Field::kBag).empty()) tablet.fill(Field::kBag, std::to_string(++bags_));
    tablet.tap(KeepPlot{});
    stand_by();
  }
  void keep_all(std::initializer_list<std::string_view> weights) {
    for (const std::string_view gross : weights) keep(gross);
  }
  std::string standing(const char* plot) {
    tablet.tap(GoToPlot{plot});
    return tablet.text(Field::kGross);
  }

 private:
  int bags_ = 0;
};

class SwappedTest : public WeighedTest {
 protected:
  SwappedTest() : WeighedTest(wide_plan()) {
    // Block 1: A 30, B 44, C 16 lb, D to H.
    keep_all({"30.1", "44.2", "16.3", "24.9", "20.2", "37.8", "33.1", "28.2"});
    // Block 2 begins with D to H.
    keep_all({"26.4", "21.2", "39.3", "34.2", "29.8"});
  }
  // Block 2 ends with C, A, B.
  void exchanged() {
    keep("17.4");
    keep("45.5");  // A with B's
    keep("31.6");
  }
};

// Proves: two neighbours' bags swapped are noticed.
TEST_F(SwappedTest, NeighboursThatFitEachOthersPlotAreAskedAbout) {
  exchanged();
  const auto view = tablet.above().swapped;
  ASSERT_TRUE(view);
  EXPECT_EQ(view->one, "208");
  EXPECT_EQ(view->one_weight, "31.6\u00a0lb");
  EXPECT_EQ(view->other, "207");
  EXPECT_EQ(view->other_weight, "45.5\u00a0lb");
}

TEST_F(SwappedTest, ExchangedByOneTapAndBackByAnother) {
  exchanged();
  tablet.tap(AnswerSwapped{true});
  tablet.settle();
  EXPECT_EQ(standing("207"), "31.6");
  EXPECT_EQ(standing("208"), "45.5");
  const Record& moved = last_of(measure::kGrossWeight);
  EXPECT_EQ(moved.kind, kind::kCorrection);
  EXPECT_EQ(moved.reason, "exchanged");
  EXPECT_NE(detail(moved.details, "moved_from"), "");
  EXPECT_FALSE(tablet.above().swapped);
  tablet.tap(TakeBack{});
  tablet.settle();
  EXPECT_EQ(standing("207"), "45.5");
  EXPECT_EQ(standing("208"), "31.6");
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
  EXPECT_EQ(standing("207"), "45.5");
  tablet.tap(GoToPlot{"208"});
  keep("31.7");
  EXPECT_FALSE(tablet.above().swapped);
}

// Proves: that each weight is its own is a record: asked once, and to be looked at at the day's
// end.
TEST_F(SwappedTest, ThatTheyAreRightIsKeptAndHoldsAfterARestart) {
  exchanged();
  tablet.tap(AnswerSwapped{false});
  ASSERT_TRUE(tablet.above().swapped);
  tablet.tap(AnswerSwapped{false});
  tablet.settle();
  const auto told = std::ranges::count_if(tablet.ledger, [](const Record& record) {
    return std::ranges::find(record.answers, Answer{"neighbours_exchanged", "weights_right"}) !=
           record.answers.end();
  });
  EXPECT_EQ(told, 2);
  EXPECT_EQ(standing("207"), "45.5");
  tablet.tap(ShowToday{});
  tablet.settle();
  tablet.open(wide_plan(), "cut1");
  tablet.tap(GoToPlot{"208"});
  keep("31.7");
  EXPECT_FALSE(tablet.above().swapped);
}

TEST_F(SwappedTest, OfAWeightThatIsWeighedAnewNothingWasSaid) {
  keep("17.4");
  keep("45.4");  // A with B's
  keep("36.6");
  tablet.tap(GoToPlot{"208"});
  keep("31.6");
  ASSERT_TRUE(tablet.above().swapped);
  tablet.tap(AnswerSwapped{false});
  tablet.tap(AnswerSwapped{false});
  tablet.settle();
  ASSERT_FALSE(tablet.above().swapped);
  tablet.tap(GoToPlot{"208"});
  keep("29.1");  // weighed anew: another weight, and again A's
  ASSERT_TRUE(tablet.above().swapped);
  EXPECT_EQ(tablet.above().swapped->other_weight, "45.4\u00a0lb");
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
  keep("45.5");  // 207, weeds only
  keep("31.6");
  ASSERT_TRUE(tablet.above().swapped);
  tablet.tap(AnswerSwapped{true});
  tablet.settle();
  tablet.tap(GoToPlot{"208"});
  EXPECT_TRUE(tablet.weighing().weeds_only) << "it came with the weight";
  tablet.tap(GoToPlot{"207"});
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
  EXPECT_EQ(tablet.weighing().plot, "208");
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
  tablet.open(wide_plan(), "cut1");
  EXPECT_TRUE(tablet.above().swapped);
}

// Block 2 begins with C and A: C with A's and A with C's weight; only what follows tells.
class SwappedAtAStartTest : public WeighedTest {
 protected:
  SwappedAtAStartTest() : WeighedTest(wide_plan({"C", "A", "B", "D", "E", "F", "G", "H"})) {
    keep_all({"30.1", "44.2", "16.3", "24.9", "20.2", "37.8", "33.1", "28.2"});
  }
};

TEST_F(SwappedAtAStartTest, TheFirstPairOfABlockIsFoundOnceOthersTell) {
  keep_all({"31.6", "17.4", "45.5", "26.4", "21.2"});
  EXPECT_FALSE(tablet.above().swapped) << "too few to tell how far plots lie apart";
  keep("39.3");
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

class SwappedInBlockOneTest : public WeighedTest {
 protected:
  SwappedInBlockOneTest() : WeighedTest(wide_plan()) {
    keep_all({"44.2", "30.1", "16.3", "24.9", "20.2", "37.8", "33.1", "28.2"});
    keep_all({"26.4", "21.2", "39.3", "34.2", "29.8"});
  }
};

// 101 and 102 exchanged: A has B's weight. Block 2 makes it plain.
TEST_F(SwappedInBlockOneTest, IsFoundOnceBlockTwoMakesItPlain) {
  EXPECT_FALSE(tablet.above().swapped);
  keep("17.4");  // C
  keep("31.6");  // A
  EXPECT_FALSE(tablet.above().swapped) << "nobody knows yet what B gives elsewhere";
  keep("45.5");  // B
  ASSERT_TRUE(tablet.above().swapped);
  // Of two blocks either may be the one: the nearer pair first, and then the other.
  EXPECT_EQ(tablet.above().swapped->one, "208");
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
  keep_all({"17.4", "31.6", "45.5"});
  tablet.tap(AnswerSwapped{false});
  tablet.tap(AnswerSwapped{false});
  EXPECT_FALSE(tablet.above().swapped);
  tablet.open(wide_plan(), "cut1");
  tablet.tap(GoToPlot{"208"});
  keep("45.6");
  EXPECT_FALSE(tablet.above().swapped);
}

}  // namespace
}  // namespace ligule::flow
