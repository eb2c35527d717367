#include "app/work/new_key.h"

#include <gtest/gtest.h>

#include "sync/seal/keys.h"
#include "tests/storage/ledger/sample.h"

namespace ligule::work {
namespace {

using namespace ledger::sample;

class NewKey : public testing::Test {
 protected:
  std::optional<flow::NewKey> told(int days_on = 0) {
    return need(new_key(ledger_, date::sys_days(at(0).local_date) + date::days(days_on)));
  }
  // A stream with another key; `instead`: because the one before was lost.
  ledger::StreamInfo begin(std::uint64_t n, bool instead) {
    ledger::StreamStart start = ledger::sample::start(n, "tablet 3");
    start.public_key.fill(static_cast<std::uint8_t>(n));
    start.instead = instead;
    return need(ledger_.start_stream(start));
  }
  void seal(StreamId stream, std::int64_t last) {
    need(ledger_.note_seal({stream, 1, last, at(100).utc, stream.text() + ".zip", sha256("a")}));
  }

  Folder folder_{true};
  std::string path_ = folder_.file("a.ledger");
  ledger::Ledger ledger_ = started(path_, 1, "tablet 3");
};

TEST_F(NewKey, IsToldUntilSomethingIsSealedWithIt) {
  seal({id(1)}, 1);
  EXPECT_FALSE(told());
  const ledger::StreamInfo stream = begin(90, true);
  EXPECT_EQ(told(), (flow::NewKey{seal::fingerprint(stream.public_key), 0}));
  EXPECT_TRUE(told(400)) << "no desk knows it yet";
  seal(stream.id, 1);
  EXPECT_FALSE(told());
}

TEST_F(NewKey, WhatTheLostOnesSignNoMoreIsToldForTwoWeeks) {
  need(ledger_.append({plan_record(9, plan()), reading(10, "101", "percent_stand", "80")}));
  seal({id(1)}, 1);
  begin(90, true);
  const ledger::StreamInfo last = begin(95, true);
  ASSERT_TRUE(told());
  EXPECT_EQ(told()->unsealed, 3) << "two of the first stream, one of the second";
  seal(last.id, 1);
  EXPECT_TRUE(told(14));
  EXPECT_FALSE(told(15));
}

// A spare that goes on from a copy has another key too, and lost none.
TEST_F(NewKey, ACopyHasLostNone) {
  need(ledger_.backup_to(folder_.file("copy.ledger")));
  ledger_ = need(ledger::Ledger::open(folder_.file("copy.ledger")));
  begin(90, false);
  EXPECT_FALSE(told());
}

}  // namespace
}  // namespace ligule::work
