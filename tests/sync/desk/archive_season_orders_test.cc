// The season of three tablets gathered into PostgreSQL in every order: one archive, the one that a
// ledger in SQLite comes to, and one set of tables. season_orders_test.cc shows that the ledger's
// order makes no difference.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <numeric>
#include <sstream>

#include "sync/archive/archive.h"
#include "sync/desk/desk.h"
#include "sync/gather/gather.h"
#include "tests/sync/archive/postgres.h"
#include "tests/sync/desk/ran.h"
#include "tests/sync/desk/season_of_three.h"

namespace ligule::desk {
namespace {

namespace sample = ledger::sample;
using sample::need;
using testing::SizeIs;

class ArchiveOrders : public testing::Test {
 protected:
  ArchiveOrders() {
    for (const auto& [name, bytes] : season_.files())
      files_.push_back(seal::read_season_bytes(bytes, name).value());
    missing_ = seal::read_season_bytes(season_.missing(), "missing").value();
  }
  // What a ledger that took the files in as they stand in the list holds in the end.
  Digest into_ledger() {
    auto ledger = need(ledger::Ledger::create(path_));
    take_into(ledger, kept(), ledger::Branch::kChosen);
    for (const seal::SeasonFile& file : files_)
      if (&file != &copy()) take_into(ledger, file);
    return need(ledger.digest());
  }
  static void take_into(ledger::Ledger& ledger, const seal::SeasonFile& file,
                        ledger::Branch branch = ledger::Branch::kAny) {
    need(ledger.absorb(file.stream, file.span.first, file.span.before, file.bodies, branch));
  }
  [[nodiscard]] const seal::SeasonFile& kept() const { return files_.at(4); }
  [[nodiscard]] const seal::SeasonFile& copy() const { return files_.at(5); }

  archive::Archive open() {
    return need(archive::Archive::open(database_.url(), ledger::Access::kReadWrite));
  }
  // Without the triggers that keep everybody else from it.
  void empty_archive() {
    archive::Sql sql(database_.name);
    ASSERT_EQ(sql.run("SET session_replication_role=replica"), "");
    ASSERT_EQ(sql.run("TRUNCATE ligule.purpose,ligule.stream,ligule.record,ligule.target,"
                      "ligule.branch,ligule.season_file"),
              "");
  }
  // What `tables` writes, file by file, and what it says.
  std::map<std::string, std::string> tables(const std::vector<std::string>& of) {
    const std::string folder = folder_.file("out");
    std::filesystem::remove_all(folder);
    std::vector<std::string> arguments{"tables", "--out", folder};
    arguments.insert(arguments.end(), of.begin(), of.end());
    std::ostringstream out, err;
    EXPECT_EQ(run(arguments, out, err, *real_), 0) << err.str();
    auto made = files_below(folder);
    made["what it says"] = err.str();
    return made;
  }

  SeasonOfThree season_;
  archive::Database database_;
  sample::Folder folder_{true};
  // Named as the database, since the report names where it is from.
  std::string path_ = folder_.file(database_.name);
  std::unique_ptr<files::FileSystem> real_ = files::real_file_system();
  std::vector<seal::SeasonFile> files_;
  seal::SeasonFile missing_;
};

TEST_F(ArchiveOrders, EveryOrderOfTheFilesGivesTheLedgersDigestAndTables) {
  constexpr int kTablesEvery = 20;
  const Digest expected = into_ledger();
  const auto expected_tables = tables({"--ledger", path_});
  ASSERT_THAT(expected_tables.at("plots.csv"), testing::HasSubstr("TF5"));
  std::vector<std::size_t> order(files_.size());
  std::iota(order.begin(), order.end(), 0);
  archive::Archive archive = open();
  int seen = 0;
  int tried = 0;
  int compared = 0;
  do {
    if (seen++ % step_of_orders() != 0) continue;
    empty_archive();
    need(archive.take(kept(), ledger::Branch::kChosen));
    for (const std::size_t n : order) {
      const int times = tried % 10 == 0 ? 2 : 1;  // again, now and then
      for (int time = 0; time < times; ++time) {
        const auto took = archive.take(files_[n]);
        ASSERT_EQ(took.has_value(), n != 5) << files_[n].name << " in order " << seen;
      }
    }
    const auto spans = need(archive.spans());
    ASSERT_EQ(ledger::digest_of_spans(spans), expected) << "order " << seen;
    const auto gaps = gather::gaps(need(archive.streams()), spans);
    ASSERT_THAT(gaps, SizeIs(1));
    ASSERT_THAT(gaps[0].line(), testing::HasSubstr(season_.gap()));
    if (tried++ % kTablesEvery != 0) continue;
    ASSERT_EQ(tables({"--archive", database_.url()}), expected_tables) << "order " << seen;
    ++compared;
  } while (std::ranges::next_permutation(order).found);
  std::printf(
      "%d of %d orders of %zu files gave the digest of SQLite in PostgreSQL, %d of them its "
      "tables\n",
      tried, seen, files_.size(), compared);
  EXPECT_EQ(seen, 720);
  EXPECT_GT(compared, 1);

  // What the gap lacked comes last.
  need(archive.take(missing_));
  auto ledger = need(ledger::Ledger::open(path_));
  take_into(ledger, missing_);
  EXPECT_NE(need(archive.digest()), expected);
  EXPECT_EQ(need(archive.digest()), need(ledger.digest()));
  EXPECT_THAT(gather::gaps(need(archive.streams()), need(archive.spans())), SizeIs(0));
}

}  // namespace
}  // namespace ligule::desk
