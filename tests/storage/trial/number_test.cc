#include "storage/trial/number.h"

#include <gtest/gtest.h>

#include <bit>
#include <cmath>
#include <limits>
#include <random>

namespace ligule {
namespace {

TEST(ParseNumber, ReadsDecimals) {
  EXPECT_EQ(parse_number("12"), 12.0);
  EXPECT_EQ(parse_number("-0.5"), -0.5);
  EXPECT_EQ(parse_number("007.50"), 7.5);
  EXPECT_EQ(parse_number(".5"), 0.5);
  EXPECT_EQ(parse_number("5."), 5.0);
  EXPECT_EQ(parse_number("0.1"), 0.1);
}

TEST(ParseNumber, RefusesEverythingElse) {
  for (const char* text :
       {"",   "-",  ".",  "-.",  "1e3",   "1E3",   "0x1", "nan", "inf",    "-inf",
        "+1", " 1", "1 ", "1,5", "1'000", "1.2.3", "--1", "1-",  "twelve", "１"}) {
    const auto number = parse_number(text);
    ASSERT_FALSE(number.has_value()) << text;
    EXPECT_EQ(number.error().kind, ErrorKind::kInvalid);
    EXPECT_EQ(number.error().what, "'" + std::string(text) + "' is not a number");
  }
}

TEST(ParseNumber, RefusesWhatNoDoubleHolds) {
  EXPECT_FALSE(parse_number(std::string(400, '9')).has_value());
}

TEST(ParseInteger, ReadsDigitsOnly) {
  EXPECT_EQ(parse_integer("0"), 0);
  EXPECT_EQ(parse_integer("204"), 204);
  EXPECT_EQ(parse_integer("-3"), -3);
  EXPECT_EQ(parse_integer("9223372036854775807"), std::numeric_limits<std::int64_t>::max());
  for (const char* text : {"", "-", "+1", "1.0", " 1", "1 ", "1e2", "9223372036854775808", "x"}) {
    ASSERT_FALSE(parse_integer(text).has_value()) << text;
    EXPECT_EQ(parse_integer(text).error().kind, ErrorKind::kInvalid);
  }
}

TEST(FormatNumber, IsTheShortestTextThatReadsBack) {
  EXPECT_EQ(format_number(12), "12");
  EXPECT_EQ(format_number(0.1), "0.1");
  EXPECT_EQ(format_number(-0.0), "0");
  EXPECT_EQ(format_number(1e21), "1000000000000000000000");
  EXPECT_EQ(format_number(0.45359237), "0.45359237");
}

TEST(FormatNumber, EveryFiniteDoubleReadsBackBitForBit) {
  std::mt19937_64 random(11);
  int tried = 0;
  while (tried < 20'000) {
    const auto value = std::bit_cast<double>(random());
    if (!std::isfinite(value)) continue;
    ++tried;
    const auto again = parse_number(format_number(value));
    ASSERT_TRUE(again.has_value()) << format_number(value);
    ASSERT_EQ(*again, value);
  }
  for (const double value : {std::numeric_limits<double>::max(), std::numeric_limits<double>::min(),
                             std::numeric_limits<double>::denorm_min()})
    EXPECT_EQ(parse_number(format_number(value)), value);
}

TEST(FormatFixed, RoundsTheExactBinaryValue) {
  EXPECT_EQ(format_fixed(2.345, 2), "2.35") << "2.345 is stored a little above";
  EXPECT_EQ(format_fixed(1.005, 2), "1.00") << "1.005 is stored a little below";
  EXPECT_EQ(format_fixed(2.5, 0), "2") << "a tie goes to the even digit";
  EXPECT_EQ(format_fixed(3.5, 0), "4");
  EXPECT_EQ(format_fixed(12, 3), "12.000");
  EXPECT_EQ(format_fixed(-0.004, 2), "0.00") << "minus zero is shown as zero";
  EXPECT_EQ(format_fixed(-0.005001, 2), "-0.01");
}

}  // namespace
}  // namespace ligule
