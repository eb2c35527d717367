// Check weights: past the allowance, every weight since the last good one is questioned together.
#include "storage/trial/details.h"
#include "tests/app/flow/harvest_fixture.h"

namespace ligule::flow {
namespace {

using ::testing::Contains;
using ::testing::ElementsAre;
using ::testing::IsEmpty;
using ::testing::VariantWith;

class CheckWeightTest : public ScaleHarvestTest {
 protected:
  void check(const std::string& reading, const std::string& mass = "20",
             const std::string& allowance = "0.05") {
    tablet.tap(CheckScale{});
    tablet.fill(Field::kCheckMass, mass);
    tablet.fill(Field::kCheckAllowance, allowance);
    on_the_scale(reading);
    tablet.tap(TakeCheck{});
    tablet.settle();
  }
  void weigh_next(const std::string& weight, const std::string& number) {
    take(weight);
    bag(number);
  }
  void open_second() {
    // In the plan as it is nothing is weighed there.
    for (PlanOccasion& each : tablet.model.trials.front().plan.occasions)
      if (each.code == "cut2") each.measures = {"gross_weight", "bag_number"};
    tablet.open(grass_plan(), "cut2");
  }
  // The second cutting with the same scale, from the head of its run on.
  void go_on_in_second() {
    open_second();
    tablet.type("Mower 1");
    tablet.tap(StartRun{});
    tablet.settle();
  }
  std::vector<std::string> held() const {
    std::vector<std::string> plots;
    for (const StakeView& stake : tablet.weighing().lane)
      if (stake.mark == Mark::kOnHold) plots.push_back(stake.plot);
    return plots;
  }
};

// Proves: reading and allowance of a check weight are kept.
TEST_F(CheckWeightTest, AGoodOneIsKeptWithItsMassAndAllowance) {
  EXPECT_EQ(tablet.weighing().check_due, CheckDue::kBefore);
  check("20.05");
  const Record& kept = tablet.ledger.back();
  EXPECT_EQ(kept.kind, kind::kCheckWeight);
  EXPECT_EQ(kept.entered, "20.05");
  EXPECT_EQ(kept.unit, "lb");
  EXPECT_EQ(kept.raw, "S G + 20.05 lb");
  EXPECT_EQ(kept.source, Source::kScale);
  EXPECT_EQ(kept.occasion, cutting_id(grass_plan().id(), 2026, 1));
  EXPECT_EQ(kept.details,
            details_text({{"allowance", "0.05"}, {"mass", "20"}, {"port", "usb-one"}}));
  EXPECT_EQ(tablet.notice(), "notice.check_good");
  EXPECT_FALSE(tablet.above().doubted);
  EXPECT_FALSE(tablet.weighing().check) << "back to the plots";
  EXPECT_EQ(tablet.weighing().check_due, CheckDue::kNone);
}

TEST_F(CheckWeightTest, TheMassIsRemembered) {
  check("20.00");
  EXPECT_EQ(tablet.stored->scale.check_mass, "20");
  tablet.tap(CheckScale{});
  ASSERT_TRUE(tablet.weighing().check);
  EXPECT_EQ(tablet.weighing().check->fields[0].text, "20");
  EXPECT_EQ(tablet.weighing().check->fields[1].text, "0.05");
  EXPECT_FALSE(tablet.weighing().check->typing);
}

TEST_F(CheckWeightTest, WithoutAMassNothingIsTaken) {
  tablet.tap(CheckScale{});
  EXPECT_TRUE(tablet.weighing().check->typing);
  on_the_scale("20.00");
  tablet.tap(TakeCheck{});
  EXPECT_EQ(tablet.notice(), "notice.check_mass");
  tablet.fill(Field::kCheckMass, "20");
  tablet.tap(TakeCheck{});
  EXPECT_EQ(tablet.notice(), "notice.check_allowance");
  tablet.fill(Field::kCheckAllowance, "0.05");
  tablet.tap(FocusField{Field::kGross});
  EXPECT_FALSE(tablet.weighing().check->typing);
  tablet.tap(LoadTold{});
  EXPECT_FALSE(tablet.weighing().check->load.can_take);
  tablet.cues.clear();
  EXPECT_THAT(tablet.tap(TakeCheck{}), IsEmpty());
  EXPECT_THAT(tablet.cues, ElementsAre(Cue{CueKind::kRefused}));
  tablet.settle();
  EXPECT_NE(tablet.ledger.back().kind, kind::kCheckWeight);
}

TEST_F(CheckWeightTest, OffBeforeTheFirstPlotDoubtsNothing) {
  check("20.06");
  ASSERT_TRUE(tablet.above().doubted);
  EXPECT_EQ(tablet.above().doubted->off, "0.06\u00a0lb");
  EXPECT_THAT(tablet.above().doubted->plots, IsEmpty());
  tablet.tap(AnswerDoubted{true});
  EXPECT_FALSE(tablet.above().doubted);
  EXPECT_EQ(tablet.ledger.back().kind, kind::kCheckWeight);
}

// Proves: past the allowance every weight since the last good check is questioned
// together.
TEST_F(CheckWeightTest, OffTheWeightsSinceTheLastGoodOneAreHeldTogether) {
  check("20.00");
  weigh_next("31.50", "1");
  check("19.95");
  weigh_next("32.50", "2");
  weigh_next("33.50", "3");
  check("19.90");
  ASSERT_TRUE(tablet.above().doubted);
  EXPECT_EQ(tablet.above().doubted->off, "-0.10\u00a0lb");
  EXPECT_THAT(tablet.above().doubted->plots, ElementsAre("102", "103"));
  tablet.tap(GoToPlot{"101"});
  EXPECT_TRUE(tablet.above().doubted) << "it is answered first";
  const Effects effects = tablet.tap(AnswerDoubted{true});
  ASSERT_THAT(effects, Contains(VariantWith<Append>(testing::_)));
  const auto& append = std::get<Append>(effects.front());
  ASSERT_EQ(append.records.size(), 2U) << "together";
  for (const Record& record : append.records) {
    EXPECT_EQ(record.kind, kind::kCorrection);
    EXPECT_EQ(record.reason, "check_weight_off");
    EXPECT_EQ(record.state, ValueState::kOnHold);
    EXPECT_EQ(record.source, Source::kScale);
    EXPECT_THAT(record.answers, Contains(Answer{"check_weight", "hold_them"}));
  }
  tablet.settle();
  EXPECT_THAT(held(), ElementsAre("102", "103"));
  // Nothing is asked about twice: what is held is no value any more.
  check("19.90");
  EXPECT_THAT(tablet.above().doubted->plots, IsEmpty());
}

TEST_F(CheckWeightTest, TypingTheBagLaterLeavesTheHold) {
  take("31.50");
  check("19.90");
  tablet.tap(AnswerDoubted{true});
  tablet.settle();
  bag("1");
  EXPECT_THAT(held(), ElementsAre("101"));
  EXPECT_EQ(last_of(measure::kGrossWeight).state, ValueState::kOnHold);
  EXPECT_EQ(last_of(measure::kGrossWeight).source, Source::kScale);
}

TEST_F(CheckWeightTest, WhatWasWeighedWhileItWasOffIsAskedAboutOnceItIsRight) {
  check("19.90");
  tablet.tap(AnswerDoubted{true});
  EXPECT_EQ(tablet.weighing().check_due, CheckDue::kOff);
  weigh_next("31.50", "1");
  check("20.00");
  ASSERT_TRUE(tablet.above().doubted);
  EXPECT_TRUE(tablet.above().doubted->was);
  EXPECT_EQ(tablet.above().doubted->off, "-0.10 lb");
  EXPECT_THAT(tablet.above().doubted->plots, ElementsAre("101"));
  tablet.tap(AnswerDoubted{true});
  tablet.settle();
  EXPECT_THAT(held(), ElementsAre("101"));
  EXPECT_EQ(tablet.weighing().check_due, CheckDue::kNone);
}

TEST_F(CheckWeightTest, AMassInAnotherUnitIsAnotherMass) {
  check("20.00");
  LoadSeen kilograms;
  kilograms.state = LoadState::kStill;
  kilograms.entered = "9.07";
  kilograms.unit = "kg";
  tablet.tap(LoadTold{kilograms});
  tablet.tap(CheckScale{});
  EXPECT_EQ(tablet.weighing().check->fields[0].text, "");
  EXPECT_TRUE(tablet.weighing().check->typing);
}

TEST_F(CheckWeightTest, ADoubtOutlivesACheckThatIsNotSavedAtFirst) {
  weigh_next("31.50", "1");
  tablet.break_disk(true);
  check("19.90");
  ASSERT_TRUE(tablet.above().unsaved);
  tablet.break_disk(false);
  tablet.tap(RetryUnsaved{});
  tablet.settle();
  ASSERT_TRUE(tablet.above().doubted);
  EXPECT_THAT(tablet.above().doubted->plots, ElementsAre("101"));
}

TEST_F(CheckWeightTest, TheyMayStandAndTheAnswerStaysWithThem) {
  weigh_next("31.50", "1");
  check("19.90");
  tablet.tap(AnswerDoubted{false});
  tablet.settle();
  const Record& gross = last_of(measure::kGrossWeight);
  EXPECT_EQ(gross.state, ValueState::kValue);
  EXPECT_EQ(gross.entered, "31.50");
  EXPECT_THAT(gross.answers, ElementsAre(Answer{"check_weight", "stand_by_them"}));
}

TEST_F(CheckWeightTest, HoldingThemIsTakenBackInOneTap) {
  weigh_next("31.50", "1");
  weigh_next("32.50", "2");
  check("19.90");
  tablet.tap(AnswerDoubted{true});
  tablet.settle();
  EXPECT_THAT(held(), ElementsAre("101", "102"));
  tablet.tap(TakeBack{});
  tablet.settle();
  EXPECT_THAT(held(), IsEmpty());
}

TEST_F(CheckWeightTest, TypedWeightsAreNotTheScales) {
  tablet.tap(TypeWeight{});
  weigh("31.5", "1");
  tablet.settle();
  check("19.90");
  EXPECT_THAT(tablet.above().doubted->plots, IsEmpty());
}

TEST_F(CheckWeightTest, IsDueBeforeAtNoonAndAfter) {
  check("20.00");
  EXPECT_EQ(tablet.weighing().check_due, CheckDue::kNone);
  weigh_next("31.50", "1");
  tablet.rest(std::chrono::hours{4});
  tablet.tap(PickPerson{"AB"});  // after the rest it asks who has the tablet
  EXPECT_EQ(tablet.weighing().check_due, CheckDue::kNoon);
  check("20.00");
  EXPECT_EQ(tablet.weighing().check_due, CheckDue::kNone);
  for (const char* bag : {"2", "3", "4", "5", "6"}) weigh_next(std::string("31.5") + bag, bag);
  EXPECT_EQ(tablet.weighing().check_due, CheckDue::kAfter);
  check("20.00");
  EXPECT_EQ(tablet.weighing().check_due, CheckDue::kNone);
  tablet.next_day();
  tablet.model.preferences.scale.port.clear();
  EXPECT_EQ(tablet.weighing().check_due, CheckDue::kNone) << "without a scale none is";
}

TEST_F(CheckWeightTest, EarlierChecksComeBackWithTheCutting) {
  check("20.00");
  weigh_next("31.50", "1");
  tablet.tap(ShowToday{});
  tablet.open(grass_plan(), "cut1");
  EXPECT_EQ(tablet.weighing().check_due, CheckDue::kNone);
  weigh_next("32.50", "2");
  check("19.90");
  EXPECT_THAT(tablet.above().doubted->plots, ElementsAre("101", "102"));
}

TEST_F(CheckWeightTest, ACheckThatIsNotSavedAndLetGoIsForgotten) {
  tablet.break_disk(true);
  check("20.00");
  ASSERT_TRUE(tablet.above().unsaved);
  tablet.break_disk(false);
  tablet.tap(DropUnsaved{});
  EXPECT_EQ(tablet.weighing().check_due, CheckDue::kBefore);
}

TEST_F(CheckWeightTest, WhoeverHasTheTabletThenIsAskedAboutIt) {
  weigh_next("31.50", "1");
  check("19.90");
  tablet.model.handing = HandingOver{};
  tablet.tap(PickPerson{"CD"});
  EXPECT_TRUE(tablet.above().doubted);
}

// Proves: every weight since the last good check is questioned, whatever cutting it is of.
TEST_F(CheckWeightTest, WeightsOfAnotherCuttingAreQuestionedToo) {
  check("20.00");
  weigh_next("31.50", "1");
  weigh_next("32.50", "2");
  go_on_in_second();
  weigh_next("33.50", "3");
  check("23.00");
  const auto doubted = tablet.above().doubted;
  ASSERT_TRUE(doubted);
  EXPECT_FALSE(doubted->was);
  EXPECT_EQ(doubted->weights, 3U);
  EXPECT_THAT(doubted->plots, ElementsAre("101"));
  EXPECT_THAT(doubted->elsewhere, ElementsAre(DoubtedElsewhere{"G1", 1, {"101", "102"}}));
  tablet.tap(AnswerDoubted{true});
  tablet.settle();
  std::vector<Record> corrections;
  std::ranges::copy_if(tablet.ledger, std::back_inserter(corrections),
                       [](const Record& record) { return record.reason == "check_weight_off"; });
  ASSERT_EQ(corrections.size(), 3U);
  EXPECT_EQ(corrections[0].occasion, cutting_id(grass_plan().id(), 2026, 2));
  EXPECT_EQ(corrections[1].occasion, cutting_id(grass_plan().id(), 2026, 1));
  EXPECT_EQ(corrections[2].occasion, cutting_id(grass_plan().id(), 2026, 1));
  EXPECT_THAT(held(), ElementsAre("101")) << "of this cutting";
  EXPECT_FALSE(tablet.above().doubted);
  // Both cuttings have a weight of plot 101: neither is taken for the other.
  tablet.tap(GoToPlot{"101"});
  EXPECT_EQ(tablet.text(Field::kGross), "33.50");
  tablet.open(grass_plan(), "cut1");
  EXPECT_THAT(held(), ElementsAre("101", "102"));
  EXPECT_FALSE(tablet.above().doubted) << "it was answered";
}

TEST_F(CheckWeightTest, ATapTakesTheAnswerBackInEveryCutting) {
  weigh_next("31.50", "1");
  go_on_in_second();
  weigh_next("33.50", "3");
  check("23.00");
  tablet.tap(AnswerDoubted{true});
  tablet.tap(TakeBack{});
  tablet.settle();
  EXPECT_THAT(held(), IsEmpty());
  tablet.open(grass_plan(), "cut1");
  EXPECT_THAT(held(), IsEmpty());
  // It stands in the records that nobody answers for them.
  ASSERT_TRUE(tablet.above().doubted);
  EXPECT_TRUE(tablet.above().doubted->was);
  EXPECT_EQ(tablet.above().doubted->weights, 2U);
}

TEST_F(CheckWeightTest, AnotherScalesWeightsAreLeftAlone) {
  weigh_next("31.50", "1");
  tablet.model.preferences.scale.port = "/dev/serial/by-id/usb-two";
  weigh_next("32.50", "2");
  check("23.00");
  ASSERT_TRUE(tablet.above().doubted);
  EXPECT_THAT(tablet.above().doubted->plots, ElementsAre("102"));
}

TEST_F(CheckWeightTest, AWeightThatDoesNotSayItsScaleIsOfItsRuns) {
  weigh_next("31.50", "1");
  for (Record& record : tablet.ledger) {
    Details details = parse_details(record.details).value_or(Details{});
    if (record.measure == measure::kGrossWeight) details.erase("port");
    record.details = details_text(details);
  }
  tablet.open(grass_plan(), "cut1");
  check("23.00");
  ASSERT_TRUE(tablet.above().doubted);
  EXPECT_THAT(tablet.above().doubted->plots, ElementsAre("101"));
}

// Proves: a question that nobody answered is asked again after the program was closed.
TEST_F(CheckWeightTest, UnansweredItIsAskedWhenTheCuttingIsOpenedAgain) {
  check("20.00");
  weigh_next("31.50", "1");
  weigh_next("32.50", "2");
  check("23.00");
  ASSERT_TRUE(tablet.above().doubted);
  tablet.restart();
  tablet.sign_in("AB");
  tablet.open(grass_plan(), "cut1");
  const auto doubted = tablet.above().doubted;
  ASSERT_TRUE(doubted);
  EXPECT_TRUE(doubted->was);
  EXPECT_EQ(doubted->off, "3.00\u00a0lb");
  EXPECT_EQ(doubted->when.substr(0, 13), "2026-05-04 08");
  EXPECT_THAT(doubted->plots, ElementsAre("101", "102"));
  tablet.tap(AnswerDoubted{true});
  tablet.settle();
  EXPECT_THAT(held(), ElementsAre("101", "102"));
  tablet.restart();
  tablet.sign_in("AB");
  tablet.open(grass_plan(), "cut1");
  EXPECT_FALSE(tablet.above().doubted) << "it was answered";
}

TEST_F(CheckWeightTest, AGoodOneDoesNotPassOverWhatNobodyAnswered) {
  weigh_next("31.50", "1");
  check("23.00");
  tablet.restart();
  tablet.model.preferences.scale.port = "/dev/serial/by-id/usb-one";
  tablet.sign_in("AB");
  open_second();
  ASSERT_TRUE(tablet.above().doubted) << "in whatever cutting";
  EXPECT_THAT(tablet.above().doubted->elsewhere, ElementsAre(DoubtedElsewhere{"G1", 1, {"101"}}));
  // The program ends again, and the check is good where it is next opened.
  tablet.model.doubted.reset();
  tablet.type("Mower 1");
  tablet.tap(StartRun{});
  tablet.settle();
  check("20.00");
  ASSERT_TRUE(tablet.above().doubted);
  EXPECT_EQ(tablet.notice(), "notice.check_good");
  EXPECT_EQ(tablet.above().doubted->weights, 1U);
  tablet.tap(AnswerDoubted{false});
  tablet.settle();
  EXPECT_EQ(last_of(measure::kGrossWeight).state, ValueState::kValue);
  EXPECT_THAT(last_of(measure::kGrossWeight).answers,
              ElementsAre(Answer{"check_weight", "stand_by_them"}));
  EXPECT_FALSE(tablet.above().doubted);
}

TEST_F(CheckWeightTest, OneThatIsOffIsOffInEveryCutting) {
  check("23.00");
  tablet.tap(AnswerDoubted{false});
  EXPECT_EQ(tablet.weighing().check_due, CheckDue::kOff);
  go_on_in_second();
  EXPECT_EQ(tablet.weighing().check_due, CheckDue::kOff);
  check("20.00");
  EXPECT_EQ(tablet.weighing().check_due, CheckDue::kNone);
  tablet.open(grass_plan(), "cut1");
  EXPECT_NE(tablet.weighing().check_due, CheckDue::kOff);
}

TEST_F(CheckWeightTest, AnAnswerThatIsNotSavedAndLetGoIsAskedForAgain) {
  weigh_next("31.50", "1");
  check("23.00");
  tablet.break_disk(true);
  tablet.tap(AnswerDoubted{true});
  tablet.settle();
  ASSERT_TRUE(tablet.above().unsaved);
  tablet.break_disk(false);
  tablet.tap(DropUnsaved{});
  ASSERT_TRUE(tablet.above().doubted);
  EXPECT_THAT(tablet.above().doubted->plots, ElementsAre("101"));
}

}  // namespace
}  // namespace ligule::flow
