#include "storage/checks/lane_shift.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <random>

#include "tests/storage/checks/planted_shift.h"

namespace ligule::checks {
namespace {

// Three blocks of eight entries in orders of their own; plots add up but for 0.1.
std::vector<LanePlot> regular_lane() {
  std::vector<LanePlot> lane;
  const std::vector<double> nets{10, 17, 14, 11, 20, 8, 15, 12};
  for (std::size_t block = 1; block <= 3; ++block)
    for (std::size_t n = 0; n < 8; ++n) {
      const std::size_t entry = (n * (2 * block + 1) + block) % 8;
      lane.push_back({static_cast<int>(block), std::string(1, static_cast<char>('A' + entry)),
                      nets[entry] + static_cast<double>(block) + 0.1 * static_cast<double>(n % 2)});
    }
  return lane;
}

TEST(LaneShift, ValuesAtTheirPlotsAreNone) {
  EXPECT_FALSE(lane_shift(regular_lane()));
}

TEST(LaneShift, APlotPassedOverIsNamedWithWhatCameAfter) {
  std::vector<LanePlot> lane = regular_lane();
  tests::shift(lane, 9, 6, Entered::kTooEarly);
  const auto found = lane_shift(lane);
  ASSERT_TRUE(found);
  EXPECT_EQ(found->entered, Entered::kTooEarly);
  EXPECT_NEAR(static_cast<double>(found->first), 9, 2);
  EXPECT_NEAR(static_cast<double>(found->last), 14, 2);
  EXPECT_GE(found->evidence, kLeastShiftEvidence);
}

TEST(LaneShift, APlotCountedTwiceIsNamedWithWhatCameAfter) {
  std::vector<LanePlot> lane = regular_lane();
  tests::shift(lane, 9, 6, Entered::kTooLate);
  const auto found = lane_shift(lane);
  ASSERT_TRUE(found);
  EXPECT_EQ(found->entered, Entered::kTooLate);
  EXPECT_NEAR(static_cast<double>(found->first), 9, 2);
  EXPECT_NEAR(static_cast<double>(found->last), 14, 2);
}

TEST(LaneShift, GoesOnOverTheEndOfABlock) {
  std::vector<LanePlot> lane = regular_lane();
  tests::shift(lane, 12, 8, Entered::kTooEarly);
  const auto found = lane_shift(lane);
  ASSERT_TRUE(found);
  EXPECT_TRUE(tests::names(found, 12, 8, Entered::kTooEarly));
}

TEST(LaneShift, ReachesTheLastPlotOfThePath) {
  std::vector<LanePlot> lane = regular_lane();
  tests::shift(lane, 16, 7, Entered::kTooEarly);
  EXPECT_TRUE(tests::names(lane_shift(lane), 16, 7, Entered::kTooEarly));
  lane = regular_lane();
  tests::shift(lane, 17, 7, Entered::kTooLate);
  EXPECT_TRUE(tests::names(lane_shift(lane), 17, 7, Entered::kTooLate));
}

TEST(LaneShift, NeighboursExchangedAreNoRun) {
  std::vector<LanePlot> lane = regular_lane();
  std::swap(lane[9].value, lane[10].value);
  EXPECT_FALSE(lane_shift(lane));
}

TEST(LaneShift, OneWildWeightIsNoRun) {
  for (std::size_t place = 0; place < 24; ++place) {
    std::vector<LanePlot> lane = regular_lane();
    *lane[place].value *= 10;
    EXPECT_FALSE(lane_shift(lane)) << place;
  }
}

TEST(LaneShift, IsFoundBesideAWildWeight) {
  std::mt19937 random(8);
  int found = 0;
  for (int n = 0; n < 40; ++n) {
    std::vector<LanePlot> lane = tests::lane_of(tests::weighed_cutting({24, 4, 0.06}, random));
    tests::shift(lane, 30, 12, Entered::kTooEarly);
    *lane[n % 2 == 0 ? 35 : 60].value *= n % 4 < 2 ? 10 : 0.1;
    found += tests::names(lane_shift(lane), 30, 12, Entered::kTooEarly) ? 1 : 0;
  }
  EXPECT_GE(found, 36);
}

TEST(LaneShift, OfTooLittleNothingIsSaid) {
  EXPECT_FALSE(likeliest_lane_shift({}));
  const std::vector<LanePlot> whole = regular_lane();
  const std::vector<LanePlot> block(whole.begin(), whole.begin() + 8);
  EXPECT_FALSE(likeliest_lane_shift(block)) << "too few values";
  std::vector<LanePlot> once;
  once.reserve(20);
  for (int n = 0; n < 20; ++n) once.push_back({1, "E" + std::to_string(n), 10.0 + n});
  EXPECT_FALSE(likeliest_lane_shift(once)) << "no entry stands twice";
  std::vector<LanePlot> alike = whole;
  for (LanePlot& plot : alike) plot.value = 95;
  EXPECT_FALSE(likeliest_lane_shift(alike)) << "nothing differs";
  std::vector<LanePlot> empty = whole;
  for (LanePlot& plot : empty) plot.value.reset();
  EXPECT_FALSE(likeliest_lane_shift(empty));
}

// Proves: the rates the header states. Slack is for the 100 cuttings a line.
TEST(LaneShift, IsNamedAsOftenAsIsSaid) {
  struct Line {
    tests::Chance chance;
    std::size_t length;
    int most_false;  // of 100 cuttings with nothing wrong
    int least_found;
  };
  std::mt19937 random(2026);
  for (const Line& line : {Line{{24, 4, 0.06}, 10, 4, 95}, Line{{24, 4, 0.1}, 10, 5, 80},
                           Line{{24, 4, 0.1}, 15, 5, 91}, Line{{24, 4, 0.15}, 10, 6, 38},
                           Line{{24, 4, 0.06, 0.08}, 10, 6, 66}}) {
    constexpr int kCuttings = 100;
    int wrong = 0;
    int found = 0;
    for (int n = 0; n < kCuttings; ++n) {
      std::vector<LanePlot> lane = tests::lane_of(tests::weighed_cutting(line.chance, random));
      wrong += lane_shift(lane) ? 1 : 0;
      const Entered entered = n % 2 == 0 ? Entered::kTooEarly : Entered::kTooLate;
      std::uniform_int_distribution<std::size_t> where(1, lane.size() - line.length - 1);
      const std::size_t first = where(random);
      tests::shift(lane, first, line.length, entered);
      found += tests::names(lane_shift(lane), first, line.length, entered) ? 1 : 0;
    }
    EXPECT_LE(wrong, line.most_false) << line.chance.cv << " of " << line.length;
    EXPECT_GE(found, line.least_found) << line.chance.cv << " of " << line.length;
  }
}

// Percent in steps of five up to 100, as stands are rated: most plots alike.
TEST(LaneShift, OfRatingsInStepsIsNotNamedWhereNothingIsWrong) {
  std::mt19937 random(4);
  int wrong = 0;
  constexpr int kRatings = 100;
  for (int n = 0; n < kRatings; ++n) {
    std::vector<LanePlot> lane =
        tests::lane_of(tests::weighed_cutting({24, 4, 0.05, 0.06}, random));
    for (LanePlot& plot : lane) plot.value = std::min(100.0, 5 * std::round(*plot.value * 1.9));
    wrong += lane_shift(lane) ? 1 : 0;
  }
  EXPECT_LE(wrong, 10);
}

}  // namespace
}  // namespace ligule::checks
