// A tare that the plan asks for and nobody gives: asked once a day, at the first weight without it.
#include "tests/app/flow/harvest_fixture.h"

namespace ligule::flow {
namespace {

using ::testing::ElementsAre;
using ::testing::IsEmpty;

const Answer kZero{"tare_missing", "bin_reads_zero"};

class TareMissingTest : public HarvestTest {
 protected:
  TareMissingTest() {
    tablet.tap(ShowToday{});
    for (PlanOccasion& occasion : tablet.model.trials.front().plan.occasions) {
      if (occasion.code == "cut1") occasion.measures.emplace_back(measure::kTareWeight);
    }
    tablet.open(grass_plan(), "cut1");
    start();
  }
};

TEST_F(TareMissingTest, TheFirstWeightWithoutOneAsksAndTheOthersDoNot) {
  weigh("30", "9");
  ASSERT_EQ(tablet.question(), "check.tare_missing");
  tablet.answer("bin_reads_zero");
  tablet.settle();
  EXPECT_THAT(last_of(measure::kGrossWeight).answers, ElementsAre(kZero));
  weigh("31", "10");
  EXPECT_EQ(tablet.question(), "");
  tablet.settle();
  EXPECT_EQ(last_of(measure::kGrossWeight).entered, "31");
  EXPECT_THAT(last_of(measure::kGrossWeight).answers, ElementsAre(kZero)) << "each says so";
  tablet.next_day();
  weigh("32", "11");
  EXPECT_EQ(tablet.question(), "check.tare_missing") << "another day";
}

TEST_F(TareMissingTest, WeighingTheBinComesFirstAndTheWeightStays) {
  weigh("30", "9");
  tablet.answer("weigh_bin");
  EXPECT_EQ(tablet.text(Field::kGross), "30");
  EXPECT_EQ(tablet.text(Field::kBag), "9");
  tablet.type("2");
  EXPECT_EQ(tablet.text(Field::kTare), "2");
  tablet.tap(KeepPlot{});
  EXPECT_EQ(tablet.question(), "");
  tablet.settle();
  EXPECT_EQ(last_of(measure::kTareWeight).entered, "2");
  EXPECT_THAT(last_of(measure::kGrossWeight).answers, IsEmpty());
  weigh("31", "10");
  EXPECT_EQ(tablet.question(), "") << "the tare stays from plot to plot";
}

TEST_F(TareMissingTest, ATareOfNoughtIsATare) {
  tablet.fill(Field::kTare, "0");
  weigh("30", "9");
  EXPECT_EQ(tablet.question(), "");
}

TEST_F(TareMissingTest, APlotWithoutAWeightHasNoTare) {
  tablet.tap(SayNoWeight{"winterkill"});
  EXPECT_EQ(tablet.question(), "");
}

TEST_F(TareMissingTest, AnIndicatorThatTakesItsTareOffIsNotAsked) {
  tablet.model.preferences.scale.port = "/dev/serial/by-id/usb-one";
  LoadSeen seen;
  seen.state = LoadState::kStill;
  seen.entered = "30.5";
  seen.unit = "lb";
  seen.raw = "S N + 30.5 lb";
  seen.net = true;
  tablet.tap(LoadTold{seen});
  tablet.tap(TakeWeight{});
  EXPECT_EQ(tablet.question(), "");
  tablet.settle();
  EXPECT_EQ(last_of(measure::kTareWeight).entered, "0");
}

// Proves: a load is kept by the tap that takes it, whatever is asked: the bin is emptied next, and
// its tare comes after it on the same plot.
TEST_F(TareMissingTest, AWeightFromTheScaleIsKeptAndItsTareComesAfterIt) {
  tablet.model.preferences.scale.port = "/dev/serial/by-id/usb-one";
  LoadSeen seen;
  seen.state = LoadState::kStill;
  seen.entered = "30.5";
  seen.unit = "lb";
  seen.raw = "S G + 30.5 lb";
  tablet.tap(LoadTold{seen});
  tablet.tap(TakeWeight{});
  ASSERT_EQ(tablet.question(), "check.tare_missing");
  tablet.answer("weigh_bin");
  tablet.settle();
  EXPECT_EQ(last_of(measure::kGrossWeight).entered, "30.5");
  EXPECT_EQ(last_of(measure::kGrossWeight).raw, "S G + 30.5 lb");
  EXPECT_EQ(tablet.weighing().plot, "101");
  EXPECT_EQ(tablet.text(Field::kGross), "30.5");
  LoadSeen empty;
  empty.state = LoadState::kEmpty;
  tablet.tap(LoadTold{empty});
  tablet.type("1.5");
  EXPECT_EQ(tablet.text(Field::kTare), "1.5");
  tablet.tap(KeepPlot{});
  EXPECT_EQ(tablet.question(), "");
  tablet.settle();
  EXPECT_EQ(last_of(measure::kTareWeight).entered, "1.5");
  EXPECT_EQ(std::ranges::count(tablet.ledger, measure::kGrossWeight, &Record::measure), 1);
}

TEST_F(TareMissingTest, WhatWasAnsweredTodayHoldsAfterARestart) {
  weigh("30", "9");
  tablet.answer("bin_reads_zero");
  tablet.settle();
  tablet.restart();
  tablet.sign_in("AB");
  for (PlanOccasion& occasion : tablet.model.trials.front().plan.occasions) {
    if (occasion.code == "cut1") occasion.measures.emplace_back(measure::kTareWeight);
  }
  tablet.open(grass_plan(), "cut1");
  weigh("31", "10");
  EXPECT_EQ(tablet.question(), "");
}

TEST_F(HarvestTest, APlanWithoutATareAsksForNone) {
  start();
  weigh("30", "9");
  EXPECT_EQ(tablet.question(), "");
}

}  // namespace
}  // namespace ligule::flow
