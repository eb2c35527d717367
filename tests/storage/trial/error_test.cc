#include "storage/trial/error.h"

#include <gtest/gtest.h>

namespace ligule {
namespace {

TEST(Error, OneLineNamesWhereWhatAndHowToMend) {
  const Error error{ErrorKind::kInvalid, "plot 204 stands twice", "plots.csv line 9",
                    "keep one of them"};
  EXPECT_EQ(one_line(error), "plots.csv line 9: plot 204 stands twice (keep one of them)");
}

TEST(Error, OneLineStaysOneLineWhateverTheFileHeld) {
  EXPECT_EQ(one_line({ErrorKind::kInvalid, "a\nb\tc", "", ""}), "a b c");
}

}  // namespace
}  // namespace ligule
