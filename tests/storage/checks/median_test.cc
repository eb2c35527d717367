#include "storage/checks/median.h"

#include <gtest/gtest.h>

namespace ligule::checks {
namespace {

TEST(Median, IsTheMiddleOfNumbersInAnyOrder) {
  EXPECT_EQ(median({}), 0);
  EXPECT_EQ(median({3}), 3);
  EXPECT_EQ(median({9, 1, 5}), 5);
  EXPECT_EQ(median({4, 1, 3, 2}), 2.5);
}

}  // namespace
}  // namespace ligule::checks
