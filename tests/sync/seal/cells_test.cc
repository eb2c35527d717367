// Every cell of every row is held to the column it stands in, whatever its record is; and what is
// only odd is told. Each file is signed with the right key.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <cstdio>

#include "sync/seal/package_columns.h"
#include "tests/sync/seal/season_fixture.h"

namespace ligule::seal {
namespace {

using testing::Contains;
using testing::HasSubstr;
using testing::Not;

std::size_t place_of(std::string_view column) {
  return static_cast<std::size_t>(std::ranges::find(kRecordColumns, column) -
                                  kRecordColumns.begin());
}

// A season whose fifth record is changed as a test wants it; a readable one ends it.
files::Checked<SeasonFile> read_with(const Record& record, std::string_view column,
                                     const std::string& cell) {
  Season season = small_season();
  Record placed = record;
  placed.stream = season.table.stream.id;
  placed.seq = static_cast<std::int64_t>(season.bodies.size()) + 1;
  auto cells = split_line(record_body(placed).value()).value();
  cells[place_of(column)] = cell;
  season.add_body(join_line(cells));
  season.add_note("last");
  return read_season_bytes(season.sealed(), "s.zip");
}

// Records of three sorts: a reading of today, one of a later format, one of a later kind.
struct Sort {
  const char* what;
  const char* kind;
  const char* format;
};
constexpr std::array kSorts{Sort{"today's", "reading", "1"}, Sort{"later format", "reading", "2"},
                            Sort{"later kind", "soil_core", "1"}};

std::string fault_of(const Sort& sort, std::string_view column, const std::string& cell) {
  Season season = small_season();
  auto cells = split_line(season.bodies[1]).value();
  cells[place_of("seq")] = "5";
  cells[place_of("id")] = parse_record(season.bodies[1]).value().id.text();
  cells[place_of("id")].back() = cells[place_of("id")].back() == '0' ? '1' : '0';
  cells[place_of("kind")] = sort.kind;
  cells[place_of("format")] = sort.format;
  if (!column.empty()) cells[place_of(column)] = cell;
  season.add_body(join_line(cells));
  season.add_note("last");
  const auto read = read_season_bytes(season.sealed(), "s.zip");
  return read ? std::string() : one_line(read.error().front());
}

TEST(Cells, OfEveryRowAreHeldToTheirColumns) {
  struct Case {
    const char* column;
    std::vector<std::string> wrong;
  };
  const std::string digest(64, 'a'), id = "00000000-000b-7000-8000-00000000000a";
  const std::vector<Case> cases{
      {"stream", {"", "x", "00000000-000B-7000-8000-00000000000A"}},
      {"seq", {"", "0", "-1", "x", "1.5", "99999999999999999999"}},
      {"id", {"", "x", id + " " + id, "{" + id + "}"}},
      {"kind", {""}},
      {"format", {"", "0", "-1", "one"}},
      {"utc_ms", {"", "x", "1.5", "+1", "9223372036854775808"}},
      {"offset_min", {"", "x", "60.0"}},
      {"local_date", {"", "2026-02-30", "2026-6-1", "0000-01-01", "1.6.2026", "20260601"}},
      {"person", {"x", "AB"}},
      {"trial", {"x"}},
      {"plan", {"x", digest + "a", digest.substr(1), std::string(64, 'A')}},
      {"subject", {"x", "101"}},
      {"occasion", {"x"}},
      {"part", {"0", "-3", "x", "1.0"}},
      {"run", {"x"}},
      {"purpose", {"foo", "Survey", " survey"}},
      {"state", {"foo", "on_hold"}},
      {"value", {"abc", "1e5", "nan", "inf", "1,5", "--1", "0x10", "."}},
      {"definition", {"q", digest + digest}},
      {"targets", {"zz", id + "," + id, id + "  " + id, id + " ", " " + id}},
      {"blind", {"true", "2", "-1"}},
      {"source", {"foo", "Scale"}},
      {"details",
       {"xx", "[]", "1", "null", "\"a\"", "{", R"({"a":})", R"({"a":1}})", " {}", "{}x",
        R"({"a":)" + std::string(64, '[') + std::string(64, ']') + "}"}},
  };
  int tried = 0;
  for (const Sort& sort : kSorts) {
    EXPECT_EQ(fault_of(sort, "", ""), "") << sort.what << ": holds as it is";
    for (const Case& c : cases) {
      for (const std::string& cell : c.wrong) {
        const std::string said = fault_of(sort, c.column, cell);
        EXPECT_THAT(said, HasSubstr("s.zip, data/records.csv line 6: column " +
                                    std::string(c.column) + ": "))
            << sort.what << " with " << cell;
        ++tried;
      }
    }
  }
  std::printf("%d cells of other types refused\n", tried);
}

TEST(Cells, OfLaterRecordsMayBeWhatTheirColumnsAllow) {
  const std::string id = "00000000-000b-7000-8000-00000000000a";
  for (const Sort& sort : {kSorts[1], kSorts[2]}) {
    for (const auto& [column, cell] :
         {std::pair{"value", "85.0"}, std::pair{"value", "-0.5"}, std::pair{"part", "123456"},
          std::pair{"details", R"({"a":[1,{"b":null}],"a":true})"},
          std::pair{"measure", "any words"}, std::pair{"answers", "anything"},
          std::pair{"purpose", ""}, std::pair{"person", ""}, std::pair{"utc_ms", "0"},
          std::pair{"offset_min", "-1080"}}) {
      EXPECT_EQ(fault_of(sort, column, cell), "") << sort.what << ", " << column;
    }
    EXPECT_EQ(fault_of(sort, "targets", id + " " + id), "");
  }
}

TEST(Cells, AMegabyteOfNonsenseIsShownShortly) {
  const std::string said = fault_of(kSorts[2], "value", std::string(500'000, 'x'));
  EXPECT_THAT(said, HasSubstr("column value: 'xxxxxxxxxx"));
  EXPECT_LT(said.size(), 300U);
}

TEST(Cells, TheWordsAreThoseOfTheRecord) {
  const auto words = [](std::string_view column) {
    return record_columns()[place_of(column)].words;
  };
  EXPECT_EQ(words("purpose").size(), 4U);
  EXPECT_EQ(words("state").size(), 5U);
  EXPECT_EQ(words("source").size(), 5U);
  for (const std::string_view word : words("purpose")) EXPECT_TRUE(parse_purpose(word)) << word;
  for (const std::string_view word : words("state")) EXPECT_TRUE(parse_state(word)) << word;
  for (const std::string_view word : words("source")) EXPECT_TRUE(parse_source(word)) << word;
}

// Only version 7 says when the act happened, and a record of any sort must.
TEST(Cells, AnIdOfAnotherVersionIsRefused) {
  for (const Sort& sort : kSorts) {
    for (const char* id :
         {"2dd85cd0-6fc6-42a5-9b77-da8c0ff9ba7f", "2dd85cd0-6fc6-52a5-9b77-da8c0ff9ba7f",
          "00000000-000b-7000-c000-00000000000a", "00000000-0000-0000-0000-000000000000"}) {
      EXPECT_THAT(fault_of(sort, "id", id), HasSubstr("id is not of version 7")) << sort.what;
    }
  }
}

TEST(Cells, TimesThatNobodyCouldReckonWithAreRefused) {
  for (const Sort& sort : kSorts) {
    EXPECT_THAT(fault_of(sort, "utc_ms", "-1"), HasSubstr("before the year 1970"));
    EXPECT_THAT(fault_of(sort, "utc_ms", "-9223372036854775808"),
                HasSubstr("before the year 1970"));
    EXPECT_THAT(fault_of(sort, "utc_ms", "253402300800000"), HasSubstr("past the year 9999"));
    EXPECT_THAT(fault_of(sort, "offset_min", "10081"), HasSubstr("more than a week"));
    EXPECT_THAT(fault_of(sort, "offset_min", "-9223372036854775808"),
                HasSubstr("more than a week"));
  }
}

TEST(Cells, ADeviceWithoutANameIsRefused) {
  Season season;
  season.table.stream.device = "";
  EXPECT_THAT(one_line(read_season_bytes(season.sealed(), "s.zip").error().front()),
              HasSubstr("data/stream.csv, column device: it is empty where a text must stand"));
}

// What is odd and yet was signed so is told in a line of its own, and the file holds.
TEST(Cells, WhatCannotBeQuiteSoIsRemarkedOn) {
  Season other(99);
  const Record event = other.envelope(kind::kEvent);
  struct Case {
    const char* column;
    std::string cell;
    const char* says;
  };
  for (const Case& c :
       {Case{"offset_min", "1081", "the local time is 1081 minutes from UTC"},
        Case{"offset_min", "-10080", "the local time is -10080 minutes from UTC"},
        Case{"offset_min", "1080",
             "the date on the wall is 2026-06-01, by the clock it is 2026-06-02"},
        Case{"local_date", "1999-01-01",
             "the date on the wall is 1999-01-01, by the clock it is 2026-06-01"}}) {
    const auto read = read_with(event, c.column, c.cell);
    ASSERT_TRUE(read) << one_line(read.error().front());
    EXPECT_EQ(read->remarks.count, 1) << c.cell;
    EXPECT_THAT(read->findings(),
                Contains("remark: data/records.csv line 6: " + std::string(c.says)));
  }
  EXPECT_EQ(read_with(event, "offset_min", "840")->remarks.count, 0);
  Record itself = other.envelope(kind::kWithdrawal);
  itself.trial = trial_id({"ridge", "north", "tf26"});
  itself.targets = {itself.id};
  EXPECT_THAT(read_with(itself, "reason", "mistap")->findings(),
              Contains(HasSubstr("remark: data/records.csv line 6: the record replaces itself")));
}

TEST(Cells, DetailsThatAreNotInTheirFormAreCarriedForNothing) {
  Season other(99);
  const auto read = read_with(other.envelope(kind::kEvent), "details", R"({"a":"1","a":"2"})");
  ASSERT_TRUE(read) << one_line(read.error().front());
  EXPECT_EQ(read->senseless.count, 1);
  EXPECT_THAT(read->findings(),
              Contains(HasSubstr("carried for nothing: data/records.csv line 6")));
}

TEST(Cells, OfHonestFilesNothingIsRemarked) {
  const auto files = files::real_file_system();
  const auto first =
      read_season_file(*files, files::Path(LIGULE_TEST_DATA) / "sync/seal/data/format1.zip");
  ASSERT_TRUE(first) << one_line(first.error().front());
  for (const auto& season : {*first, read_season_bytes(small_season().sealed(), "s.zip").value()}) {
    EXPECT_EQ(season.remarks.count, 0);
    EXPECT_EQ(season.senseless.count, 0);
    EXPECT_THAT(season.findings(), Contains(HasSubstr("tables: every cell is what its column")));
    EXPECT_THAT(season.findings(), Not(Contains(HasSubstr("remark"))));
  }
}

}  // namespace
}  // namespace ligule::seal
