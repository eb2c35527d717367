// The wide tables of a season file: made of its records, declared, and held to that. Every file
// here is signed with the right key.
#include "sync/seal/wide_members.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "tests/storage/ledger/sample.h"
#include "tests/sync/seal/rated_season.h"
#include "tests/sync/seal/sealed_again.h"

namespace ligule::seal {
namespace {

using testing::Contains;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::Not;

class WideMembers : public testing::Test {
 protected:
  files::Checked<SeasonFile> read(const std::string& bytes) {
    return read_season_bytes(bytes, "s.zip");
  }
  // The first fault of the file with other members, or "holds".
  std::string after(const std::function<void(BagMembers&)>& change, int tables = 1) {
    const auto read_again = read(sealed_again(season_, sealed_, change, tables));
    return read_again ? "holds" : one_line(read_again.error().front());
  }
  static void replace(std::string& text, const std::string& from, const std::string& to) {
    const std::size_t at = text.find(from);
    ASSERT_NE(at, std::string::npos) << from;
    text.replace(at, from.size(), to);
  }
  // After one text of one member was replaced.
  std::string after(const char* path, const std::string& from, const std::string& to) {
    return after([&](BagMembers& members) { replace(members[path], from, to); });
  }

  Season season_ = rated_season();
  std::string sealed_ = season_.sealed();
};

TEST_F(WideMembers, AreMadeOfTheRecordsAndRead) {
  const auto season = read(sealed_);
  ASSERT_TRUE(season) << one_line(season.error().front());
  std::vector<std::string> names;
  for (const SeasonTable& table : season->tables)
    names.push_back(table.name + " " + std::to_string(table.rows));
  EXPECT_THAT(names, ElementsAre("definitions 1", "entries 2", "occasions 2", "people 1", "plots 4",
                                 "ratings 2", "trials 1"));
  EXPECT_EQ(season->tables_by, wide::kRulesVersion);
  EXPECT_THAT(season->findings(), Contains(HasSubstr("ratings (2)")));
  EXPECT_EQ(differing_tables(*season), std::vector<std::string>{});
  EXPECT_EQ(after([](BagMembers&) {}), "holds") << "sealing again as such is no fault";
}

// Of a season, what its description says.
std::string description_of(const Season& season) {
  std::string text;
  sealed_again(season, season.sealed(),
               [&](BagMembers& members) { text = members["data/datapackage.json"]; });
  return text;
}

TEST_F(WideMembers, RecordsReferToThemWhereEveryIdStandsThere) {
  const std::string descriptor = description_of(season_);
  for (const char* column : {"definition", "occasion", "person", "trial"})
    EXPECT_THAT(descriptor,
                HasSubstr("\"fields\":[\"" + std::string(column) + "\"],\"reference\""));
  EXPECT_THAT(descriptor, HasSubstr(R"("brapi":"studyDbId")"));
  EXPECT_THAT(descriptor, HasSubstr(R"("miappe":"Observation unit ID")"));
  // Somebody who is told of in another file.
  Record stranger = season_.envelope(kind::kEvent);
  stranger.trial = ledger::sample::trial();
  stranger.person = person_id("zz");
  stranger.entered = "other";
  stranger.reason = "geese";
  season_.add(stranger);
  EXPECT_THAT(description_of(season_), HasSubstr(R"("fields":["trial"],"reference")"));
  EXPECT_THAT(description_of(season_), Not(HasSubstr(R"("fields":["person"],"reference")")));
  const auto season = read(season_.sealed());
  ASSERT_TRUE(season) << one_line(season.error().front());
}

TEST_F(WideMembers, AreLeftOutWhereNothingCanBeMadeOfTheRecords) {
  const auto without_plan = read(small_season().sealed());
  ASSERT_TRUE(without_plan) << one_line(without_plan.error().front());
  EXPECT_THAT(without_plan->tables, IsEmpty());
  EXPECT_EQ(without_plan->tables_by, 0);
  EXPECT_EQ(differing_tables(*without_plan), std::nullopt);
  // More bytes than anybody has to keep in memory for them.
  Season long_one = rated_season();
  for (int n = 0; n < 17; ++n) long_one.add_note(std::string(std::size_t{1'000'000}, 'x'));
  const auto large = read(long_one.sealed());
  ASSERT_TRUE(large) << one_line(large.error().front());
  EXPECT_THAT(large->tables, IsEmpty());
  // A part without the first record, and without the plan.
  const auto part = read(season_.sealed_from(5));
  ASSERT_TRUE(part) << one_line(part.error().front());
  EXPECT_THAT(part->tables, IsEmpty());
}

TEST_F(WideMembers, OfAnotherFormAreRefused) {
  EXPECT_THAT(after("data/plots.csv", ",101,", ",101,x,"),
              HasSubstr("data/plots.csv line 2: the row has 10 cells where 9 are declared"));
  EXPECT_THAT(after("data/ratings.csv", "percent_stand,", "percent_stan,"),
              HasSubstr("data/ratings.csv line 1: the header is not that of the declared columns"));
  EXPECT_THAT(after("data/ratings.csv", ",85,value", ",much,value"),
              HasSubstr("data/ratings.csv line 2: column percent_stand: 'much' is not a number"));
  EXPECT_THAT(after("data/ratings.csv", ",85,value", ",85,perhaps"),
              HasSubstr("'perhaps' is not one of value, zero"));
  EXPECT_THAT(after("data/trials.csv", "\r\n", "\n"),
              HasSubstr("data/trials.csv line 1: the header is not"));
  EXPECT_THAT(after([](BagMembers& members) { members["data/trials.csv"].pop_back(); }),
              HasSubstr("data/trials.csv line 2: the line has no end"));
  EXPECT_THAT(after("data/people.csv", ",ab", ",\"ab\""),
              HasSubstr("data/people.csv line 2: the line is not in canonical form"));
}

// A stranger's description may have a word of a megabyte.
TEST_F(WideMembers, WhatIsQuotedOfADescriptionIsShort) {
  const std::string fault = after([](BagMembers& members) {
    replace(members["data/ratings.csv"], ",85,value", ",85,perhaps");
    replace(members["data/datapackage.json"], R"("enum":["value",)",
            R"("enum":["value",")" + std::string(5'000, 'x') + "\",");
  });
  EXPECT_THAT(fault, HasSubstr("'perhaps' is not one of value, xxx"));
  EXPECT_LT(fault.size(), 500U);
}

TEST_F(WideMembers, WhoseKeysDoNotHoldAreRefused) {
  EXPECT_THAT(after([](BagMembers& members) {
                std::string& people = members["data/people.csv"];
                people += people.substr(people.find("\r\n") + 2);
              }),
              HasSubstr("data/people.csv line 3: the primary key stands in an earlier row too"));
  const std::string trial = ledger::sample::trial().text();
  const std::string other = trial_id({"no", "such", "one"}).text();
  EXPECT_THAT(after("data/plots.csv", trial, other),
              HasSubstr("data/plots.csv line 2: column trial: " + other + " is not in trials.csv"));
  EXPECT_THAT(after("data/datapackage.json", R"("resource":"trials")", R"("resource":"trails")"),
              HasSubstr("data/entries.csv: it refers to what is not there: trails, trial"));
  EXPECT_THAT(
      after("data/datapackage.json", R"("primaryKey":["plot"])", R"("primaryKey":["plow"])"),
      HasSubstr("data/plots.csv: its primary key names no column: plow"));
}

TEST_F(WideMembers, AndTheirDescriptionsBelongTogether) {
  EXPECT_THAT(after([](BagMembers& members) { members.erase("data/plots.csv"); }),
              HasSubstr("data/plots.csv: it is described and not there"));
  EXPECT_THAT(after([](BagMembers& members) { members["data/more.csv"] = "a\r\n1\r\n"; }),
              HasSubstr("data/more.csv: it is not described"));
  EXPECT_THAT(after([](BagMembers& members) { members["data/More.csv"] = "a\r\n1\r\n"; }),
              HasSubstr("data/More.csv: it does not belong there"));
  EXPECT_THAT(after("data/datapackage.json", "\"initials\",", "\"initials\" ,"),
              HasSubstr("data/datapackage.json: the description is not that of these tables"));
  EXPECT_THAT(after("data/datapackage.json", "Who recorded", "Who  recorded"), "holds")
      << "another version may describe its tables in other words";
  EXPECT_THAT(after("data/datapackage.json", R"("type":"date")", R"("type":"dote")"),
              HasSubstr("it describes a table in a way that is not read here"));
  EXPECT_THAT(after([](BagMembers& members) { members["data/datapackage.json"] = "{"; }),
              HasSubstr("data/datapackage.json: it is no description of tables"));
  EXPECT_THAT(after([](BagMembers&) {}, 0),
              HasSubstr("bag-info.txt: it tells otherwise than the file of wide tables"));
  EXPECT_EQ(after([](BagMembers&) {}, 7), "holds") << "tables by other rules are no fault";
}

// Nobody can be kept busy by a stranger's description.
TEST_F(WideMembers, DescribedTwiceOrWithoutBoundsAreRefused) {
  const auto repeated = [](const std::string& text, int times) {
    std::string all;
    for (int n = 0; n < times; ++n) all += (n == 0 ? "" : ",") + text;
    return all;
  };
  const char* const refused = "it describes a table in a way that is not read here";
  EXPECT_THAT(after("data/datapackage.json", R"("primaryKey":["plot"])",
                    R"("primaryKey":[)" + repeated(R"("plot")", 1000) + "]"),
              HasSubstr(refused));
  const std::string reference =
      R"({"fields":["trial"],"reference":{"fields":["trial"],"resource":"trials"}})";
  EXPECT_THAT(after("data/datapackage.json", reference, repeated(reference, 2)),
              HasSubstr(refused));
  EXPECT_THAT(after("data/datapackage.json", R"("enum":["value",)",
                    R"("enum":["value",)" + repeated(R"("other")", 1000) + ","),
              HasSubstr(refused));
  EXPECT_THAT(after([&](BagMembers& members) {
                std::string& text = members["data/datapackage.json"];
                const std::size_t from = text.find(R"({"bytes":)");
                const std::size_t to = text.find(R"(,{"bytes":)", from + 1);
                text.insert(from, text.substr(from, to - from) + ",");
              }),
              HasSubstr(refused));
  EXPECT_THAT(after([&](BagMembers& members) {
                replace(members["data/datapackage.json"], R"("name":"initials")",
                        R"("name":"person")");
                replace(members["data/people.csv"], "person,initials", "person,person");
              }),
              HasSubstr(refused));
}

TEST(WideTables, OfMoreRowsThanMemoryMayBeSpentOnAreRefused) {
  const wide::WideTable table{"notes", "", {{"note", files::CellType::kText, false, ""}}, {}};
  std::string csv = "note\r\n";
  for (std::size_t n = 0; n < kMostTableRows; ++n) csv += "\r\n";
  const auto faults = [&] {
    const std::vector<WideMember> tables{{table, csv}};
    return table_faults(tables, "s.zip");
  };
  EXPECT_THAT(faults(), IsEmpty());
  csv += "\r\n";
  const files::Faults found = faults();
  ASSERT_EQ(found.size(), 1U);
  EXPECT_THAT(
      one_line(found.front()),
      HasSubstr("s.zip, data/notes.csv line 1000002: the table has more than 1000000 rows"));
}

TEST_F(WideMembers, DeclareNoKeyThatDoesNotHold) {
  Season season;
  Plan plan = ledger::sample::plan();
  plan.plots.front().entry = "nobody's";
  plan.occasions.push_back(plan.occasions.front());
  season.take(ledger::sample::plan_record(10, plan));
  const auto held = read(season.sealed());
  ASSERT_TRUE(held) << one_line(held.error().front());
  const std::string text = description_of(season);
  EXPECT_THAT(text, Not(HasSubstr(R"("fields":["entry"],"reference")")));
  EXPECT_THAT(text, Not(HasSubstr(R"("primaryKey":["occasion"])")));
  EXPECT_THAT(text, HasSubstr(R"("primaryKey":["plot"])"));
}

// What differs is told by name, and refuses nothing.
TEST_F(WideMembers, ThatThisProgramMakesOtherwiseAreTold) {
  const std::string sealed = sealed_again(
      season_, sealed_,
      [&](BagMembers& members) {
        std::string& ratings = members["data/ratings.csv"];
        const std::string before = sha256(ratings).hex();
        replace(ratings, ",85,value", ",84,value");
        replace(members["data/datapackage.json"], before, sha256(ratings).hex());
      },
      wide::kRulesVersion);
  const auto season = read(sealed);
  ASSERT_TRUE(season) << one_line(season.error().front());
  EXPECT_EQ(differing_tables(*season), std::vector<std::string>{"ratings"});
  const auto other = read(sealed_again(
      season_, sealed_, [](BagMembers&) {}, 7));
  ASSERT_TRUE(other);
  EXPECT_EQ(differing_tables(*other), std::nullopt);
}

// What an older or newer version sealed of the same records is as good.
TEST_F(WideMembers, OfAnotherVersionStayWhereTheyLie) {
  const ledger::sample::Folder folder(true);
  const auto files = files::real_file_system();
  const auto season = read(sealed_);
  const files::Path file = folder.file(season->name + ".zip");
  const std::string other = sealed_again(
      season_, sealed_,
      [](BagMembers& members) {
        replace(members["data/datapackage.json"], "Who recorded", "Who noted");
      },
      1);
  ledger::sample::write_bytes(file.string(), sealed_);
  std::filesystem::create_directory(folder.file("stick"));
  const files::Path copy = files::Path(folder.file("stick")) / file.filename();
  ledger::sample::write_bytes(copy.string(), other);
  EXPECT_TRUE(copy_season_file(*files, file, folder.file("stick")));
  EXPECT_EQ(files->read(copy, kMaxFileBytes).value(), other);
}

TEST(RecordReferences, DoNotHoldWhereATableOrAnIdLacks) {
  const wide::WideTable people{.name = "people",
                               .description = "d",
                               .columns = {{"person", files::CellType::kText, true, "p"}},
                               .primary_key = {}};
  const std::vector<WideMember> tables{{people, "person\r\nab\r\n"}};
  RecordReferences references;
  const auto add = [&](const char* person) {
    std::vector<std::string> row(kRecordColumns.size());
    row[8] = person;
    const std::string line = join_line(row);
    references.add(LineCells::of(line).value());
  };
  EXPECT_THAT(references.holding(tables), IsEmpty()) << "nobody is named";
  add("ab");
  EXPECT_THAT(references.holding(tables),
              ElementsAre(wide::Reference{"person", "people", "person"}));
  add("cd");
  EXPECT_THAT(references.holding(tables), IsEmpty());
  EXPECT_THAT(references.holding({}), IsEmpty());
}

}  // namespace
}  // namespace ligule::seal
