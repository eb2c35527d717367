#include "storage/checks/season_weight.h"

#include <gtest/gtest.h>

#include <cmath>
#include <random>

#include "tests/storage/checks/weighed_cutting.h"

namespace ligule::checks {
namespace {

// Two blocks of six entries that weigh 10, 20, 30 ... times `level` in every cutting.
WeighedPath regular(double level) {
  WeighedPath path;
  for (int block = 1; block <= 2; ++block)
    for (int n = 0; n < 6; ++n) {
      const int entry = block == 1 ? n : 5 - n;
      path.emplace_back(WeighedPlot{block, std::string(1, static_cast<char>('A' + entry)),
                                    level * 10 * (entry + 1)});
    }
  return path;
}

// Weighed up to a place, that one not.
WeighedPath until(const WeighedPath& whole, std::size_t place) {
  WeighedPath so_far = whole;
  for (std::size_t at = place; at < so_far.size(); ++at) so_far[at].reset();
  return so_far;
}

TEST(PastShares, AreOfTheMiddleOfTheCutting) {
  const std::vector<WeighedPath> earlier{regular(1), regular(3)};
  const PastShares past = past_shares(earlier);
  ASSERT_EQ(past.share.size(), 12U);
  // Entries 10 to 60, in the middle 35.
  EXPECT_NEAR(*past.share[0], 10.0 / 35, 1e-6);
  EXPECT_NEAR(*past.share[6], 60.0 / 35, 1e-6);
  EXPECT_NEAR(past.spread, 0, 1e-6) << "every plot is its entry's share";
}

TEST(PastShares, TakeAPartOfThePlotsOwnResidual) {
  WeighedPath cutting;
  for (int block = 1; block <= 3; ++block)
    for (int entry = 0; entry < 5; ++entry)
      cutting.emplace_back(WeighedPlot{block, std::string(1, static_cast<char>('A' + entry)), 10});
  cutting[7]->net = 15;
  const PastShares once = past_shares(std::vector<WeighedPath>{cutting});
  EXPECT_NEAR(*once.share[7], 1 + 0.4 * 0.5, 1e-6);
  EXPECT_NEAR(*once.share[2], 1, 1e-6) << "the same entry elsewhere";
  const PastShares twice = past_shares(std::vector<WeighedPath>{cutting, cutting});
  EXPECT_NEAR(*twice.share[7], 1 + 0.8 / 1.4 * 0.5, 1e-6);
}

TEST(PastShares, OfNothingAreNone) {
  EXPECT_TRUE(past_shares({}).share.empty());
  const PastShares empty = past_shares(std::vector<WeighedPath>{WeighedPath(3)});
  ASSERT_EQ(empty.share.size(), 3U);
  EXPECT_FALSE(empty.share[0]);
}

TEST(SeasonWeight, IsExactInTheFirstBlockWhereEntriesKeepTheirShares) {
  const PastShares past = past_shares(std::vector<WeighedPath>{regular(1)});
  const WeighedPath today = regular(0.5);
  const auto expected = season_weight(past, until(today, 5), 5, *today[5]);
  ASSERT_TRUE(expected);
  EXPECT_NEAR(expected->middle, 30, 1e-4);
  EXPECT_NEAR(expected->lowest, 27, 1e-4) << "at least a tenth to either side";
  EXPECT_NEAR(expected->highest, 33, 1e-4);
}

TEST(SeasonWeight, ANewBlockIsHeldAgainstThePlotsJustBefore) {
  const PastShares past = past_shares(std::vector<WeighedPath>{regular(1)});
  const WeighedPath today = regular(2);
  const auto expected = season_weight(past, until(today, 6), 6, *today[6]);
  ASSERT_TRUE(expected);
  EXPECT_NEAR(expected->middle, 120, 1e-3);
}

TEST(SeasonWeight, AThinStandLowersItAndIsNoSurpriseLater) {
  WeighedPath before = regular(1);
  before[3]->stand = 50;
  before[3]->net /= 2;
  const PastShares past = past_shares(std::vector<WeighedPath>{before});
  WeighedPath today = regular(1);
  WeighedPlot next = *today[5];
  next.stand = 50;
  EXPECT_NEAR(season_weight(past, until(today, 5), 5, next)->middle, 30, 1e-4);
  EXPECT_NEAR(*past.share[3], 40.0 / 35, 1e-6);
}

TEST(SeasonWeight, NothingIsSaidOfWhatNobodyWeighed) {
  const PastShares past = past_shares(std::vector<WeighedPath>{regular(1)});
  const WeighedPath today = regular(1);
  EXPECT_FALSE(season_weight(past, until(today, 3), 3, *today[3])) << "three plots today";
  EXPECT_TRUE(season_weight(past, until(today, 4), 4, *today[4]));
  EXPECT_FALSE(season_weight(past, until(today, 5), 40, *today[5])) << "no such place";
  EXPECT_FALSE(season_weight({}, until(today, 5), 5, *today[5])) << "a first cutting";
  WeighedPath gap = regular(1);
  gap[5].reset();
  const PastShares without = past_shares(std::vector<WeighedPath>{gap});
  EXPECT_FALSE(season_weight(without, until(today, 5), 5, *today[5])) << "not weighed earlier";
}

TEST(SeasonWeight, NothingWeighedIsNoDivision) {
  const PastShares past = past_shares(std::vector<WeighedPath>{regular(1)});
  WeighedPath today = regular(0);
  EXPECT_FALSE(season_weight(past, until(today, 5), 5, *today[5]));
  today[5]->stand = 0;
  const auto expected = season_weight(past, until(regular(1), 5), 5, *today[5]);
  ASSERT_TRUE(expected);
  EXPECT_TRUE(std::isfinite(expected->highest));
}

// Proves: the rate the header states, from the fifth plot on, in plots whose error lasts in part
// and in plots whose does not.
TEST(SeasonWeight, FewHonestWeightsLieOutside) {
  std::mt19937 random(11);
  std::normal_distribution<double> normal;
  for (const double lasting : {0.0, 0.5})
    for (const tests::Chance& chance : {tests::Chance{24, 4, 0.06}, tests::Chance{24, 4, 0.12}}) {
      int outside = 0;
      int told = 0;
      for (int season = 0; season < 15; ++season) {
        // The first cutting gives entries, blocks and what lasts of a plot's error; each cutting
        // adds what does not.
        tests::Chance sown = chance;
        sown.cv = chance.cv * std::sqrt(lasting);
        const WeighedPath grown = tests::weighed_cutting(sown, random);
        std::vector<WeighedPath> cuttings(3, grown);
        for (WeighedPath& cutting : cuttings)
          for (auto& plot : cutting)
            plot->net += 10 * chance.cv * std::sqrt(1 - lasting) * normal(random);
        const PastShares past = past_shares(std::span(cuttings).first(2));
        WeighedPath so_far(grown.size());
        for (std::size_t place = 0; place < grown.size(); ++place) {
          const WeighedPlot& plot = *cuttings[2][place];
          if (const auto expected = season_weight(past, so_far, place, plot)) {
            ++told;
            outside += plot.net < expected->lowest || plot.net > expected->highest ? 1 : 0;
          }
          so_far[place] = plot;
        }
      }
      EXPECT_EQ(told, 15 * 92);
      EXPECT_LE(outside, told / 66) << chance.cv << " lasting " << lasting;
      EXPECT_GE(outside, 1) << chance.cv << " lasting " << lasting;
    }
}

}  // namespace
}  // namespace ligule::checks
