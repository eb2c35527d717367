// What is asked about a weight before it is kept.
#include <algorithm>

#include "storage/trial/details.h"
#include "tests/app/flow/harvest_fixture.h"

namespace ligule::flow {
namespace {

TEST_F(HarvestTest, GrossUnderTareIsAskedAndKeptOnHold) {
  start();
  tablet.fill(Field::kTare, "3");
  weigh("2.9", "12", "400");
  ASSERT_EQ(tablet.question(), "check.gross_under_tare");
  EXPECT_TRUE(tablet.above().question->on_hold);
  EXPECT_EQ(tablet.above().question->measure, "gross_weight");
  tablet.settle();
  EXPECT_EQ(tablet.ledger.size(), 2U) << "one act, once it is answered";
  tablet.answer("scale_not_zero");
  tablet.settle();
  EXPECT_EQ(tablet.ledger.size(), 6U);
  EXPECT_EQ(last_of("gross_weight").state, ValueState::kOnHold);
  EXPECT_EQ(last_of("gross_weight").answers,
            (std::vector<Answer>{{"gross_under_tare", "scale_not_zero"}}));
  EXPECT_EQ(last_of("tare_weight").state, ValueState::kValue);
  EXPECT_EQ(tablet.mark("101"), Mark::kOnHold);
  // No value is asked about twice.
  tablet.tap(GoToPlot{"101"});
  tablet.tap(KeepPlot{});
  EXPECT_EQ(tablet.question(), "");
  tablet.settle();
  EXPECT_EQ(tablet.ledger.size(), 6U);
  // The tare was wrong: with the right one the weight is no longer on hold.
  tablet.tap(GoToPlot{"101"});
  tablet.fill(Field::kTare, "1");
  tablet.tap(KeepPlot{});
  tablet.settle();
  EXPECT_EQ(last_of("gross_weight").kind, kind::kCorrection);
  EXPECT_EQ(last_of("gross_weight").state, ValueState::kValue);
  EXPECT_EQ(last_of("tare_weight").entered, "1");
  EXPECT_EQ(tablet.mark("101"), Mark::kKept);
}

TEST_F(HarvestTest, WeighingAgainOpensTheWeight) {
  start();
  tablet.fill(Field::kTare, "3");
  weigh("2.9", "12");
  tablet.answer("weigh_again");
  EXPECT_EQ(tablet.question(), "");
  EXPECT_EQ(tablet.text(Field::kGross), "");
  EXPECT_EQ(tablet.text(Field::kBag), "12") << "the rest of the form stays";
  tablet.type("29");
  tablet.tap(KeepPlot{});
  tablet.settle();
  EXPECT_EQ(last_of("gross_weight").entered, "29");
  EXPECT_EQ(last_of("gross_weight").state, ValueState::kValue);
}

// Proves: another weight on a plot that was weighed asks first which of them is another plot's.
TEST_F(HarvestTest, APlotThatWasWeighedAsksBeforeItIsWeighedAgain) {
  start();
  weigh("30");
  tablet.settle();
  tablet.tap(GoToPlot{"101"});
  weigh("45");
  ASSERT_EQ(tablet.question(), "check.weighed_twice");
  tablet.answer("other_plot_on_scale");
  EXPECT_EQ(last_of("gross_weight").entered, "30");
  EXPECT_EQ(tablet.text(Field::kGross), "");
  weigh("31");
  tablet.answer("earlier_was_wrong");
  tablet.settle();
  EXPECT_EQ(last_of("gross_weight").entered, "31");
  EXPECT_EQ(last_of("gross_weight").kind, kind::kCorrection);
  tablet.tap(GoToPlot{"101"});
  tablet.tap(KeepPlot{});
  EXPECT_EQ(tablet.question(), "") << "it says what stands";
}

TEST_F(HarvestTest, ASampleLighterThanItsBagIsKeptOnHold) {
  start();
  weigh("30", "12", "39");
  ASSERT_EQ(tablet.question(), "check.sample_under_bag");
  tablet.answer("weigh_again");
  EXPECT_EQ(tablet.text(Field::kSampleFresh), "");
  tablet.type("40");
  tablet.tap(KeepPlot{});
  ASSERT_EQ(tablet.question(), "check.sample_under_bag");
  tablet.answer("not_known");
  tablet.settle();
  EXPECT_EQ(last_of("sample_fresh").state, ValueState::kOnHold);
}

TEST_F(HarvestTest, AnOpenBagUsedTwiceIsAsked) {
  start();
  weigh("30", "12", "400");
  weigh("31", "12", "410");
  ASSERT_EQ(tablet.question(), "check.bag_in_use") << "though the first is still being saved";
  EXPECT_FALSE(tablet.above().question->on_hold);
  tablet.answer("other_number");
  EXPECT_EQ(tablet.text(Field::kBag), "");
  tablet.type("13");
  tablet.tap(KeepPlot{});
  EXPECT_EQ(tablet.question(), "");
  weigh("32", "13", "410");
  tablet.answer("number_twice");
  tablet.settle();
  EXPECT_EQ(last_of("bag_number").answers, (std::vector<Answer>{{"bag_in_use", "number_twice"}}));
  EXPECT_EQ(tablet.mark("103"), Mark::kQuestioned);
}

TEST_F(HarvestTest, ABagOfAnotherCuttingIsOpenToo) {
  start();
  weigh("30", "12", "400");
  tablet.settle();
  tablet.open(grass_plan(), "cut2");
  start();
  weigh("30", "12", "400");
  EXPECT_EQ(tablet.question(), "check.bag_in_use");
}

TEST_F(HarvestTest, ADriedBagFreesItsNumber) {
  start();
  weigh("30", "12", "400");
  tablet.settle();
  tablet.tap(ShowDryWeights{});
  tablet.settle();
  tablet.type("12");
  tablet.tap(KeyDone{});
  tablet.type("120");
  tablet.tap(KeyDone{});
  tablet.settle();
  tablet.open(grass_plan(), "cut1");
  weigh("31", "12", "400");
  EXPECT_EQ(tablet.question(), "");
}

TEST_F(HarvestTest, SeveralQuestionsComeOneAfterAnother) {
  start();
  weigh("30", "12", "400");
  tablet.fill(Field::kTare, "5");
  weigh("4", "12", "39");
  EXPECT_EQ(tablet.question(), "check.gross_under_tare");
  tablet.answer("not_known");
  EXPECT_EQ(tablet.question(), "check.bag_in_use");
  tablet.answer("other_bag_gone");
  EXPECT_EQ(tablet.question(), "check.sample_under_bag");
  tablet.answer("wrong_tare");
  EXPECT_EQ(tablet.question(), "");
  tablet.settle();
  EXPECT_EQ(last_of("gross_weight").state, ValueState::kOnHold);
  EXPECT_EQ(last_of("bag_number").state, ValueState::kValue);
  EXPECT_EQ(last_of("sample_fresh").state, ValueState::kOnHold);
}

}  // namespace
}  // namespace ligule::flow
