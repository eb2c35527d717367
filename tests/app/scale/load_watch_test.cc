#include "app/scale/load_watch.h"

#include <gtest/gtest.h>

namespace ligule::scale {
namespace {

Reading weight(std::string entered, Stability stability = Stability::kUnsaid) {
  Reading reading;
  const std::size_t point = entered.find('.');
  reading.decimals = point == std::string::npos ? 0 : static_cast<int>(entered.size() - point - 1);
  reading.entered = std::move(entered);
  reading.unit = "kg";
  reading.stability = stability;
  return reading;
}

class Watch : public ::testing::Test {
 protected:
  LoadState after(const std::vector<std::string>& weights) {
    for (const std::string& each : weights) watch.add(weight(each), now += 100);
    return watch.state(now);
  }
  LoadWatch watch;
  std::int64_t now = 0;
};

TEST(LastDigits, GoBothWays) {
  EXPECT_EQ(in_last_digits(weight("12.345")), 12345);
  EXPECT_EQ(in_last_digits(weight("-0.020")), -20);
  EXPECT_EQ(from_last_digits(12345, 3), "12.345");
  EXPECT_EQ(from_last_digits(-20, 3), "-0.020");
  EXPECT_EQ(from_last_digits(7, 0), "7");
  EXPECT_EQ(from_last_digits(0, 2), "0.00");
  EXPECT_EQ(in_last_digits(weight("9999999999.99999")), 999'999'999'999'999);
  EXPECT_EQ(in_last_digits(weight("-9999999999.99999")), -999'999'999'999'999);
}

// The longest numbers a line may have, as many as a minute brings: their sum is right.
TEST(LongNumbers, AreAveragedWithoutOverflow) {
  Averaging averaging(0, 60'000);
  for (int n = 0; n < 600; ++n) averaging.add(weight("999999999.999999"));
  ASSERT_TRUE(averaging.result());
  EXPECT_EQ(averaging.result()->entered, "999999999.999999");
}

TEST_F(Watch, WithoutAFlagThreeLinesWithinOneIntervalAreStill) {
  EXPECT_EQ(after({"12.34", "12.34"}), LoadState::kMoving);
  EXPECT_EQ(after({"12.35"}), LoadState::kStill);
  EXPECT_EQ(after({"12.36"}), LoadState::kMoving);  // 12.34 to 12.36 are two intervals
  EXPECT_EQ(after({"12.36"}), LoadState::kStill);
}

TEST(WatchOfACoarseScale, TheIntervalIsWhatTheScaleSays) {
  LoadWatch watch(5);
  for (const char* each : {"12.35", "12.40", "12.35"}) watch.add(weight(each), 0);
  EXPECT_EQ(watch.state(0), LoadState::kStill);
}

TEST_F(Watch, AFlagCountsWhereThereIsOne) {
  watch.add(weight("12.34", Stability::kStable), 100);
  EXPECT_EQ(watch.state(100), LoadState::kStill);
  for (int n = 0; n < 5; ++n) watch.add(weight("12.34", Stability::kMoving), 200);
  EXPECT_EQ(watch.state(200), LoadState::kMoving);
}

TEST_F(Watch, OneLoadIsTakenOnce) {
  EXPECT_EQ(after({"12.34", "12.34", "12.34"}), LoadState::kStill);
  watch.taken();
  EXPECT_EQ(after({"12.34"}), LoadState::kNotLifted);
  EXPECT_EQ(after({"9.00", "9.00", "9.00"}), LoadState::kNotLifted);  // half emptied is not lifted
  EXPECT_EQ(after({"13.00"}), LoadState::kNotLifted) << "nor may it be averaged";
  watch.taken(false);
  EXPECT_EQ(after({"13.00", "13.00"}), LoadState::kStill) << "it was not taken after all";
  watch.taken();
  EXPECT_EQ(after({"0.09"}), LoadState::kEmpty);
  EXPECT_EQ(after({"12.34", "12.34", "12.34"}), LoadState::kStill);
}

TEST_F(Watch, TheWeightOfATareIsNobodysLoad) {
  Reading tare = weight("2.50", Stability::kStable);
  tare.load = Load::kTare;
  watch.add(tare, 100);
  EXPECT_EQ(watch.state(100), LoadState::kGarbled);
}

TEST_F(Watch, LessThanALoadIsAnEmptyScale) {
  EXPECT_EQ(after({"0.00", "0.00", "0.00"}), LoadState::kEmpty);
  EXPECT_EQ(after({"0.09", "0.09", "0.09"}), LoadState::kEmpty) << "left over from the last plot";
  EXPECT_EQ(after({"0.10", "0.10", "0.10"}), LoadState::kStill);
  watch.taken();
  EXPECT_EQ(after({"0.00", "0.00", "0.00"}), LoadState::kEmpty);
}

TEST_F(Watch, WhatIsNoWeightIsNamed) {
  EXPECT_EQ(watch.state(0), LoadState::kSilent);
  watch.add(Overload{"OL"}, 100);
  EXPECT_EQ(watch.state(100), LoadState::kOverload);
  EXPECT_FALSE(watch.reading().has_value());
  watch.add(Underload{"UL"}, 200);
  EXPECT_EQ(watch.state(200), LoadState::kUnderload);
  watch.add(Garbled{"?", ""}, 300);
  EXPECT_EQ(watch.state(300), LoadState::kGarbled);
  now = 300;
  EXPECT_EQ(after({"-0.50", "-0.50", "-0.50"}), LoadState::kNegative);
  EXPECT_EQ(watch.state(now + kSilentMs), LoadState::kNegative);
  EXPECT_EQ(watch.state(now + kSilentMs + 1), LoadState::kSilent);
}

TEST_F(Watch, LinesFromBeforeAPauseOrAnotherUnitDoNotCount) {
  EXPECT_EQ(after({"12.34", "12.34"}), LoadState::kMoving);
  now += kSilentMs;
  EXPECT_EQ(after({"12.34"}), LoadState::kMoving);
  EXPECT_EQ(after({"12.34", "12.34"}), LoadState::kStill);
  Reading pounds = weight("12.34");
  pounds.unit = "lb";
  watch.add(pounds, now);
  EXPECT_EQ(watch.state(now), LoadState::kMoving);
  watch.restart();
  EXPECT_EQ(watch.state(now), LoadState::kSilent);
}

TEST(AveragedLoad, IsTheMeanOfTheTimeWithItsSpread) {
  Averaging averaging(1000, 3000);
  for (const char* each : {"12.30", "12.50", "12.41"}) averaging.add(weight(each));
  EXPECT_FALSE(averaging.over(3999));
  EXPECT_TRUE(averaging.over(4000));
  const auto mean = averaging.result();
  ASSERT_TRUE(mean.has_value());
  EXPECT_EQ(mean->entered, "12.40");  // 37.21 / 3 = 12.4033
  EXPECT_EQ(mean->lowest, "12.30");
  EXPECT_EQ(mean->highest, "12.50");
  EXPECT_EQ(mean->readings, 3U);
}

TEST(AveragedLoad, HalvesRoundUpAndNothingIsNoWeight) {
  Averaging averaging(0, 1);
  EXPECT_FALSE(averaging.result().has_value());
  averaging.add(weight("12.4"));
  averaging.add(weight("12.5"));
  EXPECT_EQ(averaging.result()->entered, "12.5");
  Averaging below(0, 1);
  below.add(weight("-1.0"));
  EXPECT_FALSE(below.result().has_value());
}

// What was on the scale meanwhile is not known: there is no mean.
TEST(AveragedLoad, AnythingButTheSameLoadSpoilsIt) {
  const auto spoiled_by = [](const Line& line) {
    Averaging averaging(0, 1);
    averaging.add(weight("12.4"));
    averaging.add(line);
    averaging.add(weight("12.4"));
    return !averaging.result().has_value();
  };
  Reading net = weight("12.4");
  net.load = Load::kNet;
  EXPECT_FALSE(spoiled_by(weight("12.6")));
  EXPECT_TRUE(spoiled_by(weight("27.30")));
  EXPECT_TRUE(spoiled_by(net));
  EXPECT_TRUE(spoiled_by(Overload{"OL"}));
  EXPECT_TRUE(spoiled_by(Garbled{"?", ""}));
}

TEST(AveragedLoad, ABinThatIsEmptiedMeanwhileHasNone) {
  Averaging averaging(0, 1, 10);
  for (const char* each : {"12.4", "12.5", "0.9"}) averaging.add(weight(each));
  EXPECT_FALSE(averaging.result().has_value());
}

}  // namespace
}  // namespace ligule::scale
