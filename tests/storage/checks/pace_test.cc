#include "storage/checks/pace.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <random>

namespace ligule::checks {
namespace {

using ::testing::ElementsAre;
using ::testing::IsEmpty;

std::vector<GivenValue> given(const std::vector<std::string>& values) {
  std::vector<GivenValue> all;
  for (std::size_t n = 0; n < values.size(); ++n)
    all.push_back({std::to_string(101 + n), values[n]});
  return all;
}

// Two values, 12 of each, in turn; then twelve times the same running.
TEST(OddRun, ALongRunOfOneValueIsNamed) {
  std::vector<std::string> values;
  for (int n = 0; n < 24; ++n) values.emplace_back(n % 2 == 0 ? "80" : "90");
  EXPECT_FALSE(odd_run(given(values)));
  for (std::size_t n = 0; n < 24; ++n) values[n] = n < 12 ? "80" : "90";
  const auto run = odd_run(given(values));
  ASSERT_TRUE(run);
  EXPECT_EQ(*run, (SameRun{"101", "112", "80", 12}));
}

// 4 of one value among 12, all running: 9 places x 4 3 2 1 / (12 11 10 9) = 216 / 11880 = 0.018 of
// orders. Of 6 among 18: 13 x 720 / 13366080 = 0.0007.
TEST(OddRun, ChanceDecides) {
  std::vector<std::string> few{"80", "80", "80", "80", "1", "2", "3", "4", "5", "6", "7", "8"};
  EXPECT_FALSE(odd_run(given(few)));
  std::vector<std::string> more(6, "80");
  for (int n = 0; n < 12; ++n) more.push_back(std::to_string(n));
  EXPECT_TRUE(odd_run(given(more)));
}

TEST(OddRun, WherePlotsAreAlikeNothingIsOdd) {
  EXPECT_FALSE(odd_run(given(std::vector<std::string>(96, "95"))));
  EXPECT_FALSE(odd_run({}));
  std::vector<std::string> nearly(96, "95");
  nearly[40] = "90";
  EXPECT_FALSE(odd_run(given(nearly)));
}

// Proves: in ratings with nothing wrong, values in any order, fewer than one in a hundred has an
// odd run.
TEST(OddRun, HonestRatingsAreLeftAlone) {
  std::mt19937 random(9);
  int named = 0;
  for (int rating = 0; rating < 2000; ++rating) {
    std::vector<std::string> values;
    for (int n = 0; n < 96; ++n) {
      const auto draw = random() % 20;  // mostly 90 and 95, some less
      values.emplace_back(draw < 9 ? "95" : draw < 15 ? "90" : draw < 18 ? "85" : "70");
    }
    named += odd_run(given(values)) ? 1 : 0;
  }
  EXPECT_LE(named, 20);
}

Visited visited(const char* plot, double across, double along, int seconds) {
  return {plot, across, along, UtcInstant{} + std::chrono::seconds{seconds}};
}

// Plots 2 m apart: four of them are 8 m, 3.2 s at 2.5 m/s.
TEST(TooFast, APlotReachedFasterThanAnybodyWalksIsNamed) {
  const std::vector<Visited> visits{visited("101", 0, 0, 0), visited("105", 8, 0, 3),
                                    visited("109", 16, 0, 7)};
  EXPECT_THAT(too_fast(visits, 2), ElementsAre("105"));
}

TEST(TooFast, NeighboursAreRatedFromOnePlace) {
  const std::vector<Visited> visits{visited("101", 0, 0, 0), visited("102", 2, 0, 0),
                                    visited("103", 4, 0, 0)};
  EXPECT_THAT(too_fast(visits, 2), IsEmpty());
  EXPECT_THAT(too_fast(visits, 1), ElementsAre("102", "103"));
}

TEST(TooFast, AClockSetBackSaysNothing) {
  const std::vector<Visited> visits{visited("101", 0, 0, 100), visited("110", 18, 0, 40)};
  EXPECT_THAT(too_fast(visits, 2), IsEmpty());
  EXPECT_THAT(too_fast({}, 2), IsEmpty());
}

}  // namespace
}  // namespace ligule::checks
