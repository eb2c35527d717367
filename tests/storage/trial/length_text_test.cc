#include "storage/trial/length_text.h"

#include <gtest/gtest.h>

#include <utility>

namespace ligule {
namespace {

TEST(LengthText, IsReadInTheUnitItSays) {
  const std::pair<const char*, double> lengths[] = {
      {"3 in", 3},    {"3", 3},       {"1/2 inch", 0.5}, {"1,5 in", 1.5},   {"2-3 in", 2},
      {"1 ft", 12},   {"2.54 cm", 1}, {"25.4mm", 1},     {"3 1/2 in", 3.5}, {"3 1/2", 3.5},
      {" 4 in. ", 4}, {"6\"", 6},     {"6 pulgadas", 6}};
  for (const auto& [text, inches] : lengths) {
    const auto read = inches_of(text, "in");
    ASSERT_TRUE(read) << text;
    EXPECT_NEAR(*read, inches, 1e-12) << text;
  }
  EXPECT_NEAR(inches_of("5.08", "cm").value_or(0), 2, 1e-12);
}

TEST(LengthText, OtherTextsAreNone) {
  for (const char* text : {"", "high", "3 lb", "in", "3 in high", "1/0 in", "2-", "3 1 in",
                           "3 1/0 in", "-3 in", "3.1.2"})
    EXPECT_FALSE(inches_of(text, "in")) << text;
  EXPECT_FALSE(inches_of("3", "acre"));
}

TEST(LengthText, OnlyABareNumberGetsAUnit) {
  EXPECT_EQ(with_unit("6", "in"), "6 in");
  EXPECT_EQ(with_unit("2-3", "cm"), "2-3 cm");
  EXPECT_EQ(with_unit("1,5", ""), "1,5");
  EXPECT_EQ(with_unit("15 cm", "in"), "15 cm");
}

}  // namespace
}  // namespace ligule
