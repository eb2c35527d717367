// What a season file must say to be taken: each fault here is signed with the right key, so that
// only the check under test can find it.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "sync/seal/descriptor.h"
#include "tests/sync/seal/season_fixture.h"

namespace ligule::seal {
namespace {

using testing::Contains;
using testing::HasSubstr;

Error first_fault(const std::string& bytes) {
  const auto read = read_season_bytes(bytes, "s.zip");
  if (read) {
    ADD_FAILURE() << "the file was taken";
    return {};
  }
  return read.error().front();
}

// Swaps a member's bytes for others and packs again; nothing else is made to fit.
std::string with_member(const std::string& sealed, std::string_view path,
                        const std::function<std::string(const std::string&)>& change) {
  auto members = read_container(sealed, "s.zip").value();
  std::string held;
  for (Member& member : members) {
    if (!member.name.ends_with("/" + std::string(path))) continue;
    held = change(std::string(member.bytes));
    member.bytes = held;
  }
  return container_bytes(members).value();
}

TEST(SeasonFile, ReadsBackWhatWasSealed) {
  const Season season = small_season();
  const auto read = read_season_bytes(season.sealed(), "s.zip");
  ASSERT_TRUE(read) << one_line(read.error().front());
  EXPECT_EQ(read->name, season_name(season.table.span));
  EXPECT_EQ(read->stream, season.table.stream);
  EXPECT_EQ(read->span, season.table.span);
  EXPECT_EQ(read->bodies, season.bodies);
  EXPECT_EQ(format_date(read->last_date), "2026-06-01");
  EXPECT_EQ(read->unread, 0);
}

TEST(SeasonFile, SaysInPlainLinesWhatHolds) {
  const Season season = small_season();
  const auto lines = read_season_bytes(season.sealed(), "s.zip").value().findings();
  EXPECT_THAT(lines,
              Contains(HasSubstr("signature: holds, key " + fingerprint(season.key.public_key()))));
  EXPECT_THAT(lines, Contains(HasSubstr("records: 1 to 4 of North, 1")));
  EXPECT_THAT(lines, Contains(HasSubstr("head " + season.table.span.head.hex())));
}

TEST(SeasonFile, ALaterPartOfAStreamStandsAlone) {
  Season season = small_season();
  season.table.span.first = 3;
  season.table.span.before = chained(chained(Digest{}, season.bodies[0]), season.bodies[1]);
  season.bodies.erase(season.bodies.begin(), season.bodies.begin() + 2);
  const auto read = read_season_bytes(season.sealed(), "s.zip");
  ASSERT_TRUE(read) << one_line(read.error().front());
  EXPECT_EQ(read->span, season.table.span);
  EXPECT_EQ(read->bodies.size(), 2U);
}

TEST(SeasonFile, DemonstrationIsMarkedInsideAndSaid) {
  Season season;
  season.table.stream.demo = true;
  season.bodies.clear();
  Record first = season.envelope(kind::kStream);
  first.details = details_text({{"demo", "1"},
                                {"device", season.table.stream.device},
                                {"public_key", hex(season.table.stream.public_key)}});
  season.add(first);
  const std::string sealed = season.sealed();
  EXPECT_THAT(sealed, HasSubstr("Ligule-Demonstration: yes\n"));
  const auto read = read_season_bytes(sealed, "s.zip");
  ASSERT_TRUE(read) << one_line(read.error().front());
  EXPECT_TRUE(read->stream.demo);
  EXPECT_THAT(read->findings(), Contains(HasSubstr("never mix")));
}

// A season file of format 1, as it was written on 2026-11-27 (tests/published/season_sample.cc):
// what later programs change must go on reading it.
TEST(SeasonFile, OneOfTheFirstFormatHolds) {
  const auto files = files::real_file_system();
  const auto read =
      read_season_file(*files, files::Path(LIGULE_TEST_DATA) / "sync/seal/data/format1.zip");
  ASSERT_TRUE(read) << one_line(read.error().front());
  EXPECT_EQ(read->bodies.size(), 9U);
  EXPECT_EQ(read->unread, 0);
  EXPECT_EQ(read->span.last, 9);
}

TEST(SeasonFile, RecordsOfLaterKindsAndFormatsAreCarriedUnread) {
  Season season = small_season();
  Record later = season.envelope("soil_core");
  later.entered = "as nobody knows yet";
  season.add(later);
  std::string body = record_body(season.envelope(kind::kReading)).value();
  body.replace(body.find("reading,1,"), 10, "reading,2,");
  season.add_body(body.replace(body.rfind(",,"), 2, ",what,"));
  const auto read = read_season_bytes(season.sealed(), "s.zip");
  ASSERT_TRUE(read) << one_line(read.error().front());
  EXPECT_EQ(read->unread, 2);
  EXPECT_EQ(read->bodies, season.bodies);
}

// Proves: a record of a known kind that lacks what its kind must say is carried, and it is told.
TEST(SeasonFile, WhatNothingIsConcludedFromIsNamed) {
  Season season = small_season();
  EXPECT_TRUE(read_season_bytes(season.sealed(), "s.zip")->senseless.first.empty());
  Record plan = season.envelope(kind::kPlan);
  plan.details = "{}";
  plan.plan = std::string(64, 'a');
  season.add(plan);
  Record person = season.envelope(kind::kPerson);
  season.add(person);
  const auto read = read_season_bytes(season.sealed(), "s.zip");
  ASSERT_TRUE(read) << one_line(read.error().front());
  ASSERT_EQ(read->senseless.count, 2);
  EXPECT_EQ(read->senseless.first[0].what,
            "a record of kind plan has another digest than the plan in it");
  EXPECT_EQ(read->senseless.first[1].what, "a record of kind person names nobody");
  EXPECT_THAT(read->findings(), Contains(HasSubstr("carried for nothing: data/records.csv line ")));
  EXPECT_EQ(read->bodies, season.bodies);
}

TEST(SeasonFile, AnEventTakenBackIsReadAndHolds) {
  Season season = small_season();
  Record record = season.envelope(kind::kWithdrawal);
  record.trial = trial_id({"ridge", "north", "tf26"});
  record.targets = {parse_record(season.bodies.back()).value().id};
  record.reason = "mistap";
  season.add(record);
  const auto read = read_season_bytes(season.sealed(), "s.zip");
  ASSERT_TRUE(read) << one_line(read.error().front());
  EXPECT_EQ(read->unread, 0);
  EXPECT_EQ(read->bodies, season.bodies);
}

TEST(SeasonFile, SameRecordsGiveTheSameBytes) {
  EXPECT_EQ(small_season().sealed(), small_season().sealed());
}

TEST(SeasonFile, ANumberSkippedIsNamedByItsLine) {
  Season season = small_season();
  Record record = season.envelope(kind::kEvent);
  record.seq = 9;
  season.add(record);
  const Error fault = first_fault(season.sealed());
  EXPECT_EQ(fault.where, "s.zip, data/records.csv line 6");
  EXPECT_THAT(fault.what, HasSubstr("number 9 where 5 comes next"));
}

TEST(SeasonFile, EachFaultOfARowIsFound) {
  struct Case {
    const char* what;
    std::function<void(Season&)> make;
  };
  const std::vector<Case> cases{
      {"another stream",
       [](Season& s) {
         Record r = s.envelope(kind::kEvent);
         r.stream = StreamId{uuid_v5({}, "other")};
         s.add(r);
       }},
      {"stands twice",
       [](Season& s) {
         Record r = s.envelope(kind::kEvent);
         r.id = parse_record(s.bodies[1]).value().id;
         s.add(r);
       }},
      {"tells of the stream", [](Season& s) { s.add(s.envelope(kind::kStream)); }},
      {"29 columns", [](Season& s) { s.add_body("a,b,c"); }},
      {"29 columns",
       [](Season& s) {
         Record r = s.envelope("soil_core");
         s.add_body(record_body(r).value() + ",more");
       }},
      {"larger than 1 MiB",
       [](Season& s) { s.add_note(std::string((std::size_t{1} << 20) + 1, 'x')); }},
      {"canonical",
       [](Season& s) {
         Record r = s.envelope(kind::kReading);
         r.value = 85;
         std::string body = record_body(r).value();
         const std::size_t at = body.find(",85,");
         s.add_body(body.replace(at, 4, ",85.0,"));
       }},
  };
  for (const Case& c : cases) {
    Season season = small_season();
    c.make(season);
    season.table.span.last = static_cast<std::int64_t>(season.bodies.size());
    // season_bytes() reads the time off the last row, so a readable one ends the file.
    season.add_note("last");
    const auto read = read_season_bytes(season.sealed(), "s.zip");
    ASSERT_FALSE(read) << c.what;
    EXPECT_EQ(read.error().front().where, "s.zip, data/records.csv line 6") << c.what;
    EXPECT_THAT(read.error().front().what, HasSubstr(c.what));
    EXPECT_EQ(read.error().front().kind, ErrorKind::kDamaged);
  }
}

TEST(SeasonFile, EachFaultOfTheWholeIsFound) {
  struct Case {
    const char* what;
    std::function<void(Season&)> make;
  };
  const std::vector<Case> cases{
      {"does not lead to the stated head", [](Season& s) { s.table.span.head = Digest{}; }},
      {"holds 4 records where 5 are stated", [](Season& s) { ++s.table.span.last; }},
      {"holds 4 records where 3 are stated", [](Season& s) { --s.table.span.last; }},
      {"not zero before the first", [](Season& s) { s.table.span.before = sha256("x"); }},
      {"number 1 where 2 comes next",
       [](Season& s) {
         s.table.span.first = 2;
         s.table.span.last = 5;
       }},
      {"tells otherwise than stream.csv", [](Season& s) { s.table.stream.device = "South"; }},
      {"tells otherwise than stream.csv", [](Season& s) { s.table.stream.demo = true; }},
      {"tells otherwise than stream.csv",
       [](Season& s) { s.table.stream.continues = StreamId{uuid_v5({}, "other")}; }},
      {"another key", [](Season& s) { s.table.stream.public_key = test_key(8).public_key(); }},
  };
  for (const Case& c : cases) {
    Season season = small_season();
    c.make(season);
    EXPECT_THAT(first_fault(season.sealed()).what, HasSubstr(c.what));
  }
}

TEST(SeasonFile, OtherHeadersAreRefused) {
  const Season season = small_season();
  std::string rows = season.records_csv();
  rows.replace(0, 6, "Stream");
  const auto bytes = season_bytes(season.table, rows, season.key);
  EXPECT_THAT(first_fault(bytes.value()).what, HasSubstr("header is not that of records.csv"));
}

TEST(SeasonFile, RowsThatCannotBeSealedAreNamed) {
  const Season season = small_season();
  EXPECT_THAT(season_bytes(season.table, "no line end", season.key).error().what,
              HasSubstr("no line end"));
  EXPECT_THAT(season_bytes(season.table, "a,b\r\n", season.key).error().what,
              HasSubstr("too few columns"));
}

TEST(SeasonFile, AClockPastTheYear9999IsRefused) {
  Season season = small_season();
  Record record = season.envelope(kind::kEvent);
  record.at.utc = UtcInstant(std::chrono::milliseconds(253402300800000));
  season.add(record);
  EXPECT_THAT(season_bytes(season.table, season.records_csv(), season.key).error().what,
              HasSubstr("year 9999"));
  season.add_note("last");
  EXPECT_THAT(first_fault(season.sealed()).what, HasSubstr("year 9999"));
}

TEST(SeasonFile, ALaterFormatIsCalledThatAndNotDamaged) {
  const std::string bytes =
      with_member(small_season().sealed(), "bag-info.txt", [](const std::string& text) {
        std::string later = text;
        return later.replace(later.find("Format: 2"), 9, "Format: 3");
      });
  const Error fault = first_fault(bytes);
  EXPECT_EQ(fault.kind, ErrorKind::kNewerVersion);
  EXPECT_THAT(fault.what, HasSubstr("format 3"));
}

TEST(SeasonFile, ABagWithoutItsFormatIsRefused) {
  const std::string sealed = small_season().sealed();
  EXPECT_THAT(
      first_fault(with_member(sealed, "bag-info.txt", [](const std::string&) { return "x\n"; }))
          .what,
      HasSubstr("names no season file format"));
  std::vector<Member> none{{"bag/readme.txt", "x"}};
  EXPECT_THAT(first_fault(container_bytes(none).value()).where, HasSubstr("bag-info.txt"));
}

TEST(SeasonFile, StreamCsvIsReadStrictly) {
  const Season season = small_season();
  const std::string text = stream_csv(season.table);
  ASSERT_EQ(parse_stream_csv(text).value(), season.table);
  const auto refused = [](const std::string& changed) {
    const auto table = parse_stream_csv(changed);
    EXPECT_FALSE(table) << changed;
    return table ? std::string() : table.error().where;
  };
  const auto replaced = [&](std::string_view from, std::string_view to) {
    std::string changed = text;
    return changed.replace(changed.find(from), from.size(), to);
  };
  refused("");
  refused("stream\r\n");
  refused(text.substr(0, text.size() - 1));
  refused(text + "\r\n");
  refused(replaced("stream,", "streams,"));
  refused(replaced(",0,1,4,", ",2,1,4,"));
  refused(replaced(",0,1,4,", ",,1,4,"));
  refused(replaced(",0,1,4,", ",0,01,4,"));
  EXPECT_THAT(refused(replaced(",0,1,4,", ",0,0,4,")), HasSubstr("column first"));
  EXPECT_THAT(refused(replaced(",0,1,4,", ",0,x,4,")), HasSubstr("column first"));
  EXPECT_THAT(refused(replaced(",0,1,4,", ",0,1,0,")), HasSubstr("column last"));
  EXPECT_THAT(refused(replaced(",,0,1,4,", ",z,0,1,4,")), HasSubstr("column continues"));
  EXPECT_THAT(refused(replaced(season.table.stream.id.text(), "X")), HasSubstr("column stream"));
  EXPECT_THAT(refused(replaced(season.table.span.head.hex(), "X")), HasSubstr("column head"));
  EXPECT_THAT(refused(replaced(hex(season.table.stream.public_key), "X")),
              HasSubstr("column public_key"));
}

// The description is part of format 1: if this digest changes, files sealed before no longer
// verify.
TEST(SeasonFile, TheDescriptionNeverChanges) {
  const Season season = small_season();
  const std::string package = first_descriptor(season.table, UtcInstant{}, "", "");
  const std::size_t at = package.find(season.table.stream.id.text());
  std::string text = package;
  text.replace(at, 36, "STREAM");
  EXPECT_EQ(sha256(text).hex(), "7599f1726cfddb18a17f1533c6de4a122df46e3c2adff70f978dcf3a591cb12e");
}

// What every file of format 2 says of stream.csv and records.csv. The wide tables describe
// themselves.
TEST(SeasonFile, TheDescriptionOfFormat2NeverChanges) {
  const Season season = small_season();
  std::string text = descriptor(season.table, UtcInstant{}, {});
  for (std::size_t at = text.find(season.table.stream.id.text()); at != std::string::npos;
       at = text.find(season.table.stream.id.text()))
    text.replace(at, 36, "STREAM");
  EXPECT_EQ(sha256(text).hex(), "7859e5fbc6276dcc4b02a20df8c884ba324cdd5cdee2c474695839e3206df4b0");
}

TEST(SeasonFile, AFileThatIsNotThereIsNotFound) {
  const auto files = files::real_file_system();
  EXPECT_EQ(read_season_file(*files, "/nowhere/s.zip").error().front().kind, ErrorKind::kNotFound);
}

// Proves: every kind of today is read, the newest too; nothing is said of later ones.
TEST(SeasonFile, LimitsAndCheckWeightsAreNoLaterKinds) {
  Season season = small_season();
  Record limits = season.envelope(kind::kLimits);
  limits.details = R"({"limits":[]})";
  limits.definition = sha256(limits.details).hex();
  season.add(limits);
  Record check = season.envelope(kind::kCheckWeight);
  check.entered = "20.01";
  check.unit = "kg";
  check.value = 20.01;
  check.details = details_text({{"allowance", "0.02"}, {"mass", "20"}, {"port", "p"}});
  season.add(check);
  const auto read = read_season_bytes(season.sealed(), "s.zip");
  ASSERT_TRUE(read) << one_line(read.error().front());
  EXPECT_EQ(read->unread, 0);
  EXPECT_THAT(read->findings(), testing::Not(Contains(HasSubstr("later kinds"))));
  EXPECT_EQ(read->bodies, season.bodies);
}

}  // namespace
}  // namespace ligule::seal
