#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "storage/trial/details.h"
#include "tests/storage/ledger/sample.h"

namespace ligule::ledger {
namespace {

using namespace sample;
using testing::ElementsAre;
using testing::UnorderedElementsAre;

// "plot measure=entered", and "!n" behind it where n other claims differ.
std::vector<std::string> shown(const std::vector<Claim>& claims) {
  std::vector<std::string> out;
  for (const Claim& claim : claims) {
    std::string text = claim.record.measure + "=" + claim.record.entered;
    if (claim.others > 0) text += "!" + std::to_string(claim.others);
    out.push_back(text);
  }
  return out;
}

std::vector<std::uint64_t> ids(const std::vector<Record>& records) {
  std::vector<std::uint64_t> out;
  for (const Record& record : records) {
    std::uint64_t n = 0;
    for (std::size_t i = 0; i < 6; ++i) n = (n << 8U) | record.id.uuid.bytes[i];
    out.push_back(n);
  }
  return out;
}

class Claims : public testing::Test {
 protected:
  std::vector<std::string> now() { return shown(need(ledger_.claims(trial()))); }

  Folder folder_{true};
  Ledger ledger_ = started(folder_.file("a.ledger"), 1);
  Record first_ = reading(10, "101", "percent_stand", "80");
};

TEST_F(Claims, AReadingStands) {
  const auto kept = need(ledger_.append({first_}));
  const auto claims = need(ledger_.claims(trial()));
  ASSERT_EQ(claims.size(), 1U);
  EXPECT_EQ(claims[0].record, kept[0]);
  EXPECT_EQ(claims[0].others, 0);
}

// Proves: of several numbers in one value none is lost: that the averaged one is the same does not
// make two claims agree.
TEST_F(Claims, SeveralNumbersInOneValueAreComparedWhole) {
  Record cover = reading(11, "101", "ground_cover", "sown=60 weed=25 bare=15");
  cover.value = 60;
  Record other = reading(12, "101", "ground_cover", "sown=60 weed=15 bare=25");
  other.value = 60;
  Record same = cover;
  same.id = RecordId{id(13)};
  need(ledger_.append({cover, other, same}));
  EXPECT_THAT(now(), testing::UnorderedElementsAre("ground_cover=sown=60 weed=25 bare=15!1",
                                                   "ground_cover=sown=60 weed=15 bare=25!2",
                                                   "ground_cover=sown=60 weed=25 bare=15!1"));
}

TEST_F(Claims, AreThoseOfTheTrialAndOccasionAsked) {
  Record cut = reading(11, "101", "gross_weight", "12.5");
  cut.occasion = cutting();
  Record elsewhere = reading(12, "101", "percent_stand", "1");
  elsewhere.trial = trial_id({"north", "home", "OTHER"});
  need(ledger_.append({first_, cut, elsewhere}));
  EXPECT_THAT(now(), ElementsAre("gross_weight=12.5", "percent_stand=80"));
  EXPECT_THAT(shown(need(ledger_.claims(trial(), rating()))), ElementsAre("percent_stand=80"));
  EXPECT_THAT(shown(need(ledger_.claims(trial(), cutting()))), ElementsAre("gross_weight=12.5"));
}

TEST_F(Claims, ACorrectionTakesThePlaceOfWhatItNames) {
  const Record second = correction(11, first_, "85");
  need(ledger_.append({first_, second}));
  EXPECT_THAT(now(), ElementsAre("percent_stand=85"));
  // Taking the correction back is a correction to the earlier value.
  need(ledger_.append({correction(12, second, "80")}));
  EXPECT_THAT(now(), ElementsAre("percent_stand=80"));
}

TEST_F(Claims, AWithdrawnReadingLeavesNothing) {
  need(ledger_.append({first_, withdrawal(11, first_)}));
  EXPECT_TRUE(now().empty());
}

TEST_F(Claims, ACorrectionMayBeHeldBeforeItsTarget) {
  need(ledger_.append({correction(11, first_, "85")}));
  EXPECT_THAT(now(), ElementsAre("percent_stand=85"));
  need(ledger_.append({first_}));
  EXPECT_THAT(now(), ElementsAre("percent_stand=85"));
}

TEST_F(Claims, TwoThatDifferAreAConflictUntilSettledAndALaterOneReopensIt) {
  const Record other = reading(11, "101", "percent_stand", "70");
  need(ledger_.append({first_, other}));
  EXPECT_THAT(now(), ElementsAre("percent_stand=80!1", "percent_stand=70!1"));
  need(ledger_.append({settlement(12, {first_, other}, "70")}));
  EXPECT_THAT(now(), ElementsAre("percent_stand=70"));
  need(ledger_.append({reading(13, "101", "percent_stand", "75")}));
  EXPECT_THAT(now(), ElementsAre("percent_stand=70!1", "percent_stand=75!1"));
}

TEST_F(Claims, TwoThatSayTheSameAgree) {
  const Record again = reading(11, "101", "percent_stand", "80.0");
  need(ledger_.append({first_, again}));
  EXPECT_THAT(now(), ElementsAre("percent_stand=80", "percent_stand=80.0"));
}

TEST_F(Claims, UnitStateAndWordsMakeADifference) {
  Record pounds = reading(11, "102", "gross_weight", "10");
  pounds.unit = "lb";
  Record kilograms = reading(12, "102", "gross_weight", "10");
  kilograms.unit = "kg";
  need(ledger_.append({pounds, kilograms}));
  EXPECT_THAT(now(), ElementsAre("gross_weight=10!1", "gross_weight=10!1"));
  const Record held = reading(13, "201", "note", "lodged");
  const Record other = reading(14, "201", "note", "upright");
  need(ledger_.append({held, other}));
  EXPECT_EQ(need(ledger_.claims(trial())).size(), 4U);
  for (const Claim& claim : need(ledger_.claims(trial()))) EXPECT_EQ(claim.others, 1);
}

TEST_F(Claims, WeedsOnlySaidOfOneOfTwoWeightsIsADifference) {
  Record weeds = reading(11, "102", "gross_weight", "10");
  weeds.details = R"({"weeds":"only"})";
  Record sown = reading(12, "102", "gross_weight", "10");
  sown.details = R"({"load":"net"})";
  need(ledger_.append({weeds, sown}));
  EXPECT_THAT(now(), ElementsAre("gross_weight=10!1", "gross_weight=10!1"));
  Record winner = settlement(13, {weeds, sown}, "10");
  winner.subject = weeds.subject;
  winner.measure = weeds.measure;
  winner.details = weeds.details;
  need(ledger_.append({winner}));
  EXPECT_THAT(now(), ElementsAre("gross_weight=10"));
}

TEST_F(Claims, PartAndPurposeAreSlotsOfTheirOwn) {
  Record part = reading(11, "101", "percent_stand", "60");
  part.part = 2;
  Record repeat = reading(12, "101", "percent_stand", "50");
  repeat.purpose = Purpose::kRepeat;
  Record second = reading(13, "101", "percent_stand", "40");
  second.purpose = Purpose::kSecond;
  Record practice = reading(14, "101", "percent_stand", "30");
  practice.purpose = Purpose::kPractice;
  need(ledger_.append({first_, part, repeat, second, practice}));
  EXPECT_THAT(now(), ElementsAre("percent_stand=80", "percent_stand=50", "percent_stand=40",
                                 "percent_stand=30", "percent_stand=60"));
}

TEST_F(Claims, HistoryTellsEverythingOfASubjectInTheOrderOfTime) {
  Record early = reading(13, "101", "percent_stand", "60");
  early.at = at(1);
  need(ledger_.append(
      {first_, reading(11, "102", "percent_stand", "70"), correction(12, first_, "85"), early}));
  EXPECT_THAT(ids(need(ledger_.history(plot("101").uuid))), ElementsAre(13, 10, 12));
  EXPECT_TRUE(need(ledger_.history(plot("999").uuid)).empty());
}

TEST_F(Claims, FindGivesOneRecord) {
  const auto kept = need(ledger_.append({first_}));
  EXPECT_EQ(need(ledger_.find(first_.id)), kept[0]);
  EXPECT_FALSE(need(ledger_.find({id(999)})));
}

TEST_F(Claims, OfKindGivesAKindOfOneTrialOrAll) {
  Record event;
  event.id = {id(20)};
  event.kind = kind::kEvent;
  event.at = at(20);
  event.trial = trial();
  event.entered = "mown";
  Record elsewhere = event;
  elsewhere.id = {id(21)};
  elsewhere.trial = trial_id({"north", "home", "OTHER"});
  need(ledger_.append({elsewhere, event, first_, withdrawal(11, first_)}));
  EXPECT_THAT(ids(need(ledger_.of_kind(kind::kEvent))), ElementsAre(20, 21));
  EXPECT_THAT(ids(need(ledger_.of_kind(kind::kEvent, trial()))), ElementsAre(20));
  EXPECT_THAT(ids(need(ledger_.of_kind(kind::kReading))), ElementsAre(10));
  EXPECT_THAT(ids(need(ledger_.of_kind(kind::kWithdrawal, trial()))), ElementsAre(11));
  EXPECT_TRUE(need(ledger_.of_kind("dream")).empty());
}

// What stands of a trial's events: "mowing", "mowing-" where it was taken back.
std::vector<std::string> happened(const Ledger& ledger) {
  std::vector<std::string> out;
  for (const TrialEvent& one : need(ledger.events(trial())))
    out.push_back(one.record.entered + (one.taken_back ? "-" : ""));
  return out;
}

TEST_F(Claims, AnEventTakenBackSaysSoWhicheverCameFirst) {
  const Record mowing = event(20, "mowing");
  need(ledger_.append({event_back(22, mowing)}));
  EXPECT_TRUE(happened(ledger_).empty());
  need(ledger_.append({mowing, event(21, "spray")}));
  EXPECT_THAT(happened(ledger_), ElementsAre("mowing-", "spray"));
  EXPECT_EQ(need(ledger_.events(trial()))[0].taken_back->reason, "mistap");
  EXPECT_TRUE(need(ledger_.events(trial_id({"north", "home", "OTHER"}))).empty());
  need(ledger_.replay());
  EXPECT_THAT(happened(ledger_), ElementsAre("mowing-", "spray"));
  EXPECT_TRUE(need(ledger_.check()).empty());
}

TEST_F(Claims, WithdrawalsOfEventsAndOfValuesKeepApart) {
  const Record mowing = event(20, "mowing");
  const Record second = reading(11, "102", "percent_stand", "70");
  Record slotted = withdrawal(22, second);
  slotted.targets = {mowing.id};
  need(ledger_.append({first_, second, mowing, slotted, event_back(21, first_)}));
  EXPECT_THAT(now(), testing::UnorderedElementsAre("percent_stand=80", "percent_stand=70"));
  EXPECT_THAT(happened(ledger_), ElementsAre("mowing"));
}

TEST_F(Claims, AWithdrawalThatIsHalfOfEitherIsRefused) {
  const Record mowing = event(20, "mowing");
  need(ledger_.append({mowing}));
  Record half = event_back(21, mowing);
  half.measure = "note";
  EXPECT_THAT(error_line(ledger_.append({half})),
              testing::HasSubstr("kind withdrawal does not say what it is about"));
  Record nowhere = event_back(21, mowing);
  nowhere.trial.reset();
  EXPECT_THAT(error_line(ledger_.append({nowhere})),
              testing::HasSubstr("kind withdrawal names no trial"));
  Record of_nothing = event_back(21, mowing);
  of_nothing.targets.clear();
  EXPECT_THAT(error_line(ledger_.append({of_nothing})),
              testing::HasSubstr("does not say what it replaces"));
  EXPECT_THAT(happened(ledger_), ElementsAre("mowing"));
}

Record sown(std::uint64_t n, std::string_view number, AsSownStatus status, const char* since) {
  Record record;
  record.id = {id(n)};
  record.at = at(static_cast<std::int64_t>(n));
  record.trial = trial();
  write_as_sown({plot(number), status, std::nullopt, parse_date(since).value(), "seen"}, record);
  return record;
}

TEST_F(Claims, AsSownIsTheStatementWithTheLatestDate) {
  need(ledger_.append({sown(10, "101", AsSownStatus::kUnknown, "2026-04-02"),
                       sown(11, "101", AsSownStatus::kAsPlanned, "2026-04-01"),
                       sown(12, "102", AsSownStatus::kUnknown, "2026-04-01"),
                       sown(13, "102", AsSownStatus::kReseeded, "2026-04-01")}));
  const auto all = need(ledger_.as_sown(trial()));
  ASSERT_EQ(all.size(), 2U);
  for (const AsSown& what : all) {
    EXPECT_EQ(what.status,
              what.plot == plot("101") ? AsSownStatus::kUnknown : AsSownStatus::kReseeded);
  }
}

Record bag(std::uint64_t n, std::string_view number, std::string_view label) {
  Record record = reading(n, number, measure::kBagNumber, label);
  record.occasion = cutting();
  record.value.reset();
  return record;
}

Record weight(std::uint64_t n, const Record& of, std::string_view which, std::string_view entered) {
  Record record = reading(n, "101", which, entered);
  record.subject = of.id.uuid;
  record.occasion = cutting();
  record.unit = "g";
  return record;
}

TEST_F(Claims, ABagIsOpenUntilItsDriedWeightStands) {
  const Record one = bag(10, "101", "12");
  const Record two = bag(11, "102", "13");
  need(ledger_.append({one, two, weight(12, one, measure::kSampleFresh, "500")}));
  EXPECT_THAT(ids(need(ledger_.open_bags())), ElementsAre(10, 11));
  const Record dry = weight(13, one, measure::kSampleDry, "150");
  need(ledger_.append({dry}));
  EXPECT_THAT(ids(need(ledger_.open_bags())), ElementsAre(11));
  need(ledger_.append({withdrawal(14, dry)}));
  EXPECT_THAT(ids(need(ledger_.open_bags())), ElementsAre(10, 11));
}

TEST_F(Claims, TheBagOfAPartIsABagToo) {
  Record part = bag(10, "101", "12");
  part.measure = measure::kPartBag;
  part.part = 3;
  Record none = bag(11, "101", "");
  none.measure = measure::kPartBag;
  none.part = 4;
  none.state = ValueState::kZero;
  const Record sample = bag(12, "101", "13");
  need(ledger_.append({part, none, sample}));
  EXPECT_THAT(ids(need(ledger_.open_bags())), ElementsAre(10, 12));
  need(ledger_.append({weight(13, part, measure::kSampleDry, "150")}));
  EXPECT_THAT(ids(need(ledger_.open_bags())), ElementsAre(12)) << "each is its own";
}

TEST_F(Claims, ABagPutOffIsStillOpenAndOneThatIsLostIsNot) {
  const Record one = bag(10, "101", "12");
  Record later = weight(11, one, measure::kSampleDry, "");
  later.state = ValueState::kLater;
  need(ledger_.append({one, later}));
  EXPECT_THAT(ids(need(ledger_.open_bags())), ElementsAre(10));
  Record lost = correction(12, later, "");
  lost.state = ValueState::kMissing;
  need(ledger_.append({lost}));
  EXPECT_TRUE(need(ledger_.open_bags()).empty());
}

TEST_F(Claims, ACorrectedBagNumberIsStillTheSameBag) {
  const Record one = bag(10, "101", "12");
  const Record mended = correction(11, one, "21");
  need(ledger_.append({one, mended}));
  EXPECT_THAT(ids(need(ledger_.open_bags())), ElementsAre(11));
  need(ledger_.append({weight(12, one, measure::kSampleDry, "150")}));
  EXPECT_TRUE(need(ledger_.open_bags()).empty());
}

TEST_F(Claims, WhatCameInSinceNamesItsTrials) {
  need(ledger_.append({plan_record(5, plan()), first_}));
  const std::int64_t seen = need(ledger_.changed_since(0)).row;
  EXPECT_EQ(seen, 3);
  EXPECT_FALSE(need(ledger_.changed_since(0)).trials) << "nothing was seen before";
  EXPECT_TRUE(need(ledger_.changed_since(seen)).trials.value().empty());
  EXPECT_FALSE(need(ledger_.changed_since(seen + 1)).trials) << "it is another file";
  Record elsewhere = correction(11, first_, "85");
  elsewhere.trial = TrialId{id(77)};
  need(ledger_.append({elsewhere}));
  EXPECT_THAT(need(ledger_.changed_since(seen)).trials.value(),
              UnorderedElementsAre(trial(), TrialId{id(77)}));
  Record placeless = event(12, "hail");
  placeless.trial.reset();
  need(ledger_.append({placeless}));
  EXPECT_EQ(need(ledger_.changed_since(seen + 1)).trials.value().size(), 0U);
  placeless.id = {id(13)};
  placeless.occasion = rating();
  need(ledger_.append({placeless}));
  const Changed changed = need(ledger_.changed_since(seen + 1));
  EXPECT_EQ(changed.row, seen + 3);
  EXPECT_FALSE(changed.trials) << "of which trial it is nobody says";
}

TEST_F(Claims, ReplayGivesTheSameAgain) {
  const Record other = reading(11, "101", "percent_stand", "70");
  need(
      ledger_.append({plan_record(5, plan()), first_, other, correction(12, first_, "82"),
                      bag(13, "102", "4"), sown(14, "201", AsSownStatus::kUnknown, "2026-04-01")}));
  const auto before = now();
  const std::string dump = "SELECT group_concat(quote(row)||kind||quote(standing)) FROM item";
  const std::string rows = raw_value(folder_.file("a.ledger"), dump);
  need(ledger_.replay());
  EXPECT_EQ(now(), before);
  EXPECT_EQ(raw_value(folder_.file("a.ledger"), dump), rows);
  EXPECT_FALSE(rows.empty());
  EXPECT_EQ(need(ledger_.plans()).size(), 1U);
  EXPECT_TRUE(need(ledger_.check()).empty());
}

}  // namespace
}  // namespace ligule::ledger
