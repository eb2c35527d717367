// Dry matter that is unusual is asked about wherever the second of a sample's two weights comes in.
#include <algorithm>

#include "tests/app/flow/tablet.h"

namespace ligule::flow {
namespace {

using ::testing::ElementsAre;

// Bags weigh 40 g. Bag 9 on plot 101 (tall fescue) with 440 g fresh, bag 10 on 103 (alfalfa)
// without. Bounds: assets/limits.json.
class DryMatterTest : public ::testing::Test {
 protected:
  DryMatterTest() {
    tablet.model.setup.definitions.limits = {
        {std::string(kDryMatterPercent), "", "", "percent", 10, 50, "s"},
        {std::string(kDryMatterPercent), "alfalfa", "", "percent", 10, 25, "s"}};
    tablet.open(grass_plan(), "cut1");
    tablet.type("Mower 1");
    tablet.tap(StartRun{});
    weigh("30", "9", "440");
    tablet.tap(GoToPlot{"103"});
    weigh("31", "10", "");
    tablet.tap(ShowDryWeights{});
    tablet.settle();
  }
  void weigh(std::string_view gross, std::string_view bag, std::string_view fresh) {
    tablet.fill(Field::kGross, gross);
    tablet.fill(Field::kBag, bag);
    if (!fresh.empty()) tablet.fill(Field::kSampleFresh, fresh);
    tablet.tap(KeepPlot{});
    tablet.settle();
  }
  void dry(std::string_view bag, std::string_view weight) {
    tablet.type(bag);
    tablet.tap(KeyDone{});
    tablet.fill(Field::kDryWeight, weight);
    tablet.tap(KeepDry{});
    tablet.settle();
  }
  void fresh(std::string_view bag, std::string_view weight) {
    tablet.type(bag);
    tablet.tap(KeyDone{});
    tablet.fill(Field::kDryFresh, weight);
    tablet.tap(KeepDry{});
    tablet.settle();
  }
  [[nodiscard]] const Record& last() const { return tablet.ledger.back(); }

  Tablet tablet;
};

TEST_F(DryMatterTest, InsideOfWhatIsUsualNothingIsAsked) {
  dry("9", "140");
  EXPECT_EQ(tablet.question(), "");
  EXPECT_EQ(last().measure, "sample_dry");
}

TEST_F(DryMatterTest, AHundredPercentIsAskedAndKeptWithItsAnswer) {
  dry("9", "439");
  ASSERT_EQ(tablet.question(), "check.dry_matter_unusual");
  EXPECT_THAT(tablet.above().question->text.arguments, ElementsAre("99.8", "10", "50"));
  EXPECT_FALSE(tablet.above().question->on_hold);
  tablet.answer("right_so");
  tablet.settle();
  EXPECT_EQ(last().entered, "439");
  EXPECT_EQ(last().state, ValueState::kValue);
  EXPECT_THAT(last().answers, ElementsAre(Answer{"dry_matter_unusual", "right_so"}));
}

TEST_F(DryMatterTest, NextToNothingIsAskedAndWeighedAgain) {
  dry("9", "41");
  ASSERT_EQ(tablet.question(), "check.dry_matter_unusual");
  tablet.answer("weigh_again");
  tablet.settle();
  EXPECT_NE(last().measure, "sample_dry");
  EXPECT_EQ(tablet.text(Field::kDryWeight), "");
}

TEST_F(DryMatterTest, TheFreshWeightMayComeSecondAndEachSpeciesHasItsOwn) {
  dry("10", "140");  // 100 g
  EXPECT_EQ(tablet.question(), "") << "there is nothing to hold it against";
  fresh("10", "439");  // 25.06 %
  EXPECT_EQ(tablet.question(), "check.dry_matter_unusual");
  tablet.answer("weigh_again");
  tablet.type("440");
  tablet.tap(KeepDry{});
  EXPECT_EQ(tablet.question(), "") << "25 %";
}

TEST_F(DryMatterTest, BothWeightsTypedAnewAreOneQuestion) {
  dry("9", "140");
  tablet.type("9");
  tablet.tap(KeyDone{});
  tablet.fill(Field::kDryFresh, "1440");  // 7 % with the dried weight that stood
  tablet.fill(Field::kDryWeight, "390");
  tablet.tap(KeepDry{});
  EXPECT_EQ(tablet.question(), "check.dried_before");
  tablet.answer("typed_wrong");
  EXPECT_EQ(tablet.question(), "") << "350 of 1400 g";
}

TEST_F(DryMatterTest, WhatIsStillDryingIsAskedAboutWhenItIsDry) {
  tablet.tap(WeighUntilConstant{true});
  dry("9", "300");
  EXPECT_EQ(tablet.question(), "") << "65 % of it, but it is not dry yet";
  EXPECT_EQ(last().state, ValueState::kOnHold);
  EXPECT_THAT(last().answers, ElementsAre(Answer{"constant_weight", "weigh_again"}));
  dry("9", "299");
  EXPECT_EQ(tablet.question(), "check.dry_matter_unusual");
}

TEST_F(DryMatterTest, AFreshWeightPutRightInTheFieldIsHeldAgainstTheDriedOne) {
  dry("9", "140");
  tablet.open(grass_plan(), "cut1");
  tablet.tap(GoToPlot{"101"});
  tablet.fill(Field::kSampleFresh, "200");
  tablet.tap(KeepPlot{});
  EXPECT_EQ(tablet.question(), "check.dry_matter_unusual") << "100 of 160 g";
  tablet.answer("right_so");
  tablet.settle();
  tablet.tap(GoToPlot{"101"});
  tablet.fill(Field::kGross, "29");
  tablet.tap(KeepPlot{});
  ASSERT_EQ(tablet.question(), "check.weighed_twice");
  tablet.answer("earlier_was_wrong");
  EXPECT_EQ(tablet.question(), "") << "not about what stands";
}

TEST_F(DryMatterTest, AnUnusualSampleIsNotAskedAboutWithEachOtherValueOfThePlot) {
  dry("9", "300");
  tablet.answer("right_so");
  tablet.settle();
  tablet.open(grass_plan(), "cut1");
  tablet.tap(GoToPlot{"101"});
  tablet.fill(Field::kGross, "29");
  tablet.tap(KeepPlot{});
  ASSERT_EQ(tablet.question(), "check.weighed_twice");
  tablet.answer("earlier_was_wrong");
  EXPECT_EQ(tablet.question(), "");
  tablet.settle();
  EXPECT_EQ(last().measure, "gross_weight");
}

TEST_F(DryMatterTest, ADriedWeightPutRightInReviewIsAskedAboutToo) {
  dry("9", "140");
  tablet.look_over(grass_plan(), "cut1");
  tablet.tap(ShowHistory{"101"});
  tablet.settle();
  const auto rows = tablet.history().rows;
  const auto row = std::ranges::find(rows, "sample_dry", &HistoryRow::measure);
  ASSERT_NE(row, rows.end());
  tablet.tap(MendValue{row->id});
  tablet.type("400");
  tablet.tap(MendFor{"misread"});
  EXPECT_EQ(tablet.question(), "check.dry_matter_unusual");
}

}  // namespace
}  // namespace ligule::flow
