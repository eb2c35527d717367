// What is missing or damaged and would else be written over, or never be told.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <atomic>
#include <chrono>
#include <filesystem>
#include <thread>

#include "storage/ledger/high_water.h"
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
    leave_log(
        [this] {
          Ledger ledger = started(path_, 1);
          need(ledger.append({plan_record(9, plan())}));
          need(ledger.checkpoint());
          for (std::uint64_t n = 10; n < 16; ++n)
            need(ledger.append({reading(n, "101", "note", "x")}));
          return ledger;
        },
        damage);
  }
  void leave_log(const std::function<Ledger()>& work,
                 const std::function<void(std::string&)>& damage) {
    std::string file, log;
    {
      const Ledger ledger = work();
      file = file_bytes(path_);
      log = file_bytes(path_ + "-wal");
    }
    damage(log);
    write_bytes(path_, file);  // over it: the file stays the same one
    write_bytes(path_ + "-wal", log);
  }

  // Takes records 1..last of another tablet in, whose ledger lies beside.
  void take_in(Ledger& ledger, std::int64_t last) {
    const std::string path = folder_.file("other");
    if (!std::filesystem::exists(path)) {
      Ledger other = started(path, 500, "South 2");
      for (std::uint64_t n = 510; n < 530; ++n)
        need(other.append({reading(n, "101", "note", "x")}));
    }
    const Ledger other = need(Ledger::open(path, Access::kReadOnly));
    StreamInfo stream = *other.my_stream();
    stream.mine = false;
    need(ledger.absorb(stream, 1, {}, bodies(other, stream.id, 1, last)));
  }
  // The file as it was before two more values were kept in it.
  std::string older_file() {
    Ledger ledger = started(path_, 1);
    need(ledger.checkpoint());
    std::string older = file_bytes(path_);
    need(ledger.append({reading(10, "101", "note", "x"), reading(11, "101", "note", "y")}));
    return older;
  }
  void expect_refused(const std::string& what) {
    const std::string file = file_bytes(path_), log = file_bytes(path_ + "-wal");
    for (const Access access : {Access::kReadWrite, Access::kReadOnly}) {
      const auto opened = Ledger::open(path_, access);
      ASSERT_FALSE(opened);
      EXPECT_EQ(opened.error().kind, ErrorKind::kDamaged);
      EXPECT_EQ(opened.error().what, what);
    }
    EXPECT_EQ(file_bytes(path_), file);
    EXPECT_EQ(file_bytes(path_ + "-wal"), log);
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
  expect_refused("records 6 to 8 were kept and can't be read from the ledger's log");
  const Salvaged found = need(salvage(path_));
  std::size_t whole = 0;
  for (const WholeRun& run : found.runs) whole += run.bodies.size();
  EXPECT_EQ(whole, 8U) << "each page of the log holds all the records before it";
}

// Above 16 MB pages are looked at and the chains of the newest 10,000 records; the check looks at
// all.
TEST_F(Noticed, ADamagedRecordOfALargeFileIsRefusedWhereItIsNewAndFoundByTheCheckWhereItIsOld) {
  constexpr std::uint64_t kActs = 103, kInAct = 100;
  {
    Ledger ledger = started(path_, 1);
    for (std::uint64_t act = 0; act < kActs; ++act) {
      std::string note = act == 0 ? "oldest" : act + 1 == kActs ? "newest" : "other";
      note.append(1700, 'x');
      std::vector<Record> drafts;
      drafts.reserve(kInAct);
      for (std::uint64_t n = 0; n < kInAct; ++n)
        drafts.push_back(reading(1000 + act * kInAct + n, "101", "note", note));
      need(ledger.append(std::move(drafts)));
    }
    need(ledger.checkpoint());
  }
  const std::string sound = file_bytes(path_);
  ASSERT_GT(sound.size(), std::size_t{16} << 20U);
  const auto damaged = [&](std::string_view word) {
    std::string bytes = sound;
    for (std::size_t at = bytes.find(word); at != std::string::npos; at = bytes.find(word, at))
      bytes[at] ^= 1;
    write_bytes(path_, bytes);
    return bytes;
  };
  const std::string newest = damaged("newest");
  EXPECT_THAT(error_line(Ledger::open(path_)), HasSubstr("is not what was kept"));
  EXPECT_EQ(file_bytes(path_), newest);
  for (const char* word : {"newest", "oldest"}) {
    damaged(word);
    EXPECT_FALSE(need(need(Ledger::open(path_, Access::kReadOnly)).check()).empty()) << word;
  }
  write_bytes(path_, sound);
  EXPECT_TRUE(Ledger::open(path_).has_value());
}

// What was taken in of other tablets is noted too: a desk that reads 20 of their records must not
// go on as if there were 10.
TEST_F(Noticed, ADamagedLogOfWhatWasTakenInIsNotWrittenOver) {
  leave_log(
      [this] {
        Ledger ledger = started(path_, 1);
        take_in(ledger, 10);
        need(ledger.checkpoint());
        take_in(ledger, 11);
        return ledger;
      },
      [](std::string& log) { log[17] ^= 1; });
  expect_refused("record 11 was kept and can't be read from the ledger's log");
}

// Of a desk's ledger without a stream of its own, and nothing of it in the file yet.
TEST_F(Noticed, ADamagedLogThatIsAllThereIsIsNotWrittenOver) {
  leave_log(
      [this] {
        Ledger ledger = need(Ledger::create(path_));
        take_in(ledger, 20);
        return ledger;
      },
      [](std::string& log) { log[17] ^= 1; });
  expect_refused("records 1 to 20 were kept and can't be read from the ledger's log");
}

TEST_F(Noticed, ByALinkTheLogIsLookedAtToo) {
  leave_log([](std::string& log) { log[log.size() / 2] ^= 1; });
  const std::string link = folder_.file("link");
  std::filesystem::create_symlink(path_, link);
  const auto opened = Ledger::open(link);
  ASSERT_FALSE(opened);
  EXPECT_EQ(opened.error().kind, ErrorKind::kDamaged);
}

// An older file that was put back lacks what was taken in since; it is told, and then goes on.
TEST_F(Noticed, AnOlderFileThatWasPutBackIsToldAndGoesOn) {
  std::string older;
  {
    Ledger ledger = need(Ledger::create(path_));
    take_in(ledger, 5);
    need(ledger.checkpoint());
    older = file_bytes(path_);
    take_in(ledger, 20);
  }
  write_bytes(path_, older);
  {
    const Ledger ledger = need(Ledger::open(path_, Access::kReadOnly));
    const auto findings = need(ledger.check());
    ASSERT_EQ(findings.size(), 1U);
    EXPECT_THAT(findings.front().what, HasSubstr("records 6 to 20 were kept here and are gone"));
    need(ledger.check_what_is_held());
  }
  Ledger ledger = need(Ledger::open(path_));
  EXPECT_THAT(need(ledger.check()), testing::IsEmpty());
  take_in(ledger, 8);
  EXPECT_GT(file_bytes(path_ + "-wal").size(), 0U);
  EXPECT_TRUE(Ledger::open(path_)) << "its new log is no damaged one";
}

// One of a tablet, which lacks values of its own: what is taken in before its new stream begins
// stands in a new log. Killed then, it opens again and does not go on with the stream it lacks.
TEST_F(Noticed, AnOlderFileOfATabletGoesOnThoughItIsKilledBeforeItsNewStream) {
  const std::string older = older_file();
  const std::string note = file_bytes(path_ + ".last");
  // Killed after the note was lowered to the file, or before.
  for (const bool lowered : {true, false}) {
    SCOPED_TRACE(lowered ? "lowered" : "not lowered");
    for (const char* beside : {"-wal", "-shm"}) std::filesystem::remove(path_ + beside);
    write_bytes(path_, older);
    write_bytes(path_ + ".last", note);
    leave_log(
        [this] {
          Ledger ledger = need(Ledger::open(path_));
          take_in(ledger, 5);
          return ledger;
        },
        [](std::string&) {});
    ASSERT_GT(file_bytes(path_ + "-wal").size(), 0U);
    EXPECT_EQ(high_water(path_, StreamId{id(1)}), 1);
    if (!lowered) write_bytes(path_ + ".last", note);
    {
      Ledger ledger = need(Ledger::open(path_));
      EXPECT_FALSE(ledger.my_stream());
      EXPECT_EQ(need(ledger.spans()).size(), 2U);
      EXPECT_THAT(need(ledger.check()), testing::IsEmpty());
      EXPECT_EQ(need(ledger.start_stream(start(20))).continues, StreamId{id(1)});
      need(ledger.append({reading(22, "101", "note", "z")}));
    }
    EXPECT_TRUE(need(Ledger::open(path_)).my_stream());
  }
}

// Somebody puts another ledger there, with its log, but not the note beside it.
TEST_F(Noticed, AnotherLedgersNoteSaysNothing) {
  {
    Ledger before = need(Ledger::create(path_));
    take_in(before, 20);
  }
  const std::string other = folder_.file("b.ledger");
  {
    const Ledger ledger = started(other, 1);
    for (const char* each : {"", "-wal"}) write_bytes(path_ + each, file_bytes(other + each));
  }
  ASSERT_GT(file_bytes(path_ + "-wal").size(), 0U);
  const Ledger ledger = need(Ledger::open(path_));
  EXPECT_THAT(need(ledger.check()), testing::IsEmpty());
}

TEST_F(Noticed, WhatWasKeptAndIsGoneIsFoundByTheCheck) {
  const std::string older = older_file();
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

// SQLite quotes the file it reads: a screen gets no bytes of it that are no text.
TEST_F(Noticed, WhatIsQuotedOfADamagedFileIsText) {
  { const Ledger ledger = started(path_, 1); }
  std::string file = file_bytes(path_);
  const std::size_t at = file.find("CREATE TRIGGER");
  ASSERT_NE(at, std::string::npos);
  file[at + 10] = '\xb8';
  write_bytes(path_, file);
  const auto opened = Ledger::open(path_);
  ASSERT_FALSE(opened);
  EXPECT_EQ(opened.error().kind, ErrorKind::kDamaged);
  EXPECT_THAT(opened.error().what, HasSubstr("near \"TRI\xef\xbf\xbdGER\""));
}

// Values are kept while the carrier opens the file to seal: it is the same file all the time.
// (Twenty records an opening and no more: where openings are slow, as on an emulated processor,
// each would find more to look at than the one before, without end.)
TEST_F(Noticed, AFileThatIsWrittenToIsNotTakenForAnOlderOne) {
  { const Ledger ledger = started(path_, 1); }
  using std::chrono_literals::operator""ms;
  std::atomic<std::uint64_t> openings = 0;
  std::atomic<bool> done = false;
  std::thread writer([&] {
    Ledger ledger = need(Ledger::open(path_));
    for (std::uint64_t n = 0; !done; ++n) {
      while (!done && n >= 20 * (openings + 1)) std::this_thread::sleep_for(1ms);
      need(ledger.append({reading(100 + n, "101", "note", "x")}));
    }
  });
  for (; openings < 150; ++openings) {
    const auto opened = Ledger::open(path_);
    EXPECT_TRUE(opened) << one_line(opened.error());
    if (!opened || HasFailure()) break;
    EXPECT_TRUE(opened->my_stream()) << openings.load();
  }
  done = true;
  writer.join();
}

// Nor is it damaged for the check, which seals ask first. (So many values and no more: while others
// read, the log only grows.)
TEST_F(Noticed, AFileThatIsWrittenToIsWholeToTheCheck) {
  { const Ledger ledger = started(path_, 1); }
  std::atomic<bool> done = false;
  std::thread writer([&] {
    Ledger ledger = need(Ledger::open(path_));
    for (std::uint64_t n = 100; n < 600; ++n) need(ledger.append({reading(n, "101", "note", "x")}));
    done = true;
  });
  const Ledger reader = need(Ledger::open(path_, Access::kReadOnly));
  int checks = 0;
  for (; !done; ++checks) {
    const auto findings = need(reader.check());
    EXPECT_TRUE(findings.empty()) << checks << ": " << one_line(findings.front());
  }
  writer.join();
  EXPECT_GT(checks, 3);
}

TEST_F(Noticed, WhatIsNoLedgerHasNothingToSalvage) {
  write_bytes(path_, std::string(20'000, 'x'));
  EXPECT_EQ(salvage(path_).error().kind, ErrorKind::kInvalid);
  EXPECT_EQ(salvage(folder_.file("none")).error().kind, ErrorKind::kNotFound);
  EXPECT_EQ(salvage(folder_.file("")).error().kind, ErrorKind::kIo);
}

}  // namespace
}  // namespace ligule::ledger
