#include "storage/files/csv.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <random>

namespace ligule::files {
namespace {

using testing::ElementsAre;
using testing::ElementsAreArray;
using testing::HasSubstr;

std::vector<CsvRow> rows_of(std::string_view text) {
  const auto rows = parse_csv(text, "t.csv");
  EXPECT_TRUE(rows.has_value()) << one_line(rows.error());
  return rows.value_or(std::vector<CsvRow>{});
}

TEST(ParseCsv, ReadsTheExamplesOfRfc4180) {
  // RFC 4180 section 2, rules 1, 2, 5, 6 and 7.
  EXPECT_THAT(rows_of("aaa,bbb,ccc\r\nzzz,yyy,xxx\r\n"),
              ElementsAre(CsvRow{1, {"aaa", "bbb", "ccc"}}, CsvRow{2, {"zzz", "yyy", "xxx"}}));
  EXPECT_THAT(rows_of("aaa,bbb,ccc\r\nzzz,yyy,xxx"),
              ElementsAre(CsvRow{1, {"aaa", "bbb", "ccc"}}, CsvRow{2, {"zzz", "yyy", "xxx"}}));
  EXPECT_THAT(rows_of("\"aaa\",\"bbb\",\"ccc\"\r\nzzz,yyy,xxx"),
              ElementsAre(CsvRow{1, {"aaa", "bbb", "ccc"}}, CsvRow{2, {"zzz", "yyy", "xxx"}}));
  EXPECT_THAT(rows_of("\"aaa\",\"b\r\nbb\",\"ccc\"\r\nzzz,yyy,xxx"),
              ElementsAre(CsvRow{1, {"aaa", "b\r\nbb", "ccc"}}, CsvRow{3, {"zzz", "yyy", "xxx"}}));
  EXPECT_THAT(rows_of("\"aaa\",\"b\"\"bb\",\"ccc\""),
              ElementsAre(CsvRow{1, {"aaa", "b\"bb", "ccc"}}));
}

TEST(ParseCsv, CountsPhysicalLinesAcrossBlankLinesAndEveryKindOfLineEnd) {
  EXPECT_THAT(rows_of("a\n\n\nb\r\n\r\nc\rd"),
              ElementsAre(CsvRow{1, {"a"}}, CsvRow{4, {"b"}}, CsvRow{6, {"c"}}, CsvRow{7, {"d"}}));
  EXPECT_THAT(rows_of("\n\"x\n\ny\"\nz\n"), ElementsAre(CsvRow{2, {"x\n\ny"}}, CsvRow{5, {"z"}}));
}

TEST(ParseCsv, KeepsBlanksAndEmptyCells) {
  EXPECT_THAT(rows_of(" a ,, b\n,\n"),
              ElementsAre(CsvRow{1, {" a ", "", " b"}}, CsvRow{2, {"", ""}}));
}

TEST(ParseCsv, DropsAByteOrderMark) {
  EXPECT_THAT(rows_of("\xEF\xBB\xBFplot\n1\n"), ElementsAre(CsvRow{1, {"plot"}}, CsvRow{2, {"1"}}));
}

TEST(ParseCsv, AnEmptyTextHasNoRows) {
  EXPECT_THAT(rows_of(""), ElementsAre());
  EXPECT_THAT(rows_of("\r\n\n"), ElementsAre());
}

TEST(ParseCsv, RefusesWithTheLineAtFault) {
  const struct {
    const char* text;
    const char* where;
    const char* what;
  } cases[] = {
      {"a,b\nc\"d,e\n", "t.csv line 2", "quote stands"},
      {"a\n\"b\"c\n", "t.csv line 2", "quote stands"},
      {"a\nb\n\"c\nd\n", "t.csv line 3", "never closed"},
      {"a\n\xff\n", "t.csv line 2", "not UTF-8"},
      {"\xff\xfe\x61", "t.csv line 1", "not UTF-8"},
      {"a\nb\x01\n", "t.csv line 2", "control character"},
      {"a\nb\x7f\n", "t.csv line 2", "control character"},
  };
  for (const auto& c : cases) {
    const auto rows = parse_csv(c.text, "t.csv");
    ASSERT_FALSE(rows.has_value()) << c.text;
    EXPECT_EQ(rows.error().kind, ErrorKind::kInvalid);
    EXPECT_EQ(rows.error().where, c.where) << c.text;
    EXPECT_THAT(rows.error().what, HasSubstr(c.what));
    EXPECT_FALSE(rows.error().mend.empty());
  }
}

TEST(ParseCsv, RefusesANulByte) {
  const auto rows = parse_csv(std::string_view("a\0b", 3), "t.csv");
  ASSERT_FALSE(rows.has_value());
  EXPECT_THAT(rows.error().what, HasSubstr("control character"));
}

// Rows with and without quotes go two ways; each must leave the other's lines and cells alone.
TEST(ParseCsv, LinesWithAndWithoutQuotesMayTakeTurns) {
  EXPECT_THAT(rows_of("a,b\n\"c,1\",d\ne,f\n\"g\n,\n\"\"h\",\ni\n\n\"\"\n,\"j\""),
              ElementsAre(CsvRow{1, {"a", "b"}}, CsvRow{2, {"c,1", "d"}}, CsvRow{3, {"e", "f"}},
                          CsvRow{4, {"g\n,\n\"h", ""}}, CsvRow{7, {"i"}}, CsvRow{9, {""}},
                          CsvRow{10, {"", "j"}}));
  EXPECT_THAT(rows_of("\"a\rb\"\rc\r\n"), ElementsAre(CsvRow{1, {"a\rb"}}, CsvRow{3, {"c"}}));
  EXPECT_THAT(rows_of("\xC3\xA9t\xC3\xA9,1\n"), ElementsAre(CsvRow{1, {"\xC3\xA9t\xC3\xA9", "1"}}));
}

// All that a reader gives, as rows.
std::vector<CsvRow> read_one_by_one(const std::string& text) {
  CsvReader reader(text, "t.csv");
  std::vector<CsvRow> rows;
  for (;;) {
    const auto row = reader.next();
    if (!row || !*row) {
      EXPECT_TRUE(row) << text;
      return rows;
    }
    rows.push_back({(*row)->line, {(*row)->cells.begin(), (*row)->cells.end()}});
  }
}

TEST(CsvReader, GivesTheRowsOfParseCsv) {
  for (const std::string text :
       {"a,b\n\"c,1\",d\r\ne, f\n\n\"g\nh\",\"\"\"\"\n", "", "a", "\n\na\n\"b\"", ",\n"})
    EXPECT_EQ(read_one_by_one(text), parse_csv(text, "t.csv").value()) << text;
  CsvReader faulty("a\nc\"d\n", "t.csv");
  ASSERT_TRUE(faulty.next());
  EXPECT_EQ(faulty.next().error().where, "t.csv line 2");
}

TEST(CsvReader, TellsWhatIsLeft) {
  CsvReader reader("a,b\r\n\n\"c\nd\",e\nf", "t.csv");
  ASSERT_TRUE(reader.next().value());
  EXPECT_EQ(reader.rest(), "\n\"c\nd\",e\nf");
  EXPECT_EQ(reader.lines(), 1U);
  EXPECT_EQ(reader.next().value()->line, 3U);
  EXPECT_EQ(reader.rest(), "f");
  EXPECT_EQ(reader.lines(), 4U);
  EXPECT_THAT(reader.next().value()->cells, ElementsAre("f"));
  EXPECT_FALSE(reader.next().value());
}

TEST(CsvReader, LeavesAByteOrderMarkToTheCaller) {
  EXPECT_EQ(without_byte_order_mark("\xEF\xBB\xBF"
                                    "a"),
            "a");
  EXPECT_EQ(without_byte_order_mark("a"), "a");
}

TEST(Table, GivesRowsByColumnName) {
  const auto table = Table::parse("plot , entry\n101,A\n102,B\n,\n", "plots.csv");
  ASSERT_TRUE(table.has_value());
  EXPECT_THAT(table->columns(), ElementsAre("plot", "entry"));
  ASSERT_EQ(table->rows().size(), 2U) << "the row of empty cells is no row";
  EXPECT_EQ(table->find_column("entry"), 1U);
  EXPECT_EQ(table->find_column("row"), std::nullopt);
  EXPECT_EQ(table->place(table->rows()[1], "entry"), "plots.csv line 3, column entry");
}

TEST(Table, ListsEveryFaultOfHeaderAndRowsAtOnce) {
  const auto table = Table::parse("plot,plot,\n1,2\n1,2,3\n1,2,3,4\n", "plots.csv");
  ASSERT_FALSE(table.has_value());
  std::vector<std::string> lines;
  for (const Error& fault : table.error()) lines.push_back(one_line(fault));
  EXPECT_THAT(lines, ElementsAre(HasSubstr("plots.csv line 1: column plot stands twice"),
                                 HasSubstr("plots.csv line 1: column 3 has no name"),
                                 HasSubstr("plots.csv line 2: the row has 2 cells, the header 3"),
                                 HasSubstr("plots.csv line 4: the row has 4 cells, the header 3")));
}

TEST(Table, DropsTheBlankMarginsThatSpreadsheetsLeave) {
  const auto table = Table::parse("plot,entry,, \n101,A,,\n , ,\t,\n102,,,,\n", "plots.csv");
  ASSERT_TRUE(table.has_value()) << one_line(table.error().front());
  EXPECT_THAT(table->columns(), ElementsAre("plot", "entry"));
  ASSERT_EQ(table->rows().size(), 2U);
  EXPECT_THAT(table->rows()[0].cells, ElementsAre("101", "A"));
  EXPECT_THAT(table->rows()[1].cells, ElementsAre("102", ""));
}

TEST(Table, KeepsAValueInAColumnWithoutANameAsAFault) {
  const auto table = Table::parse("plot,entry,,\n101,A,,\n102,B,x,\n", "plots.csv");
  ASSERT_FALSE(table.has_value());
  EXPECT_THAT(one_line(table.error().front()), HasSubstr("line 1: column 3 has no name"));
  const auto beyond = Table::parse("plot,entry\n101,A\n102,B,x,\n", "plots.csv");
  ASSERT_FALSE(beyond.has_value());
  EXPECT_THAT(one_line(beyond.error().front()), HasSubstr("line 3: the row has 3 cells"));
}

TEST(Table, SaysWhenTheSeparatorIsNoComma) {
  for (const char* text : {"plot;entry\n1;A\n", "plot\tentry\n1\tA,B\n"}) {
    const auto table = Table::parse(text, "plots.csv");
    ASSERT_FALSE(table.has_value());
    ASSERT_EQ(table.error().size(), 1U);
    EXPECT_THAT(table.error()[0].what, HasSubstr("not separated by commas"));
  }
}

TEST(Table, RefusesATextWithoutAHeader) {
  for (const char* text : {"", "\n", ",,\n,,\n"}) {
    const auto table = Table::parse(text, "plots.csv");
    ASSERT_FALSE(table.has_value());
    EXPECT_THAT(table.error()[0].what, HasSubstr("table is empty"));
  }
}

TEST(Table, PassesOnWhatTheReaderRefuses) {
  const auto table = Table::parse("a\n\"", "plots.csv");
  ASSERT_FALSE(table.has_value());
  EXPECT_EQ(table.error()[0].where, "plots.csv line 2");
}

TEST(CsvText, QuotesOnlyWhereNeededAndEndsLinesWithCrLf) {
  const std::vector<std::string> columns{"plot", "note"};
  const std::vector<std::vector<std::string>> rows{
      {"1", "wet, low"}, {"2", "said \"dry\""}, {"3", " x"}};
  EXPECT_EQ(csv_text(columns, rows),
            "plot,note\r\n1,\"wet, low\"\r\n2,\"said \"\"dry\"\"\"\r\n3, x\r\n");
}

TEST(CsvText, ReadsBackToTheSameCells) {
  std::mt19937 random(7);
  const std::string letters = "ab ,\";=é\t";
  for (int round = 0; round < 300; ++round) {
    const std::vector<std::string> columns{"one", "two", "three"};
    std::vector<std::vector<std::string>> rows(1 + random() % 4);
    for (auto& row : rows) {
      for (int i = 0; i < 3; ++i) {
        std::string cell = i == 0 ? "x" : "";  // no row of empty cells
        for (std::size_t n = random() % 5; n > 0; --n) {
          const char c = letters[random() % (letters.size() - 1)];
          cell += static_cast<unsigned char>(c) < 0x80 ? std::string(1, c) : "é";
        }
        row.push_back(cell);
      }
    }
    const auto table = Table::parse(csv_text(columns, rows), "t.csv");
    ASSERT_TRUE(table.has_value()) << one_line(table.error()[0]);
    ASSERT_EQ(table->rows().size(), rows.size());
    for (std::size_t i = 0; i < rows.size(); ++i) EXPECT_EQ(table->rows()[i].cells, rows[i]);
  }
}

}  // namespace
}  // namespace ligule::files
