// Codes for a scanner: their form. Whether one is read: tests/app/program/key_code_test.cc.
#include "app/work/dot_code.h"

#include <gtest/gtest.h>

#include <string>

namespace ligule::work {
namespace {

bool dark(const flow::DotCode& code, std::size_t row, std::size_t column) {
  return code.dark.at(row * code.side + column);
}

// ISO/IEC 18004 6.3.3 (from memory): three finder patterns of 7 x 7, dark at their edges, light one
// module in, dark 3 x 3 in the middle; none in the fourth corner. Sides are 21, 25, 29 ...
TEST(DotCode, HasTheFormOfItsStandard) {
  const auto code = dot_code("ligule-key RWQ North 1");
  ASSERT_TRUE(code);
  EXPECT_EQ(code->side, 25U);
  EXPECT_EQ(code->dark.size(), code->side * code->side);
  const std::size_t far = code->side - 7;
  for (const auto& [top, left] : {std::pair<std::size_t, std::size_t>{0, 0}, {0, far}, {far, 0}}) {
    for (std::size_t row = 0; row < 7; ++row)
      for (std::size_t column = 0; column < 7; ++column) {
        const std::size_t in = std::min({row, column, 6 - row, 6 - column});
        EXPECT_EQ(dark(*code, top + row, left + column), in != 1) << row << " " << column;
      }
  }
}

TEST(DotCode, HoldsWhatItCanAndNoMore) {
  const auto most = dot_code(std::string(2331, 'x'));
  ASSERT_TRUE(most);
  EXPECT_EQ(most->side, 177U);
  for (const std::string& text : {std::string(2332, 'x'), std::string()}) {
    const auto none = dot_code(text);
    ASSERT_FALSE(none);
    EXPECT_EQ(none.error().kind, ErrorKind::kInvalid);
  }
}

}  // namespace
}  // namespace ligule::work
