// One touch program at a time at a ledger, and none that died keeps the next one out.
#include "storage/ledger/hold.h"

#include <gtest/gtest.h>
#include <signal.h>
#include <sys/wait.h>
#include <unistd.h>

#include <filesystem>

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

// A folder that is not there or can't be written: whether the ledger can be used it says itself.
TEST(Hold, KeepsNobodyOutWhereItCannotBeTaken) {
  const sample::Folder folder;
  EXPECT_TRUE(Hold::take(folder.file("no such folder/a.ledger")));
  EXPECT_TRUE(Hold::take(folder.file("no such folder/a.ledger")));
}

}  // namespace
}  // namespace ligule::ledger
