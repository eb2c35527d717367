#include "app/platform/power.h"

#include <SDL.h>
#include <gtest/gtest.h>

namespace ligule::platform {
namespace {

TEST(Power, IsTakenAsSdlTellsIt) {
  EXPECT_EQ(power_of(SDL_POWERSTATE_ON_BATTERY, 42), (Power{42, false}));
  EXPECT_EQ(power_of(SDL_POWERSTATE_ON_BATTERY, 0), (Power{0, false}));
  EXPECT_EQ(power_of(SDL_POWERSTATE_CHARGING, 42), (Power{42, true}));
  EXPECT_EQ(power_of(SDL_POWERSTATE_CHARGED, 100), (Power{100, true}));
}

TEST(Power, WithoutABatteryOrAFigureSaysNothing) {
  EXPECT_EQ(power_of(SDL_POWERSTATE_NO_BATTERY, 42), Power{});
  EXPECT_EQ(power_of(SDL_POWERSTATE_UNKNOWN, 42), Power{});
  EXPECT_EQ(power_of(SDL_POWERSTATE_ON_BATTERY, -1), (Power{std::nullopt, false}));
  EXPECT_EQ(power_of(SDL_POWERSTATE_ON_BATTERY, 101), (Power{std::nullopt, false}));
}

// Whatever this machine has: the answer keeps to its range.
TEST(Power, OfThisMachineKeepsToItsRange) {
  const Power power = power_now();
  EXPECT_GE(power.percent.value_or(0), 0);
  EXPECT_LE(power.percent.value_or(0), 100);
}

}  // namespace
}  // namespace ligule::platform
