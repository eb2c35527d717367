#include "app/work/definitions_used.h"

#include <gtest/gtest.h>

#include "storage/trial/plan.h"
#include "tests/storage/ledger/sample.h"

namespace ligule::work {
namespace {

using namespace ledger::sample;

class UsedScales : public testing::Test {
 protected:
  UsedScales() {
    Scale scale;
    scale.code = "percent_stand";
    scale.kind = ScaleKind::kPercent;
    scale.source = "common practice, no source";
    definitions_.scales = {scale};
    digest_ = sha256(scale_text(scale)).hex();
  }
  flow::Append act(flow::ActNumber number) {
    Record record = reading(100 + number, "101", "percent_stand", "80");
    record.definition = digest_;
    return {number, 1, {record, record}};
  }
  std::size_t added(DefinitionsUsed& used, flow::ActNumber number) {
    flow::Append append = act(number);
    used.add_to(append, ids_);
    return append.records.size() - 2;
  }

  Folder folder_{true};
  ledger::Ledger ledger_ = started(folder_.file("a.ledger"), 1);
  Definitions definitions_;
  std::string digest_;
  std::uint64_t next_ = 500;
  flow::IdSource ids_ = [this](UtcInstant) { return RecordId{id(next_++)}; };
};

TEST_F(UsedScales, AScaleStandsInFrontOfItsFirstValueOnce) {
  DefinitionsUsed used = need(DefinitionsUsed::of(ledger_, definitions_));
  flow::Append append = act(1);
  used.add_to(append, ids_);
  ASSERT_EQ(append.records.size(), 3U);
  EXPECT_EQ(append.records[0].kind, kind::kDefinition);
  EXPECT_EQ(append.records[0].definition, digest_);
  EXPECT_EQ(append.records[0].entered, "percent_stand");
  EXPECT_EQ(added(used, 2), 0U);  // under way with the first
  used.kept(1);
  EXPECT_EQ(added(used, 3), 0U);
  // And the ledger takes it.
  need(ledger_.append(append.records.size() > 2
                          ? std::vector<Record>{append.records[0], append.records[1]}
                          : std::vector<Record>{}));
  EXPECT_TRUE(need(ledger_.definition(digest_)));
}

TEST_F(UsedScales, AScaleThatWasNotKeptComesWithTheNextAct) {
  DefinitionsUsed used = need(DefinitionsUsed::of(ledger_, definitions_));
  EXPECT_EQ(added(used, 1), 1U);
  used.not_kept(1);
  EXPECT_EQ(added(used, 1), 1U);
}

TEST_F(UsedScales, WhatTheLedgerHoldsIsNotWrittenAgain) {
  {
    DefinitionsUsed used = need(DefinitionsUsed::of(ledger_, definitions_));
    flow::Append append = act(1);
    used.add_to(append, ids_);
    need(ledger_.append({append.records[0]}));
  }
  DefinitionsUsed used = need(DefinitionsUsed::of(ledger_, definitions_));
  EXPECT_EQ(added(used, 1), 0U);
}

TEST_F(UsedScales, AValueOnNoKnownScaleNeedsNone) {
  DefinitionsUsed used = need(DefinitionsUsed::of(ledger_, definitions_));
  flow::Append append{1, 1, {reading(10, "101", "note", "x")}};
  used.add_to(append, ids_);
  EXPECT_EQ(append.records.size(), 1U);
}

}  // namespace
}  // namespace ligule::work
