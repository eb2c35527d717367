#include "storage/checks/drying.h"

#include <gtest/gtest.h>

namespace ligule::checks {
namespace {

Kilograms as_grams(double weight) {
  return convert<Kilograms>(Grams(weight));
}

double loss(double before, double now, std::optional<double> fresh = {}, double tare = 0) {
  const auto of = fresh ? std::optional(as_grams(*fresh)) : std::nullopt;
  return loss_per_hundred(as_grams(before), as_grams(now), of, as_grams(tare)).value_or(-100);
}

// Saskatchewan, "Determining Moisture Content" (saskatchewan.ca): a sample of about 100 g is dried
// on until the loss between two weighings is less than 1 g.
TEST(ConstantWeight, LessThanOneGramOfAHundredIsDry) {
  EXPECT_NEAR(loss(36.0, 35.1, 100.0), 0.9, 1e-12);
  EXPECT_TRUE(is_constant(loss(36.0, 35.1, 100.0)));
  EXPECT_FALSE(is_constant(loss(36.0, 34.9, 100.0)));
  EXPECT_FALSE(is_constant(1.0)) << "1 g is not less than 1 g";
  EXPECT_TRUE(is_constant(0.999));
}

TEST(ConstantWeight, IsOfTheSampleNotOfItsBag) {
  // 400 g fresh in a bag of 20 g: 3.7 g of 380 g.
  EXPECT_NEAR(loss(120.0, 116.3, 400.0, 20.0), 100.0 * 3.7 / 380.0, 1e-12);
}

TEST(ConstantWeight, WithoutAFreshWeightTheEarlierWeighingStandsForIt) {
  EXPECT_NEAR(loss(120.0, 118.0, {}, 20.0), 2.0, 1e-12);
}

TEST(ConstantWeight, AGainIsNoLoss) {
  EXPECT_TRUE(is_constant(loss(120.0, 120.5, 400.0, 20.0)));
}

TEST(ConstantWeight, NothingIsKnownOfASampleOfNothing) {
  EXPECT_FALSE(loss_per_hundred(as_grams(20), as_grams(20), std::nullopt, as_grams(20)));
  EXPECT_FALSE(loss_per_hundred(as_grams(30), as_grams(20), as_grams(10), as_grams(20)));
}

TEST(Oven, UsualOnesAreNotRemarkedUpon) {
  for (const char* celsius : {"55", "60", "70", "100", "103", "105", ""})
    EXPECT_EQ(judge_oven(celsius, "48"), OvenFinding::kUsual) << celsius;
  EXPECT_EQ(judge_oven("60", "24"), OvenFinding::kUsual);
  EXPECT_EQ(judge_oven("", ""), OvenFinding::kUsual);
}

TEST(Oven, OthersAreUnusualOrImpossible) {
  for (const char* celsius : {"54.9", "70.1", "99", "106", "35", "110"})
    EXPECT_EQ(judge_oven(celsius, "48"), OvenFinding::kUnusual) << celsius;
  EXPECT_EQ(judge_oven("60", "23.5"), OvenFinding::kUnusual);
  for (const char* celsius : {"34.9", "110.1", "0"})
    EXPECT_EQ(judge_oven(celsius, "48"), OvenFinding::kImpossible) << celsius;
  EXPECT_EQ(judge_oven("60", "0"), OvenFinding::kImpossible);
  EXPECT_EQ(judge_oven("140", "10"), OvenFinding::kImpossible) << "degrees Fahrenheit";
}

TEST(Oven, WhatIsNoNumberIsSaid) {
  EXPECT_EQ(judge_oven("hot", "48"), OvenFinding::kNoNumber);
  EXPECT_EQ(judge_oven("60", "4.8.1"), OvenFinding::kNoNumber);
}

}  // namespace
}  // namespace ligule::checks
