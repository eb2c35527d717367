// What becomes of bags: fresh weights that come later, ovens, weighing until dry, bags that are
// gone or found.
#include <algorithm>

#include "storage/trial/details.h"
#include "tests/app/flow/tablet.h"

namespace ligule::flow {
namespace {

using ::testing::ElementsAre;
using ::testing::IsEmpty;

class DryingRoom : public ::testing::Test {
 protected:
  // Bag 9 on plot 101 without a fresh weight, bag 10 on 102 with 440 g; bags weigh 40 g. Two days
  // later.
  DryingRoom() {
    tablet.open(grass_plan(), "cut1");
    tablet.type("Mower 1");
    tablet.tap(StartRun{});
    fill("9", "");
    fill("10", "440");
    tablet.settle();
    tablet.next_day();
    tablet.next_day();
    show();
  }
  void fill(std::string_view bag, std::string_view fresh) {
    tablet.fill(Field::kGross, "30");
    tablet.fill(Field::kBag, bag);
    if (!fresh.empty()) tablet.fill(Field::kSampleFresh, fresh);
    tablet.tap(KeepPlot{});
  }
  void show() {
    tablet.tap(ShowDryWeights{});
    tablet.settle();
  }
  void weigh(std::string_view bag, std::string_view dry) {
    tablet.type(bag);
    tablet.tap(KeyDone{});
    tablet.type(dry);
    tablet.tap(KeyDone{});
    tablet.settle();
  }
  void state_oven(std::string_view celsius, std::string_view hours) {
    tablet.tap(ShowOven{});
    tablet.type(celsius);
    tablet.tap(KeyDone{});
    tablet.type(hours);
    tablet.tap(KeyDone{});
  }
  void choose(std::string_view number) {
    for (const BagRow& row : tablet.dry().bags) {
      if (row.number == number) return (void)tablet.tap(ChooseBag{row.bag});
    }
    ADD_FAILURE() << "no bag " << number;
  }
  [[nodiscard]] BagRow row(std::string_view number) const {
    for (const BagRow& each : tablet.dry().bags) {
      if (each.number == number) return each;
    }
    return {};
  }
  [[nodiscard]] const Record& last() const { return tablet.ledger.back(); }

  Tablet tablet;
};

TEST_F(DryingRoom, SaysWhatIsInTheOvenSinceWhenAndWhatWasNotWeighedFresh) {
  const DryView view = tablet.dry();
  EXPECT_EQ(view.in_oven, 2U);
  EXPECT_EQ(view.oldest, "2026-05-04");
  EXPECT_EQ(view.no_fresh, 1U);
  EXPECT_TRUE(row("9").no_fresh);
  EXPECT_FALSE(row("10").no_fresh);
}

TEST_F(DryingRoom, AFreshWeightComesLaterByTheBag) {
  tablet.type("9");
  tablet.tap(KeyDone{});
  tablet.tap(FocusField{Field::kDryFresh});
  tablet.type("412");
  tablet.tap(KeyDone{});
  tablet.settle();
  EXPECT_EQ(last().measure, "sample_fresh");
  EXPECT_EQ(last().kind, kind::kReading);
  EXPECT_EQ(last().entered, "412");
  EXPECT_EQ(tablet.dry().no_fresh, 0U);
  EXPECT_EQ(tablet.dry().in_oven, 2U) << "it is still to be dried";
  // The second scale goes on with fresh weights, but never over one that stands.
  choose("10");
  EXPECT_FALSE(tablet.dry().fields.at(1).focused);
  tablet.tap(FocusField{Field::kDryFresh});
  tablet.type("450");
  tablet.tap(KeyDone{});
  tablet.settle();
  EXPECT_EQ(last().kind, kind::kCorrection);
  EXPECT_EQ(last().entered, "450");
  tablet.tap(TakeBack{});
  tablet.settle();
  EXPECT_EQ(last().entered, "440");
  EXPECT_EQ(tablet.text(Field::kDryFresh), "440");
}

TEST_F(DryingRoom, BothWeightsOfABagAreOneAct) {
  choose("9");
  tablet.fill(Field::kDryFresh, "412");
  tablet.fill(Field::kDryWeight, "130");
  tablet.tap(KeepDry{});
  tablet.settle();
  EXPECT_EQ(tablet.dry().done, 1U);
  EXPECT_EQ(last().measure, "sample_dry");
  EXPECT_EQ(std::prev(tablet.ledger.end(), 2)->measure, "sample_fresh");
  tablet.tap(TakeBack{});
  tablet.settle();
  EXPECT_EQ(last().measure, "sample_fresh");
  EXPECT_EQ(last().kind, kind::kWithdrawal);
  EXPECT_TRUE(row("9").no_fresh);
}

TEST_F(DryingRoom, AFreshWeightUnderTheDriedOneIsAsked) {
  weigh("9", "130");
  tablet.type("9");
  tablet.tap(KeyDone{});
  tablet.tap(FocusField{Field::kDryFresh});
  tablet.type("120");
  tablet.tap(KeyDone{});
  EXPECT_EQ(tablet.question(), "check.dry_over_fresh");
  tablet.answer("weigh_again");
  EXPECT_EQ(tablet.text(Field::kDryFresh), "");
}

TEST_F(DryingRoom, WithoutAFreshWeightItIsSaid) {
  choose("9");
  tablet.tap(FocusField{Field::kDryFresh});
  tablet.tap(KeyDone{});
  EXPECT_EQ(tablet.notice(), "notice.fresh_missing");
}

TEST_F(DryingRoom, TheOvenIsStatedOnceAndGoesWithEachDriedWeight) {
  EXPECT_EQ(tablet.dry().celsius, "");
  state_oven("60", "48");
  EXPECT_FALSE(tablet.dry().oven);
  EXPECT_EQ(tablet.dry().celsius, "60");
  weigh("10", "140");
  EXPECT_EQ(detail(last().details, "oven_c"), "60");
  EXPECT_EQ(detail(last().details, "oven_hours"), "48");
  weigh("9", "130");
  EXPECT_EQ(detail(last().details, "oven_hours"), "48");
  // Started anew, the tablet knows it from the newest dried weight.
  tablet.restart();
  tablet.sign_in("AB");
  show();
  EXPECT_EQ(tablet.dry().celsius, "60");
  EXPECT_EQ(tablet.dry().hours, "48");
}

TEST_F(DryingRoom, AnOvenThatCannotBeIsNotTaken) {
  state_oven("140", "48");
  EXPECT_EQ(tablet.notice(), "notice.oven_impossible");
  EXPECT_TRUE(tablet.dry().oven);
  EXPECT_EQ(tablet.dry().celsius, "");
  tablet.tap(ShowOven{false});
  state_oven("6-0", "48");
  EXPECT_EQ(tablet.notice(), "notice.oven_no_number");
  tablet.tap(ShowOven{false});
  tablet.tap(ShowOven{});
  tablet.type("80");
  EXPECT_EQ(tablet.dry().oven->remark, "dry.oven_unusual");
  tablet.tap(FocusField{Field::kDryWeight});
  EXPECT_TRUE(tablet.dry().oven->fields.at(0).focused) << "the bag's fields wait below";
}

// The figure is that of Saskatchewan, "Determining Moisture Content" (storage/checks/drying.h).
TEST_F(DryingRoom, WeighedUntilItLosesUnderOneGramOfAHundred) {
  tablet.tap(WeighUntilConstant{true});
  weigh("10", "150");
  EXPECT_EQ(last().state, ValueState::kOnHold);
  EXPECT_EQ(last().answers, (std::vector<Answer>{{"constant_weight", "weigh_again"}}));
  EXPECT_EQ(tablet.notice(), "notice.weigh_again");
  EXPECT_TRUE(row("10").drying);
  // 400 g net fresh: 4 g is 1 g of 100 g, and that is not under it.
  choose("10");
  EXPECT_EQ(tablet.text(Field::kDryWeight), "") << "an Enter must not keep it again";
  EXPECT_EQ(tablet.dry().weighed, "150");
  tablet.type("146");
  tablet.tap(KeyDone{});
  EXPECT_EQ(tablet.notice(), "notice.still_drying");
  EXPECT_THAT(tablet.above().notice->text.arguments, ElementsAre("10", "1.0"));
  tablet.settle();
  EXPECT_EQ(last().state, ValueState::kOnHold);
  EXPECT_EQ(last().kind, kind::kCorrection);
  weigh("10", "142.1");
  EXPECT_EQ(last().state, ValueState::kValue);
  EXPECT_EQ(last().entered, "142.1");
  EXPECT_EQ(last().reason, "weighed_again");
  EXPECT_THAT(last().answers, IsEmpty());
  EXPECT_EQ(tablet.dry().in_oven, 1U);
  EXPECT_EQ(std::ranges::count(tablet.ledger, "sample_dry", &Record::measure), 3)
      << "every weighing is kept";
}

TEST_F(DryingRoom, TheSameWeightTwiceIsDry) {
  tablet.tap(WeighUntilConstant{true});
  weigh("10", "150");
  weigh("10", "150");
  EXPECT_EQ(last().state, ValueState::kValue);
}

TEST_F(DryingRoom, ABagThatBurstIsGoneAndSaysWhy) {
  choose("10");
  EXPECT_THAT(tablet.dry().gone_reasons, ElementsAre("bag_burst", "bag_lost", "label_unreadable"));
  tablet.tap(SayBagGone{"bag_burst"});
  tablet.settle();
  EXPECT_EQ(last().measure, "sample_dry");
  EXPECT_EQ(last().state, ValueState::kMissing);
  EXPECT_EQ(last().reason, "bag_burst");
  EXPECT_EQ(last().value, std::nullopt);
  EXPECT_EQ(tablet.dry().in_oven, 1U);
  EXPECT_EQ(row("10").gone, "bag_burst") << "it is listed, last, in case it is found";
  EXPECT_EQ(tablet.dry().bags.back().number, "10");
  tablet.tap(TakeBack{});
  tablet.settle();
  EXPECT_EQ(last().kind, kind::kWithdrawal);
  EXPECT_EQ(tablet.dry().in_oven, 2U);
  tablet.tap(SayBagGone{"eaten"});
  EXPECT_EQ(last().kind, kind::kWithdrawal) << "no such reason";
}

TEST_F(DryingRoom, ABagThatIsFoundIsWeighedAfterAll) {
  choose("10");
  tablet.tap(SayBagGone{"bag_lost"});
  tablet.settle();
  show();  // another day
  weigh("10", "140");
  EXPECT_EQ(last().kind, kind::kCorrection);
  EXPECT_EQ(last().reason, "found_later");
  EXPECT_EQ(last().state, ValueState::kValue);
  EXPECT_EQ(row("10").number, "") << "done";
}

TEST_F(DryingRoom, ABagThatWasDoneAsksBeforeItIsWeighedAgain) {
  weigh("10", "140");
  show();
  EXPECT_EQ(row("10").number, "") << "done ones are not in the way";
  weigh("10", "138");
  ASSERT_EQ(tablet.question(), "check.dried_before");
  tablet.answer("other_bag");
  EXPECT_EQ(tablet.text(Field::kDryBag), "");
  weigh("10", "138");
  tablet.answer("redried");
  tablet.settle();
  EXPECT_EQ(last().entered, "138");
  EXPECT_EQ(last().answers, (std::vector<Answer>{{"dried_before", "redried"}}));
}

TEST_F(DryingRoom, ANumberIsFreeOnceItsBagIsDriedOrGone) {
  weigh("10", "140");
  choose("9");
  tablet.tap(SayBagGone{"bag_lost"});
  tablet.settle();
  tablet.open(grass_plan(), "cut1");
  tablet.type("Mower 1");
  tablet.tap(StartRun{});
  fill("10", "400");
  EXPECT_EQ(tablet.question(), "") << "after its dried weight";
  fill("9", "400");
  EXPECT_EQ(tablet.question(), "") << "after it was given up";
  fill("9", "400");
  EXPECT_EQ(tablet.question(), "check.bag_in_use");
  tablet.answer("number_twice");
  tablet.settle();
  show();
  // Three have borne the number 9: the one given up is not meant while another is open.
  tablet.type("9");
  tablet.tap(KeyDone{});
  EXPECT_EQ(tablet.notice(), "notice.two_bags");
  EXPECT_EQ(tablet.dry().bags.size(), 3U) << "side by side, with their plots and dates";
}

}  // namespace
}  // namespace ligule::flow
