#include "storage/checks/limits.h"

#include <gtest/gtest.h>

namespace ligule::checks {
namespace {

Scale mass_scale() {
  Scale scale;
  scale.code = "plot_weight";
  scale.kind = ScaleKind::kMass;
  scale.units = {"kg", "lb"};
  scale.minimum = 0.0;
  scale.maximum = 45.359237;
  return scale;
}

TEST(Bounds, OfAnAmountAreGivenInTheUnitAskedFor) {
  const auto own = bounds_of(mass_scale(), "");
  ASSERT_TRUE(own);
  EXPECT_EQ(*own, (Bounds{0.0, 45.359237, "kg"}));
  // 1 lb = 0.45359237 kg exactly (international avoirdupois pound, 1959).
  const auto pounds = bounds_of(mass_scale(), "lb");
  ASSERT_TRUE(pounds);
  EXPECT_DOUBLE_EQ(pounds->highest.value_or(0), 100.0);
  EXPECT_EQ(pounds->unit, "lb");
}

TEST(Bounds, OfALengthAreConverted) {
  Scale scale = mass_scale();
  scale.kind = ScaleKind::kLength;
  scale.units = {"cm", "in"};
  scale.maximum = 60.96;
  const auto inches = bounds_of(scale, "in");
  ASSERT_TRUE(inches);
  EXPECT_DOUBLE_EQ(inches->highest.value_or(0), 24.0);  // 1 in = 2.54 cm exactly
}

TEST(Bounds, WithoutAnUpperEndStayOpen) {
  Scale scale = mass_scale();
  scale.maximum.reset();
  const auto bounds = bounds_of(scale, "lb");
  ASSERT_TRUE(bounds);
  EXPECT_FALSE(bounds->highest);
}

TEST(Bounds, OfStepsAreTheFirstAndTheLast) {
  Scale scale;
  scale.code = "seedling_vigor";
  scale.kind = ScaleKind::kScore;
  scale.steps = {{"1", 1, "weakest"}, {"5", 5, "strongest"}};
  const auto bounds = bounds_of(scale, "");
  ASSERT_TRUE(bounds);
  EXPECT_EQ(*bounds, (Bounds{1.0, 5.0, ""}));
}

TEST(Bounds, OfAScoreWithoutStepsAreOpen) {
  Scale scale;
  scale.kind = ScaleKind::kStages;
  const auto bounds = bounds_of(scale, "");
  ASSERT_TRUE(bounds);
  EXPECT_FALSE(bounds->lowest);
}

TEST(Bounds, OfAPercentAreItsOwn) {
  Scale scale;
  scale.code = "percent_stand";
  scale.kind = ScaleKind::kPercent;
  scale.units = {"%"};
  scale.minimum = 0;
  scale.maximum = 100;
  const auto bounds = bounds_of(scale, "%");
  ASSERT_TRUE(bounds);
  EXPECT_EQ(*bounds, (Bounds{0.0, 100.0, "%"}));
}

TEST(Bounds, OfWordsAndLabelsAreOpen) {
  for (const ScaleKind kind : {ScaleKind::kText, ScaleKind::kLabel}) {
    Scale scale;
    scale.kind = kind;
    const auto bounds = bounds_of(scale, "");
    ASSERT_TRUE(bounds);
    EXPECT_EQ(*bounds, Bounds{});
  }
}

TEST(Bounds, OfAUnitTheScaleDoesNotTakeAreInvalid) {
  const auto other = bounds_of(mass_scale(), "cm");
  ASSERT_FALSE(other);
  EXPECT_EQ(other.error().kind, ErrorKind::kInvalid);
  Scale words;
  words.kind = ScaleKind::kText;
  const auto unitless = bounds_of(words, "kg");
  ASSERT_FALSE(unitless);
  EXPECT_EQ(unitless.error().kind, ErrorKind::kInvalid);
}

TEST(Bounds, OfAScaleWhoseUnitNobodyKnowsAreInvalid) {
  Scale scale = mass_scale();
  scale.units = {"stone", "kg"};
  const auto from_unknown = bounds_of(scale, "kg");
  ASSERT_FALSE(from_unknown);
  EXPECT_EQ(from_unknown.error().kind, ErrorKind::kInvalid);
  scale.units = {"kg", "stone"};
  EXPECT_FALSE(bounds_of(scale, "stone"));
  scale.kind = ScaleKind::kLength;
  scale.units = {"rod", "cm"};
  EXPECT_FALSE(bounds_of(scale, "cm"));
  scale.units = {"cm", "rod"};
  EXPECT_FALSE(bounds_of(scale, "rod"));
}

}  // namespace
}  // namespace ligule::checks
