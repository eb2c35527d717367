#include "storage/checks/rating_offset.h"

#include <gtest/gtest.h>

#include <cmath>
#include <vector>

namespace ligule::checks {
namespace {

// By hand: differences 6, 8, 2, 8 have mean 6 and squares 0 + 4 + 16 + 4 = 24, over 3.
TEST(RatingOffset, IsMeanAndSpreadOfTheDifferences) {
  const std::vector<RatedTwice> pairs{{50, 56}, {72, 80}, {33, 35}, {87, 95}};
  const auto offset = rating_offset(pairs);
  ASSERT_TRUE(offset);
  EXPECT_DOUBLE_EQ(offset->mean, 6);
  EXPECT_DOUBLE_EQ(offset->spread, std::sqrt(8.0));
  EXPECT_EQ(offset->pairs, 4U);
}

TEST(RatingOffset, IsBelowZeroWhereRatingsAreLow) {
  const std::vector<RatedTwice> pairs{{50, 45}, {70, 65}, {30, 25}};
  EXPECT_DOUBLE_EQ(rating_offset(pairs)->mean, -5);
  EXPECT_DOUBLE_EQ(rating_offset(pairs)->spread, 0);
}

TEST(RatingOffset, OfOneOrTwoSaysNothing) {
  const std::vector<RatedTwice> pairs{{50, 56}, {72, 80}};
  EXPECT_FALSE(rating_offset(pairs));
  EXPECT_FALSE(rating_offset({}));
}

}  // namespace
}  // namespace ligule::checks
