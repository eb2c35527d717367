// The season of three tablets gathered in every order: one ledger, one set of tables.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <numeric>
#include <sstream>

#include "sync/desk/desk.h"
#include "sync/gather/gather.h"
#include "tests/sync/desk/ran.h"
#include "tests/sync/desk/season_of_three.h"

namespace ligule::desk {
namespace {

namespace sample = ledger::sample;
using sample::need;
using testing::SizeIs;

class SeasonOrders : public testing::Test {
 protected:
  SeasonOrders() {
    for (const auto& [name, bytes] : season_.files())
      sample::write_bytes(folder_.file(name + ".zip"), bytes);
    sample::write_bytes(folder_.file("missing.zip"), season_.missing());
  }
  // A desk that trusts the three tablets and chose C's branch.
  ledger::Ledger desk() {
    std::filesystem::remove(path_);
    std::filesystem::remove(path_ + "-wal");
    std::filesystem::remove(path_ + "-shm");
    ledger::Ledger ledger = need(ledger::Ledger::create(path_));
    for (const ledger::PublicKey& key : season_.keys())
      need(ledger.trust({key, "tablet", ledger::Trust::kTrusted}));
    EXPECT_TRUE(gather::gather_file(ledger, *files_, folder_.file("c.zip"), UtcInstant{},
                                    ledger::Branch::kChosen));
    return ledger;
  }
  // What `tables` writes, file by file, and what it says.
  std::map<std::string, std::string> tables() {
    std::filesystem::remove_all(folder_.file("out"));
    std::ostringstream out, err;
    EXPECT_EQ(run({"tables", "--ledger", path_, "--out", folder_.file("out")}, out, err, *files_),
              0)
        << err.str();
    auto made = files_below(folder_.file("out"));
    made["what it says"] = err.str();
    return made;
  }
  static std::vector<std::string> lines(const std::vector<gather::Conflict>& conflicts) {
    std::vector<std::string> out;
    out.reserve(conflicts.size());
    for (const gather::Conflict& conflict : conflicts) out.push_back(conflict.line());
    return out;
  }

  SeasonOfThree season_;
  sample::Folder folder_{true};
  std::string path_ = folder_.file("desk.ledger");
  std::unique_ptr<files::FileSystem> files_ = files::real_file_system();
};

TEST_F(SeasonOrders, EveryOrderOfTheFilesGivesOneLedgerAndOneSetOfTables) {
  constexpr int kTablesEvery = 20;
  std::vector<std::size_t> order(season_.files().size());
  std::iota(order.begin(), order.end(), 0);
  std::optional<Digest> digest;
  std::vector<std::string> contested;
  std::map<std::string, std::string> told;
  int seen = 0;
  int tried = 0;
  int compared = 0;
  do {
    if (seen++ % step_of_orders() != 0) continue;
    {
      ledger::Ledger ledger = desk();
      for (const std::size_t n : order) {
        const std::string& name = season_.files()[n].first;
        const int times = tried % 10 == 0 ? 2 : 1;  // again, now and then
        for (int time = 0; time < times; ++time) {
          const auto took =
              gather::gather_file(ledger, *files_, folder_.file(name + ".zip"), UtcInstant{});
          ASSERT_EQ(took.has_value(), name != "c-copy") << name << " in order " << seen;
        }
      }
      const Digest held = need(ledger.digest());
      const auto conflicts = lines(need(gather::conflicts(ledger)));
      const auto gaps = need(gather::gaps(ledger));
      if (!digest) {
        digest = held;
        contested = conflicts;
        ASSERT_THAT(contested, SizeIs(2));
      }
      ASSERT_EQ(held, *digest) << "order " << seen;
      ASSERT_EQ(conflicts, contested) << "order " << seen;
      ASSERT_THAT(gaps, SizeIs(1));
      ASSERT_THAT(gaps[0].line(), testing::HasSubstr(season_.gap()));
    }
    if (tried++ % kTablesEvery != 0) continue;
    const auto made = tables();
    if (told.empty()) told = made;
    ASSERT_EQ(made, told) << "order " << seen;
    ++compared;
  } while (std::ranges::next_permutation(order).found);
  std::printf("%d of %d orders of %zu files gave one digest, %d of them the same tables\n", tried,
              seen, season_.files().size(), compared);
  EXPECT_EQ(seen, 720);
  EXPECT_GT(compared, 1);

  // What the gap lacked comes last, or first: the same ledger.
  ledger::Ledger late = need(ledger::Ledger::open(path_));
  ASSERT_TRUE(gather::gather_file(late, *files_, folder_.file("missing.zip"), UtcInstant{}));
  const Digest whole = need(late.digest());
  EXPECT_THAT(need(gather::gaps(late)), SizeIs(0));
  EXPECT_TRUE(need(late.check()).empty());
  late = desk();
  for (const char* name : {"missing", "b-rest", "a-rest", "a-june"})
    ASSERT_TRUE(
        gather::gather_file(late, *files_, folder_.file(std::string(name) + ".zip"), UtcInstant{}));
  EXPECT_EQ(need(late.digest()), whole);
}

}  // namespace
}  // namespace ligule::desk
