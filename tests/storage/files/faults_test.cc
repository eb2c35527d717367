#include "storage/files/faults.h"

#include <gtest/gtest.h>

#include "storage/files/csv.h"

namespace ligule::files {
namespace {

TEST(Faults, AreToldUpToAsManyAsSomebodyMends) {
  Faults faults;
  for (std::size_t n = 1; n <= 3 * kMostFaults; ++n)
    add_fault(faults,
              {ErrorKind::kInvalid, "no number", "plots.csv line " + std::to_string(n), "mend"});
  ASSERT_EQ(faults.size(), kMostFaults + 1);
  EXPECT_EQ(faults[kMostFaults - 1].where, "plots.csv line 500");
  EXPECT_EQ(
      one_line(faults.back()),
      "plots.csv line 501: there are more faults than are told here (mend those that are told, "
      "then check again)");
}

TEST(Faults, OfATableOfThemAreNotAllTold) {
  std::string text = "a,b\n";
  for (int n = 0; n < 2'000; ++n) text += "1\n";
  const auto table = Table::parse(text, "t.csv");
  ASSERT_FALSE(table.has_value());
  EXPECT_EQ(table.error().size(), kMostFaults + 1);
}

// Proves: a line of commas is one fault, with quotes and without.
TEST(Faults, ARowOfMoreCellsThanATableHasIsOne) {
  const std::string most(9'999, ',');
  EXPECT_TRUE(parse_csv(most + "\n", "t.csv").has_value());
  EXPECT_TRUE(parse_csv("\"a\"" + most + "\n", "t.csv").has_value());
  for (const std::string& text : {"a\n" + most + ",\n", "a\n\"b\"" + most + ",\n"}) {
    const auto rows = parse_csv(text, "t.csv");
    ASSERT_FALSE(rows.has_value());
    EXPECT_EQ(one_line(rows.error()),
              "t.csv line 2: the row has more than 10000 cells (save the table as CSV, comma "
              "separated)");
  }
}

}  // namespace
}  // namespace ligule::files
