#include "storage/trial/utf8.h"

#include <gtest/gtest.h>

#include <string>

namespace ligule {
namespace {

std::string encoded(unsigned point) {
  const auto byte = [](unsigned value) {
    return static_cast<char>(static_cast<unsigned char>(value));
  };
  if (point < 0x80) return {byte(point)};
  if (point < 0x800) return {byte(0xc0U | (point >> 6U)), byte(0x80U | (point & 0x3fU))};
  if (point < 0x10000)
    return {byte(0xe0U | (point >> 12U)), byte(0x80U | ((point >> 6U) & 0x3fU)),
            byte(0x80U | (point & 0x3fU))};
  return {byte(0xf0U | (point >> 18U)), byte(0x80U | ((point >> 12U) & 0x3fU)),
          byte(0x80U | ((point >> 6U) & 0x3fU)), byte(0x80U | (point & 0x3fU))};
}

TEST(Utf8, EveryScalarValueIsValidAndNothingElse) {
  for (unsigned point = 0; point <= 0x120000; ++point) {
    const bool scalar = point <= 0x10ffff && (point < 0xd800 || point > 0xdfff);
    ASSERT_EQ(is_valid_utf8(encoded(point)), scalar) << std::hex << point;
  }
}

// RFC 3629 section 3 and 10: overlong forms, lone continuation bytes, cut sequences.
TEST(Utf8, RefusesWhatTheStandardForbids) {
  for (const char* text :
       {"\xc0\xaf", "\xc1\xbf", "\xe0\x80\xaf", "\xe0\x9f\xbf", "\xf0\x80\x80\xaf",
        "\xf0\x8f\xbf\xbf", "\x80", "\xbf", "\xc3", "\xe2\x82", "\xf0\x9f\x8c", "\xf5\x80\x80\x80",
        "\xff", "a\xc3z", "\xed\xa0\x80"}) {
    EXPECT_FALSE(is_valid_utf8(text));
  }
  EXPECT_TRUE(is_valid_utf8(""));
  EXPECT_TRUE(is_valid_utf8(std::string("a\0b", 3)));
}

TEST(Utf8, EachBadByteBecomesTheReplacementCharacter) {
  EXPECT_EQ(with_valid_utf8("a\xffz"), "a\xEF\xBF\xBDz");
  EXPECT_EQ(with_valid_utf8("\xe2\x82"), "\xEF\xBF\xBD\xEF\xBF\xBD");
  EXPECT_EQ(with_valid_utf8("trébol"), "trébol");
}

}  // namespace
}  // namespace ligule
