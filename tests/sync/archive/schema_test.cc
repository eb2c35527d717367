// The tables of an archive: made once, versions, what they refuse by themselves, and what is read
// from them.
#include <cstdlib>
#include <set>

#include "tests/sync/archive/archive_fixture.h"

namespace ligule::archive {
namespace {

using ledger::sample::need;
using testing::HasSubstr;

TEST_F(Archived, IsMadeOnceAndOpenedAgain) {
  const auto none = Archive::open(database_.url(), ledger::Access::kReadOnly);
  ASSERT_FALSE(none);
  EXPECT_EQ(none.error().kind, ErrorKind::kNotFound);
  EXPECT_THAT(one_line(none.error()),
              HasSubstr("archive " + database_.name + " at 127.0.0.1:" + server("_PORT") +
                        ": there is no archive in that database"));
  {
    Archive made = open();
    EXPECT_EQ(need(made.digest()), ledger::digest_of_spans({}));
    EXPECT_EQ(made.database(), database_.name);
    need(made.take(read(seal::small_season().sealed())));
  }
  Archive again = open();
  Archive only_read = open(ledger::Access::kReadOnly);
  EXPECT_EQ(need(again.spans()).size(), 1U);
  EXPECT_EQ(need(again.digest()), need(only_read.digest()));
  EXPECT_EQ(Sql(database_.name).run("SELECT version FROM ligule.meta"), "1");
}

TEST_F(Archived, OfALaterVersionIsRefusedByName) {
  need(open().take(read(seal::small_season().sealed())));
  Sql(database_.name).run("UPDATE ligule.meta SET version=2");
  for (const auto access : {ledger::Access::kReadOnly, ledger::Access::kReadWrite}) {
    const auto archive = Archive::open(database_.url(), access);
    ASSERT_FALSE(archive);
    EXPECT_EQ(archive.error().kind, ErrorKind::kNewerVersion);
    EXPECT_EQ(archive.error().what, "the archive is of version 2, this program reads 1");
  }
  Sql(database_.name).run("DELETE FROM ligule.meta");
  EXPECT_EQ(Archive::open(database_.url(), ledger::Access::kReadOnly).error().kind,
            ErrorKind::kDamaged);
}

TEST_F(Archived, ASchemaOfSomebodyElseIsLeftAlone) {
  Sql(database_.name).run("CREATE SCHEMA ligule; CREATE TABLE ligule.grass(n int)");
  const auto archive = Archive::open(database_.url(), ledger::Access::kReadWrite);
  ASSERT_FALSE(archive);
  EXPECT_EQ(archive.error().kind, ErrorKind::kInvalid);
  EXPECT_THAT(archive.error().what, HasSubstr("is no archive of this program"));
}

TEST_F(Archived, ADatabaseOfAnotherEncodingIsRefused) {
  const std::string name = database_.name + "latin";
  ASSERT_EQ(Sql("postgres")
                .run("CREATE DATABASE " + name +
                     " ENCODING 'SQL_ASCII' LC_COLLATE 'C' LC_CTYPE 'C' TEMPLATE "
                     "template0"),
            "");
  const auto archive = Archive::open(server() + name, ledger::Access::kReadWrite);
  Sql("postgres").run("DROP DATABASE " + name + " WITH (FORCE)");
  ASSERT_FALSE(archive);
  EXPECT_THAT(archive.error().what, HasSubstr("does not keep texts in UTF-8"));
}

TEST_F(Archived, WhoMayNotWriteIsToldSo) {
  need(open().take(read(seal::small_season().sealed())));
  Sql sql(database_.name);
  const std::string reader = "reader_of_" + database_.name;
  ASSERT_EQ(sql.run("CREATE ROLE " + reader +
                    " LOGIN PASSWORD 'reads'; GRANT USAGE ON SCHEMA "
                    "ligule TO " +
                    reader + "; GRANT SELECT ON ALL TABLES IN SCHEMA ligule TO " + reader),
            "");
  const std::string url =
      "postgresql://" + reader + ":reads@127.0.0.1:" + server("_PORT") + "/" + database_.name;
  Archive archive = need(Archive::open(url, ledger::Access::kReadWrite));
  EXPECT_EQ(need(archive.spans()).size(), 1U) << "reading is enough for tables";
  const auto taken = archive.take(read(seal::small_season().sealed()));
  ASSERT_FALSE(taken);
  EXPECT_EQ(taken.error().kind, ErrorKind::kIo);
  EXPECT_THAT(taken.error().what, HasSubstr("permission denied for table"));
  ASSERT_EQ(sql.run("GRANT INSERT ON ALL TABLES IN SCHEMA ligule TO " + reader), "");
  seal::Season more = seal::small_season();
  more.add_note("five");
  EXPECT_EQ(need(archive.take(read(more.sealed()))).added, 1) << "and these rights for gather";
  sql.run("DROP OWNED BY " + reader + "; DROP ROLE " + reader);
}

TEST_F(Archived, NothingIsChangedOrDeletedAndNoFalseLinkIsTaken) {
  need(open().take(read(seal::small_season().sealed())));
  Sql sql(database_.name);
  for (const char* const statement :
       {"UPDATE ligule.record SET reason='x'", "DELETE FROM ligule.record",
        "TRUNCATE ligule.record CASCADE", "UPDATE ligule.stream SET device='x'",
        "DELETE FROM ligule.stream", "UPDATE ligule.purpose SET demo=true",
        "DELETE FROM ligule.target"})
    EXPECT_THAT(sql.run(statement), HasSubstr("never changed or deleted")) << statement;
  const std::string columns = "stream,seq,id,kind,format,body,digest_before,digest,counts";
  const auto insert = [&](const std::string& seq, const std::string& kind,
                          const std::string& before, const std::string& digest) {
    return sql.run("INSERT INTO ligule.record(" + columns + ") SELECT stream," + seq +
                   ",gen_random_uuid(),'" + kind + "',1,'body'," + before + "," + digest +
                   ",false FROM ligule.record WHERE seq=4");
  };
  EXPECT_THAT(insert("5", "event", "digest", "digest"), HasSubstr("chain_leads"));
  EXPECT_THAT(insert("5", "stream", "digest", "sha256(digest||'body')"),
              HasSubstr("stream_begins"));
  EXPECT_THAT(insert("4", "event", "digest", "sha256(digest||'body')"), HasSubstr("record_pkey"));
  EXPECT_THAT(insert("0", "event", "digest", "sha256(digest||'body')"),
              HasSubstr("check constraint"));
  EXPECT_EQ(insert("5", "event", "digest", "sha256(digest||'body')"), "") << "this one follows";
}

// Values that stand, by the view and by the ledger.
TEST_F(Archived, TheViewOfStandingClaimsIsTheLedgers) {
  namespace sample = ledger::sample;
  auto ledger = sample::started(folder_.file("trial.ligule"), 1);
  const Record first = sample::reading(20, "101", "percent_stand", "80");
  const Record second = sample::reading(21, "102", "percent_stand", "70");
  const Record third = sample::reading(22, "201", "percent_stand", "60");
  const Record rival = sample::reading(23, "201", "percent_stand", "50");
  const Record event = sample::event(24, "spray");
  need(ledger.append({sample::plan_record(10, sample::plan()), first, second, third, rival, event,
                      sample::correction(30, first, "85"), sample::withdrawal(31, second),
                      sample::settlement(32, {third, rival}, "55"), sample::event_back(33, event),
                      sample::reading(34, "202", "percent_stand", "40")}));
  std::set<std::string> standing;
  for (const ledger::Claim& claim : need(ledger.claims(sample::trial())))
    standing.insert(claim.record.id.text());
  EXPECT_EQ(standing.size(), 3U);
  std::string expected;
  for (const std::string& id : standing) expected += id + " ";
  Archive archive = open();
  need(archive.take(season_of(ledger)));
  EXPECT_EQ(Sql(database_.name)
                .run("SELECT string_agg(id||' ','' ORDER BY id) FROM ligule.standing_claim"),
            expected);
  EXPECT_EQ(Sql(database_.name)
                .run("SELECT entered||coalesce(unit,'-')||value||state||purpose FROM ligule.record "
                     "WHERE id='" +
                     first.id.text() + "'"),
            "80-80valuesurvey");
}

TEST_F(Archived, PourIntoMakesTheSameLedger) {
  seal::Season north = seal::small_season();
  for (int note = 5; note <= 4100; ++note) north.add_note("note " + std::to_string(note));
  const seal::SeasonFile long_one = read(north.sealed());  // three pieces
  seal::Season south(8);
  for (int note = 2; note <= 9; ++note) south.add_note("note " + std::to_string(note));
  const seal::SeasonFile end = read(south.sealed_from(7));  // begins with a gap
  Archive archive = open();
  need(archive.take(end));
  need(archive.take(long_one));
  auto drawn = need(ledger::Ledger::create(folder_.file("drawn.ligule")));
  need(archive.pour_into(drawn));
  EXPECT_EQ(need(drawn.digest()), need(archive.digest()));
  EXPECT_EQ(need(drawn.digest()), digest_in_sqlite({long_one, end}));
  EXPECT_TRUE(need(drawn.check()).empty());
  need(archive.pour_into(drawn));
  EXPECT_EQ(need(drawn.digest()), need(archive.digest())) << "a second time adds nothing";
}

// Only who may change the tables themselves can do this; it is found all the same.
TEST_F(Archived, WhatWasChangedInTheArchiveIsFound) {
  need(open().take(read(seal::small_season().sealed())));
  const std::string changed = Sql(database_.name)
                                  .run(
                                      "ALTER TABLE ligule.record DISABLE TRIGGER ALL;"
                                      "ALTER TABLE ligule.record DROP CONSTRAINT chain_leads;"
                                      "UPDATE ligule.record SET body=replace(body,'85','58')");
  ASSERT_EQ(changed, "");
  Archive archive = open(ledger::Access::kReadOnly);
  auto drawn = need(ledger::Ledger::create(folder_.file("drawn.ligule")));
  const auto poured = archive.pour_into(drawn);
  ASSERT_FALSE(poured);
  EXPECT_EQ(poured.error().kind, ErrorKind::kDamaged);
}

TEST_F(Archived, ADumpPutBackElsewhereIsTheSameArchive) {
  need(open().take(read(seal::small_season().sealed())));
  const Database second;
  const std::string bin = server("_BIN");
  const std::string command = bin + "/pg_dump '" + database_.url() + "' | " + bin +
                              "/psql -q -o /dev/null -v ON_ERROR_STOP=1 '" + second.url() + "'";
  ASSERT_EQ(std::system(command.c_str()), 0);  // NOLINT(concurrency-mt-unsafe): one thread
  Archive put_back = need(Archive::open(second.url(), ledger::Access::kReadOnly));
  EXPECT_EQ(need(put_back.digest()), need(open().digest()));
  EXPECT_EQ(need(put_back.streams()), need(open().streams()));
}

}  // namespace
}  // namespace ligule::archive
