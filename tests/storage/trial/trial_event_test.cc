#include "storage/trial/trial_event.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <functional>

#include "storage/trial/identity.h"

namespace ligule {
namespace {

const TrialId kHere = trial_id({"ST", "HILL", "TF24"});
const TrialId kElsewhere = trial_id({"ST", "HILL", "AL24"});

Record made(std::uint8_t n, std::string_view kind) {
  Record record;
  record.id.uuid.bytes[15] = n;
  record.kind = kind;
  record.at.utc = UtcInstant(std::chrono::milliseconds(n));
  record.trial = kHere;
  return record;
}

Record event(std::uint8_t n, std::string entered) {
  Record record = made(n, kind::kEvent);
  record.entered = std::move(entered);
  return record;
}

Record back(std::uint8_t n, const Record& of, std::string reason = "mistap") {
  Record record = made(n, kind::kWithdrawal);
  record.targets = {of.id};
  record.reason = std::move(reason);
  return record;
}

TEST(TrialEvents, AreThoseOfTheKindInTheirOrder) {
  const Record spray = event(1, "spray");
  const Record mowing = event(2, "mowing");
  const auto events = trial_events({mowing, made(3, kind::kReading), spray});
  EXPECT_THAT(events, testing::ElementsAre(TrialEvent{mowing, std::nullopt},
                                           TrialEvent{spray, std::nullopt}));
}

// Proves: whatever order records come in, the same events are taken back, by the same record.
TEST(TrialEvents, TheOrderOfRecordsDoesNotMatter) {
  const Record spray = event(1, "spray");
  const Record mowing = event(2, "mowing");
  const Record shown = event(3, "names_shown");
  Record elsewhere = back(4, mowing);
  elsewhere.trial = kElsewhere;
  const Record first = back(5, spray, "not_valid");
  const Record second = back(6, spray);
  std::vector<Record> records{spray, mowing, shown, elsewhere, first, second, back(7, shown)};
  const auto by_id = [](const Record& a, const Record& b) { return a.id < b.id; };
  std::ranges::sort(records, by_id);
  int orders = 0;
  do {
    for (const TrialEvent& one : trial_events(records)) {
      if (one.record == spray) {
        EXPECT_EQ(one.taken_back, first);
      } else {
        EXPECT_FALSE(one.taken_back) << one.record.entered;
      }
    }
    ++orders;
  } while (std::ranges::next_permutation(records, by_id).found);
  EXPECT_EQ(orders, 5040);
}

TEST(TrialEvents, OnlyAWithdrawalOfNoSlotAndNoValueTakesOneBack) {
  const Record spray = event(1, "spray");
  EXPECT_TRUE(takes_event_back(back(2, spray)));
  const std::function<void(Record&)> spoils[] = {
      [](Record& r) { r.kind = kind::kCorrection; },
      [](Record& r) { r.subject = plot_id(kHere, "101").uuid; },
      [](Record& r) { r.measure = "note"; },
      [](Record& r) { r.occasion = rating_id(kHere, "2026"); },
      [](Record& r) { r.run = r.id; },
      [](Record& r) { r.purpose = Purpose::kSurvey; },
      [](Record& r) { r.part = 2; },
      [](Record& r) { r.state = ValueState::kValue; },
      [](Record& r) { r.entered = "x"; },
      [](Record& r) { r.unit = "%"; },
      [](Record& r) { r.value = 1; },
      [](Record& r) { r.definition = std::string(64, 'a'); }};
  for (const auto& spoil : spoils) {
    Record record = back(2, spray);
    spoil(record);
    EXPECT_FALSE(takes_event_back(record));
    EXPECT_FALSE(trial_events({record, spray})[0].taken_back);
  }
}

}  // namespace
}  // namespace ligule
