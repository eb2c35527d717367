#include "storage/checks/rating_drift.h"

#include <gtest/gtest.h>

#include <array>
#include <vector>

namespace ligule::checks {
namespace {

std::vector<RatedInBlock> block_of(int block, std::span<const double> differences) {
  std::vector<RatedInBlock> pairs;
  for (const double difference : differences) pairs.push_back({block, {50, 50 + difference}});
  return pairs;
}

std::vector<RatedInBlock> joined(std::vector<RatedInBlock> pairs,
                                 const std::vector<RatedInBlock>& more) {
  pairs.insert(pairs.end(), more.begin(), more.end());
  return pairs;
}

// Published data: dried weights of plants under a control and two treatments (Dobson, An
// Introduction to Statistical Modelling, 1983, table 7.1; data set PlantGrowth of R). Means 5.032,
// 4.661 and 5.526, and the probability of F, 0.0159, from memory of R's aov(); over 999 orders the
// share lies within three of its standard errors, 0.012.
TEST(RatingDrift, AgreesWithThePublishedAnalysisOfThreeClasses) {
  constexpr std::array kControl{4.17, 5.58, 5.18, 6.11, 4.50, 4.61, 5.17, 4.53, 5.33, 5.14};
  constexpr std::array kFirst{4.81, 4.17, 4.41, 3.59, 5.87, 3.83, 6.03, 4.89, 4.32, 4.69};
  constexpr std::array kSecond{6.31, 5.12, 5.54, 5.50, 5.37, 5.29, 4.92, 6.15, 5.80, 5.26};
  const auto drift = rating_drift(
      joined(joined(block_of(1, kControl), block_of(2, kFirst)), block_of(3, kSecond)));
  ASSERT_TRUE(drift);
  ASSERT_EQ(drift->blocks.size(), 3U);
  EXPECT_NEAR(drift->blocks[0].mean, 5.032, 5e-4);
  EXPECT_NEAR(drift->blocks[1].mean, 4.661, 5e-4);
  EXPECT_NEAR(drift->blocks[2].mean, 5.526, 5e-4);
  EXPECT_NEAR(drift->chance, 0.0159, 0.012);
}

// Of the 70 ways to part eight differences into two blocks of four, two lie as far apart as those
// that are all unlike: by counting 2/70.
TEST(RatingDrift, OfTwoBlocksIsTheShareOfTheOrders) {
  constexpr std::array<double, 4> kNone{};
  constexpr std::array<double, 4> kFive{5, 5, 5, 5};
  const auto drift = rating_drift(joined(block_of(1, kNone), block_of(4, kFive)));
  ASSERT_TRUE(drift);
  EXPECT_NEAR(drift->chance, 2.0 / 70, 0.016);
  EXPECT_LT(drift->chance, kDriftTold);
  EXPECT_EQ(drift->blocks[1], (BlockOffset{4, 5, 4}));
}

TEST(RatingDrift, IsCertainlyChanceWhereNothingChanges) {
  constexpr std::array<double, 5> kSame{5, 0, -5, 5, 0};
  const auto alike = rating_drift(joined(block_of(1, kSame), block_of(2, kSame)));
  ASSERT_TRUE(alike);
  EXPECT_DOUBLE_EQ(alike->chance, 1);
  constexpr std::array<double, 4> kThree{3, 3, 3, 3};
  EXPECT_DOUBLE_EQ(rating_drift(joined(block_of(1, kThree), block_of(2, kThree)))->chance, 1);
}

TEST(RatingDrift, LeavesOutBlocksOfFewPairsAndSaysNothingOfOne) {
  constexpr std::array<double, 4> kFour{0, 5, 0, 5};
  constexpr std::array<double, 3> kThree{20, 20, 20};
  EXPECT_FALSE(rating_drift(joined(block_of(1, kFour), block_of(2, kThree))));
  const auto drift =
      rating_drift(joined(joined(block_of(1, kFour), block_of(2, kThree)), block_of(3, kFour)));
  ASSERT_TRUE(drift);
  EXPECT_EQ(drift->blocks.size(), 2U);
  EXPECT_FALSE(rating_drift({}));
}

TEST(RatingDrift, IsTheSameWhateverTheOrderOfBlocks) {
  constexpr std::array<double, 5> kLow{0, -5, 0, 5, 0};
  constexpr std::array<double, 5> kHigh{5, 10, 0, 10, 5};
  const auto one = rating_drift(joined(block_of(1, kLow), block_of(2, kHigh)));
  const auto other = rating_drift(joined(block_of(2, kHigh), block_of(1, kLow)));
  ASSERT_TRUE(one && other);
  EXPECT_EQ(one->blocks, other->blocks);
  EXPECT_DOUBLE_EQ(one->chance, other->chance);
}

}  // namespace
}  // namespace ligule::checks
