#include <gtest/gtest.h>
#include <sys/resource.h>
#include <csignal>

#include "storage/trial/record_line.h"
#include "tests/storage/ledger/sample.h"

namespace ligule::ledger {
namespace {

using namespace sample;

class Append : public testing::Test {
 protected:
  Folder folder_;
  std::string path_ = folder_.file("a.ledger");
  Ledger ledger_ = started(path_, 1);
};

TEST_F(Append, GivesStreamAndSeqInOrderAndChains) {
  const auto kept = need(ledger_.append(
      {reading(10, "101", "percent_stand", "80"), reading(11, "101", "seedling_vigor", "4")}));
  ASSERT_EQ(kept.size(), 2U);
  EXPECT_EQ(kept[0].seq, 2);
  EXPECT_EQ(kept[1].seq, 3);
  EXPECT_EQ(kept[0].stream, need(ledger_.streams()).at(0).id);
  const auto lines = bodies(ledger_, kept[0].stream, 1, 9);
  ASSERT_EQ(lines.size(), 3U);
  EXPECT_EQ(lines[1], need(record_body(kept[0])));
  Digest digest;
  for (const std::string& line : lines) digest = chained(digest, line);
  EXPECT_EQ(need(ledger_.digest_at(kept[0].stream, 3)), digest);
}

TEST_F(Append, NothingIsNothing) {
  EXPECT_TRUE(need(ledger_.append({})).empty());
}

TEST_F(Append, WithoutAStreamIsNotFound) {
  Ledger fresh = need(Ledger::create(folder_.file("b.ledger")));
  EXPECT_FALSE(fresh.my_stream());
  const auto kept = fresh.append({reading(10, "101", "percent_stand", "80")});
  EXPECT_EQ(error_line(kept), "not found: " + folder_.file("b.ledger") +
                                  ": the ledger has no stream of its own yet (start one first)");
}

TEST_F(Append, AllOfATransactionOrNothing) {
  const Digest before = need(ledger_.digest());
  Record bad = reading(11, "102", "percent_stand", "70");
  bad.entered = "7\n0";
  const auto kept = ledger_.append({reading(10, "101", "percent_stand", "80"), bad});
  ASSERT_FALSE(kept);
  EXPECT_EQ(kept.error().kind, ErrorKind::kInvalid);
  EXPECT_EQ(need(ledger_.digest()), before);
  EXPECT_TRUE(need(ledger_.claims(trial())).empty());
  // The ledger goes on, and seq has no gap.
  EXPECT_EQ(need(ledger_.append({reading(12, "101", "percent_stand", "80")}))[0].seq, 2);
}

TEST_F(Append, AnIdIsUsedOnce) {
  need(ledger_.append({reading(10, "101", "percent_stand", "80")}));
  const auto again = ledger_.append({reading(10, "101", "percent_stand", "81")});
  ASSERT_FALSE(again);
  EXPECT_EQ(again.error().kind, ErrorKind::kConflict);
  const auto twice = ledger_.append(
      {reading(11, "101", "percent_stand", "80"), reading(11, "102", "percent_stand", "80")});
  ASSERT_FALSE(twice);
  EXPECT_EQ(twice.error().kind, ErrorKind::kConflict);
  EXPECT_EQ(need(ledger_.claims(trial())).size(), 1U);
}

// A sync that fails may leave a record that was told as not kept: trying again must not be refused.
TEST_F(Append, WhatStandsThereAlreadyIsKeptByTryingAgain) {
  const auto first = need(ledger_.append({reading(10, "101", "percent_stand", "80")}));
  const Digest before = need(ledger_.digest());
  EXPECT_EQ(need(ledger_.append({reading(10, "101", "percent_stand", "80")})), first);
  EXPECT_EQ(need(ledger_.digest()), before);
  const auto both = need(ledger_.append(
      {reading(11, "102", "percent_stand", "70"), reading(10, "101", "percent_stand", "80")}));
  EXPECT_EQ(both[0].seq, 3);
  EXPECT_EQ(both[1], first[0]);
  EXPECT_EQ(need(ledger_.claims(trial())).size(), 2U);
  EXPECT_TRUE(need(ledger_.check()).empty());
}

// A desk's command may be reading all the while: that is no reason to tell a value as not saved.
TEST_F(Append, TryingAgainKeepsWhileAnotherProgramReads) {
  const auto first = need(ledger_.append({reading(10, "101", "percent_stand", "80")}));
  const Ledger reader = need(Ledger::open(ledger_.path(), Access::kReadOnly));
  int tried = 0;
  need(
      reader.each_record(first[0].stream, 2, 2, [&](std::int64_t, std::string_view, const Digest&) {
        ++tried;
        EXPECT_EQ(need(ledger_.append({reading(10, "101", "percent_stand", "80")})), first);
        return true;
      }));
  EXPECT_EQ(tried, 1);
  EXPECT_EQ(raw_value(ledger_.path(), "PRAGMA journal_mode"), "wal");
}

TEST_F(Append, RecordsThatDoNotSayWhatTheirKindMustSayAreRefused) {
  struct Case {
    const char* name;
    std::function<void(Record&)> spoil;
  };
  const Record sound = reading(10, "101", "percent_stand", "80");
  const std::vector<Case> cases{
      {"unknown kind", [](Record& r) { r.kind = "dream"; }},
      {"stream", [](Record& r) { r.kind = kind::kStream; }},
      {"no trial", [](Record& r) { r.trial.reset(); }},
      {"no subject", [](Record& r) { r.subject.reset(); }},
      {"no measure", [](Record& r) { r.measure.clear(); }},
      {"no occasion", [](Record& r) { r.occasion.reset(); }},
      {"no purpose", [](Record& r) { r.purpose.reset(); }},
      {"no state", [](Record& r) { r.state.reset(); }},
      {"targets of a reading", [](Record& r) { r.targets = {{id(5)}}; }},
      {"correction without target", [](Record& r) { r.kind = kind::kCorrection; }},
      {"correction of two",
       [](Record& r) {
         r.kind = kind::kCorrection;
         r.targets = {{id(5)}, {id(6)}};
       }},
      {"withdrawal without target", [](Record& r) { r.kind = kind::kWithdrawal; }},
      {"settlement of nothing", [](Record& r) { r.kind = kind::kSettlement; }},
      {"details that are no object", [](Record& r) { r.details = "[1]"; }},
      {"details that are not canonical", [](Record& r) { r.details = "{ \"a\":\"b\"}"; }},
      {"a format of tomorrow", [](Record& r) { r.format = 2; }},
      {"person without initials",
       [](Record& r) {
         r.kind = kind::kPerson;
         r.entered.clear();
       }},
      {"as sown without a date",
       [](Record& r) {
         r.kind = kind::kAsSown;
         r.entered = "unknown";
       }},
      {"check weight without its mass",
       [](Record& r) {
         r.kind = kind::kCheckWeight;
         r.run = RecordId{id(4)};
         r.details = R"({"allowance":"0.05"})";
       }},
      {"check weight with a mass in words",
       [](Record& r) {
         r.kind = kind::kCheckWeight;
         r.run = RecordId{id(4)};
         r.details = R"({"allowance":"0.05","mass":"twenty"})";
       }},
      {"check weight of no run", [](Record& r) {
         r.kind = kind::kCheckWeight;
         r.run.reset();
         r.details = R"({"allowance":"0.05","mass":"20"})";
       }}};
  for (const Case& one : cases) {
    Record record = sound;
    one.spoil(record);
    const auto kept = ledger_.append({record});
    ASSERT_FALSE(kept) << one.name;
    EXPECT_EQ(kept.error().kind, ErrorKind::kInvalid) << one.name;
  }
  EXPECT_EQ(need(ledger_.spans())[0].last, 1);
}

TEST_F(Append, TheNewestIdIsFoundWhateverItsPlaceInItsTransaction) {
  need(ledger_.append(
      {reading(12, "101", "percent_stand", "80"), reading(10, "101", "seedling_vigor", "4")}));
  EXPECT_EQ(need(ledger_.newest_id()), RecordId{id(12)});
}

TEST_F(Append, ARecordLongerThanAMebibyteIsRefused) {
  Record record = reading(10, "101", "note", "");
  record.entered = std::string(std::size_t{1} << 20U, 'x');
  const auto kept = ledger_.append({record});
  EXPECT_EQ(error_line(kept), "invalid: the record is longer than 1 MiB (shorten its texts)");
}

TEST_F(Append, AFileOpenForReadingOnlyRefuses) {
  Ledger reader = need(Ledger::open(path_, Access::kReadOnly));
  const auto kept = reader.append({reading(10, "101", "percent_stand", "80")});
  ASSERT_FALSE(kept);
  EXPECT_EQ(kept.error().kind, ErrorKind::kRefused);
}

TEST_F(Append, AnotherConnectionSeesItAtOnce) {
  const Ledger reader = need(Ledger::open(path_, Access::kReadOnly));
  need(ledger_.append({reading(10, "101", "percent_stand", "80")}));
  EXPECT_EQ(need(reader.claims(trial())).size(), 1U);
}

TEST_F(Append, TwoProgramsAtOneLedgerKeepOneChain) {
  Ledger other = need(Ledger::open(path_));
  for (std::uint64_t n = 10; n < 30; n += 2) {
    need(ledger_.append({reading(n, "101", "percent_stand", "80")}));
    need(other.append({reading(n + 1, "102", "percent_stand", "70")}));
  }
  EXPECT_EQ(need(ledger_.spans())[0].last, 21);
  EXPECT_TRUE(need(ledger_.check()).empty());
}

// Proves: a value is kept whole or not at all when the disk is full, and the ledger goes on.
TEST_F(Append, AFullDiskKeepsNothingAndTheLedgerGoesOn) {
  need(ledger_.append({reading(10, "101", "percent_stand", "80")}));
  const Digest before = need(ledger_.digest());
  struct rlimit usual {};
  getrlimit(RLIMIT_FSIZE, &usual);
  signal(SIGXFSZ, SIG_IGN);
  int failures = 0;
  // Room for some pages more each time: every write of a commit is refused in turn.
  const auto now = std::filesystem::file_size(path_ + "-wal");
  for (rlim_t room = 0; room < 40'000; room += 1000) {
    const struct rlimit tight { now + room, usual.rlim_max };
    setrlimit(RLIMIT_FSIZE, &tight);
    const auto kept = ledger_.append({reading(1000 + room, "102", "percent_stand", "70")});
    setrlimit(RLIMIT_FSIZE, &usual);
    if (kept) break;
    ++failures;
    EXPECT_EQ(kept.error().kind, ErrorKind::kIo);
    EXPECT_FALSE(kept.error().mend.empty());
    EXPECT_EQ(need(ledger_.digest()), before) << room;
  }
  EXPECT_GT(failures, 0);
  need(ledger_.append({reading(2'000'000, "201", "percent_stand", "60")}));
  EXPECT_TRUE(need(ledger_.check()).empty());
  const Ledger again = need(Ledger::open(path_));
  EXPECT_EQ(need(again.digest()), need(ledger_.digest()));
}

}  // namespace
}  // namespace ligule::ledger
