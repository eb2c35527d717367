// What the database itself refuses, whoever writes to it.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "tests/storage/ledger/sample.h"

namespace ligule::ledger {
namespace {

using namespace sample;
using testing::HasSubstr;

class Triggers : public testing::Test {
 protected:
  Triggers() {
    Ledger ledger = started(path_, 1);
    need(ledger.append({reading(10, "101", "percent_stand", "80")}));
    digest_ = need(ledger.digest());
  }
  // SQLite's refusal; the ledger must be as before.
  std::string refusal(const std::string& sql) {
    std::string message = raw_sql(path_, sql);
    const Ledger ledger = need(Ledger::open(path_));
    EXPECT_EQ(need(ledger.digest()), digest_) << sql;
    EXPECT_TRUE(need(ledger.check()).empty()) << sql;
    return message;
  }

  Folder folder_{true};
  std::string path_ = folder_.file("a.ledger");
  Digest digest_;
};

constexpr const char* kSameRecord =
    "INTO record(row,stream,seq,id,kind,format,body,digest) SELECT ";

TEST_F(Triggers, ARecordIsNeverChanged) {
  EXPECT_THAT(refusal("UPDATE record SET body='x' WHERE seq=2"), HasSubstr("never changed"));
}

TEST_F(Triggers, ARecordIsNeverDeleted) {
  EXPECT_THAT(refusal("DELETE FROM record WHERE seq=2"), HasSubstr("never deleted"));
  EXPECT_THAT(refusal("DELETE FROM record"), HasSubstr("never deleted"));
}

// REPLACE gets past triggers on UPDATE and DELETE: each unique key has to be looked at before.
TEST_F(Triggers, ARecordIsNeverReplacedByAnyOfItsKeys) {
  const std::string replace = std::string("INSERT OR REPLACE ") + kSameRecord;
  EXPECT_THAT(refusal(replace + "row,stream,99,randomblob(16),kind,1,'x',digest FROM record"
                                " WHERE seq=2"),
              HasSubstr("never replaced"));
  EXPECT_THAT(refusal(replace + "NULL,stream,99,id,kind,1,'x',digest FROM record WHERE seq=2"),
              HasSubstr("never replaced"));
  EXPECT_THAT(refusal(replace + "NULL,stream,seq,randomblob(16),kind,1,'x',digest FROM record"
                                " WHERE seq=2"),
              HasSubstr("never replaced"));
  EXPECT_THAT(refusal(std::string("REPLACE ") + kSameRecord +
                      "row,stream,seq,id,kind,1,'x',digest FROM record WHERE seq=2"),
              HasSubstr("never replaced"));
  EXPECT_THAT(refusal(std::string("INSERT ") + kSameRecord +
                      "NULL,stream,seq,id,kind,1,'x',digest FROM record WHERE seq=2"
                      " ON CONFLICT(id) DO UPDATE SET body='x'"),
              HasSubstr("never"));
}

TEST_F(Triggers, AStreamIsNeverChangedDeletedOrReplaced) {
  EXPECT_THAT(refusal("UPDATE stream SET device='x'"), HasSubstr("never changed"));
  EXPECT_THAT(refusal("DELETE FROM stream"), HasSubstr("never deleted"));
  EXPECT_THAT(
      refusal("REPLACE INTO stream SELECT id,'x',public_key,continues,demo,mine FROM stream"),
      HasSubstr("never replaced"));
}

TEST_F(Triggers, ValuesOfAnotherTypeAreRefused) {
  EXPECT_THAT(refusal(std::string("INSERT ") + kSameRecord +
                      "NULL,stream,'three',randomblob(16),kind,1,'x',digest FROM record"
                      " WHERE seq=2"),
              HasSubstr("cannot store TEXT"));
  EXPECT_THAT(refusal(std::string("INSERT ") + kSameRecord +
                      "NULL,stream,3,randomblob(15),kind,1,'x',digest FROM record WHERE seq=2"),
              HasSubstr("CHECK"));
}

}  // namespace
}  // namespace ligule::ledger
