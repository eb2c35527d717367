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
class OpenedMeanwhile : public testing::Test {
 protected:
  OpenedMeanwhile() { sample::need(writer_.append({sample::plan_record(10, sample::plan())})); }

  // What `reads` gives that reads the note, when a value is kept and noted just then.
  template <class Reads>
  auto meanwhile(const Reads& reads) {
    const std::string note = path_ + ".last";
    EXPECT_EQ(unlink(note.c_str()), 0);
    EXPECT_EQ(mkfifo(note.c_str(), 0600), 0);
    auto reading = std::async(std::launch::async, reads);
    const int end = once_read(note);
    EXPECT_GE(end, 0);
    const Record kept =
        sample::need(writer_.append({sample::reading(11, "101", "percent_stand", "80")})).back();
    const std::string seq = std::to_string(kept.seq);
    const std::string line =
        kept.stream.text() + " " + std::string(20 - seq.size(), '0') + seq + "\n";
    EXPECT_EQ(write(end, line.data(), line.size()), static_cast<ssize_t>(line.size()));
    close(end);
    return reading.get();
  }

  const sample::Folder folder_;
  std::string path_ = folder_.file("a.ledger");
  Ledger writer_ = sample::started(path_, 1);
};

TEST_F(OpenedMeanwhile, ItsStreamIsStillItsOwn) {
  const Ledger opened = sample::need(meanwhile([this] { return Ledger::open(path_); }));
  EXPECT_TRUE(opened.my_stream().has_value()) << "taken for one that was restored";
}

TEST_F(OpenedMeanwhile, ItIsWholeToTheCheck) {
  const Ledger reader = sample::need(Ledger::open(path_, Access::kReadOnly));
  const auto findings = sample::need(meanwhile([&] { return reader.check(); }));
  EXPECT_TRUE(findings.empty()) << one_line(findings.front());
}

}  // namespace
}  // namespace ligule::ledger
