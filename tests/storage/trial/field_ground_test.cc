#include "storage/trial/field_ground.h"

#include <gtest/gtest.h>

namespace ligule {
namespace {

// 3 rows of 4 plots of 20 x 5 ft, alleys of 4 ft, a border of 5 ft: 30 ft wide, 78 ft deep; the
// border is 30 x 78 - 20 x 68 square feet.
TEST(FieldGround, HasAlleysBetweenRowsAndABorderAroundAll) {
  Plan plan;
  plan.plot_length = {"20", "ft"};
  plan.plot_width = {"5", "ft"};
  plan.alley = {"4", "ft"};
  plan.border = {"5", "ft"};
  for (int row = 1; row <= 3; ++row)
    for (int column = 1; column <= 4; ++column)
      plan.plots.push_back({"1", row, "A", row, column, 0});
  const FieldGround ground = ground_of(plan);
  EXPECT_NEAR(convert<Feet>(ground.width).value(), 30, 1e-9);
  EXPECT_NEAR(convert<Feet>(ground.depth).value(), 78, 1e-9);
  EXPECT_NEAR(convert<SquareFeet>(ground.border).value(), 980, 1e-9);
  plan.border = {};
  EXPECT_EQ(ground_of(plan).border.value(), 0.0);
  EXPECT_NEAR(convert<Feet>(ground_of(plan).depth).value(), 68, 1e-9);
}

// Proves: a trial that begins at another row of the field takes no more ground.
TEST(FieldGround, IsThatOfTheTrialNotOfTheField) {
  Plan plan;
  plan.plot_length = {"20", "ft"};
  plan.plot_width = {"5", "ft"};
  for (int row = 41; row <= 43; ++row)
    for (int column = 9; column <= 12; ++column)
      plan.plots.push_back({"1", row, "A", row, column, 0});
  EXPECT_NEAR(convert<Feet>(ground_of(plan).width).value(), 20, 1e-9);
  EXPECT_NEAR(convert<Feet>(ground_of(plan).depth).value(), 60, 1e-9);
}

TEST(FieldGround, OfNothingIsNone) {
  const FieldGround ground = ground_of(Plan{});
  EXPECT_EQ(ground.width.value(), 0.0);
  EXPECT_EQ(ground.depth.value(), 0.0);
  EXPECT_EQ(ground.border.value(), 0.0);
}

}  // namespace
}  // namespace ligule
