#include "storage/trial/yield.h"

#include <gtest/gtest.h>

#include <limits>

namespace ligule {
namespace {

constexpr double kNotANumber = std::numeric_limits<double>::quiet_NaN();

TEST(DryMatterFraction, IsDryOverFreshLessTheBag) {
  const auto fraction = dry_matter_fraction(Kilograms(0.512), Kilograms(0.112), Kilograms(0.012));
  ASSERT_TRUE(fraction.has_value());
  EXPECT_DOUBLE_EQ(fraction->value(), 0.2);
  EXPECT_DOUBLE_EQ(fraction->percent(), 20);
  EXPECT_DOUBLE_EQ(fraction->moisture_percent(), 80);
}

TEST(DryMatterFraction, MayBeOneAndNeedNotHaveABag) {
  EXPECT_EQ(dry_matter_fraction(Kilograms(1), Kilograms(1), Kilograms(0))->value(), 1.0);
}

TEST(DryMatterFraction, RefusesWhatCannotBeMeant) {
  const struct {
    double fresh, dry, tare;
    const char* what;
  } cases[] = {
      {0.5, 0.1, -0.01, "the bag's tare is below zero"},
      {0.01, 0.1, 0.01, "the fresh sample weighs no more than its bag"},
      {kNotANumber, 0.1, 0.01, "the fresh sample weighs no more than its bag"},
      {0.5, 0.01, 0.01, "the dried sample weighs no more than its bag"},
      {0.5, 0.005, 0.01, "the dried sample weighs no more than its bag"},
      {0.5, kNotANumber, 0.01, "the dried sample weighs no more than its bag"},
      {0.5, 0.501, 0.01, "the dried sample weighs more than the fresh one"},
  };
  for (const auto& c : cases) {
    const auto fraction =
        dry_matter_fraction(Kilograms(c.fresh), Kilograms(c.dry), Kilograms(c.tare));
    ASSERT_FALSE(fraction.has_value()) << c.what;
    EXPECT_EQ(fraction.error().kind, ErrorKind::kRefused);
    EXPECT_EQ(fraction.error().what, c.what);
    EXPECT_FALSE(fraction.error().mend.empty());
  }
}

TEST(DryMatterYield, IsNetTimesFractionPerArea) {
  const auto yield = dry_matter_yield(Kilograms(12), DryMatterFraction(0.25), SquareMetres(6));
  ASSERT_TRUE(yield.has_value());
  EXPECT_DOUBLE_EQ(yield->value(), 5000);
}

TEST(DryMatterYield, NothingAboveTheBarIsZero) {
  EXPECT_EQ(dry_matter_yield(Kilograms(0), DryMatterFraction(0.25), SquareMetres(6))->value(), 0);
}

TEST(DryMatterYield, RefusesNegativeWeightsAndNoArea) {
  const auto yield = [](double net, double square_metres) {
    return dry_matter_yield(Kilograms(net), DryMatterFraction(0.2), SquareMetres(square_metres));
  };
  for (const double net : {-0.001, kNotANumber}) {
    ASSERT_FALSE(yield(net, 6).has_value()) << net;
    EXPECT_EQ(yield(net, 6).error().kind, ErrorKind::kRefused);
    EXPECT_EQ(yield(net, 6).error().what, "the plot weighs less than its tare");
  }
  for (const double square_metres : {0.0, -6.0, kNotANumber}) {
    ASSERT_FALSE(yield(3, square_metres).has_value()) << square_metres;
    EXPECT_EQ(yield(3, square_metres).error().what, "the harvested area is not above zero");
  }
}

}  // namespace
}  // namespace ligule
