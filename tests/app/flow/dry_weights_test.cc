#include <algorithm>

#include "tests/app/flow/tablet.h"

namespace ligule::flow {
namespace {

using ::testing::ElementsAre;

class DryWeightsTest : public ::testing::Test {
 protected:
  // Bags 9, 10 and 12 filled on plots 101, 102 and 103, 400 g fresh each; two days later.
  DryWeightsTest() {
    tablet.open(grass_plan(), "cut1");
    tablet.type("Mower 1");
    tablet.tap(StartRun{});
    for (const char* const bag : {"9", "10", "12"}) {
      tablet.fill(Field::kGross, "30");
      tablet.fill(Field::kBag, bag);
      tablet.fill(Field::kSampleFresh, "400");
      tablet.tap(KeepPlot{});
    }
    tablet.settle();
    tablet.next_day();
    tablet.next_day();
    tablet.tap(ShowDryWeights{});
    tablet.settle();
  }
  std::vector<std::string> in_oven() {
    std::vector<std::string> numbers;
    for (const BagRow& row : tablet.dry().bags) numbers.push_back(row.number);
    return numbers;
  }
  void hand_to(std::string_view initials) {
    tablet.tap(HandOver{});
    tablet.type(initials);
    tablet.tap(KeyDone{});
    tablet.settle();
  }
  void weigh(std::string_view bag, std::string_view dry) {
    tablet.type(bag);
    tablet.tap(KeyDone{});
    tablet.type(dry);
    tablet.tap(KeepDry{});
  }

  Tablet tablet;
};

TEST_F(DryWeightsTest, ListsWhatIsStillInTheOven) {
  EXPECT_THAT(in_oven(), ElementsAre("9", "10", "12"));
  const DryView view = tablet.dry();
  EXPECT_TRUE(view.loaded);
  EXPECT_EQ(view.in_oven, 3U);
  EXPECT_EQ(view.bags.front().plot, "101");
  EXPECT_EQ(view.bags.front().trial_code, "G1");
  EXPECT_EQ(view.bags.front().filled, "2026-05-04");
  EXPECT_EQ(view.bags.front().days, 2);
  EXPECT_FALSE(view.can_keep);
  tablet.type("1");
  EXPECT_THAT(in_oven(), ElementsAre("10", "12")) << "what is typed narrows the list";
}

TEST_F(DryWeightsTest, ADriedWeightBelongsToTheBag) {
  weigh("12", "120.5");
  EXPECT_THAT(in_oven(), ElementsAre("9", "10")) << "out at once";
  tablet.settle();
  EXPECT_THAT(in_oven(), ElementsAre("9", "10"));
  const Record& record = tablet.ledger.back();
  const auto bag = std::ranges::find_if(tablet.ledger, [](const Record& each) {
    return each.measure == measure::kBagNumber && each.entered == "12";
  });
  EXPECT_EQ(record.kind, kind::kReading);
  EXPECT_EQ(record.measure, "sample_dry");
  EXPECT_EQ(record.subject, bag->id.uuid);
  EXPECT_EQ(record.occasion, bag->occasion);
  EXPECT_EQ(record.run, bag->run);
  EXPECT_EQ(record.plan, "plan digest G1");
  EXPECT_EQ(record.definition, "digest of sample_weight");
  EXPECT_EQ(record.entered, "120.5");
  EXPECT_EQ(record.unit, "g");
  EXPECT_EQ(record.state, ValueState::kValue);
  EXPECT_EQ(tablet.dry().done, 1U);
}

TEST_F(DryWeightsTest, ABagIsChosenByATap) {
  tablet.tap(ChooseBag{tablet.dry().bags.at(1).bag});
  EXPECT_EQ(tablet.text(Field::kDryBag), "10");
  EXPECT_EQ(tablet.text(Field::kDryFresh), "400");
  EXPECT_EQ(tablet.dry().fields.at(1).unit, "g");
  EXPECT_TRUE(tablet.dry().fields.at(2).focused);
  tablet.tap(ChooseBag{RecordId{}});
  EXPECT_EQ(tablet.text(Field::kDryBag), "10") << "no such bag";
}

TEST_F(DryWeightsTest, ADriedWeightOverTheFreshOneIsKeptOnHold) {
  weigh("12", "400.1");
  ASSERT_EQ(tablet.question(), "check.dry_over_fresh");
  tablet.answer("bags_mixed_up");
  tablet.settle();
  EXPECT_EQ(tablet.ledger.back().state, ValueState::kOnHold);
  EXPECT_EQ(tablet.ledger.back().answers,
            (std::vector<Answer>{{"dry_over_fresh", "bags_mixed_up"}}));
  EXPECT_THAT(in_oven(), ElementsAre("9", "10", "12")) << "on hold is not done";
  EXPECT_TRUE(tablet.dry().bags.back().on_hold);
  // The same weight again is not asked about twice, and says nothing new.
  const std::size_t before = tablet.ledger.size();
  tablet.type("12");
  tablet.tap(KeyDone{});
  EXPECT_EQ(tablet.text(Field::kDryWeight), "400.1");
  tablet.tap(KeyDone{});
  EXPECT_EQ(tablet.question(), "");
  tablet.settle();
  EXPECT_EQ(tablet.ledger.size(), before);
  // Weighed anew it is a correction.
  tablet.tap(ChooseBag{tablet.dry().bags.back().bag});
  tablet.fill(Field::kDryWeight, "130");
  tablet.tap(KeyDone{});
  tablet.settle();
  EXPECT_EQ(tablet.ledger.back().kind, kind::kCorrection);
  EXPECT_EQ(tablet.ledger.back().reason, "weighed_again");
  EXPECT_EQ(tablet.ledger.back().state, ValueState::kValue);
  EXPECT_THAT(in_oven(), ElementsAre("9", "10"));
}

TEST_F(DryWeightsTest, ADriedWeightUnderTheBagsOwnIsKeptOnHold) {
  weigh("12", "40");
  EXPECT_EQ(tablet.question(), "check.dry_under_bag");
  tablet.answer("weigh_again");
  EXPECT_EQ(tablet.text(Field::kDryWeight), "");
  EXPECT_EQ(tablet.text(Field::kDryBag), "12");
  tablet.type("41");
  tablet.tap(KeepDry{});
  EXPECT_EQ(tablet.question(), "");
}

TEST_F(DryWeightsTest, AWeighedBagTareCountsBeforeThePlans) {
  Record tare;
  tare.measure = measure::kBagTare;
  tare.unit = "g";
  tare.value = 60;
  auto bags = tablet.open_bags();
  bags.front().bag_tare = tare;
  tablet.tap(BagsLoaded{bags});
  weigh("9", "60");
  EXPECT_EQ(tablet.question(), "check.dry_under_bag");
}

TEST_F(DryWeightsTest, AnUnknownOrDoubleNumberIsSaid) {
  tablet.type("77");
  tablet.tap(KeyDone{});
  EXPECT_EQ(tablet.notice(), "notice.unknown_bag");
  auto bags = tablet.open_bags();
  bags.at(1).number = "9";
  tablet.tap(BagsLoaded{bags});
  tablet.fill(Field::kDryBag, "9");
  tablet.tap(KeyDone{});
  EXPECT_EQ(tablet.notice(), "notice.two_bags");
  EXPECT_THAT(in_oven(), ElementsAre("9", "9"));
  tablet.tap(ChooseBag{tablet.dry().bags.at(1).bag});
  EXPECT_TRUE(tablet.dry().bags.at(1).chosen);
}

TEST_F(DryWeightsTest, OneScanAfterAnother) {
  tablet.type("77");
  tablet.tap(KeyDone{});
  EXPECT_THAT(tablet.above().notice->text.arguments, ElementsAre("77"));
  EXPECT_EQ(tablet.text(Field::kDryBag), "");
  EXPECT_TRUE(tablet.dry().fields.front().focused);
  weigh("12", "120");
  EXPECT_TRUE(tablet.dry().fields.front().focused) << "the next bag";
  EXPECT_EQ(tablet.text(Field::kDryBag), "");
  weigh("10", "110");
  tablet.settle();
  EXPECT_THAT(in_oven(), ElementsAre("9"));
}

// Proves: what was said of the weather at the harvester holds in the drying room.
TEST_F(DryWeightsTest, TheCuttingsWeatherIsNotAskedAboutAgain) {
  tablet.model.setup.definitions.limits.push_back(
      {"dry_matter_percent", "", "", "percent", 20, 50, "s"});
  for (OpenBag& bag : std::get<DryWeights>(tablet.model.screen).bags) bag.weather = "drought";
  weigh("9", "240");
  EXPECT_EQ(tablet.question(), "");
  tablet.settle();
  EXPECT_THAT(tablet.ledger.back().answers, ElementsAre(Answer{"dry_matter_unusual", "drought"}));
}

TEST_F(DryWeightsTest, WhatIsMissingIsSaid) {
  tablet.tap(KeyDone{});
  EXPECT_EQ(tablet.notice(), "") << "no number yet";
  tablet.tap(KeepDry{});
  EXPECT_EQ(tablet.notice(), "notice.choose_bag");
  tablet.type("12");
  tablet.tap(KeyDone{});
  tablet.tap(KeepDry{});
  EXPECT_EQ(tablet.notice(), "notice.dry_missing");
  tablet.type("9999");
  tablet.tap(KeepDry{});
  EXPECT_EQ(tablet.notice(), "check.off_scale");
  std::erase_if(tablet.model.setup.definitions.measures,
                [](const Measure& each) { return each.code == "sample_dry"; });
  tablet.tap(KeepDry{});
  EXPECT_EQ(tablet.notice(), "notice.no_scale");
}

TEST_F(DryWeightsTest, TheFirstDigitReplacesWhatIsShown) {
  weigh("12", "400.1");
  tablet.answer("not_known");
  tablet.settle();
  tablet.tap(ChooseBag{tablet.dry().bags.back().bag});
  ASSERT_EQ(tablet.text(Field::kDryWeight), "400.1");
  tablet.type("13");
  EXPECT_EQ(tablet.text(Field::kDryWeight), "13");
  tablet.tap(FocusField{Field::kDryBag});
  tablet.type("9");
  EXPECT_EQ(tablet.text(Field::kDryBag), "9");
  tablet.tap(KeyDone{});
  tablet.tap(ChooseBag{tablet.dry().bags.front().bag});
  tablet.type("130");
  tablet.tap(KeepDry{});
  tablet.settle();
  EXPECT_EQ(tablet.ledger.back().entered, "130");
}

TEST_F(DryWeightsTest, AnotherNumberLetsGoOfTheBag) {
  tablet.tap(ChooseBag{tablet.dry().bags.front().bag});
  tablet.tap(FocusField{Field::kDryBag});
  tablet.tap(KeyErase{});
  tablet.tap(KeepDry{});
  EXPECT_EQ(tablet.notice(), "notice.choose_bag");
}

TEST_F(DryWeightsTest, TakingBackPutsTheBagIntoTheOvenAgain) {
  weigh("12", "120");
  tablet.settle();
  tablet.tap(TakeBack{});
  tablet.settle();
  EXPECT_EQ(tablet.ledger.back().kind, kind::kWithdrawal);
  EXPECT_EQ(tablet.ledger.back().measure, "sample_dry");
  EXPECT_EQ(tablet.dry().in_oven, 3U);
  EXPECT_EQ(tablet.text(Field::kDryBag), "12");
  EXPECT_EQ(tablet.text(Field::kDryWeight), "");
  const std::size_t before = tablet.ledger.size();
  tablet.tap(TakeBack{});
  tablet.settle();
  EXPECT_EQ(tablet.ledger.size(), before);
}

TEST_F(DryWeightsTest, TakingBackASecondWeighingReturnsToTheFirst) {
  weigh("12", "400.1");
  tablet.answer("not_known");
  tablet.tap(ChooseBag{tablet.dry().bags.back().bag});
  tablet.fill(Field::kDryWeight, "130");
  tablet.tap(KeepDry{});
  tablet.settle();
  tablet.tap(TakeBack{});
  tablet.settle();
  EXPECT_EQ(tablet.ledger.back().kind, kind::kCorrection);
  EXPECT_EQ(tablet.ledger.back().entered, "400.1");
  EXPECT_EQ(tablet.ledger.back().state, ValueState::kOnHold);
}

TEST_F(DryWeightsTest, AnUnsavedWeightComesBackWithItsBag) {
  tablet.break_disk(true);
  weigh("12", "120");
  weigh("10", "110");
  tablet.settle();
  ASSERT_TRUE(tablet.above().unsaved);
  EXPECT_EQ(tablet.text(Field::kDryBag), "12");
  EXPECT_EQ(tablet.text(Field::kDryWeight), "120");
  EXPECT_EQ(tablet.dry().fields.at(2).mark, Mark::kNotSaved);
  tablet.break_disk(false);
  tablet.tap(DropUnsaved{});
  EXPECT_EQ(tablet.dry().in_oven, 3U);
}

TEST_F(DryWeightsTest, AnUnsavedWeightIsReturnedToFromElsewhere) {
  tablet.break_disk(true);
  weigh("12", "120");
  tablet.tap(ShowToday{});
  tablet.settle();
  EXPECT_EQ(tablet.text(Field::kDryWeight), "120");
  tablet.break_disk(false);
  tablet.tap(RetryUnsaved{});
  tablet.settle();
  EXPECT_EQ(tablet.ledger.back().entered, "120");
  EXPECT_EQ(tablet.dry().in_oven, 2U);
}

// Proves: after a fresh weight was put right, the next bag's dried weight goes where it belongs.
TEST_F(DryWeightsTest, ADriedWeightNeverTakesThePlaceOfAFreshOne) {
  tablet.type("9");
  tablet.tap(KeyDone{});
  tablet.fill(Field::kDryFresh, "440");
  tablet.tap(KeepDry{});
  tablet.settle();
  EXPECT_EQ(tablet.ledger.back().measure, measure::kSampleFresh);
  weigh("10", "95");
  tablet.settle();
  EXPECT_EQ(tablet.ledger.back().measure, measure::kSampleDry);
  EXPECT_EQ(tablet.ledger.back().entered, "95");
  EXPECT_THAT(in_oven(), ElementsAre("9", "12"));
}

// Proves: a weight half typed is found again on its bag, whatever was done between, and by nobody
// else.
TEST_F(DryWeightsTest, WhatIsHalfTypedWaitsOnItsBag) {
  const RecordId first = tablet.dry().bags.front().bag;
  tablet.type("9");
  tablet.tap(KeyDone{});
  tablet.type("12");
  tablet.tap(ShowToday{});
  tablet.tap(ShowDryWeights{});
  tablet.settle();
  tablet.type("10");
  tablet.tap(KeyDone{});
  EXPECT_EQ(tablet.text(Field::kDryWeight), "");
  tablet.tap(ChooseBag{first});
  EXPECT_EQ(tablet.text(Field::kDryWeight), "12");
  tablet.type("0.5");
  EXPECT_EQ(tablet.text(Field::kDryWeight), "120.5") << "it goes on where it stopped";
  tablet.tap(ShowToday{});
  hand_to("CD");
  tablet.tap(ShowDryWeights{});
  tablet.settle();
  tablet.tap(ChooseBag{first});
  EXPECT_EQ(tablet.text(Field::kDryWeight), "") << "nobody goes on with another's";
  tablet.tap(ShowToday{});
  hand_to("AB");
  tablet.tap(ShowDryWeights{});
  tablet.settle();
  tablet.tap(ChooseBag{first});
  EXPECT_EQ(tablet.text(Field::kDryWeight), "120.5");
  tablet.tap(KeepDry{});
  tablet.settle();
  EXPECT_EQ(tablet.ledger.back().entered, "120.5");
  EXPECT_TRUE(tablet.model.dry_begun.empty());
}

TEST_F(DryWeightsTest, AValueTakenBackIsNothingHalfTyped) {
  weigh("9", "120");
  tablet.settle();
  weigh("10", "121");
  tablet.settle();
  tablet.tap(TakeBack{});
  EXPECT_EQ(tablet.text(Field::kDryWeight), "");
  tablet.type("122");
  tablet.tap(KeepDry{});
  tablet.settle();
  tablet.type("10");
  tablet.tap(KeyDone{});
  ASSERT_EQ(tablet.text(Field::kDryWeight), "122");
  tablet.tap(TakeBack{});
  EXPECT_EQ(tablet.text(Field::kDryWeight), "") << "its form was open";
}

TEST_F(DryWeightsTest, SortingLeavesWhatIsHalfTyped) {
  const RecordId first = tablet.dry().bags.front().bag;
  OccasionProgress cut;
  cut.trial = grass_plan().id();
  const Plan plan = grass_plan();
  cut.occasion = plan.occasion(*std::ranges::find(plan.occasions, "cut1", &PlanOccasion::code));
  cut.done = 3;
  tablet.today_answer.progress = {cut};
  tablet.tap(ShowToday{});
  tablet.settle();
  tablet.tap(ShowDryWeights{});
  tablet.settle();
  tablet.tap(ChooseBag{first});
  tablet.type("12");
  tablet.tap(ShowSorting{});
  tablet.settle();
  EXPECT_TRUE(std::holds_alternative<Sorting>(tablet.model.screen));
  EXPECT_EQ(tablet.model.dry_begun.count(first), 1U);
}

}  // namespace
}  // namespace ligule::flow
