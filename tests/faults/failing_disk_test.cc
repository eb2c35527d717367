// Full and failing disks: each call that changes the disk fails in turn, in each piece of work.
// What is told says what to do, what was kept is there, the program goes on, and what failed is
// done by trying again.
#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <cstdlib>
#include <filesystem>
#include <functional>
#include <iostream>

#include "tests/faults/failing_disk.h"
#include "tests/faults/tablet_at_work.h"
#include "tests/storage/files/little_memory.h"

namespace ligule::faults {
namespace {

using testing::HasSubstr;
using testing::Not;

constexpr std::size_t kMostCalls = 400;  // no work has so many: else it is not wholly tried

// Where and how a disk fails.
struct Kind {
  const char* name;
  int code;
  std::set<Call> calls;
  bool ever_after;
  bool each_in_turn = true;  // else from the first on
};

std::vector<Kind> kinds() {
  return {{"no space once", ENOSPC, kNeedsRoom, false},
          {"no space any more", ENOSPC, kNeedsRoom, true},
          {"one error", EIO, kChanges, false},
          {"errors from then on", EIO, kChanges, true},
          {"read only", EROFS, kWriting, true, false}};
}
std::vector<Kind> kinds_of_sticks() {
  auto all = kinds();
  all.push_back({"pulled out", ENODEV, kEverything, true});
  all.push_back({"does not answer", EIO, kEverything, true});
  return all;
}

// Every call where LIGULE_FAULTS is set; without it each of the first, then fewer of many.
std::size_t step_after(std::size_t at) {
  static const bool every =
      std::getenv("LIGULE_FAULTS") != nullptr;  // NOLINT(concurrency-mt-unsafe)
  return every ? 1 : 1 + at / 10;
}

class FailingDisks : public testing::Test {
 protected:
  // Does the job again and again, with a later call failing each time, until none does.
  void try_each(const Job& job, const std::string& folder, const std::vector<Kind>& kinds) {
    std::size_t tried = 0, told = 0;
    for (const Kind& kind : kinds) {
      rests_ = rests_ || (kind.ever_after && kind.calls.contains(Call::kUnlink));
      for (std::size_t at = 1;; at += step_after(at)) {
        ASSERT_LT(at, kMostCalls) << job.name << ", " << kind.name;
        job.prepare();
        std::size_t failed = 0;
        std::optional<Error> error;
        {
          const FailingDisk disk(folder, {kind.code, kind.calls, at, kind.ever_after});
          error = job.attempt();
          failed = disk.failed();
        }
        ++tried;
        told += error ? 1U : 0U;
        const std::string where = job.name + ", " + kind.name + ", call " + std::to_string(at);
        if (error) {
          check_words(*error, where);
        } else {
          check_done(job, where);
        }
        EXPECT_EQ(tablet_.ledger_fault(), "") << where;
        EXPECT_TRUE(tablet_.answers()) << where;
        if (error) {
          const auto again = job.attempt();
          EXPECT_FALSE(again) << where << ", once it is over: " << one_line(*again);
          check_done(job, where + ", done again");
        }
        if (failed == 0 || !kind.each_in_turn || HasFailure()) break;
      }
    }
    EXPECT_GT(told, tried / 2) << job.name << ": the disk does not fail under it";
    std::cout << job.name << ": " << tried << " tries, " << told << " told, each done again\n";
  }

  // What could not be removed is left, under a name that nobody reads.
  void check_done(const Job& job, const std::string& where) const {
    const std::string wrong = job.wrong();
    EXPECT_TRUE(wrong.empty() || (rests_ && wrong.ends_with(" was left")))
        << where << ": " << wrong;
  }

  static void check_words(const Error& error, const std::string& where) {
    // A copy may read back differently; the ledger itself is never said to be damaged.
    const bool copy = error.kind == ErrorKind::kDamaged && error.mend == "copy to another disk";
    EXPECT_TRUE(error.kind == ErrorKind::kIo || error.kind == ErrorKind::kNotFound || copy)
        << where << ": " << one_line(error);
    EXPECT_FALSE(error.what.empty()) << where;
    EXPECT_FALSE(error.mend.empty()) << where << ": " << one_line(error);
    EXPECT_THAT(one_line(error), Not(HasSubstr("\n"))) << where;
  }

  TabletAtWork tablet_;
  bool rests_ = false;  // a disk failed for good, so that removing did
};

TEST_F(FailingDisks, AValue) {
  try_each(tablet_.keep_value(), tablet_.folder(), kinds());
}
TEST_F(FailingDisks, APlan) {
  try_each(tablet_.take_plan(), tablet_.folder(), kinds());
}
TEST_F(FailingDisks, Preferences) {
  try_each(tablet_.store_preferences(), tablet_.folder(), kinds());
}
TEST_F(FailingDisks, ASeal) {
  try_each(tablet_.seal(), tablet_.folder(), kinds());
}
TEST_F(FailingDisks, ACopyToAStick) {
  try_each(tablet_.copy_to_stick(), tablet_.stick(), kinds_of_sticks());
}
TEST_F(FailingDisks, ASpareCopy) {
  try_each(tablet_.spare_copy(), tablet_.stick(), kinds_of_sticks());
}
TEST_F(FailingDisks, APlanReadFromAStick) {
  try_each(tablet_.read_plan(), tablet_.stick(),
           {{"pulled out", ENODEV, kEverything, true}, {"one error", EIO, kEverything, false}});
}
TEST_F(FailingDisks, TheDesksEnrol) {
  try_each(tablet_.enrol(), tablet_.office(), kinds());
}
TEST_F(FailingDisks, TheDesksGather) {
  try_each(tablet_.gather(), tablet_.office(), kinds());
}
TEST_F(FailingDisks, TheDesksSeal) {
  try_each(tablet_.seal_at_desk(), tablet_.office(), kinds());
}
TEST_F(FailingDisks, TheDesksTables) {
  try_each(tablet_.tables(), tablet_.office(), kinds());
}

// Opening a ledger needs room for what SQLite puts beside it: that there is none is no failed disk.
TEST(FullDisk, IsSaidToBeFullWhereALedgerIsOpened) {
  using ledger::Access;
  using ledger::Ledger;
  const ledger::sample::Folder folder(true);
  const std::string path = folder.file("north.ligule");
  { const Ledger made = ledger::sample::started(path, 10); }
  const std::string place = std::filesystem::path(path).parent_path().string();
  for (const Access access : {Access::kReadOnly, Access::kReadWrite}) {
    {
      const FailingDisk disk(place, {ENOSPC, {Call::kWrite, Call::kTruncate}, 1, true});
      EXPECT_THAT(ledger::sample::error_line(Ledger::open(path, access)),
                  HasSubstr("no space is left"));
      EXPECT_GT(disk.failed(), 0U);
    }
    {
      const FailingDisk disk(place, {EIO, {Call::kWrite, Call::kTruncate}, 1, true});
      EXPECT_THAT(ledger::sample::error_line(Ledger::open(path, access)),
                  HasSubstr("the disk failed"));
    }
    EXPECT_TRUE(ledger::sample::need(Ledger::open(path, access)).check()->empty());
  }
}

// A folder whose rights were taken away, as whoever is not root meets it.
TEST(FoldersWithoutRights, AreToldAndWrittenToOnceTheyAreThere) {
  const std::string said = files::in_little_memory(std::uint64_t{8} << 30U, 60, [] {
    if (::geteuid() == 0 && (::setgid(65534) != 0 || ::setuid(65534) != 0))
      return std::string("(this machine lets nobody be another user)");
    TabletAtWork tablet;
    std::string wrong;
    const auto try_in = [&](const Job& job, const std::string& folder) {
      job.prepare();
      std::filesystem::permissions(folder, std::filesystem::perms(0555));
      const auto error = job.attempt();
      if (!error || error->kind != ErrorKind::kIo ||
          (error->what + error->mend).find("rights") == std::string::npos)
        wrong += job.name + ": " + (error ? one_line(*error) : "nothing told") + "\n";
      std::filesystem::permissions(folder, std::filesystem::perms(0755));
      const auto again = job.attempt();
      if (again) wrong += job.name + ", again: " + one_line(*again) + "\n";
      wrong += job.wrong() + tablet.ledger_fault();
    };
    try_in(tablet.seal(), tablet.folder());
    try_in(tablet.store_preferences(), tablet.folder());
    try_in(tablet.copy_to_stick(), tablet.stick());
    try_in(tablet.spare_copy(), tablet.stick());
    try_in(tablet.enrol(), tablet.office());
    try_in(tablet.tables(), tablet.office());
    return wrong;
  });
  if (said.starts_with("(this machine")) GTEST_SKIP() << "SKIPPED: " << said;
  EXPECT_EQ(said, "");
}

// A clock that is set back while somebody works: records go on in their order, ids with them, and
// the newest spare copy is still found.
TEST_F(FailingDisks, AClockSetBackLosesNothing) {
  const Job value = tablet_.keep_value(), spare = tablet_.spare_copy(), seal = tablet_.seal();
  for (const std::int64_t seconds : {10'000, 3'000, -90'000'000, 20'000}) {
    tablet_.set_clock(seconds);
    for (const Job& job : {value, seal, spare}) {
      job.prepare();
      const auto error = job.attempt();
      EXPECT_FALSE(error) << job.name << " at " << seconds << ": " << one_line(*error);
      EXPECT_EQ(job.wrong(), "") << job.name << " at " << seconds;
    }
    EXPECT_EQ(tablet_.ledger_fault(), "") << seconds;
    EXPECT_EQ(tablet_.offered_copy(), tablet_.newest_copy()) << seconds;
  }
  std::vector<RecordId> ids;
  std::vector<UtcInstant> times;
  const std::vector<Record> kept = tablet_.kept();
  ids.reserve(kept.size());
  times.reserve(kept.size());
  for (const Record& record : kept) {
    ids.push_back(record.id);
    times.push_back(record.at.utc);
  }
  ASSERT_GT(ids.size(), 4U);
  EXPECT_EQ(std::ranges::adjacent_find(ids, std::greater_equal()), ids.end())
      << "the next run would not know which id is the last";
  EXPECT_FALSE(std::ranges::is_sorted(times)) << "the clock was not set back";
}

// Whatever the machine lets new files be, nobody else reads what a tablet holds. What goes onto a
// stick to be handed on can be read there; most sticks know no rights anyway.
TEST(PrivateFiles, AreTheirOwnersAloneUnderAnyMask) {
  const mode_t before = ::umask(0);
  {
    TabletAtWork tablet;
    for (const Job& job : {tablet.keep_value(), tablet.store_preferences(), tablet.seal(),
                           tablet.copy_to_stick(), tablet.spare_copy(), tablet.enrol()}) {
      job.prepare();
      const auto error = job.attempt();
      EXPECT_FALSE(error) << job.name << ": " << one_line(*error);
    }
    std::size_t seen = 0;
    for (const std::string& top : {tablet.folder(), tablet.stick(), tablet.office()}) {
      for (const auto& each : std::filesystem::recursive_directory_iterator(top)) {
        struct stat about {};
        ASSERT_EQ(::stat(each.path().c_str(), &about), 0);
        const std::string name = each.path().filename().string();
        const bool plan = each.path().parent_path().filename() == "plan";
        const bool season_on_stick = name.ends_with(".zip") && top == tablet.stick();
        const bool given = plan || season_on_stick || name.ends_with(".pub");
        const unsigned most = each.is_directory() ? 0755U : given ? 0644U : 0600U;
        EXPECT_EQ(about.st_mode & 0777U, most) << each.path();
        ++seen;
      }
    }
    EXPECT_GT(seen, 15U);
  }
  ::umask(before);
}

}  // namespace
}  // namespace ligule::faults
