// Weights that were said again: the record that said them first.
#include "storage/trial/first_said.h"

#include <gtest/gtest.h>

#include <map>

#include "storage/trial/details.h"

namespace ligule {
namespace {

class FirstSaid : public ::testing::Test {
 protected:
  RecordId said(const std::string& entered, const std::string& reason = "",
                std::vector<RecordId> targets = {}, const std::string& moved_from = "") {
    Record record;
    record.id.uuid.bytes[15] = static_cast<std::uint8_t>(records_.size() + 1);
    record.kind = targets.empty() ? kind::kReading : kind::kCorrection;
    record.source = Source::kScale;
    record.entered = entered;
    record.unit = "kg";
    record.raw = "S " + entered;
    record.reason = reason;
    record.targets = std::move(targets);
    if (!moved_from.empty()) record.details = details_text({{"moved_from", moved_from}});
    const RecordId id = record.id;
    records_[id] = std::move(record);
    return id;
  }
  RecordId first(RecordId id) {
    return first_said(records_.at(id),
                      [&](RecordId wanted) -> Result<std::optional<Record>> {
                        const auto at = records_.find(wanted);
                        return at == records_.end() ? std::nullopt : std::optional(at->second);
                      })
        ->id;
  }

  std::map<RecordId, Record> records_;
};

TEST_F(FirstSaid, AReadingAndAWeightTakenAgainAreTheFirst) {
  const RecordId one = said("31.5");
  EXPECT_EQ(first(one), one);
  const RecordId again = said("32.0", "weighed_again", {one});
  EXPECT_EQ(first(again), again);
  // The same number by chance: it hung there again.
  const RecordId same = said("32.0", "weighed_again", {again});
  EXPECT_EQ(first(same), same);
}

TEST_F(FirstSaid, WhatIsHeldTakenBackAndSaidToBeWeedsLeadsBack) {
  const RecordId one = said("31.5");
  const RecordId held = said("31.5", "check_weight_off", {one});
  const RecordId weeds = said("31.5", "weeds_only", {held});
  EXPECT_EQ(first(weeds), one);
  const RecordId back = said("31.5", "taken_back", {weeds});
  EXPECT_EQ(first(back), one);
}

TEST_F(FirstSaid, TakenBackItIsTheWeightBeforeThatCounts) {
  const RecordId one = said("31.5");
  const RecordId again = said("32.0", "weighed_again", {one});
  const RecordId back = said("31.5", "taken_back", {again});
  EXPECT_EQ(first(back), one);
}

TEST_F(FirstSaid, ExchangedItIsTheOtherPlotsWeight) {
  const RecordId one = said("31.5");
  const RecordId other = said("45.0");
  const RecordId here = said("45.0", "exchanged", {one}, other.text());
  const RecordId held = said("45.0", "check_weight_off", {here}, other.text());
  EXPECT_EQ(first(here), other);
  EXPECT_EQ(first(held), other);
  const RecordId back = said("31.5", "taken_back", {held});
  EXPECT_EQ(first(back), one);
}

TEST_F(FirstSaid, WhatIsNotHeldHereEndsTheWay) {
  RecordId gone;
  gone.uuid.bytes[0] = 9;
  const RecordId held = said("31.5", "check_weight_off", {gone});
  EXPECT_EQ(first(held), held);
  const RecordId moved = said("31.5", "slid", {gone}, gone.text());
  EXPECT_EQ(first(moved), moved);
}

// A forged ring: nothing waits for its end.
TEST_F(FirstSaid, ARingEnds) {
  RecordId self;
  self.uuid.bytes[15] = 1;
  const RecordId ring = said("31.5", "slid", {self}, self.text());
  EXPECT_EQ(ring, self);
  EXPECT_EQ(first(ring), ring);
}

TEST_F(FirstSaid, AnErrorOfReadingIsTold) {
  const RecordId one = said("31.5");
  const RecordId held = said("31.5", "check_weight_off", {one});
  const auto result = first_said(records_.at(held), [](RecordId) -> Result<std::optional<Record>> {
    return fail(ErrorKind::kDamaged, "a record can't be read", "a.ledger", "leave it");
  });
  ASSERT_FALSE(result);
  EXPECT_EQ(result.error().kind, ErrorKind::kDamaged);
}

TEST_F(FirstSaid, ASettlementLeadsBackToTheValueItChose) {
  const RecordId one = said("31.5");
  const RecordId other = said("33.0");
  const RecordId settled = said("31.5", "agreed", {other, one});
  Record& record = records_.at(settled);
  record.kind = kind::kSettlement;
  record.source = Source::kTapped;
  record.raw.clear();
  EXPECT_EQ(first(settled), one);
}

}  // namespace
}  // namespace ligule
