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
  used.not_kept(1, 1);
  EXPECT_EQ(added(used, 1), 1U);
}

// Proves: an act that is sent again before its first failure is told brings its scale again, and
// that failure takes nothing from the second sending.
TEST_F(UsedScales, AScaleComesAgainWithAnActThatIsSentAgain) {
  DefinitionsUsed used = need(DefinitionsUsed::of(ledger_, definitions_));
  EXPECT_EQ(added(used, 1), 1U);
  flow::Append again = act(1);
  again.epoch = 2;
  used.add_to(again, ids_);
  EXPECT_EQ(again.records.size(), 3U);
  used.not_kept(1, 1);
  EXPECT_EQ(added(used, 2), 0U) << "it is under way";
  used.kept(1);
  EXPECT_EQ(added(used, 3), 0U);
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

class UsedLimits : public UsedScales {
 protected:
  UsedLimits() {
    definitions_.limits = {{"percent_stand", "", "", "%", 10.0, {}, "a source"}};
    digest_of_limits_ = sha256(limits_text(definitions_.limits)).hex();
  }
  // Limits among what an act of values was given in front.
  std::vector<std::string> limits_before(DefinitionsUsed& used, flow::Append append) {
    used.add_to(append, ids_);
    std::vector<std::string> digests;
    for (const Record& record : append.records) {
      if (record.is_claim()) break;
      if (record.kind == kind::kLimits) digests.push_back(record.definition);
    }
    const auto kept = ledger_.append(append.records);
    EXPECT_TRUE(kept) << (kept ? "" : one_line(kept.error()));
    used.kept(append.act);
    return digests;
  }
  flow::Append one_value(flow::ActNumber number) {
    Record record = reading(100 + number, "101", "percent_stand", "80");
    record.definition = digest_;
    return {number, 1, {record}};
  }

  std::string digest_of_limits_;
};

TEST_F(UsedLimits, ComeBeforeTheFirstValueOnce) {
  DefinitionsUsed used = need(DefinitionsUsed::of(ledger_, definitions_));
  EXPECT_EQ(limits_before(used, one_value(1)), std::vector{digest_of_limits_});
  EXPECT_EQ(need(ledger_.limits_told()), digest_of_limits_);
  EXPECT_TRUE(limits_before(used, one_value(2)).empty());
  // Nor when the program is started again.
  DefinitionsUsed later = need(DefinitionsUsed::of(ledger_, definitions_));
  EXPECT_TRUE(limits_before(later, one_value(3)).empty());
}

TEST_F(UsedLimits, ComeAgainAfterTheyChanged) {
  DefinitionsUsed used = need(DefinitionsUsed::of(ledger_, definitions_));
  EXPECT_EQ(limits_before(used, one_value(1)), std::vector{digest_of_limits_});
  definitions_.limits.front().ask_below = 20;
  const std::string changed = sha256(limits_text(definitions_.limits)).hex();
  DefinitionsUsed later = need(DefinitionsUsed::of(ledger_, definitions_));
  EXPECT_EQ(limits_before(later, one_value(2)), std::vector{changed});
  // Back to the first ones: those are not the stream's last.
  definitions_.limits.front().ask_below = 10;
  DefinitionsUsed back = need(DefinitionsUsed::of(ledger_, definitions_));
  EXPECT_EQ(limits_before(back, one_value(3)), std::vector{digest_of_limits_});
}

TEST_F(UsedLimits, DoNotComeWithWhatIsNoValue) {
  DefinitionsUsed used = need(DefinitionsUsed::of(ledger_, definitions_));
  EXPECT_TRUE(limits_before(used, {1, 1, {event(300, "spray")}}).empty());
  EXPECT_EQ(limits_before(used, one_value(2)), std::vector{digest_of_limits_});
}

TEST_F(UsedLimits, ThatWereNotKeptComeWithTheNextValue) {
  DefinitionsUsed used = need(DefinitionsUsed::of(ledger_, definitions_));
  flow::Append lost = one_value(1);
  used.add_to(lost, ids_);
  EXPECT_EQ(lost.records.size(), 3U);
  used.not_kept(1, 1);
  EXPECT_EQ(limits_before(used, one_value(2)), std::vector{digest_of_limits_});
}

}  // namespace
}  // namespace ligule::work
