#include "storage/trial/soil_amount.h"

#include <gtest/gtest.h>

namespace ligule {
namespace {

std::optional<double> pounds(double ppm, std::optional<double> inches) {
  return in_soil_unit(ppm, "ppm", "lb/acre", inches);
}

TEST(SoilAmount, AFurrowSliceTakesTwiceThePpm) {
  // Penn State, soil test report for agronomic crops, agsci.psu.edu: "to convert ppm to lb/A
  // multiply ppm x 2". Farm Progress, "the case for parts per million": "20 ppm and 40 pounds per
  // acre are the same".
  EXPECT_EQ(pounds(20, std::nullopt), 40);
  EXPECT_EQ(pounds(20, 6), 40);
  EXPECT_EQ(pounds(20, 7), 40);
  EXPECT_EQ(in_soil_unit(40, "lb/acre", "ppm", 6.5), 20);
  EXPECT_EQ(in_soil_unit(40, "lb/acre", "mg/kg", std::nullopt), 20);
}

TEST(SoilAmount, AnotherLayerTakesTwoForEachSixInches) {
  // County of Merced, converter of soil nutrients, apps.co.merced.ca.us: "for each six-inch sample
  // depth, these values can be doubled"; 0' to 1' = 12", 0' to 3' = 36".
  EXPECT_EQ(pounds(10, 12), 40);
  EXPECT_EQ(pounds(10, 36), 120);
  EXPECT_EQ(pounds(9, 4), 12);
  EXPECT_EQ(in_soil_unit(120, "lb/acre", "ppm", 36), 10);
}

TEST(SoilAmount, FifteenAndEighteenCentimetresAreAFurrowSlice) {
  const auto taken_to = [](const char* depth, const char* unit) {
    return sampled_inches({"p", "1", "ppm", "", depth, unit, "", std::nullopt});
  };
  EXPECT_TRUE(is_furrow_slice(taken_to("15", "cm")));
  EXPECT_TRUE(is_furrow_slice(taken_to("18", "cm")));
  EXPECT_FALSE(is_furrow_slice(taken_to("14", "cm")));
  EXPECT_FALSE(is_furrow_slice(taken_to("19", "cm")));
  EXPECT_TRUE(is_furrow_slice(taken_to("5.9", "in")));
  EXPECT_FALSE(is_furrow_slice(taken_to("5.8", "in")));
  EXPECT_TRUE(is_furrow_slice(taken_to("7.1", "in")));
  EXPECT_FALSE(is_furrow_slice(taken_to("7.2", "in")));
  for (const auto& [depth, unit] :
       {std::pair{"", "in"}, {"0", "in"}, {"-6", "in"}, {"six", "in"}, {"6", ""}, {"6", "yd"}})
    EXPECT_EQ(taken_to(depth, unit), std::nullopt) << depth << unit;
}

TEST(SoilAmount, MilligramsAKilogramArePpmAndHectaresAreExact) {
  EXPECT_EQ(in_soil_unit(41, "mg/kg", "ppm", 4), 41);
  EXPECT_EQ(in_soil_unit(41, "mg/kg", "lb/acre", std::nullopt), 82);
  // 1 lb/acre = 1.120851 kg/ha: NIST Special Publication 811, appendix B.8.
  EXPECT_NEAR(in_soil_unit(112.0851, "kg/ha", "lb/acre", 4).value(), 100, 1e-4);
  EXPECT_NEAR(in_soil_unit(100, "lb/acre", "kg/ha", 4).value(), 112.0851, 1e-4);
  EXPECT_NEAR(in_soil_unit(112.0851, "kg/ha", "ppm", 6).value(), 50, 1e-4);
}

TEST(SoilAmount, UnitsOfTwoKindsDoNotGoIntoOneAnother) {
  EXPECT_EQ(in_soil_unit(3, "%", "%", std::nullopt), 3);
  EXPECT_EQ(in_soil_unit(3, "%", "ppm", std::nullopt), std::nullopt);
  EXPECT_EQ(in_soil_unit(3, "", "lb/acre", std::nullopt), std::nullopt);
  EXPECT_EQ(in_soil_unit(3, "ppm", "%", std::nullopt), std::nullopt);
}

}  // namespace
}  // namespace ligule
