// Stakes whose code says their trial, wherever a stake can be named.
#include "tests/app/flow/harvest_fixture.h"
#include "tests/app/flow/rate_fixture.h"
#include "tests/app/flow/sorting_fixture.h"

namespace ligule::flow {
namespace {

const std::string& code_of(const Plan& plan) {
  return plan.codes.trial;
}

class ScannedStake : public Rate {
 protected:
  std::string here = code_of(grass_plan()) + "/";
};

TEST_F(ScannedStake, LeadsToItsPlotFromTheCard) {
  for (const std::string_view focus : {"percent_stand", "seedling_vigor", "stubble_height"}) {
    tablet.tap(FocusMeasure{std::string(focus)});
    tablet.scan(here + "202");
    EXPECT_EQ(tablet.rate().plot, "202") << focus;
    EXPECT_EQ(tablet.notice(), "");
    tablet.scan(here + "101");
    EXPECT_EQ(tablet.rate().plot, "101") << focus;
  }
  tablet.settle();
  EXPECT_NE(tablet.ledger.back().kind, kind::kReading);
}

// Proves: a scanner set to an American keyboard on a tablet set to a Spanish one.
TEST_F(ScannedStake, IsReadWithAHyphenInPlaceOfTheStroke) {
  tablet.tap(FocusMeasure{"percent_stand"});
  tablet.scan(code_of(grass_plan()) + "-203");
  EXPECT_EQ(tablet.rate().plot, "203");
}

TEST_F(ScannedStake, OfAnotherTrialIsToldAndNothingMoves) {
  const std::string other = code_of(annual_plan());
  const bool held = std::ranges::any_of(tablet.model.trials, [&](const KnownTrial& known) {
    return known.plan.codes.trial == other;
  });
  ASSERT_TRUE(held);
  for (const std::string& text : {other + "/101", other + "-101", std::string("ZZ99/101")}) {
    tablet.tap(FocusMeasure{"percent_stand"});
    tablet.scan(text);
    EXPECT_EQ(tablet.notice(), "notice.other_trial") << text;
    ASSERT_TRUE(tablet.model.notice);
    EXPECT_EQ(tablet.model.notice->arguments.at(1), code_of(grass_plan()));
    EXPECT_EQ(tablet.rate().plot, "101");
    EXPECT_EQ(tablet.cues.back().kind, CueKind::kRefused);
    EXPECT_EQ(measure("percent_stand").typed, "") << "the next value begins anew";
  }
  tablet.settle();
  EXPECT_NE(tablet.ledger.back().kind, kind::kReading);
}

TEST_F(ScannedStake, OfAPlotThatIsNotThereIsToldByItsNumber) {
  tablet.scan(here + "777");
  EXPECT_EQ(tablet.notice(), "notice.unknown_plot");
  EXPECT_EQ(tablet.model.notice->arguments, std::vector<std::string>{"777"});
}

// Proves: a plot numbered like a code goes before the code.
TEST(ScannedStakeOddNumbers, ANumberOfTheTrialGoesFirst) {
  Tablet tablet;
  Plan plan = grass_plan();
  plan.plots.at(1).number = code_of(plan) + "-203";
  tablet.model.trials.at(0).plan = plan;
  tablet.open(plan, "stand");
  tablet.scan(plan.plots.at(1).number);
  EXPECT_EQ(tablet.rate().plot, plan.plots.at(1).number);
}

TEST_F(ScannedStake, AnswersWhichStakeOneSees) {
  tablet.agrees = false;
  ASSERT_TRUE(tablet.rate().stake.question);
  tablet.scan("ZZ99/101");
  EXPECT_EQ(tablet.notice(), "notice.other_trial");
  EXPECT_TRUE(tablet.rate().stake.question);
  tablet.scan(here + "102");
  EXPECT_EQ(tablet.rate().plot, "102");
}

class ScannedAtTheScale : public HarvestTest {
 protected:
  std::string here = code_of(grass_plan()) + "/";
};

// Proves: whatever field is open, what was typed in it stays and the plot is the scanned one's.
TEST_F(ScannedAtTheScale, LeadsToItsPlotFromEveryField) {
  start();
  const std::string from = tablet.weighing().plot;
  for (const Field field :
       {Field::kPlot, Field::kGross, Field::kTare, Field::kBag, Field::kSampleFresh}) {
    tablet.tap(FocusField{field});
    tablet.scan(here + "203");
    EXPECT_EQ(tablet.weighing().plot, "203") << static_cast<int>(field);
    EXPECT_EQ(tablet.text(Field::kGross), "");
    EXPECT_EQ(tablet.text(Field::kBag), "");
    tablet.fill(Field::kPlot, from);
    tablet.tap(KeyDone{});
    EXPECT_EQ(tablet.weighing().plot, from);
  }
}

TEST_F(ScannedAtTheScale, KeepsTheWeightThatWasTypedForItsPlot) {
  start();
  const std::string from = tablet.weighing().plot;
  tablet.fill(Field::kGross, "31.4");
  tablet.scan(here + "203");
  EXPECT_EQ(tablet.weighing().plot, "203");
  EXPECT_EQ(tablet.text(Field::kGross), "");
  tablet.fill(Field::kPlot, from);
  tablet.tap(KeyDone{});
  EXPECT_EQ(tablet.text(Field::kGross), "31.4");
}

TEST_F(ScannedAtTheScale, OfAnotherTrialIsTold) {
  start();
  const std::string from = tablet.weighing().plot;
  tablet.tap(FocusField{Field::kGross});
  tablet.scan(code_of(annual_plan()) + "/101");
  EXPECT_EQ(tablet.notice(), "notice.other_trial");
  EXPECT_EQ(tablet.weighing().plot, from);
  EXPECT_EQ(tablet.text(Field::kGross), "");
}

// Proves: a scanner that types a hyphen in place of the stroke leads to the plot from every field,
// a bag's among them, where a hyphen could be typed.
TEST_F(ScannedAtTheScale, LeadsToItsPlotWithAHyphenToo) {
  start();
  const std::string from = tablet.weighing().plot;
  for (const Field field : {Field::kPlot, Field::kGross, Field::kBag, Field::kSampleFresh}) {
    tablet.tap(FocusField{field});
    tablet.scan(code_of(grass_plan()) + "-203");
    EXPECT_EQ(tablet.weighing().plot, "203") << static_cast<int>(field);
    EXPECT_EQ(tablet.notice(), "") << static_cast<int>(field);
    tablet.fill(Field::kPlot, from);
    tablet.tap(KeyDone{});
    EXPECT_EQ(tablet.text(Field::kBag), "");
  }
}

TEST_F(ScannedAtTheScale, OfATrialThatTheTabletHasNotIsToldAndLeavesNothing) {
  start();
  const std::string from = tablet.weighing().plot;
  for (const Field field : {Field::kGross, Field::kTare, Field::kBag, Field::kSampleFresh}) {
    for (const char* const code : {"ZZ99/107", "24ZZ/107"}) {
      tablet.tap(FocusField{field});
      tablet.scan(code);
      EXPECT_EQ(tablet.notice(), "notice.other_trial") << code;
      EXPECT_EQ(tablet.weighing().plot, from);
      EXPECT_EQ(tablet.text(field), "") << code << " " << static_cast<int>(field);
    }
  }
  // Nor does one come into the place of what stands there.
  tablet.fill(Field::kGross, "31.4");
  tablet.rest(std::chrono::seconds{2});
  tablet.scan("ZZ99/107");
  EXPECT_EQ(tablet.text(Field::kGross), "31.4");
  tablet.rest(std::chrono::seconds{2});
  tablet.type("5");
  EXPECT_EQ(tablet.text(Field::kGross), "31.45") << "what is typed goes on";
}

// Proves: a scanner that sends no Enter leaves nothing either, and whatever else it read.
TEST_F(ScannedAtTheScale, WhateverHasLettersIsNoWeight) {
  start();
  tablet.tap(FocusField{Field::kGross});
  tablet.scan("ZZ99/107", false);
  EXPECT_EQ(tablet.notice(), "notice.not_taken");
  EXPECT_EQ(tablet.model.notice->arguments, std::vector<std::string>{"ZZ99/107"});
  EXPECT_EQ(tablet.text(Field::kGross), "");
  tablet.rest(std::chrono::seconds{2});
  tablet.scan("LOT4217");
  EXPECT_EQ(tablet.notice(), "notice.not_taken");
  EXPECT_EQ(tablet.text(Field::kGross), "");
  EXPECT_EQ(std::ranges::count(tablet.ledger, kind::kReading, &Record::kind), 0);
}

TEST_F(ScannedAtTheScale, ABagsOwnNumberStaysABags) {
  start();
  tablet.fill(Field::kGross, "30");
  for (const char* const bag : {"203", "B-17", "G1.7"}) {
    tablet.tap(FocusField{Field::kBag});
    tablet.scan(bag);
    EXPECT_EQ(tablet.text(Field::kBag), bag);
    EXPECT_EQ(tablet.weighing().plot, "101");
  }
}

// The load stands in the place of the pad, and Enter takes it: not the one that ends a code.
TEST_F(ScaleHarvestTest, TheEnterBehindACodeTakesNoLoad) {
  const auto weighed = [&] {
    return std::ranges::count(tablet.ledger, measure::kGrossWeight, &Record::measure);
  };
  on_the_scale("31.4");
  tablet.scan("ZZ99/107");
  EXPECT_EQ(tablet.notice(), "notice.other_trial");
  tablet.scan(code_of(grass_plan()) + "/203");
  EXPECT_EQ(tablet.weighing().plot, "203");
  tablet.settle();
  EXPECT_EQ(weighed(), 0);
  on_the_scale("31.4");
  tablet.rest(std::chrono::seconds{2});
  tablet.tap(KeyDone{});
  tablet.settle();
  EXPECT_EQ(weighed(), 1);
}

// A code of digits and a hyphen looks like a weight until its Enter: the load has its place back
// then. (By a keyboard that makes a hyphen of the stroke.)
TEST_F(ScaleHarvestTest, ACodeOfDigitsThatLeadsNowhereLeavesTheLoadInItsPlace) {
  Plan other = grass_plan();
  other.codes.trial = "26";
  tablet.model.trials.push_back({other, "plan digest of 26", {}});
  on_the_scale("31.4");
  tablet.scan("26-203");
  EXPECT_EQ(tablet.notice(), "notice.other_trial");
  EXPECT_EQ(tablet.text(Field::kGross), "");
  EXPECT_FALSE(std::get<Weighing>(std::get<Harvest>(tablet.model.screen).step).by_hand);
}

TEST_F(SortingTest, AScannedStakeIsNoWeightAndLeadsToItsSample) {
  put("101");
  for (const Field field : {Field::kSortWhole, Field::kSortBag, Field::kSortFresh}) {
    if (field != Field::kSortWhole) tablet.tap(SortPart{1});
    tablet.tap(FocusField{field});
    tablet.scan("ZZ99/107");
    EXPECT_EQ(tablet.notice(), "notice.other_trial");
    tablet.scan(code_of(grass_plan()) + "-102");
    EXPECT_EQ(sort().plot, "102") << static_cast<int>(field);
    tablet.tap(SortBack{});
    put("101");
  }
}

TEST_F(SortingTest, AScannedStakeIsNoDriedWeight) {
  tablet.tap(ShowDryWeights{});
  tablet.settle();
  tablet.fill(Field::kDryBag, "9");
  tablet.tap(KeyDone{});
  for (const char* const code : {"ZZ99/107", "G1/101", "G1-101"}) {
    tablet.rest(std::chrono::seconds{2});
    tablet.scan(code);
    EXPECT_EQ(tablet.notice(), "notice.not_taken") << code;
    EXPECT_EQ(tablet.text(Field::kDryWeight), "") << code;
  }
  EXPECT_EQ(std::ranges::count(tablet.ledger, measure::kSampleDry, &Record::measure), 0);
}

TEST_F(SortingTest, TakesAScannedStakeAndTellsOneOfAnotherTrial) {
  put("ZZ99/101");
  EXPECT_EQ(tablet.notice(), "notice.other_trial");
  put(code_of(grass_plan()) + "/101");
  EXPECT_EQ(sort().plot, "101");
}

}  // namespace
}  // namespace ligule::flow
