#include <gtest/gtest.h>

#include "tests/storage/ledger/sample.h"

namespace ligule::ledger {
namespace {

using namespace sample;

class Local : public testing::Test {
 protected:
  Folder folder_{true};
  std::string path_ = folder_.file("a.ledger");
  Ledger ledger_ = started(path_, 1);
};

TEST_F(Local, SealsAreNotedInOrderAndChangeNoRecord) {
  const Digest before = need(ledger_.digest());
  const UtcInstant at{std::chrono::milliseconds(1777896000123)};
  need(ledger_.note_seal({{id(1)}, 2, 3, at + std::chrono::hours(1), "b.zip", sha256("b")}));
  need(ledger_.note_seal({{id(1)}, 1, 1, at, "a.zip", sha256("a")}));
  const auto seals = need(need(Ledger::open(path_)).seals());
  ASSERT_EQ(seals.size(), 2U);
  EXPECT_EQ(seals[0].file_name, "a.zip");
  EXPECT_EQ(seals[0].at, at);
  EXPECT_EQ(seals[1].first, 2);
  EXPECT_EQ(seals[1].last, 3);
  EXPECT_EQ(seals[1].stream, StreamId{id(1)});
  EXPECT_EQ(seals[1].file_sha256, sha256("b"));
  EXPECT_EQ(need(ledger_.digest()), before);
}

TEST_F(Local, ASealOfAStreamThatIsNotHeldIsRefused) {
  const auto noted = ledger_.note_seal({{id(99)}, 1, 1, {}, "a.zip", sha256("a")});
  ASSERT_FALSE(noted);
  EXPECT_EQ(noted.error().kind, ErrorKind::kConflict);
}

TEST_F(Local, CopiesAreNotedInOrder) {
  const UtcInstant at{std::chrono::milliseconds(1777896000123)};
  need(ledger_.note_copy({"b.zip", "/media/stick", at + std::chrono::hours(1)}));
  need(ledger_.note_copy({"a.zip", "/media/card", at}));
  const auto copies = need(ledger_.copies());
  ASSERT_EQ(copies.size(), 2U);
  EXPECT_EQ(copies[0].file_name, "a.zip");
  EXPECT_EQ(copies[0].place, "/media/card");
  EXPECT_EQ(copies[0].at, at);
  EXPECT_EQ(copies[1].file_name, "b.zip");
}

TEST_F(Local, AKeyIsTrustedAndRevoked) {
  TrustedKey key;
  key.key.fill(7);
  key.label = "tablet 7";
  need(ledger_.trust(key));
  auto keys = need(ledger_.trusted_keys());
  ASSERT_EQ(keys.size(), 1U);
  EXPECT_EQ(keys[0].key, key.key);
  EXPECT_EQ(keys[0].label, "tablet 7");
  EXPECT_EQ(keys[0].status, Trust::kTrusted);
  EXPECT_TRUE(keys[0].believed.empty());
  key.status = Trust::kRevoked;
  key.believed = {{StreamId{id(1)}, 41, sha256("a")}, {StreamId{id(2)}, 7, sha256("b")}};
  need(ledger_.trust(key));
  keys = need(ledger_.trusted_keys());
  ASSERT_EQ(keys.size(), 1U);
  EXPECT_EQ(keys[0].status, Trust::kRevoked);
  EXPECT_EQ(keys[0].believed, key.believed);
  key.status = Trust::kTrusted;
  key.believed.clear();
  need(ledger_.trust(key));
  EXPECT_TRUE(need(ledger_.trusted_keys())[0].believed.empty());
}

TEST_F(Local, WhatWasGatheredIsNotedOnce) {
  const Span span{{id(1)}, 1, 1, {}, {}};
  need(ledger_.note_gathered(sha256("file"), "a.zip", span, {}));
  need(ledger_.note_gathered(sha256("file"), "a.zip", span, {}));
  EXPECT_EQ(raw_value(path_, "SELECT count(*) FROM gathered"), "1");
}

TEST_F(Local, NothingIsNotedInAFileOpenForReading) {
  Ledger reader = need(Ledger::open(path_, Access::kReadOnly));
  EXPECT_EQ(error_line(reader.trust({})).substr(0, 8), "refused:");
  EXPECT_EQ(error_line(reader.note_seal({})).substr(0, 8), "refused:");
  EXPECT_EQ(error_line(reader.note_copy({})).substr(0, 8), "refused:");
  EXPECT_EQ(error_line(reader.note_gathered({}, "", {}, {})).substr(0, 8), "refused:");
  EXPECT_EQ(error_line(reader.replay()).substr(0, 8), "refused:");
  EXPECT_EQ(error_line(reader.start_stream(start(9))).substr(0, 8), "refused:");
}

}  // namespace
}  // namespace ligule::ledger
