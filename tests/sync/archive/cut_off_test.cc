// Clients that are killed, servers that go away, ways that are cut: all of a file is kept, or
// nothing of it.
#include <signal.h>
#include <sys/wait.h>
#include <unistd.h>

#include <chrono>
#include <filesystem>
#include <limits>
#include <thread>

#include "tests/sync/archive/archive_fixture.h"
#include "tests/sync/archive/relay.h"

namespace ligule::archive {
namespace {

using ledger::sample::need;
using testing::AnyOf;
using testing::HasSubstr;

class CutOff : public Archived {
 protected:
  CutOff() {
    static_cast<void>(open());  // makes the tables
  }

  // Until what the server is asked gives `wanted`, half a minute at most.
  bool becomes(const std::string& sql, const std::string& wanted) {
    Sql asked("postgres");
    for (int tries = 0; tries < 600; ++tries) {
      if (asked.run(sql) == wanted) return true;
      std::this_thread::sleep_for(std::chrono::milliseconds(50));
    }
    return false;
  }
  // A client that sent its records and waits for the table, which somebody else holds.
  [[nodiscard]] std::string waiting(const std::string& what) const {
    return "SELECT " + what + " FROM pg_stat_activity WHERE datname='" + database_.name +
           "' AND wait_event_type='Lock' AND query LIKE 'INSERT INTO ligule.record%'";
  }

  seal::SeasonFile file_ = read(seal::small_season().sealed());
};

TEST_F(CutOff, AClientKilledBetweenCopyAndCommitLeavesNothing) {
  Sql holder(database_.name);
  ASSERT_EQ(holder.run("BEGIN; LOCK TABLE ligule.record IN EXCLUSIVE MODE"), "");
  const pid_t client = ::fork();
  ASSERT_GE(client, 0);
  if (client == 0) {
    auto archive = Archive::open(database_.url(), ledger::Access::kReadWrite);
    ::_exit(archive && archive->take(file_) ? 0 : 1);
  }
  EXPECT_TRUE(becomes(waiting("count(*)"), "1")) << "the client has copied and waits";
  ::kill(client, SIGKILL);
  int status = 0;
  ::waitpid(client, &status, 0);
  EXPECT_TRUE(WIFSIGNALED(status));
  ASSERT_EQ(holder.run("ROLLBACK"), "");
  EXPECT_TRUE(
      becomes("SELECT count(*) FROM pg_stat_activity WHERE application_name='ligule-desk'", "0"));
  for (const char* const table : {"purpose", "stream", "record", "target", "season_file"})
    EXPECT_EQ(count(table), "0") << table;
  Archive archive = open();
  EXPECT_EQ(need(archive.take(file_)).added, 4);
}

TEST_F(CutOff, AServerThatGoesAwayIsSaidOnceAndKeepsNothing) {
  Archive archive = open();
  Sql holder(database_.name);
  ASSERT_EQ(holder.run("BEGIN; LOCK TABLE ligule.record IN EXCLUSIVE MODE"), "");
  std::optional<Error> said;
  {
    const std::jthread client([&] {
      const auto taken = archive.take(file_);
      if (!taken) said = taken.error();
    });
    EXPECT_TRUE(becomes(waiting("count(*)"), "1"));
    EXPECT_EQ(Sql("postgres").run(waiting("pg_terminate_backend(pid)")), "t");
  }
  ASSERT_TRUE(said);
  EXPECT_EQ(said->kind, ErrorKind::kIo);
  EXPECT_EQ(one_line(*said), archive.name() +
                                 ": the archive's server went away (once it is back do the "
                                 "same again)");
  EXPECT_TRUE(archive.lost());
  ASSERT_EQ(holder.run("ROLLBACK"), "");
  EXPECT_EQ(count("record"), "0");
}

// Two desks that bring one id at once: the second is told so, as if it had come later.
TEST_F(CutOff, AnIdThatAnotherDeskTookMeanwhileIsNamed) {
  Archive archive = open();
  need(archive.take(read(seal::Season(8).sealed())));
  const std::string id = parse_envelope(file_.bodies.at(2)).value().id.text();
  Sql holder(database_.name);
  ASSERT_EQ(holder.run("BEGIN; INSERT INTO ligule.stream SELECT gen_random_uuid(),'elsewhere',"
                       "public_key,NULL,false FROM ligule.stream;"
                       "INSERT INTO ligule.record(stream,seq,id,kind,format,body,digest_before,"
                       "digest,counts) SELECT id,2,'" +
                       id +
                       "','event',1,'body',public_key,sha256(public_key||'body'),false"
                       " FROM ligule.stream WHERE device='elsewhere'"),
            "");
  std::optional<Error> said;
  {
    const std::jthread client([&] {
      const auto taken = archive.take(file_);
      if (!taken) said = taken.error();
    });
    EXPECT_TRUE(becomes(waiting("count(*)"), "1"));
    EXPECT_EQ(holder.run("COMMIT"), "");
  }
  ASSERT_TRUE(said);
  EXPECT_EQ(said->kind, ErrorKind::kConflict);
  EXPECT_EQ(said->what, "the id of record 3 is held by another record");
  EXPECT_EQ(count("record"), "2");
}

TEST_F(CutOff, NobodyWaitsForEverForAnotherDesk) {
  Sql holder(database_.name);
  ASSERT_EQ(holder.run("BEGIN"), "");
  static_cast<void>(holder.run("SELECT pg_advisory_xact_lock(hashtextextended('" +
                               file_.stream.id.text() + "',0))"));
  Archive archive = need(Archive::open(database_.url() + "?options=-c%20lock_timeout%3D200ms",
                                       ledger::Access::kReadWrite));
  const auto taken = archive.take(file_);
  ASSERT_FALSE(taken);
  EXPECT_EQ(taken.error().kind, ErrorKind::kIo);
  EXPECT_THAT(taken.error().what, HasSubstr("another desk is gathering"));
  EXPECT_FALSE(archive.lost());
  ASSERT_EQ(holder.run("ROLLBACK"), "");
  EXPECT_EQ(need(archive.take(file_)).added, 4);
}

TEST_F(CutOff, TheWayIsCutAnywhere) {
  const std::string folder = folder_.file("way");
  std::filesystem::create_directory(folder);
  const Digest whole = digest_in_sqlite({file_});
  int kept = 0;
  int cut = 0;
  for (const Way way : {Way::kToServer, Way::kFromServer}) {
    std::size_t length = 0;
    {
      const Database measured;
      static_cast<void>(need(Archive::open(measured.url(), ledger::Access::kReadWrite)));
      const Relay relay(folder, way, std::numeric_limits<std::size_t>::max());
      need(need(Archive::open(relay.url(measured), ledger::Access::kReadWrite)).take(file_));
      length = relay.passed();
    }
    constexpr std::size_t kCuts = 25;
    for (std::size_t n = 1; n <= kCuts; ++n) {
      Sql sql(database_.name);
      {
        const Relay relay(folder, way, length * n / kCuts);
        auto archive = Archive::open(relay.url(database_), ledger::Access::kReadWrite);
        if (!archive) {
          EXPECT_EQ(archive.error().kind, ErrorKind::kIo);
          ++cut;
          continue;
        }
        const auto taken = archive->take(file_);
        if (!taken) {
          EXPECT_EQ(taken.error().kind, ErrorKind::kIo);
          EXPECT_THAT(taken.error().what, HasSubstr("server went away"));
          EXPECT_TRUE(archive->lost());
          ++cut;
        }
      }
      EXPECT_TRUE(becomes(
          "SELECT count(*) FROM pg_stat_activity WHERE application_name='ligule-desk'", "0"));
      Archive archive = open();
      const Digest digest = need(archive.digest());
      EXPECT_THAT(digest, AnyOf(whole, ledger::digest_of_spans({})));
      if (digest == whole) ++kept;
      need(archive.take(file_));
      EXPECT_EQ(need(archive.digest()), whole);
      ASSERT_EQ(sql.run("DROP SCHEMA ligule CASCADE"), "");
      static_cast<void>(open());
    }
  }
  EXPECT_GE(cut, 45);
  std::cout << cut << " of 50 ways were cut, " << kept << " files were kept all the same\n";
}

}  // namespace
}  // namespace ligule::archive
