// Published examples: tests/published/seed_test.cc.
#include "storage/trial/seed.h"

#include <gtest/gtest.h>

namespace ligule {
namespace {

constexpr double kRelative = 1e-12;

TEST(Seed, SharesAreOfWeightAndHardSeedCountsWhereItIsWanted) {
  const SeedTest test{.germination = 80, .hard = 10, .purity = 50};
  EXPECT_DOUBLE_EQ(pure_live_share(test, LiveSeed::kGerminatedAndHard), 0.45);
  EXPECT_DOUBLE_EQ(pure_live_share(test, LiveSeed::kGerminatedOnly), 0.40);
}

TEST(Seed, UnitsOfSeedsAreExact) {
  EXPECT_NEAR(convert<SeedsPerKilogram>(SeedsPerPound(453592.37)).value(), 1e6, 1e6 * kRelative);
  EXPECT_NEAR(convert<SeedsPerSquareMetre>(SeedsPerSquareFoot(0.09290304)).value(), 1, kRelative);
}

// Proves: rate and area of two unit systems give one packet.
TEST(Seed, APacketIsTheSameInBothSystemsOfUnits) {
  const auto rate = sowing_rate("15", "lb/acre");
  ASSERT_TRUE(rate);
  const SquareMetres plot = area(convert<Metres>(Feet(20)), convert<Metres>(Feet(5)));
  const double grams = convert<Grams>(seed_for(*rate, plot)).value();
  EXPECT_NEAR(grams, 15.0 * 100 / 43560 * 453.59237, grams * kRelative);
  const auto metric = sowing_rate("20", "kg/ha");
  ASSERT_TRUE(metric);
  EXPECT_NEAR(convert<Grams>(seed_for(*metric, SquareMetres(10))).value(), 20, 20 * kRelative);
}

TEST(Seed, ARateIsANumberAboveZeroInOneOfTwoUnits) {
  for (const char* const number : {"", "0", "-3", "x", "1e3"})
    EXPECT_EQ(sowing_rate(number, "lb/acre").error().mend, "write a number above zero") << number;
  for (const char* const unit : {"", "lb", "g/m2", "lb/Acre"})
    EXPECT_EQ(sowing_rate("12", unit).error().mend, "use lb/acre or kg/ha") << unit;
  EXPECT_NEAR(rate_in(sowing_rate("12", "lb/acre").value(), "lb/acre"), 12, 12 * kRelative);
  EXPECT_NEAR(rate_in(sowing_rate("12", "kg/ha").value(), "kg/ha"), 12, 12 * kRelative);
}

TEST(Seed, WhatIsUsualIsSaidAsARangeOrAsOneRate) {
  SpeciesSeed seed{.species = "timothy", .usual_from = 8, .usual_to = 10, .unit = "lb/acre"};
  EXPECT_EQ(seed.usual(), "8 to 10 lb/acre");
  EXPECT_LT(seed.lowest().value(), seed.highest().value());
  seed.usual_to = 8;
  EXPECT_EQ(seed.usual(), "8 lb/acre");
}

}  // namespace
}  // namespace ligule
