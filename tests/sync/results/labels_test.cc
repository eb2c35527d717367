#include "sync/results/labels.h"

#include <gtest/gtest.h>

#include <array>
#include <cstdio>
#include <cstdlib>
#include <limits>
#include <string>

namespace ligule::results {
namespace {

TEST(Labels, ExactTextReadsBackAsTheSameNumber) {
  for (const double value : {0.1, 1.0 / 3.0, 1e-300, 1.7e308, 123456789.123456789, -2.5e-7,
                             std::numeric_limits<double>::denorm_min()}) {
    EXPECT_EQ(std::strtod(exact(value).c_str(), nullptr), value) << exact(value);
  }
  EXPECT_EQ(exact(10.0), "10");
  EXPECT_EQ(exact(-0.0), "0");
}

TEST(Labels, RoundedTextNeverShowsANegativeZero) {
  EXPECT_EQ(rounded(-0.04, 1), "0.0");
  EXPECT_EQ(rounded(-0.06, 1), "-0.1");
  EXPECT_EQ(rounded(6.387, 2), "6.39");
  EXPECT_EQ(rounded(-0.0, 2), "0.00");
  EXPECT_EQ(rounded(0.5, 0), "0");  // halves that are exact go to the even one
  EXPECT_EQ(rounded(2.5, 0), "2");
  EXPECT_EQ(rounded(999.9996, 3), "1000.000");
  EXPECT_EQ(rounded(1e300, 2).size(), 304U);
}

// The C library's own rounding, which is exact, of what tables print and of what lies near a half.
TEST(Labels, RoundedIsAsTheCLibraryRounds) {
  for (int i = -200'000; i < 200'000; i += 7) {
    for (const double number : {i / 997.0, i * 0.0005, i * 0.125, i * 12.345, i * 1e-9}) {
      for (const int decimals : {0, 1, 3, 6}) {
        std::array<char, 64> wanted{};
        std::snprintf(wanted.data(), wanted.size(), "%.*f", decimals, number);
        std::string text = wanted.data();
        if (text.starts_with('-') && text.find_first_not_of("-0.") == std::string::npos)
          text.erase(0, 1);
        ASSERT_EQ(rounded(number, decimals), text);
      }
    }
  }
}

TEST(Labels, DecimalsShowThreeDigitsOfTheMeanAndOneOfTheLsd) {
  EXPECT_EQ(decimals_for(6.67, 0.95), 2);
  EXPECT_EQ(decimals_for(13440.0, 1200.0), 0);
  EXPECT_EQ(decimals_for(85.0, std::nullopt), 1);
  EXPECT_EQ(decimals_for(0.02, std::nullopt), 4);
  EXPECT_EQ(decimals_for(100.0, 0.05), 2);
  EXPECT_EQ(decimals_for(0.0, 0.0), 2);
}

TEST(Labels, NumbersMustBeFiniteAndTakeUpTheWholeText) {
  EXPECT_EQ(number("1.5e3"), 1500.0);
  EXPECT_EQ(number("-0.25"), -0.25);
  for (const char* text : {"", "1,5", "1.5 ", "nan", "inf", "0x10", "1e999", "5 t", "--1"}) {
    EXPECT_FALSE(number(text)) << text;
  }
}

TEST(Labels, CuttingsSortAsNumbersOnlyWhereAllAre) {
  std::vector<std::string> numbers = {"10", "2", "1", "1.5"};
  sort_cuttings(numbers);
  EXPECT_EQ(numbers, (std::vector<std::string>{"1", "1.5", "2", "10"}));
  std::vector<std::string> mixed = {"2", "10", "b", "B"};
  sort_cuttings(mixed);
  EXPECT_EQ(mixed, (std::vector<std::string>{"10", "2", "B", "b"}));
}

TEST(Labels, CsvFieldsAreQuotedOnlyWhereTheyMustBe) {
  const std::vector<std::string> fields = {"a b", "c,d", "Say \"hi\"", "", "e\nf"};
  EXPECT_EQ(csv_line(fields), "a b,\"c,d\",\"Say \"\"hi\"\"\",,\"e\nf\"\n");
  CsvText text("one,two");
  for (const std::string& field : fields) text.add(field);
  text.end_line();
  text.add_count(7).add(std::optional<double>()).add(0.1).add(-0.0).add(-2.5e-7).add(1e300);
  text.end_line();
  EXPECT_EQ(std::move(text).take(), "one,two\n" + csv_line(fields) + "7,,0.1,0,-2.5e-07,1e+300\n");
}

}  // namespace
}  // namespace ligule::results
