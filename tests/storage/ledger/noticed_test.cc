// What is missing or damaged and would else be written over, or never be told.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <atomic>
#include <filesystem>
#include <thread>

#include "storage/ledger/salvage.h"
#include "tests/storage/ledger/sample.h"

namespace ligule::ledger {
namespace {

using namespace sample;
using testing::HasSubstr;

class Noticed : public testing::Test {
 protected:
  // As a tablet lies there whose battery fell out: what was kept last stands in the log.
  void leave_log(const std::function<void(std::string&)>& damage) {
    std::string file, log;
    {
      Ledger ledger = started(path_, 1);
      need(ledger.append({plan_record(9, plan())}));
      need(ledger.checkpoint());
      for (std::uint64_t n = 10; n < 16; ++n) need(ledger.append({reading(n, "101", "note", "x")}));
      file = file_bytes(path_);
      log = file_bytes(path_ + "-wal");
    }
    damage(log);
    write_bytes(path_, file);  // over it: the file stays the same one
    write_bytes(path_ + "-wal", log);
  }

  Folder folder_{true};
  std::string path_ = folder_.file("a.ledger");
};

TEST_F(Noticed, AWholeLogIsRead) {
  leave_log([](std::string&) {});
  EXPECT_EQ(need(need(Ledger::open(path_)).spans()).front().last, 8);
}

// SQLite passes over a log from its first damaged page on, and writes over it next.
TEST_F(Noticed, ADamagedLogIsNotWrittenOver) {
  leave_log([](std::string& log) { log[log.size() / 2] ^= 1; });
  const std::string file = file_bytes(path_), log = file_bytes(path_ + "-wal");
  for (const Access access : {Access::kReadWrite, Access::kReadOnly}) {
    const auto opened = Ledger::open(path_, access);
    ASSERT_FALSE(opened);
    EXPECT_EQ(opened.error().kind, ErrorKind::kDamaged);
    EXPECT_THAT(opened.error().what, HasSubstr("to 8 were kept and can't be read"));
  }
  EXPECT_EQ(file_bytes(path_), file);
  EXPECT_EQ(file_bytes(path_ + "-wal"), log);
  const Salvaged found = need(salvage(path_));
  std::size_t whole = 0;
  for (const WholeRun& run : found.runs) whole += run.bodies.size();
  EXPECT_EQ(whole, 8U) << "each page of the log holds all the records before it";
}

TEST_F(Noticed, WhatWasKeptAndIsGoneIsFoundByTheCheck) {
  std::string older;
  {
    Ledger ledger = started(path_, 1);
    need(ledger.checkpoint());
    older = file_bytes(path_);
    need(ledger.append({reading(10, "101", "note", "x"), reading(11, "101", "note", "y")}));
  }
  write_bytes(path_, older);
  const auto findings = need(need(Ledger::open(path_, Access::kReadOnly)).check());
  ASSERT_EQ(findings.size(), 1U);
  EXPECT_THAT(findings.front().what, HasSubstr("records 2 to 3 were kept here and are gone"));
}

TEST_F(Noticed, AStreamThatIsToldOtherwiseThanItsFirstRecord) {
  { const Ledger ledger = started(path_, 1); }
  const std::string guard =
      raw_value(path_, "SELECT sql FROM sqlite_schema WHERE name='stream_no_update'");
  ASSERT_EQ(
      raw_sql(path_, "DROP TRIGGER stream_no_update; UPDATE stream SET device='another';" + guard),
      "");
  for (const Access access : {Access::kReadWrite, Access::kReadOnly}) {
    const auto opened = Ledger::open(path_, access);
    ASSERT_FALSE(opened);
    EXPECT_EQ(opened.error().kind, ErrorKind::kDamaged);
    EXPECT_THAT(opened.error().what, HasSubstr("says otherwise of a tablet"));
  }
  EXPECT_EQ(need(salvage(path_)).streams.front().device, "field tablet") << "as its record says";
}

// Values are kept while the carrier opens the file to seal: it is the same file all the time.
TEST_F(Noticed, AFileThatIsWrittenToIsNotTakenForAnOlderOne) {
  { const Ledger ledger = started(path_, 1); }
  std::atomic<bool> done = false;
  std::thread writer([&] {
    Ledger ledger = need(Ledger::open(path_));
    for (std::uint64_t n = 100; !done; ++n) need(ledger.append({reading(n, "101", "note", "x")}));
  });
  for (int n = 0; n < 150; ++n) {
    const auto opened = Ledger::open(path_);
    EXPECT_TRUE(opened) << one_line(opened.error());
    if (!opened || HasFailure()) break;
    EXPECT_TRUE(opened->my_stream()) << n;
  }
  done = true;
  writer.join();
}

TEST_F(Noticed, WhatIsNoLedgerHasNothingToSalvage) {
  write_bytes(path_, std::string(20'000, 'x'));
  EXPECT_EQ(salvage(path_).error().kind, ErrorKind::kInvalid);
  EXPECT_EQ(salvage(folder_.file("none")).error().kind, ErrorKind::kNotFound);
  EXPECT_EQ(salvage(folder_.file("")).error().kind, ErrorKind::kIo);
}

}  // namespace
}  // namespace ligule::ledger
