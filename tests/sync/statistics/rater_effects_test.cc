#include "sync/statistics/rater_effects.h"

#include <gtest/gtest.h>

#include <cmath>
#include <random>

#include "sync/statistics/fit.h"

namespace ligule::statistics {
namespace {

// Entries 50 60 70, blocks 0 2 4, raters 0 and 3; who rated what is told by the caller.
std::vector<Rated> exact(const std::vector<std::vector<std::size_t>>& rater_of) {
  std::vector<Rated> values;
  for (std::size_t entry = 0; entry < 3; ++entry)
    for (std::size_t block = 0; block < 3; ++block) {
      const std::size_t rater = rater_of[entry][block];
      values.push_back({entry, block, rater,
                        50.0 + 10.0 * static_cast<double>(entry) +
                            2.0 * static_cast<double>(block) + 3.0 * static_cast<double>(rater)});
    }
  return values;
}

TEST(RaterEffects, AreFoundExactlyWhereRatersShareBlocks) {
  const auto found = rater_effects(exact({{0, 1, 0}, {1, 0, 0}, {0, 0, 1}}), 3, 3, 2);
  ASSERT_TRUE(found);
  EXPECT_FALSE(found->with_blocks);
  EXPECT_NEAR(found->raters[0].effect, -1.5, 1e-10);
  EXPECT_NEAR(found->raters[1].effect, 1.5, 1e-10);
  EXPECT_EQ(found->df_error, 3.0) << "nine values, three entries, two blocks more, a rater more";
  EXPECT_EQ(*found->error_mean_square, 0.0);
  EXPECT_FALSE(found->f);
}

// One rated block 1, the other blocks 2 and 3: 3 of the rater and 3 of the blocks (mean 3 less 0).
TEST(RaterEffects, OfWholeBlocksAreCalledRaterAndBlocks) {
  const auto found = rater_effects(exact({{0, 1, 1}, {0, 1, 1}, {0, 1, 1}}), 3, 3, 2);
  ASSERT_TRUE(found);
  EXPECT_TRUE(found->with_blocks);
  EXPECT_NEAR(found->raters[1].effect - found->raters[0].effect, 6.0, 1e-10);
  EXPECT_FALSE(found->raters[0].standard_error);
  EXPECT_FALSE(found->error_mean_square);
  EXPECT_FALSE(found->p);
}

// Where each rater rated every plot, raters are blocks of the plots: the two-way table of fit.h.
TEST(RaterEffects, AgreeWithTheTwoWayTableWhereAllRatedAll) {
  std::mt19937 random(5);
  std::normal_distribution<double> normal;
  std::vector<Rated> values;
  std::vector<Observation> table;
  for (std::size_t entry = 0; entry < 4; ++entry)
    for (std::size_t rater = 0; rater < 3; ++rater) {
      const double value = 40 + 5 * normal(random);
      values.push_back({entry, 0, rater, value});
      table.push_back({rater, entry, value});
    }
  const auto found = rater_effects(values, 4, 1, 3);
  const Fit fit = fit_in_blocks(table, 3, 4);
  ASSERT_TRUE(found && found->p);
  EXPECT_NEAR(*found->f, *fit.treatment.f, 1e-9);
  EXPECT_NEAR(*found->p, *fit.treatment.p, 1e-12);
  EXPECT_NEAR(*found->error_mean_square, *fit.error_mean_square, 1e-9);
  EXPECT_EQ(found->df_error, fit.df_error);
  for (std::size_t rater = 0; rater < 3; ++rater) {
    EXPECT_NEAR(found->raters[rater].effect, *fit.treatments[rater].mean - *fit.mean, 1e-10);
    // Of a deviation from the mean of three: (1 - 1/3) of the variance of one mean of four.
    EXPECT_NEAR(*found->raters[rater].standard_error,
                std::sqrt(*fit.error_mean_square / 4.0 * 2.0 / 3.0), 1e-9);
  }
}

// Proves: where raters do not differ, one rating in twenty says so with p below 0.05.
TEST(RaterEffects, AreFoundByChanceAsOftenAsIsSaid) {
  std::mt19937 random(17);
  std::normal_distribution<double> normal;
  std::uniform_int_distribution<std::size_t> who(0, 2);
  int found = 0;
  constexpr int kTimes = 600;
  for (int time = 0; time < kTimes; ++time) {
    std::vector<Rated> values;
    for (std::size_t entry = 0; entry < 8; ++entry)
      for (std::size_t block = 0; block < 4; ++block)
        values.push_back({entry, block, who(random), static_cast<double>(entry) + normal(random)});
    const auto effects = rater_effects(values, 8, 4, 3);
    ASSERT_TRUE(effects && effects->p);
    found += *effects->p < 0.05 ? 1 : 0;
  }
  EXPECT_NEAR(found / static_cast<double>(kTimes), 0.05, 0.025);
}

TEST(RaterEffects, OfTooLittleAreNothing) {
  EXPECT_FALSE(rater_effects({}, 0, 0, 2));
  EXPECT_FALSE(rater_effects(exact({{0, 0, 0}, {0, 0, 0}, {0, 0, 0}}), 3, 3, 1)) << "one rater";
  EXPECT_FALSE(rater_effects(exact({{0, 0, 0}, {0, 0, 0}, {0, 0, 0}}), 3, 3, 2)) << "one idle";
  const std::vector<Rated> apart{{0, 0, 0, 5}, {1, 1, 1, 6}};
  EXPECT_FALSE(rater_effects(apart, 2, 2, 2)) << "neither blocks nor entries in common";
}

TEST(RaterEffects, WithNothingLeftForErrorHaveNone) {
  const std::vector<Rated> pair{{0, 0, 0, 5}, {0, 0, 1, 6}};
  const auto found = rater_effects(pair, 1, 1, 2);
  ASSERT_TRUE(found);
  EXPECT_NEAR(found->raters[1].effect, 0.5, 1e-12);
  EXPECT_EQ(found->df_error, 0.0);
  EXPECT_FALSE(found->raters[1].standard_error);
}

// By hand: blocks 1 2 3 and 5 7 9, means 2 and 7, within blocks 2 + 8 on 4 degrees of freedom, so
// 2.5; between them 37.5 on 1: F = 15.
TEST(Drift, IsTheDifferenceBlockByBlock) {
  const std::vector<RatedAgain> pairs{{0, 1}, {0, 2}, {0, 3}, {2, 5}, {2, 7}, {2, 9}};
  const auto found = drift(pairs, 3);
  ASSERT_TRUE(found);
  EXPECT_DOUBLE_EQ(*found->blocks[0].mean, 2.0);
  EXPECT_DOUBLE_EQ(*found->blocks[2].mean, 7.0);
  EXPECT_DOUBLE_EQ(*found->blocks[2].standard_error, std::sqrt(2.5 / 3.0));
  EXPECT_EQ(found->blocks[1].pairs, 0U);
  EXPECT_FALSE(found->blocks[1].mean);
  EXPECT_NEAR(*found->f, 15.0, 1e-12);
  // On 1 and 4 degrees of freedom F is t squared: 1 - s (3 - s^2) / 2, s = t / root of (t^2 + 4).
  const double s = std::sqrt(15.0 / 19.0);
  EXPECT_NEAR(*found->p, 1.0 - s * (3.0 - s * s) / 2.0, 1e-12);
}

TEST(Drift, OfOneBlockOrOfEqualDifferencesIsNotTested) {
  const auto one = drift(std::vector<RatedAgain>{{0, 1}, {0, 3}}, 1);
  ASSERT_TRUE(one);
  EXPECT_DOUBLE_EQ(*one->blocks[0].mean, 2.0);
  EXPECT_FALSE(one->f);
  const auto equal = drift(std::vector<RatedAgain>{{0, 1}, {0, 1}, {1, 2}, {1, 2}}, 2);
  ASSERT_TRUE(equal);
  EXPECT_FALSE(equal->f);
  EXPECT_FALSE(drift({}, 2));
}

}  // namespace
}  // namespace ligule::statistics
