#include "app/touch/ramp.h"

#include <gtest/gtest.h>

#include <cmath>

#include "app/touch/theme.h"

namespace ligule::touch {
namespace {

// CIE L* of a colour, by its contrast with black (IEC 61966-2-1 luminance, CIE 15:2004; from
// memory).
double lightness(std::uint32_t rgb) {
  const double y = contrast(rgb, 0x000000) * 0.05 - 0.05;
  return y > 216.0 / 24389.0 ? 116.0 * std::cbrt(y) - 16.0 : y * 24389.0 / 27.0;
}

TEST(AmountRamp, BeginsAndEndsAtItsStopsAndIsHeldThere) {
  EXPECT_EQ(amount_rgb(0), 0x440154U);
  EXPECT_EQ(amount_rgb(0.5), 0x21918CU);
  EXPECT_EQ(amount_rgb(1), 0xFDE725U);
  EXPECT_EQ(amount_rgb(-3), 0x440154U);
  EXPECT_EQ(amount_rgb(7), 0xFDE725U);
}

// Proves: equal steps of the value are nearly equal steps of lightness, so that no part of the
// range looks larger than it is, and that grey alone tells them apart.
TEST(AmountRamp, LightnessRisesEvenly) {
  constexpr int kSteps = 20;
  const double whole = lightness(amount_rgb(1)) - lightness(amount_rgb(0));
  for (int n = 0; n < kSteps; ++n) {
    const double step = lightness(amount_rgb((n + 1.0) / kSteps)) -
                        lightness(amount_rgb(static_cast<double>(n) / kSteps));
    EXPECT_GT(step, 0.6 * whole / kSteps) << n;
    EXPECT_LT(step, 1.4 * whole / kSteps) << n;
  }
}

// Proves: a change as far to one side looks as large as to the other, and a larger one larger.
TEST(ChangeRamp, LightnessFallsEvenlyToBothSides) {
  constexpr int kSteps = 10;
  const double whole = lightness(change_rgb(0.5)) - lightness(change_rgb(0));
  for (int n = 0; n < kSteps; ++n) {
    const double near = 0.5 * n / kSteps;
    const double far = 0.5 * (n + 1.0) / kSteps;
    const double below = lightness(change_rgb(0.5 - near)) - lightness(change_rgb(0.5 - far));
    const double above = lightness(change_rgb(0.5 + near)) - lightness(change_rgb(0.5 + far));
    EXPECT_GT(below, 0.6 * whole / kSteps) << n;
    EXPECT_LT(below, 1.4 * whole / kSteps) << n;
    EXPECT_NEAR(below, above, 0.25 * whole / kSteps) << n;
  }
  EXPECT_EQ(change_rgb(-1), change_rgb(0));
}

}  // namespace
}  // namespace ligule::touch
