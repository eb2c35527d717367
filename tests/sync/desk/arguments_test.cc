#include "sync/desk/arguments.h"

#include <gtest/gtest.h>

namespace ligule::desk {
namespace {

TEST(Arguments, GivesBackWhatWasGiven) {
  Arguments arguments;
  arguments.add("FILE", "a");
  arguments.add("FILE", "b");
  arguments.add("--flag", "");
  EXPECT_EQ(arguments.all("FILE"), (std::vector<std::string>{"a", "b"}));
  EXPECT_EQ(arguments.text("FILE"), "b");
  EXPECT_TRUE(arguments.has("--flag"));
  EXPECT_FALSE(arguments.has("--other"));
  EXPECT_FALSE(arguments.find("--other"));
  EXPECT_EQ(arguments.text("--other"), "");
  EXPECT_TRUE(arguments.all("--other").empty());
}

TEST(Arguments, WholeNumbersStayInTheirRange) {
  Arguments arguments;
  EXPECT_EQ(arguments.whole_number("--n", 1, 9).value(), std::nullopt);
  arguments.add("--n", "9");
  EXPECT_EQ(arguments.whole_number("--n", 1, 9).value(), 9);
  for (const char* wrong : {"0", "10", "2.5", "two", "", "3 "}) {
    arguments.add("--n", wrong);
    const auto number = arguments.whole_number("--n", 1, 9);
    ASSERT_FALSE(number) << wrong;
    EXPECT_EQ(number.error().mend, "give a whole number from 1 to 9");
  }
}

}  // namespace
}  // namespace ligule::desk
