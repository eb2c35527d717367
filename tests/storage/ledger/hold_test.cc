// One touch program at a time at a ledger, and none that died keeps the next one out.
#include "storage/ledger/hold.h"

#include <gtest/gtest.h>
#include <signal.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include <filesystem>

#include "storage/ledger/high_water.h"
#include "tests/storage/ledger/sample.h"

namespace ligule::ledger {
namespace {

TEST(Hold, OnlyOneAtATime) {
  const sample::Folder folder;
  const std::string path = folder.file("a.ledger");
  {
    const auto first = Hold::take(path);
    ASSERT_TRUE(first);
    const auto second = Hold::take(path);
    ASSERT_FALSE(second);
    EXPECT_EQ(second.error().kind, ErrorKind::kRefused);
    EXPECT_EQ(one_line(second.error()), path +
                                            ": another window of this program has the ledger open "
                                            "(go on in that window, or close it first)");
    EXPECT_TRUE(Hold::take(folder.file("b.ledger"))) << "another ledger is another matter";
  }
  EXPECT_TRUE(Hold::take(path));
}

// It is the same ledger by whatever name, and its files lie beside the real one.
TEST(Hold, OnlyOneAtATimeByALinkToo) {
  const sample::Folder folder;
  std::filesystem::create_directory(folder.file("real"));
  const std::string path = folder.file("real/a.ledger");
  sample::write_bytes(path, "");
  std::filesystem::create_symlink(path, folder.file("link"));
  std::filesystem::create_directory_symlink(folder.file("real"), folder.file("folder"));
  const auto first = Hold::take(path);
  ASSERT_TRUE(first);
  EXPECT_FALSE(Hold::take(folder.file("link")));
  EXPECT_FALSE(Hold::take(folder.file("folder/a.ledger")));
  EXPECT_FALSE(Hold::take(folder.file("folder/../real/a.ledger")));
  EXPECT_FALSE(std::filesystem::exists(folder.file("link.open")));
}

TEST(Hold, EndsWithAProcessThatIsKilled) {
  const sample::Folder folder;
  const std::string path = folder.file("a.ledger");
  int told[2] = {};
  ASSERT_EQ(pipe(told), 0);
  const pid_t child = fork();
  if (child == 0) {
    const auto hold = Hold::take(path);
    const char sign = hold ? 'y' : 'n';
    static_cast<void>(!write(told[1], &sign, 1));
    for (;;) pause();
  }
  char sign = 0;
  ASSERT_EQ(read(told[0], &sign, 1), 1);
  EXPECT_EQ(sign, 'y');
  EXPECT_FALSE(Hold::take(path));
  kill(child, SIGKILL);
  waitpid(child, nullptr, 0);
  EXPECT_TRUE(Hold::take(path));
  close(told[0]);
  close(told[1]);
}

// Where root opened the ledger once, its owner must be able to hold it, and to note what it holds.
TEST(Hold, TheFilesThatRootMakesBesideALedgerAreItsOwners) {
  if (geteuid() != 0) GTEST_SKIP() << "SKIPPED: only root can try it";
  constexpr uid_t kOwner = 65534;
  const sample::Folder folder;
  const std::string path = folder.file("a.ledger");
  { const Ledger ledger = sample::started(path, 1); }
  for (const char* beside : {".last", ".open"}) std::filesystem::remove(path + beside);
  ASSERT_EQ(chown(path.c_str(), kOwner, kOwner), 0);
  {
    const auto hold = Hold::take(path);
    ASSERT_TRUE(hold);
    note_high_water(path, StreamId{sample::id(1)}, 1);
  }
  for (const char* beside : {".last", ".open"}) {
    struct stat about {};
    ASSERT_EQ(stat((path + beside).c_str(), &about), 0) << beside;
    EXPECT_EQ(about.st_uid, kOwner) << beside;
    EXPECT_EQ(about.st_gid, kOwner) << beside;
    EXPECT_EQ(about.st_mode & 0777U, 0600U) << beside;
  }
}

TEST(Hold, MakesNoFileByALink) {
  const sample::Folder folder;
  const std::string path = folder.file("a.ledger");
  std::filesystem::create_symlink(folder.file("elsewhere"), path + ".open");
  EXPECT_TRUE(Hold::take(path));
  EXPECT_FALSE(std::filesystem::exists(folder.file("elsewhere")));
}

// A folder that is not there or can't be written: whether the ledger can be used it says itself.
TEST(Hold, KeepsNobodyOutWhereItCannotBeTaken) {
  const sample::Folder folder;
  EXPECT_TRUE(Hold::take(folder.file("no such folder/a.ledger")));
  EXPECT_TRUE(Hold::take(folder.file("no such folder/a.ledger")));
}

}  // namespace
}  // namespace ligule::ledger
