#include "app/flow/odd.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

namespace ligule::flow {
namespace {

using testing::Each;
using testing::ElementsAre;
using testing::IsEmpty;

// By hand: median 3; distances 2 1 0 1 97, their median 1; z = 0.6745 x distance.
TEST(Odd, RobustZIsTakenFromTheMiddleDistance) {
  const std::vector<double> numbers{1, 2, 3, 4, 100};
  const auto z = robust_z(numbers);
  EXPECT_NEAR(z[0], -1.349, 1e-12);
  EXPECT_EQ(z[2], 0);
  EXPECT_NEAR(z[4], 97 * 0.6745, 1e-9);
  EXPECT_THAT(odd_ones(numbers), ElementsAre(false, false, false, false, true));
}

// 0.6745 x 5 = 3.3725 and 0.6745 x 6 = 4.047: the edge lies between.
TEST(Odd, LiesAboveTheStatedThreshold) {
  EXPECT_THAT(odd_ones(std::vector<double>{-1, -1, 0, 0, 1, 1, 5}), Each(false));
  EXPECT_TRUE(odd_ones(std::vector<double>{-1, -1, 0, 0, 1, 1, 6}).back());
  EXPECT_TRUE(odd_ones(std::vector<double>{-6, -1, -1, 0, 0, 1, 1}).front());
}

// Most plots changed by nothing: the mean distance stands in. By hand: mean distance 20 / 10 = 2,
// z = 20 / (1.2533 x 2) = 7.98.
TEST(Odd, WhereMostAreEqualTheMeanDistanceServes) {
  std::vector<double> numbers(10, 5);
  numbers[3] = 25;
  EXPECT_NEAR(robust_z(numbers)[3], 7.979, 1e-3);
  EXPECT_TRUE(odd_ones(numbers)[3]);
  EXPECT_FALSE(odd_ones(numbers)[0]);
}

TEST(Odd, NothingIsOddAmongEqualsOrAmongFew) {
  EXPECT_THAT(odd_ones(std::vector<double>(8, 2.5)), Each(false));
  EXPECT_THAT(odd_ones(std::vector<double>{1, 1, 1, 99}), Each(false));
  EXPECT_THAT(odd_ones({}), IsEmpty());
  EXPECT_THAT(robust_z({}), IsEmpty());
}

}  // namespace
}  // namespace ligule::flow
