#include <gtest/gtest.h>
#include <sys/wait.h>
#include <unistd.h>
#include <csignal>

#include "tests/storage/ledger/sample.h"

namespace ligule::ledger {
namespace {

using namespace sample;

// Appends for ever and writes down each seq it was told is kept. Runs in a process of its own.
[[noreturn]] void append_and_tell(const std::string& path, int tell) {
  auto ledger = Ledger::open(path);
  if (!ledger) _exit(3);
  for (std::uint64_t n = 10;; ++n) {
    const auto kept = ledger->append({reading(n, "101", "percent_stand", std::to_string(n % 100)),
                                      reading(n + (1U << 20U), "102", "note", "x")});
    if (!kept) _exit(4);
    const std::int64_t seq = kept->back().seq;
    if (write(tell, &seq, sizeof seq) != sizeof seq) _exit(5);
  }
}

// Proves: what was told to be kept is there after the program was killed, and nothing is half kept.
TEST(Kill, EveryRecordToldAsKeptIsThereAfterwards) {
  const Folder folder;
  for (int round = 0; round < 12; ++round) {
    const std::string path = folder.file("kill" + std::to_string(round) + ".ledger");
    { const Ledger made = started(path, 1); }
    int pipe_ends[2];
    ASSERT_EQ(pipe(pipe_ends), 0);
    const pid_t child = fork();
    ASSERT_GE(child, 0);
    if (child == 0) append_and_tell(path, pipe_ends[1]);
    close(pipe_ends[1]);
    std::int64_t told = 0;
    // Killed at another place each round: within some commit after this many.
    for (int heard = 0; heard < 1 + 7 * round; ++heard)
      ASSERT_EQ(read(pipe_ends[0], &told, sizeof told), static_cast<ssize_t>(sizeof told));
    kill(child, SIGKILL);
    while (read(pipe_ends[0], &told, sizeof told) == static_cast<ssize_t>(sizeof told)) {
    }
    close(pipe_ends[0]);
    int status = 0;
    ASSERT_EQ(waitpid(child, &status, 0), child);
    ASSERT_TRUE(WIFSIGNALED(status));

    Ledger ledger = need(Ledger::open(path));
    ASSERT_TRUE(ledger.my_stream()) << "the same file goes on with its stream";
    const auto spans = need(ledger.spans());
    ASSERT_EQ(spans.size(), 1U);
    EXPECT_GE(spans[0].last, told);
    EXPECT_EQ(spans[0].last % 2, 1) << "two records of one act are kept together";
    EXPECT_TRUE(need(ledger.check()).empty());
    need(ledger.append({reading(9'000'000'000, "201", "percent_stand", "5")}));
  }
}

}  // namespace
}  // namespace ligule::ledger
