// Several bags a plot, and what an empty one weighs.
#include "app/flow/bags.h"

#include "storage/trial/details.h"
#include "tests/app/flow/harvest_fixture.h"

namespace ligule::flow {
namespace {

class BagsTest : public HarvestTest {
 protected:
  BagsTest() { start(); }
  void weigh_with(std::string_view gross, std::string_view tare) {
    tablet.fill(Field::kGross, gross);
    tablet.fill(Field::kTare, tare);
    tablet.tap(KeepPlot{});
    tablet.settle();
  }
  std::size_t count(std::string_view measure) const {
    return static_cast<std::size_t>(std::ranges::count(tablet.ledger, measure, &Record::measure));
  }
};
class BagsOnTheScaleTest : public ScaleHarvestTest {};

// Proves: several bags a plot add up.
TEST_F(BagsTest, SeveralBagsOfAPlotAreParts) {
  tablet.fill(Field::kGross, "21.5");
  tablet.fill(Field::kTare, "1.2");
  tablet.tap(MoreBag{});
  tablet.settle();
  EXPECT_EQ(tablet.weighing().plot, "101") << "the plot stays";
  EXPECT_EQ(tablet.weighing().bag, 2);
  EXPECT_EQ(tablet.text(Field::kGross), "");
  EXPECT_EQ(tablet.text(Field::kTare), "1.2") << "the same kind of bag";
  EXPECT_FALSE(tablet.weighing().gauge) << "half a plot says nothing";
  weigh("18.25", "7");
  tablet.settle();
  const Record& second = last_of(measure::kGrossWeight);
  EXPECT_EQ(second.part, 2);
  EXPECT_EQ(second.entered, "18.25");
  EXPECT_EQ(second.kind, kind::kReading);
  EXPECT_EQ(last_of(measure::kTareWeight).part, 2);
  EXPECT_EQ(last_of(measure::kBagNumber).part, 1) << "one sample of them all";
  EXPECT_EQ(tablet.weighing().plot, "102");
  EXPECT_EQ(tablet.weighing().bag, 1);
  tablet.tap(GoToPlot{"101"});
  EXPECT_EQ(tablet.weighing().bag, 2);
  EXPECT_EQ(tablet.weighing().together, "39.75\u00a0lb");
}

TEST_F(BagsTest, ABagThatStandsIsFollowedByTheNext) {
  weigh("21.5", "7");
  tablet.settle();
  tablet.tap(GoToPlot{"101"});
  const std::size_t before = tablet.ledger.size();
  tablet.tap(MoreBag{});
  EXPECT_EQ(tablet.weighing().bag, 2);
  EXPECT_EQ(tablet.ledger.size(), before);
}

TEST_F(BagsTest, TheLastBagMayTurnOutToBeNone) {
  tablet.fill(Field::kGross, "21.5");
  tablet.tap(MoreBag{});
  tablet.settle();
  tablet.fill(Field::kBag, "7");
  tablet.tap(KeepPlot{});
  tablet.settle();
  EXPECT_EQ(count(measure::kGrossWeight), 1U);
  EXPECT_EQ(last_of(measure::kBagNumber).entered, "7");
  EXPECT_EQ(tablet.weighing().plot, "102");
}

TEST_F(BagsTest, WhatWasTypedOfASecondBagWaitsWithItsBag) {
  tablet.fill(Field::kGross, "21.5");
  tablet.tap(MoreBag{});
  tablet.settle();
  tablet.fill(Field::kGross, "18");
  tablet.tap(GoToPlot{"103"});
  EXPECT_EQ(tablet.weighing().bag, 1);
  tablet.tap(GoToPlot{"101"});
  EXPECT_EQ(tablet.weighing().bag, 2);
  EXPECT_EQ(tablet.text(Field::kGross), "18");
  tablet.tap(KeepPlot{});
  tablet.settle();
  EXPECT_EQ(last_of(measure::kGrossWeight).part, 2);
}

TEST_F(BagsTest, ASecondBagIsTakenBackAlone) {
  tablet.fill(Field::kGross, "21.5");
  tablet.tap(MoreBag{});
  tablet.settle();
  weigh("18", "7");
  tablet.settle();
  tablet.tap(TakeBack{});
  tablet.settle();
  tablet.tap(GoToPlot{"101"});
  EXPECT_EQ(tablet.weighing().bag, 1);
  EXPECT_EQ(tablet.text(Field::kGross), "21.5");
  EXPECT_EQ(tablet.weighing().together, "");
}

TEST_F(BagsTest, WithoutAWeightThereIsNoFurtherBag) {
  tablet.tap(MoreBag{});
  EXPECT_EQ(tablet.notice(), "notice.gross_missing");
  EXPECT_EQ(tablet.weighing().bag, 1);
  tablet.fill(Field::kGross, "21.5");
  tablet.tap(MoreBag{});
  tablet.settle();
  tablet.tap(MoreBag{});
  EXPECT_EQ(tablet.notice(), "notice.gross_missing") << "the second one is on its way";
  EXPECT_EQ(tablet.weighing().bag, 2);
}

TEST_F(BagsTest, OfASecondBagNobodySaysThatThereIsNoWeight) {
  tablet.fill(Field::kGross, "21.5");
  tablet.tap(MoreBag{});
  tablet.settle();
  tablet.tap(ShowPage{PlotPage::kMore});
  EXPECT_FALSE(tablet.weighing().more->can_have_none);
  tablet.tap(SayNoWeight{"winterkill"});
  EXPECT_EQ(count(measure::kGrossWeight), 1U);
}

TEST_F(BagsOnTheScaleTest, EveryBagTakesOneTap) {
  on_the_scale("21.5");
  tablet.tap(MoreBag{});
  tablet.settle();
  EXPECT_EQ(tablet.weighing().bag, 2);
  EXPECT_EQ(tablet.weighing().plot, "101");
  on_the_scale("18.2");
  tablet.tap(TakeWeight{});
  tablet.settle();
  EXPECT_EQ(last_of(measure::kGrossWeight).part, 2);
  EXPECT_EQ(last_of(measure::kGrossWeight).source, Source::kScale);
  EXPECT_EQ(tablet.weighing().together, "39.7\u00a0lb");
  EXPECT_EQ(tablet.weighing().plot, "101") << "its bag is to be named";
}

TEST_F(BagsOnTheScaleTest, AMovingLoadThatIsAveragedIsFollowedByTheNextBag) {
  LoadSeen moving;
  moving.state = LoadState::kMoving;
  moving.entered = "21.5";
  moving.unit = "lb";
  on_the_scale(moving);
  tablet.tap(MoreBag{});
  tablet.tap(AnswerMoving{true});
  AverageEnded ended;
  ended.mean = AveragedLoad{"21.4", "lb", "21.2", "21.6", 12, false, "S 21.6"};
  tablet.tap(LoadTold{moving, ended});
  tablet.settle();
  EXPECT_EQ(tablet.weighing().bag, 2);
  EXPECT_EQ(last_of(measure::kGrossWeight).entered, "21.4");
}

// The gauge holds the whole plot against the others.
class BagsOfAWideTrialTest : public ScaleHarvestTest {
 protected:
  BagsOfAWideTrialTest() : ScaleHarvestTest(wide_plan()) {}
};

TEST_F(BagsOfAWideTrialTest, TheGaugeSeesAllBagsTogether) {
  std::vector<std::string> weights{"30.0", "34.0", "26.0"};
  weights.insert(weights.end(), rest_of_block_one.begin(), rest_of_block_one.end());
  weights.insert(weights.end(), start_of_block_two.begin(), start_of_block_two.end());
  weights.emplace_back("28.0");
  for (std::size_t n = 0; n < weights.size(); ++n) {
    take(weights[n]);
    bag(std::to_string(n + 1));
  }
  on_the_scale("20.0");
  tablet.tap(MoreBag{});
  tablet.settle();
  EXPECT_FALSE(tablet.weighing().gauge);
  take("12.0");
  ASSERT_TRUE(tablet.weighing().gauge && tablet.weighing().gauge->any);
  EXPECT_TRUE(tablet.weighing().gauge->inside) << "20 and 12 are 32";
}

TEST_F(BagsOnTheScaleTest, ACheckThatIsOffDoubtsEveryBag) {
  on_the_scale("21.5");
  tablet.tap(MoreBag{});
  tablet.settle();
  take("18.2");
  tablet.tap(CheckScale{true});
  tablet.fill(Field::kCheckMass, "20");
  tablet.fill(Field::kCheckAllowance, "0.1");
  on_the_scale("20.5");
  tablet.tap(TakeCheck{});
  tablet.settle();
  tablet.tap(AnswerDoubted{true});
  tablet.settle();
  std::vector<int> held;
  for (const Record& record : tablet.ledger)
    if (record.measure == measure::kGrossWeight && record.state == ValueState::kOnHold)
      held.push_back(record.part);
  EXPECT_EQ(held, (std::vector<int>{1, 2}));
}

// --- tares by kind of bag
TEST_F(BagsTest, AKindOfBagKeepsItsTare) {
  tablet.tap(ChooseBagKind{"tub"});
  weigh_with("21.5", "2.4");
  EXPECT_EQ(detail(last_of(measure::kTareWeight).details, "bag_kind"), "tub");
  EXPECT_EQ(tablet.text(Field::kTare), "2.4") << "the next plot comes in the same";
  tablet.tap(ChooseBagKind{"crate"});
  EXPECT_EQ(tablet.text(Field::kTare), "") << "none was weighed yet";
  weigh_with("22.5", "5.1");
  tablet.tap(ChooseBagKind{"tub"});
  EXPECT_EQ(tablet.text(Field::kTare), "2.4");
  tablet.tap(ShowPage{PlotPage::kBagKinds});
  const auto kinds = tablet.weighing().bag_kinds;
  ASSERT_EQ(kinds.size(), kBagKinds.size());
  const auto tub = std::ranges::find(kinds, "tub", &BagKindView::code);
  EXPECT_EQ(tub->tare, "2.4\u00a0lb");
  EXPECT_TRUE(tub->chosen);
}

// Proves: a differing tare is questioned.
TEST_F(BagsTest, ATareUnlikeItsKindsIsQuestioned) {
  tablet.tap(ChooseBagKind{"tub"});
  weigh_with("21.5", "2.4");
  weigh_with("22.5", "3.4");
  EXPECT_EQ(tablet.question(), "check.tare_differs");
  tablet.answer("bag_wet");
  tablet.settle();
  EXPECT_EQ(last_of(measure::kTareWeight).entered, "3.4");
  EXPECT_EQ(last_of(measure::kTareWeight).state, ValueState::kValue);
  tablet.tap(ShowPage{PlotPage::kBagKinds});
  EXPECT_EQ(tablet.weighing().bag_kinds[1].tare, "2.4\u00a0lb") << "a wet one is no standing tare";
}

TEST_F(BagsTest, OtherBagsFromNowOnBecomeTheStandingTare) {
  tablet.tap(ChooseBagKind{"tub"});
  weigh_with("21.5", "2.4");
  weigh_with("22.5", "3.4");
  tablet.answer("other_bags");
  tablet.settle();
  weigh_with("23.5", "3.5");
  EXPECT_EQ(tablet.question(), "");
}

TEST_F(BagsTest, TheSameTareSaidOfAnotherKindIsSaidAnew) {
  weigh_with("21.5", "2.4");
  tablet.tap(GoToPlot{"101"});
  tablet.tap(ChooseBagKind{"tub"});
  tablet.fill(Field::kTare, "2.4");
  tablet.tap(KeepPlot{});
  tablet.settle();
  EXPECT_EQ(last_of(measure::kTareWeight).kind, kind::kCorrection);
  EXPECT_EQ(detail(last_of(measure::kTareWeight).details, "bag_kind"), "tub");
}

TEST_F(BagsTest, AnUnknownKindIsNone) {
  tablet.tap(ChooseBagKind{"hat"});
  weigh_with("21.5", "2.4");
  EXPECT_EQ(detail(last_of(measure::kTareWeight).details, "bag_kind"), "");
}

TEST_F(BagsOnTheScaleTest, ANetWeightIsNoBagsTare) {
  tablet.fill(Field::kTare, "2.4");
  take("30.0");
  bag("1");
  LoadSeen net;
  net.state = LoadState::kStill;
  net.entered = "28.0";
  net.unit = "lb";
  net.net = true;
  on_the_scale(net);
  tablet.tap(TakeWeight{});
  tablet.settle();
  EXPECT_EQ(tablet.question(), "") << "the indicator took it off";
}

// The indicator's 0 is nobody's tare, whatever the plots before hung in.
TEST_F(BagsOnTheScaleTest, ANetWeightLeavesTheTareOfTheKindInUse) {
  tablet.tap(ChooseBagKind{"tub"});
  tablet.fill(Field::kTare, "2.4");
  tablet.tap(FocusField{Field::kGross});
  take("30.0");
  bag("1");
  LoadSeen net;
  net.state = LoadState::kStill;
  net.entered = "28.0";
  net.unit = "lb";
  net.net = true;
  on_the_scale(net);
  tablet.tap(TakeWeight{});
  tablet.settle();
  bag("2");
  EXPECT_EQ(last_of(measure::kTareWeight).source, Source::kScale) << "as the indicator sent it";
  EXPECT_EQ(detail(last_of(measure::kTareWeight).details, "bag_kind"), "");
  EXPECT_EQ(tablet.text(Field::kTare), "2.4");
  take("31.0");
  EXPECT_EQ(last_of(measure::kTareWeight).entered, "2.4");
}

TEST_F(BagsTest, ThatThereIsNoWeightLeavesTheTareInUse) {
  weigh_with("21.5", "2.4");
  tablet.tap(ChooseBagKind{"crate"});
  tablet.tap(SayNoWeight{"washed_out"});
  tablet.settle();
  EXPECT_EQ(tablet.weighing().plot, "103");
  EXPECT_EQ(tablet.text(Field::kTare), "2.4");
}

// --- what was begun and left
TEST_F(BagsOnTheScaleTest, ABagThatWasWaitedForIsNotFollowedByAnother) {
  LoadSeen moving;
  moving.state = LoadState::kMoving;
  moving.entered = "21.5";
  moving.unit = "lb";
  on_the_scale(moving);
  tablet.tap(MoreBag{});
  tablet.tap(AnswerMoving{false});
  tablet.tap(PutOff{});
  tablet.settle();
  EXPECT_EQ(tablet.weighing().plot, "102");
  EXPECT_EQ(tablet.weighing().bag, 1);
}

TEST_F(BagsTest, ABagTakenBackIsWeighedAgainNotTheOneBeforeIt) {
  tablet.fill(Field::kGross, "21.5");
  tablet.tap(MoreBag{});
  tablet.settle();
  weigh("18", "7");
  tablet.settle();
  tablet.tap(TakeBack{});
  tablet.settle();
  EXPECT_EQ(tablet.weighing().plot, "101");
  EXPECT_EQ(tablet.weighing().bag, 2);
  weigh("18.5", "7");
  tablet.settle();
  EXPECT_EQ(last_of(measure::kGrossWeight).part, 2);
  EXPECT_EQ(last_of(measure::kGrossWeight).kind, kind::kReading);
}

TEST_F(BagsTest, WhatIsPutRightOnABagIsKeptBeforeTheNext) {
  weigh_with("21.5", "2.4");
  tablet.tap(GoToPlot{"101"});
  tablet.fill(Field::kTare, "2.6");
  tablet.tap(MoreBag{});
  tablet.settle();
  EXPECT_EQ(last_of(measure::kTareWeight).entered, "2.6");
  EXPECT_EQ(last_of(measure::kTareWeight).part, 1);
  EXPECT_EQ(tablet.weighing().bag, 2);
}

TEST_F(BagsTest, APlotWhoseFirstBagWasTakenBackIsStillDone) {
  tablet.fill(Field::kGross, "21.5");
  tablet.tap(MoreBag{});
  tablet.settle();
  weigh("18", "7");
  tablet.settle();
  const Record first = *std::ranges::find_if(tablet.ledger, [](const Record& record) {
    return record.measure == measure::kGrossWeight && record.part == 1;
  });
  tablet.look_over(grass_plan(), "cut1");
  tablet.tap(ShowHistory{"101"});
  tablet.settle();
  tablet.tap(MendValue{first.id});
  tablet.tap(MendBy{Mend::kTakeBack});
  tablet.tap(MendFor{"not_valid"});
  tablet.settle();
  ASSERT_EQ(tablet.ledger.back().kind, kind::kWithdrawal);
  tablet.open(grass_plan(), "cut1");
  EXPECT_EQ(tablet.mark("101"), Mark::kKept);
  EXPECT_EQ(tablet.weighing().plot, "102") << "the first open one";
}

// --- the bin was not emptied
// Proves: the same bin weight twice running is noticed.
TEST_F(BagsOnTheScaleTest, TheSameWeightTwiceRunningAsks) {
  take("30.2");
  bag("1");
  take("30.2");
  EXPECT_EQ(tablet.question(), "check.same_weight");
  tablet.answer("weights_equal");
  tablet.settle();
  EXPECT_EQ(last_of(measure::kGrossWeight).answers,
            (std::vector<Answer>{{"same_weight", "weights_equal"}}));
}

TEST_F(BagsOnTheScaleTest, WhatIsOnlySaidOfAnEarlierPlotWeighsNothing) {
  take("30.2");
  bag("1");
  take("34.4");
  bag("2");
  tablet.tap(GoToPlot{"101"});
  tablet.tap(SayWeedsOnly{});
  tablet.settle();
  tablet.tap(GoToPlot{"103"});
  take("34.4");
  EXPECT_EQ(tablet.question(), "check.same_weight") << "as plot 102, weighed just before";
}

TEST_F(BagsOnTheScaleTest, NotOfAnotherDay) {
  take("30.2");
  bag("1");
  tablet.next_day();
  tablet.open(grass_plan(), "cut1");
  start();
  take("30.2");
  EXPECT_EQ(tablet.question(), "");
}

}  // namespace
}  // namespace ligule::flow
