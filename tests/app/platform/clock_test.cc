#include "app/platform/clock.h"

#include <gtest/gtest.h>

namespace ligule::platform {
namespace {

TEST(DrivenClock, StandsStillUntilTimePasses) {
  DrivenClock clock(1'700'000'000'000);
  EXPECT_EQ(clock.utc_ms(), 1'700'000'000'000);
  EXPECT_EQ(clock.steady_ms(), 0);
  clock.pass(2500);
  EXPECT_EQ(clock.utc_ms(), 1'700'000'002'500);
  EXPECT_EQ(clock.steady_ms(), 2500);
  EXPECT_TRUE(clock.driven());
}

TEST(RealClock, GoesByItselfOnly) {
  RealClock clock;
  const auto before = clock.steady_ms();
  clock.pass(1'000'000);
  EXPECT_LT(clock.steady_ms() - before, 100'000);
  EXPECT_GT(clock.utc_ms(), 1'700'000'000'000);  // later than 2023-11-14
  EXPECT_FALSE(clock.driven());
}

}  // namespace
}  // namespace ligule::platform
