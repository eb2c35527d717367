// A ledger that is opened while somebody appends to it: seals and the desk open the one that is in
// use on the glass.
#include <fcntl.h>
#include <gtest/gtest.h>
#include <sys/stat.h>
#include <unistd.h>

#include <chrono>
#include <future>
#include <string>
#include <thread>

#include "tests/storage/ledger/sample.h"

namespace ligule::ledger {
namespace {

// The writing end of a pipe, once somebody reads it; below 0: nobody came.
int once_read(const std::string& pipe) {
  for (int tries = 0; tries < 2'000; ++tries) {
    const int end = open(pipe.c_str(), O_WRONLY | O_NONBLOCK | O_CLOEXEC);
    if (end >= 0) return end;
    std::this_thread::sleep_for(std::chrono::milliseconds(5));
  }
  return -1;
}

// The note of how far the stream had come (LEDGER.last) is a pipe here, so that what is appended
// while it is being read is appended at just that moment.
TEST(OpenedMeanwhile, ItsStreamIsStillItsOwn) {
  const sample::Folder folder;
  const std::string path = folder.file("a.ledger");
  Ledger writer = sample::started(path, 1);
  sample::need(writer.append({sample::plan_record(10, sample::plan())}));
  const std::string note = path + ".last";
  ASSERT_EQ(unlink(note.c_str()), 0);
  ASSERT_EQ(mkfifo(note.c_str(), 0600), 0);
  auto opening = std::async(std::launch::async, [&] { return Ledger::open(path); });
  const int end = once_read(note);
  ASSERT_GE(end, 0);
  const Record kept =
      sample::need(writer.append({sample::reading(11, "101", "percent_stand", "80")})).back();
  const std::string seq = std::to_string(kept.seq);
  const std::string line =
      kept.stream.text() + " " + std::string(20 - seq.size(), '0') + seq + "\n";
  ASSERT_EQ(write(end, line.data(), line.size()), static_cast<ssize_t>(line.size()));
  close(end);
  const Ledger opened = sample::need(opening.get());
  EXPECT_TRUE(opened.my_stream().has_value()) << "taken for one that was restored";
}

}  // namespace
}  // namespace ligule::ledger
