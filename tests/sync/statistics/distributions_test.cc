#include "sync/statistics/distributions.h"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>
#include <numbers>

namespace ligule::statistics {
namespace {

constexpr double kInfinity = std::numeric_limits<double>::infinity();
constexpr double kNan = std::numeric_limits<double>::quiet_NaN();

// On one degree of freedom t is the Cauchy distribution, on two the quantile has a closed form.
TEST(Distributions, StudentQuantilesMeetTheirClosedForms) {
  EXPECT_NEAR(*t_quantile(0.75, 1.0), 1.0, 1e-14);
  EXPECT_NEAR(*t_quantile(0.975, 1.0), std::tan(std::numbers::pi * 0.475), 1e-12);
  EXPECT_NEAR(*t_quantile(0.975, 2.0), 0.95 * std::sqrt(2.0 / (1.0 - 0.95 * 0.95)), 1e-13);
  EXPECT_EQ(*t_quantile(0.5, 7.0), 0.0);
}

TEST(Distributions, TwoSidedQuantileCutsHalfOfAlphaFromEachEnd) {
  EXPECT_NEAR(*t_two_sided_quantile(0.05, 12.0), *t_quantile(0.975, 12.0), 1e-14);
  EXPECT_NEAR(*t_two_sided_tail(*t_two_sided_quantile(0.05, 12.0), 12.0), 0.05, 1e-15);
  EXPECT_EQ(*t_two_sided_tail(-2.0, 5.0), *t_two_sided_tail(2.0, 5.0));
}

TEST(Distributions, InfiniteDegreesOfFreedomAreTheNormalAndChiSquared) {
  // From memory: the normal 0.975 quantile.
  EXPECT_NEAR(*t_quantile(0.975, kInfinity), 1.959963984540054, 1e-14);
  EXPECT_NEAR(*f_quantile(0.95, 1.0, kInfinity), 1.959963984540054 * 1.959963984540054, 1e-12);
  EXPECT_NEAR(*f_upper_tail(3.0, 2.0, kInfinity), std::exp(-3.0), 1e-15);
}

TEST(Distributions, FOnTwoAndAnyDegreesHasAClosedFormTail) {
  // P(F > f) = (1 + 2 f / m)^(-m/2) on 2 and m degrees of freedom.
  EXPECT_NEAR(*f_upper_tail(2.5, 2.0, 6.0), std::pow(1.0 + 5.0 / 6.0, -3.0), 1e-15);
  EXPECT_EQ(*f_upper_tail(0.0, 3.0, 6.0), 1.0);
}

TEST(Distributions, FarTailsKeepTheirDigits) {
  const double expected = std::pow(1.0 + 2.0 * 1e3 / 400.0, -200.0);
  EXPECT_LT(expected, 1e-155);
  EXPECT_NEAR(*f_upper_tail(1e3, 2.0, 400.0) / expected, 1.0, 1e-12);
}

TEST(Distributions, QuestionsWithoutAnAnswerGiveNothing) {
  EXPECT_FALSE(t_quantile(0.0, 5.0));
  EXPECT_FALSE(t_quantile(1.0, 5.0));
  EXPECT_FALSE(t_quantile(0.975, 0.0));
  EXPECT_FALSE(t_quantile(0.975, kNan));
  EXPECT_FALSE(t_two_sided_quantile(0.05, -1.0));
  EXPECT_FALSE(t_two_sided_quantile(1.5, 4.0));
  EXPECT_FALSE(t_two_sided_tail(kNan, 4.0));
  EXPECT_FALSE(t_two_sided_tail(1.0, 0.0));
  EXPECT_FALSE(f_quantile(0.95, 0.0, 4.0));
  EXPECT_FALSE(f_quantile(0.95, kInfinity, 4.0));
  EXPECT_FALSE(f_quantile(kNan, 2.0, 4.0));
  EXPECT_FALSE(f_upper_tail(-1.0, 2.0, 4.0));
  EXPECT_FALSE(f_upper_tail(kInfinity, 2.0, 4.0));
  EXPECT_FALSE(f_upper_tail(1.0, 2.0, 0.0));
}

}  // namespace
}  // namespace ligule::statistics
