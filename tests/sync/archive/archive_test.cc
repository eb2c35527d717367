// Taking season files into an archive: every order one digest, equal to SQLite's.
#include <algorithm>
#include <array>
#include <thread>

#include "tests/sync/archive/archive_fixture.h"

namespace ligule::archive {
namespace {

using ledger::sample::need;
using seal::Season;
using testing::HasSubstr;

TEST_F(Archived, AFileTakenTwiceAddsNothing) {
  const seal::SeasonFile file = read(seal::small_season().sealed());
  Archive archive = open();
  const auto first = need(archive.take(file));
  EXPECT_EQ(first.added, 4);
  EXPECT_EQ(first.known, 0);
  ASSERT_EQ(first.spans.size(), 1U);
  EXPECT_EQ(first.spans.front(), file.span);
  const auto again = need(archive.take(file));
  EXPECT_EQ(again.added, 0);
  EXPECT_EQ(again.known, 4);
  EXPECT_EQ(need(archive.digest()), digest_in_sqlite({file}));
  EXPECT_EQ(need(archive.streams()), std::vector{file.stream});
  EXPECT_EQ(count("season_file"), "1");
}

// Text that would be SQL is kept as it is.
TEST_F(Archived, NoTextIsRun) {
  const std::string sql = "'); DROP TABLE ligule.record; --";
  Season season(9);
  Record event = season.envelope(kind::kEvent);
  event.entered = event.reason = event.raw = sql;
  season.add(event);
  const seal::SeasonFile file = read(season.sealed());
  Archive archive = open();
  const std::string tables = Sql(database_.name).run("SELECT count(*) FROM pg_tables");
  EXPECT_EQ(need(archive.take(file)).added, 2);
  EXPECT_EQ(Sql(database_.name).run("SELECT count(*) FROM pg_tables"), tables);
  EXPECT_EQ(count("record"), "2");
  EXPECT_EQ(need(archive.digest()), digest_in_sqlite({file}));
}

// Overlaps, a gap, a file twice, another tablet and the other branch of a fork, in all 120 orders.
TEST_F(Archived, EveryOrderGivesOneDigestAndItIsSqlites) {
  Season north = seal::small_season();
  const seal::SeasonFile begin = read(north.sealed());  // 1 to 4
  north.add_note("five");
  north.add_note("six");
  const seal::SeasonFile middle = read(north.sealed_from(3));  // 3 to 6
  for (int note = 7; note <= 10; ++note) north.add_note("n" + std::to_string(note));
  const seal::SeasonFile end = read(north.sealed_from(9));  // 9 and 10: 7 and 8 are nowhere
  Season south(8);
  south.add_reading("40", 40);
  const seal::SeasonFile other = read(south.sealed());
  Season copy = seal::small_season();
  copy.add_note("five, on a copy");
  const seal::SeasonFile fork = read(copy.sealed());

  const std::vector<seal::SeasonFile> files{begin, end, other, middle, fork};
  const Digest expected = digest_in_sqlite({middle, begin, end, other});
  Sql sql(database_.name);
  Archive archive = open();
  std::array<std::size_t, 5> order{0, 1, 2, 3, 4};
  int orders = 0;
  do {
    // What comes first is kept, so that the other branch is refused wherever it comes.
    need(archive.take(middle));
    for (const std::size_t each : order) {
      const auto taken = archive.take(files.at(each));
      if (each != 4) {
        ASSERT_TRUE(taken) << one_line(taken.error());
        continue;
      }
      ASSERT_FALSE(taken);
      ASSERT_EQ(taken.error().kind, ErrorKind::kConflict);
      ASSERT_THAT(taken.error().what, HasSubstr("of North, 1 forks at record 5"));
    }
    ASSERT_EQ(need(archive.digest()), expected);
    ASSERT_EQ(need(archive.spans()).size(), 3U);
    ++orders;
    ASSERT_EQ(sql.run("ALTER TABLE ligule.record DISABLE TRIGGER ALL;"
                      "ALTER TABLE ligule.target DISABLE TRIGGER ALL;"
                      "DELETE FROM ligule.target; DELETE FROM ligule.record;"
                      "ALTER TABLE ligule.record ENABLE TRIGGER ALL;"
                      "ALTER TABLE ligule.target ENABLE TRIGGER ALL"),
              "");
  } while (std::ranges::next_permutation(order).found);
  EXPECT_EQ(orders, 120);
}

// Where both have the record before, the fork is at it; beyond a gap it may lie before.
TEST_F(Archived, AForkIsNamedAsALedgerNamesIt) {
  Season kept = seal::small_season();
  Season other = seal::small_season();
  kept.add_note("kept");
  other.add_note("other");
  kept.add_note("kept, six");
  other.add_note("other, six");
  const seal::SeasonFile mine = read(kept.sealed());
  Archive archive = open();
  need(archive.take(mine));
  const ledger::sample::Folder folder(true);
  auto ledger = need(ledger::Ledger::create(folder.file("same.ligule")));
  need(ledger.absorb(mine.stream, 1, mine.span.before, mine.bodies));
  other.add_note("other, seven");
  for (const std::int64_t from : {1, 5, 6, 7}) {
    const seal::SeasonFile file = read(other.sealed_from(from));
    const auto taken = archive.take(file);
    const auto absorbed = ledger.absorb(file.stream, from, file.span.before, file.bodies);
    ASSERT_FALSE(taken) << from;
    ASSERT_FALSE(absorbed) << from;
    EXPECT_EQ(taken.error(), absorbed.error()) << from;
  }
  EXPECT_EQ(need(archive.digest()), need(ledger.digest()));
}

TEST_F(Archived, WhatComesBeforeMustMeetWhatIsHeld) {
  Season kept = seal::small_season();
  Season other = seal::small_season();
  kept.add_note("kept");
  kept.add_note("kept, six");
  other.add_note("other");
  Archive archive = open();
  need(archive.take(read(kept.sealed_from(6))));
  const auto taken = archive.take(read(other.sealed()));
  ASSERT_FALSE(taken);
  EXPECT_THAT(taken.error().what, HasSubstr("forks at record 5 or before"));
}

TEST_F(Archived, TheBranchThatWasChosenIsKept) {
  Season kept = seal::small_season();
  Season other = seal::small_season();
  kept.add_note("as it was on the tablet");
  other.add_note("as it was on a copy");
  const seal::SeasonFile chosen = read(kept.sealed());
  kept.add_note("later");
  other.add_note("later, on the copy");
  other.add_note("and later still");
  Archive archive = open();
  need(archive.take(chosen, ledger::Branch::kChosen));
  const auto beyond = archive.take(read(other.sealed_from(7)));
  ASSERT_FALSE(beyond);
  EXPECT_THAT(beyond.error().what, HasSubstr("without records 6 to 6"));
  EXPECT_FALSE(archive.take(read(other.sealed())));
  EXPECT_EQ(need(archive.take(read(kept.sealed()))).added, 1);
  EXPECT_EQ(need(archive.digest()), digest_in_sqlite({read(kept.sealed())}));
}

TEST_F(Archived, ARecordHasOneIdAndAStreamOneDescription) {
  const Season north = seal::small_season();
  Archive archive = open();
  need(archive.take(read(north.sealed())));
  Season south(8);
  Record doubled = south.envelope(kind::kEvent);
  doubled.id = parse_envelope(north.bodies.at(2)).value().id;
  doubled.entered = "note";
  south.add(doubled);
  const auto taken = archive.take(read(south.sealed()));
  ASSERT_FALSE(taken);
  EXPECT_EQ(taken.error().kind, ErrorKind::kConflict);
  EXPECT_THAT(taken.error().what, HasSubstr("the id of record 2 is held by another record"));
  seal::SeasonFile renamed = read(north.sealed_from(3));
  renamed.stream.device = "South";
  const auto other = archive.take(renamed);
  ASSERT_FALSE(other);
  EXPECT_THAT(other.error().what, HasSubstr("is held with another device, key or origin"));
  EXPECT_EQ(count("record"), "4");
  EXPECT_EQ(count("stream"), "1");
}

TEST_F(Archived, ABodyIsWhatItsPlaceSays) {
  Archive archive = open();
  seal::SeasonFile file = read(seal::small_season().sealed());
  std::swap(file.bodies.at(1), file.bodies.at(2));
  const auto swapped = archive.take(file);
  ASSERT_FALSE(swapped);
  EXPECT_EQ(swapped.error().kind, ErrorKind::kInvalid);
  file.bodies.clear();
  EXPECT_FALSE(archive.take(file));
  EXPECT_EQ(count("record"), "0");
}

TEST_F(Archived, DemonstrationAndRealNeverMix) {
  const seal::SeasonFile demo = read(demo_season(42).sealed());
  const seal::SeasonFile real = read(seal::small_season().sealed());
  Archive archive = open();
  need(archive.take(real));
  const auto mixed = archive.take(demo);
  ASSERT_FALSE(mixed);
  EXPECT_EQ(mixed.error().kind, ErrorKind::kRefused);
  EXPECT_THAT(mixed.error().what, HasSubstr("the archive is real"));
  const Database second;
  Archive shown = need(Archive::open(second.url(), ledger::Access::kReadWrite));
  need(shown.take(demo));
  EXPECT_THAT(shown.take(real).error().what, HasSubstr("the archive is for demonstration"));
  // Whoever goes around this program is held to it by the tables.
  EXPECT_THAT(
      Sql(second.name)
          .run("INSERT INTO ligule.stream VALUES(gen_random_uuid(),'x',decode(repeat('00',32),"
               "'hex'),NULL,false)"),
      HasSubstr("violates foreign key"));
}

TEST_F(Archived, HostileTextsComeBackAsTheyWere) {
  Season season = seal::small_season();
  for (const char* const words :
       {"\\.", "\\N", "'; DROP SCHEMA ligule CASCADE; --", "quote \" and ' and $1 and %s",
        "back\\slash \\n \\t \\x41 \\", "\U0001F69C \U0001F33E caf\u00e9 e\u0301 \u202e\u202c",
        "$$", "E'\\\\'", "NULL", "{}", "=1+1"})
    season.add_note(words);
  Archive archive = open();
  const seal::SeasonFile file = read(season.sealed());
  need(archive.take(file));
  auto drawn = need(ledger::Ledger::create(folder_.file("drawn.ligule")));
  need(archive.pour_into(drawn));
  EXPECT_EQ(ledger::sample::bodies(drawn, file.span.stream, 1, file.span.last), season.bodies);
  EXPECT_EQ(Sql(database_.name).run("SELECT reason FROM ligule.record WHERE seq=5"), "\\.");
}

// A cell may hold what no record can.
TEST_F(Archived, CopyKeepsTabsLineEndsAndTheEndOfCopy) {
  auto connection = need(Connection::open(need(parse_address(database_.url()))));
  need(connection.run_all("CREATE TEMP TABLE cell(n int, text text)"));
  const std::vector<std::string> cells{"a\tb", "a\nb", "\\.", "\n\\.\n", "\r\n", "\\", "", "\x01"};
  CopyText lines;
  for (std::size_t n = 0; n < cells.size(); ++n) {
    lines.add(std::to_string(n));
    lines.add(cells.at(n));
    lines.end_row();
  }
  lines.add("99");
  lines.add_nothing();
  lines.end_row();
  need(connection.copy("COPY cell FROM STDIN", lines.text()));
  const Rows rows = need(connection.run("SELECT text FROM cell ORDER BY n"));
  ASSERT_EQ(rows.count(), 9);
  for (std::size_t n = 0; n < cells.size(); ++n)
    EXPECT_EQ(rows.text(static_cast<int>(n), 0), cells.at(n));
  EXPECT_TRUE(rows.is_null(8, 0));
  const auto wrong = connection.copy("COPY cell FROM STDIN", "x\ty\n");
  ASSERT_FALSE(wrong);
  EXPECT_THAT(wrong.error().what, HasSubstr("invalid input syntax"));
  EXPECT_FALSE(connection.lost());
}

TEST_F(Archived, RecordsOfALaterKindAreCarriedUnread) {
  Season season = seal::small_season();
  std::string body = record_body(season.envelope("seed_count")).value();
  body.replace(body.find(",seed_count,1,"), 14, ",seed_count,7,");
  season.add_body(body);
  Archive archive = open();
  const seal::SeasonFile file = read(season.sealed());
  EXPECT_EQ(file.unread, 1);
  need(archive.take(file));
  EXPECT_EQ(Sql(database_.name)
                .run("SELECT kind||format||counts||(utc_ms IS NULL) FROM ligule.record"
                     " WHERE seq=5"),
            "seed_count7falsetrue");
  EXPECT_EQ(need(archive.digest()), digest_in_sqlite({file}));
}

TEST_F(Archived, TwoDesksAtOnceBringOverlappingFiles) {
  std::vector<seal::SeasonFile> files;
  for (std::uint8_t fill = 1; fill <= 3; ++fill) {
    Season season(fill);
    for (int note = 2; note <= 60; ++note) season.add_note("note " + std::to_string(note));
    files.push_back(read(season.sealed()));
    for (int note = 61; note <= 90; ++note) season.add_note("note " + std::to_string(note));
    files.push_back(read(season.sealed_from(31)));
  }
  std::vector<seal::SeasonFile> backwards(files.rbegin(), files.rend());
  const Digest expected = digest_in_sqlite(files);
  for (int round = 0; round < 4; ++round) {
    const Database database;
    std::array<std::int64_t, 2> added{};
    std::array<std::string, 2> errors;
    const auto desk = [&](std::size_t which, const std::vector<seal::SeasonFile>& brought) {
      auto archive = Archive::open(database.url(), ledger::Access::kReadWrite);
      if (!archive) {
        errors.at(which) = one_line(archive.error());
        return;
      }
      for (const seal::SeasonFile& file : brought) {
        const auto taken = archive->take(file);
        if (!taken) errors.at(which) += one_line(taken.error());
        if (taken) added.at(which) += taken->added;
      }
    };
    {
      const std::jthread first(desk, 0, std::cref(files));
      const std::jthread second(desk, 1, std::cref(backwards));
    }
    EXPECT_THAT(errors, testing::Each(""));
    EXPECT_EQ(added[0] + added[1], 270);
    Archive archive = need(Archive::open(database.url(), ledger::Access::kReadOnly));
    EXPECT_EQ(need(archive.digest()), expected);
  }
}

}  // namespace
}  // namespace ligule::archive
