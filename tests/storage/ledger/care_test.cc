// The full check, and folding in the log.
#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <sys/resource.h>
#include <csignal>

#include "tests/storage/files/no_threads.h"
#include "tests/storage/ledger/sample.h"

namespace ligule::ledger {
namespace {

using namespace sample;
using testing::HasSubstr;

class Care : public testing::Test {
 protected:
  Care() {
    Ledger ledger = started(path_, 1);
    need(ledger.append({plan_record(9, plan()), reading(10, "101", "percent_stand", "80"),
                        reading(11, "102", "percent_stand", "70")}));
  }
  // Changes the file behind the ledger's back, its triggers taken away and put back.
  std::vector<Error> findings_after(const std::string& sql) {
    std::string restore;
    for (const char* trigger : {"record_no_update", "record_no_delete", "stream_no_delete"}) {
      restore += raw_value(path_, std::string("SELECT sql FROM sqlite_schema WHERE name='") +
                                      trigger + "'") +
                 ";";
      EXPECT_EQ(raw_sql(path_, std::string("DROP TRIGGER ") + trigger), "");
    }
    EXPECT_EQ(raw_sql(path_, sql), "") << sql;
    EXPECT_EQ(raw_sql(path_, restore), "");
    return need(need(Ledger::open(path_, Access::kReadOnly)).check());
  }

  Folder folder_{true};
  std::string path_ = folder_.file("a.ledger");
};

std::string joined(const std::vector<Error>& findings) {
  std::string out;
  for (const Error& finding : findings) {
    EXPECT_EQ(finding.kind, ErrorKind::kDamaged);
    out += one_line(finding) + "\n";
  }
  return out;
}

TEST_F(Care, AWholeLedgerHasNoFindings) {
  EXPECT_EQ(joined(need(need(Ledger::open(path_)).check())), "");
}

TEST_F(Care, AChangedBodyIsFound) {
  const std::string all =
      joined(findings_after("UPDATE record SET body=replace(body,',80,',',90,') WHERE seq=3"));
  EXPECT_THAT(all, HasSubstr("record 3: its digest does not hold"));
  EXPECT_THAT(all, testing::Not(HasSubstr("record 4: its digest")));  // one break, one finding
}

TEST_F(Care, AChangedDigestIsFound) {
  EXPECT_THAT(joined(findings_after("UPDATE record SET digest=zeroblob(32) WHERE seq=4")),
              HasSubstr("record 4: its digest does not hold"));
}

TEST_F(Care, ColumnsThatDifferFromTheBodyAreFound) {
  EXPECT_THAT(joined(findings_after("UPDATE record SET kind='event' WHERE seq=3")),
              HasSubstr("record 3: its columns differ from its text"));
}

TEST_F(Care, AMissingRecordIsFound) {
  EXPECT_THAT(joined(findings_after("DELETE FROM record WHERE seq=3")),
              HasSubstr("record 4: records before it are missing"));
}

TEST_F(Care, ARunWithoutABeginningIsFound) {
  EXPECT_THAT(joined(findings_after("DELETE FROM span_start")),
              HasSubstr("4 records stand outside every chain"));
}

TEST_F(Care, AStreamWithoutRecordsIsFound) {
  EXPECT_THAT(joined(findings_after("INSERT INTO stream VALUES(randomblob(16),'ghost',"
                                    "zeroblob(32),NULL,0,0)")),
              HasSubstr("a stream of ghost has no record"));
}

TEST_F(Care, ARecordOfNoStreamIsFound) {
  EXPECT_THAT(
      joined(findings_after("INSERT INTO record(stream,seq,id,kind,format,body,digest)"
                            " VALUES(randomblob(16),1,randomblob(16),'event',1,'x',zeroblob(32))")),
      HasSubstr("a row of record belongs to no stream"));
}

// A large file is looked at by two threads: what each finds is told.
TEST_F(Care, ALargeLedgerIsLookedAtInFull) {
  Ledger ledger = need(Ledger::open(path_));
  for (std::uint64_t n = 0; n < 20; ++n)
    need(ledger.append({reading(20 + n, "101", "note", std::string(1'000'000, 'x'))}));
  need(ledger.checkpoint());
  ASSERT_GT(std::filesystem::file_size(path_), std::uint64_t{16} << 20U);
  EXPECT_EQ(joined(need(ledger.check())), "");
  {
    const files::NoThreads none;
    EXPECT_EQ(joined(need(ledger.check())), "");
  }
  const std::string all =
      joined(findings_after("INSERT INTO record(stream,seq,id,kind,format,body,digest)"
                            " VALUES(randomblob(16),1,randomblob(16),'event',1,'x',zeroblob(32));"
                            "UPDATE record SET digest=zeroblob(32) WHERE seq=9;"
                            "UPDATE item SET standing=0 WHERE row=3"));
  EXPECT_THAT(all, HasSubstr("a row of record belongs to no stream"));
  EXPECT_THAT(all, HasSubstr("record 9: its digest does not hold"));
}

TEST_F(Care, ProjectionsThatDifferFromAReplayAreFoundAndNotWrittenTo) {
  const std::string sound = file_bytes(path_);
  for (const char* sql :
       {"UPDATE item SET standing=0 WHERE row=3", "DELETE FROM plan",
        "DELETE FROM item WHERE row=4", "UPDATE item SET subject=zeroblob(15) WHERE row=3",
        "UPDATE item SET state=NULL WHERE row=3", "UPDATE item SET part=2 WHERE row=3",
        "INSERT INTO item VALUES(99,'event',NULL,NULL,'',NULL,1,NULL,NULL,NULL)",
        "UPDATE item SET standing=NULL WHERE row=3", "INSERT INTO replaced VALUES(zeroblob(16),4)",
        "INSERT INTO definition VALUES('x',4)"}) {
    EXPECT_THAT(joined(findings_after(sql)), HasSubstr("differs from a replay")) << sql;
    const std::string damaged = file_bytes(path_);
    const auto opened = Ledger::open(path_);
    ASSERT_FALSE(opened) << sql;
    EXPECT_THAT(error_line(opened), HasSubstr("the ledger is damaged (the projection ")) << sql;
    EXPECT_EQ(file_bytes(path_), damaged) << sql;
    write_bytes(path_, sound);
  }
}

TEST_F(Care, ABodyThatIsNoRecordIsFoundAndNotWrittenTo) {
  const std::string all = joined(findings_after("UPDATE record SET body='x' WHERE seq=3"));
  EXPECT_THAT(all, HasSubstr("record in row 3 can't be read"));
  EXPECT_THAT(all, HasSubstr("record 3: its columns differ from its text"));
  const auto opened = Ledger::open(path_);
  ASSERT_FALSE(opened) << "it would be written to";
  EXPECT_EQ(opened.error().kind, ErrorKind::kDamaged);
  const Ledger ledger = need(Ledger::open(path_, Access::kReadOnly));
  const auto found = ledger.find({id(10)});
  ASSERT_FALSE(found);
  EXPECT_EQ(found.error().kind, ErrorKind::kDamaged);
  const auto claims = ledger.claims(trial());
  ASSERT_FALSE(claims);
  EXPECT_EQ(claims.error().kind, ErrorKind::kDamaged);
}

TEST_F(Care, CheckpointFoldsTheLogIn) {
  Ledger ledger = need(Ledger::open(path_));
  need(ledger.append({reading(20, "101", "note", "x")}));
  ASSERT_GT(std::filesystem::file_size(path_ + "-wal"), 0U);
  need(ledger.checkpoint());
  EXPECT_EQ(std::filesystem::file_size(path_ + "-wal"), 0U);
}

TEST_F(Care, CheckpointSaysWhenTheDiskIsFull) {
  Ledger ledger = need(Ledger::open(path_));
  std::vector<Record> many;
  for (std::uint64_t n = 100; n < 400; ++n) many.push_back(reading(n, "101", "note", "x"));
  need(ledger.append(many));
  const Digest digest = need(ledger.digest());
  struct rlimit usual {};
  getrlimit(RLIMIT_FSIZE, &usual);
  signal(SIGXFSZ, SIG_IGN);
  const struct rlimit tight { std::filesystem::file_size(path_), usual.rlim_max };
  setrlimit(RLIMIT_FSIZE, &tight);
  const auto folded = ledger.checkpoint();
  setrlimit(RLIMIT_FSIZE, &usual);
  ASSERT_FALSE(folded);
  EXPECT_EQ(folded.error().kind, ErrorKind::kIo);
  EXPECT_EQ(need(ledger.digest()), digest);
  need(ledger.checkpoint());
  EXPECT_EQ(joined(need(ledger.check())), "");
}

}  // namespace
}  // namespace ligule::ledger
