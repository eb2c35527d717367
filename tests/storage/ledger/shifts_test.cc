// Clocks put right: what the ledger gives out then, in whatever order things arrived.
#include "storage/ledger/shifts.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <random>
#include <set>

#include "storage/trial/details.h"
#include "storage/trial/number.h"
#include "storage/trial/record_line.h"
#include "storage/trial/said.h"
#include "storage/trial/scale_check.h"
#include "tests/storage/ledger/sample.h"

namespace ligule::ledger {
namespace {

using namespace sample;
using std::chrono::hours;
using std::chrono::milliseconds;
using std::chrono::seconds;
using testing::ElementsAre;

Record shift_record(std::uint64_t n, const ClockShift& what, std::int64_t said_at) {
  Record record;
  record.id = {id(n)};
  record.at = at(said_at);
  record.person = person_id("LQ");
  record.reason = "the clock was an hour slow";
  write_clock_shift(what, record);
  return record;
}
ClockShift shift_of(std::uint64_t stream, std::int64_t first, std::int64_t last,
                    milliseconds shift) {
  return {StreamId{id(stream)}, first, last, shift};
}

Record sown_as(std::uint64_t n, std::string_view plot_number, AsSownStatus status) {
  Record record;
  record.id = {id(n)};
  record.at = at(static_cast<std::int64_t>(n));
  record.person = person_id("AB");
  record.trial = trial();
  write_as_sown({plot(plot_number), status, {}, parse_date("2026-04-01").value(), "seen"}, record);
  return record;
}

Record check_weight(std::uint64_t n, std::string_view entered) {
  Record record;
  record.id = {id(n)};
  record.kind = kind::kCheckWeight;
  record.at = at(static_cast<std::int64_t>(n));
  record.trial = trial();
  record.plan = sha256(plan_text(plan())).hex();
  record.occasion = cutting();
  record.run = RecordId{id(1)};
  record.entered = entered;
  record.unit = "lb";
  record.value = parse_number(entered).value();
  record.source = Source::kScale;
  record.details = details_text({{"mass", "10"}, {"allowance", "0.1"}, {"port", "one"}});
  return record;
}
Record scale_weight(std::uint64_t n, std::string_view plot_number) {
  Record record = reading(n, plot_number, "gross_weight", "20");
  record.occasion = cutting();
  record.unit = "lb";
  record.source = Source::kScale;
  record.details = details_text({{"port", "one"}});
  return record;
}

std::string time_of(const Record& record) {
  return std::to_string(record.at.utc.time_since_epoch().count() / 1000 - 1777896000) + " " +
         format_date(record.at.local_date);
}

// --- what several come to

TEST(ShiftsOfAStream, OfSeveralTheOneAddedLastCounts) {
  Shifts shifts;
  EXPECT_EQ(shifts.of({id(1)}, 1), milliseconds(0));
  shifts.add(shift_of(1, 3, 9, hours{1}));
  shifts.add(shift_of(1, 5, 6, hours{2}));
  shifts.add(shift_of(1, 9, 12, hours{0}));
  std::vector<std::int64_t> of;
  for (std::int64_t seq = 1; seq <= 13; ++seq)
    of.push_back(std::chrono::duration_cast<hours>(shifts.of({id(1)}, seq)).count());
  EXPECT_THAT(of, ElementsAre(0, 0, 1, 1, 2, 2, 1, 1, 0, 0, 0, 0, 0));
  EXPECT_EQ(shifts.of({id(2)}, 5), milliseconds(0));
  shifts.add(shift_of(1, 1, kLastOfAll, hours{3}));
  EXPECT_EQ(shifts.of({id(1)}, 5), hours{3});
  EXPECT_EQ(shifts.of({id(1)}, kLastOfAll), hours{3});
}

// Proves: any number of them, overlapping any way, come to what looking through all of them gives
// (200 times 30 shifts, each record).
TEST(ShiftsOfAStream, ComeToWhatLookingThroughAllOfThemGives) {
  std::mt19937_64 random(7);
  for (int round = 0; round < 200; ++round) {
    Shifts shifts;
    std::vector<ClockShift> all;
    for (int n = 0; n < 30; ++n) {
      const auto first = static_cast<std::int64_t>(1 + random() % 40);
      const auto last = first + static_cast<std::int64_t>(random() % 12);
      all.push_back(shift_of(1 + random() % 2, first, last, milliseconds(random() % 4)));
      shifts.add(all.back());
    }
    for (const std::uint64_t stream : {1U, 2U}) {
      for (std::int64_t seq = 1; seq <= 55; ++seq) {
        milliseconds expected{0};
        for (const ClockShift& each : all)
          if (each.stream == StreamId{id(stream)} && each.first <= seq && seq <= each.last)
            expected = each.shift;
        ASSERT_EQ(shifts.of({id(stream)}, seq), expected) << stream << " " << seq;
      }
    }
  }
}

// --- one ledger

class ClockPutRight : public testing::Test {
 protected:
  ClockPutRight() {
    need(ledger_.append({plan_record(9, plan()), reading(10, "101", "percent_stand", "80"),
                         event(11, "spray"), sown_as(12, "101", AsSownStatus::kUnknown)}));
  }
  Record found(std::uint64_t n) { return need(ledger_.find({id(n)})).value(); }

  Folder folder_{true};
  Ledger ledger_ = started(folder_.file("a.ledger"), 1);
};

// Proves: every way a record is given out has its time put right; the log, its digests and what is
// sealed do not change.
TEST_F(ClockPutRight, WhereverARecordIsGivenOutAndNotInTheLog) {
  const StreamId stream{id(1)};
  const auto before = bodies(ledger_, stream, 1, 5);
  const Digest head = need(ledger_.digest_at(stream, 5));
  const std::string day_later = "64810 2026-05-05";  // 08:00:10 local, 18 hours on
  const std::string written = "10 2026-05-04";
  EXPECT_EQ(time_of(found(10)), written);
  need(ledger_.append({shift_record(20, shift_of(1, 3, 5, hours{18}), 100)}));
  EXPECT_EQ(time_of(found(10)), day_later);
  EXPECT_EQ(time_of(need(ledger_.claims(trial())).at(0).record), day_later);
  EXPECT_EQ(time_of(need(ledger_.claims(trial(), rating())).at(0).record), day_later);
  EXPECT_EQ(time_of(need(ledger_.history(plot("101").uuid)).at(0)), day_later);
  EXPECT_EQ(time_of(need(ledger_.of_kind(kind::kReading)).at(0)), day_later);
  EXPECT_EQ(time_of(need(ledger_.events(trial())).at(0).record), "64811 2026-05-05");
  EXPECT_EQ(found(10).at.offset, at(0).offset);
  EXPECT_EQ(time_of(found(9)), "9 2026-05-04") << "record 2 is not of it";
  EXPECT_EQ(bodies(ledger_, stream, 1, 5), before);
  EXPECT_EQ(need(ledger_.digest_at(stream, 5)), head);
  EXPECT_TRUE(need(ledger_.check()).empty());
}

TEST_F(ClockPutRight, TheNewestByTimeThenIdCountsAndNothingTakesBack) {
  const auto said = [&](std::uint64_t n, std::int64_t at_second, milliseconds shift) {
    need(ledger_.append({shift_record(n, shift_of(1, 3, 3, shift), at_second)}));
    return time_of(found(10));
  };
  EXPECT_EQ(said(20, 100, seconds{60}), "70 2026-05-04");
  EXPECT_EQ(said(21, 50, seconds{600}), "70 2026-05-04") << "said earlier, kept later";
  EXPECT_EQ(said(23, 200, seconds{-5}), "5 2026-05-04") << "no sums";
  EXPECT_EQ(said(22, 200, seconds{7}), "5 2026-05-04") << "the smaller id";
  EXPECT_EQ(said(24, 200, seconds{7}), "17 2026-05-04");
  EXPECT_EQ(said(25, 300, seconds{0}), "10 2026-05-04");
  const auto held = need(held_shifts(ledger_));
  ASSERT_EQ(held.size(), 6U);
  EXPECT_EQ(held.front().record.id, RecordId{id(21)});
  EXPECT_EQ(held.back().shift, shift_of(1, 3, 3, seconds{0}));
  EXPECT_EQ(shifts_of(held).of({id(1)}, 3), milliseconds(0));
}

// Proves: which of two counts is told by the times they were written with, though one of them is
// put right itself; else two that cover each other would have no order.
TEST_F(ClockPutRight, WhatSaysItIsOrderedByTheTimeItWasWrittenWith) {
  need(ledger_.append({shift_record(20, shift_of(1, 3, 3, seconds{60}), 100),
                       shift_record(21, shift_of(1, 3, 3, seconds{600}), 200)}));
  // Record 7, the second of them, now seems to be the older one.
  need(ledger_.append({shift_record(22, shift_of(1, 7, 7, -seconds{150}), 300)}));
  EXPECT_EQ(time_of(found(21)), "50 2026-05-04");
  EXPECT_EQ(time_of(found(10)), "610 2026-05-04");
  const auto held = need(held_shifts(ledger_));
  EXPECT_EQ(held.at(1).record.at, at(200));
  EXPECT_EQ(shifts_of(held).of({id(1)}, 3), seconds{600});
}

TEST_F(ClockPutRight, WhatIsKeptUnderOneIsGivenBackPutRight) {
  need(ledger_.append({shift_record(20, shift_of(1, 6, kLastOfAll, hours{1}), 100)}));
  const auto kept = need(ledger_.append({reading(30, "102", "percent_stand", "70")}));
  EXPECT_EQ(time_of(kept.at(0)), "3630 2026-05-04");
  EXPECT_EQ(kept.at(0), found(30));
}

TEST_F(ClockPutRight, WhatMakesNoSenseIsNotKept) {
  const Record sound = shift_record(20, shift_of(1, 3, 5, hours{1}), 100);
  Record nobody = sound;
  nobody.person.reset();
  Record no_reason = sound;
  no_reason.reason.clear();
  Record nowhere = shift_record(20, shift_of(1, 5, 3, hours{1}), 100);
  Record too_far = shift_record(20, shift_of(1, 3, 5, kFarthestShift + milliseconds(1)), 100);
  Record spaced = sound;
  spaced.details += " ";
  const auto says = [&](const Record& record) { return error_line(ledger_.append({record})); };
  EXPECT_THAT(says(nobody), testing::HasSubstr("a record of kind clock_shift names nobody"));
  EXPECT_THAT(says(no_reason), testing::HasSubstr("a record of kind clock_shift gives no reason"));
  EXPECT_THAT(says(nowhere), testing::HasSubstr("for which records the clock was wrong"));
  EXPECT_THAT(says(too_far), testing::HasSubstr("by how much the clock was wrong"));
  EXPECT_THAT(says(spaced), testing::HasSubstr("details that are not in canonical form"));
  EXPECT_EQ(need(ledger_.of_kind(kind::kClockShift)).size(), 0U);
  EXPECT_EQ(time_of(found(10)), "10 2026-05-04");

  // From elsewhere it is carried, and puts nothing right.
  Ledger other = started(folder_.file("other.ledger"), 200, "desk");
  need(other.append({shift_record(210, shift_of(1, 3, 5, hours{1}), 100)}));
  auto carried = bodies(other, {id(200)}, 1, 2);
  Record theirs = need(parse_record(carried[1]));
  theirs.reason.clear();
  carried[1] = need(record_body(theirs));
  StreamInfo info = *other.my_stream();
  info.mine = false;
  EXPECT_EQ(need(ledger_.absorb(info, 1, Digest{}, carried)).added, 2);
  EXPECT_EQ(need(ledger_.of_kind(kind::kClockShift)).size(), 0U);
  EXPECT_EQ(time_of(found(10)), "10 2026-05-04");
  EXPECT_TRUE(need(ledger_.check()).empty());
}

// Proves: a ledger of a program that applied none is read so, whether it may be written to or not.
TEST_F(ClockPutRight, ALedgerFromBeforeIsReadSo) {
  need(ledger_.append({shift_record(20, shift_of(1, 3, 5, hours{1}), 100)}));
  const std::string copy = folder_.file("copy.ledger");
  need(ledger_.backup_to(copy));
  ASSERT_EQ(raw_sql(copy, "DROP TABLE shift; UPDATE this_file SET projections=4"), "");
  for (const Access access : {Access::kReadOnly, Access::kReadWrite, Access::kReadOnly}) {
    const Ledger read = need(Ledger::open(copy, access));
    EXPECT_EQ(time_of(need(read.find({id(10)})).value()), "3610 2026-05-04");
    EXPECT_EQ(time_of(need(read.claims(trial())).at(0).record), "3610 2026-05-04");
    EXPECT_TRUE(need(read.check()).empty());
  }
  EXPECT_EQ(raw_value(copy, "SELECT count(*) FROM shift"), "1");
  ASSERT_EQ(raw_sql(copy, "UPDATE shift SET shift_ms=1"), "");
  const auto findings = need(need(Ledger::open(copy, Access::kReadOnly)).check());
  ASSERT_EQ(findings.size(), 1U);
  EXPECT_THAT(findings[0].what, testing::HasSubstr("the projection shift differs"));
}

// --- every order of arrival

struct Brought {
  std::string name;
  StreamInfo stream;
  std::int64_t first = 0;
  Digest before;
  std::vector<std::string> bodies;
};

Brought brought(const Ledger& ledger, std::int64_t first, std::int64_t last, std::string name) {
  StreamInfo info = *ledger.my_stream();
  info.mine = false;
  return {std::move(name), info, first, need(ledger.digest_at(info.id, first - 1)),
          bodies(ledger, info.id, first, last)};
}

Plan revision_of(const Plan& parent, std::string reason) {
  Plan revision = parent;
  revision.parent = sha256(plan_text(parent)).hex();
  revision.reason = std::move(reason);
  return revision;
}

// All that hangs on time.
std::vector<std::string> all_of(const Ledger& ledger) {
  std::vector<std::string> out;
  const auto line = [&](const Record& record) { out.push_back(need(record_body(record))); };
  std::vector<Record> weights, checks;
  for (const Claim& claim : need(ledger.claims(trial()))) {
    out.push_back(need(record_body(claim.record)) + " others " + std::to_string(claim.others));
    if (claim.record.measure == measure::kGrossWeight) weights.push_back(claim.record);
  }
  for (const TrialEvent& one : need(ledger.events(trial()))) {
    line(one.record);
    if (one.taken_back) out.push_back("taken back by " + one.taken_back->id.text());
  }
  for (const AsSown& one : need(ledger.as_sown(trial())))
    out.push_back("sown " + std::string(name_of(one.status)));
  for (const KnownPlan& one : need(ledger.plans())) out.push_back("plan " + one.plan.reason);
  for (const char* number : {"101", "102"})
    for (const Record& record : need(ledger.history(plot(number).uuid))) line(record);
  for (const Record& record : need(ledger.open_bags())) line(record);
  for (const std::string_view kind : {kind::kClockShift, kind::kPlan}) {
    for (const Record& record : need(ledger.of_kind(kind))) line(record);
  }
  checks = need(ledger.of_kind(kind::kCheckWeight));
  std::vector<scale_check::Check> held;
  std::vector<scale_check::Weight> weighed;
  held.reserve(checks.size());
  weighed.reserve(weights.size());
  for (const Record& record : checks) held.push_back({&record, "one"});
  for (const Record& record : weights) weighed.push_back({&record, "one", record.at.utc});
  for (const scale_check::Doubt& doubt : scale_check::doubts(held, weighed)) {
    std::string text = "doubt";
    for (const char* number : {"101", "102"}) {
      const bool in = std::ranges::any_of(
          doubt.weights, [&](std::size_t n) { return weights[n].subject == plot(number).uuid; });
      if (in) text += std::string(" ") + number;
    }
    out.push_back(text);
  }
  return out;
}

// Tablet A's clock was slow by 1000 seconds from its 4th record on, tablet B's was right. The desk
// says so, first wrongly, then rightly, then something of a tablet nobody ever brings.
class ShiftOrder : public testing::Test {
 protected:
  ShiftOrder() {
    const Plan first = plan();
    Ledger a = started(folder_.file("a.ledger"), 1, "tablet A");
    const Record spray = event(14, "spray");
    Record bag = reading(17, "101", "bag_number", "12");
    bag.occasion = cutting();
    need(a.append({plan_record(9, first), event(10, "lime")}));
    need(a.append({reading(11, "101", "percent_stand", "80"), spray,
                   sown_as(15, "101", AsSownStatus::kUnknown),
                   plan_record(16, revision_of(first, "told by A")), bag}));
    need(a.append({scale_weight(20, "101"), scale_weight(21, "102"), event_back(22, spray)}));

    Ledger b = started(folder_.file("b.ledger"), 200, "tablet B");
    need(b.append({plan_record(209, first), reading(210, "101", "percent_stand", "70"),
                   sown_as(215, "101", AsSownStatus::kAsPlanned)}));
    need(b.append({plan_record(216, revision_of(first, "told by B")), event_back(222, spray),
                   check_weight(230, "10"), check_weight(2000, "10.5")}));

    Ledger desk = started(folder_.file("desk.ledger"), 300, "desk");
    need(desk.append({shift_record(310, shift_of(1, 1, kLastOfAll, hours{-30}), 5000)}));
    need(desk.append({shift_record(311, shift_of(1, 1, 3, seconds{0}), 6000),
                      shift_record(312, shift_of(1, 4, 20, seconds{1000}), 6000),
                      shift_record(313, shift_of(900, 1, 20, seconds{1000}), 6000)}));
    without_ = {brought(a, 1, 11, "A"), brought(b, 1, 8, "B")};
    files_ = {brought(a, 1, 5, "A 1-5"), brought(a, 4, 11, "A 4-11"), brought(b, 1, 8, "B"),
              brought(desk, 1, 2, "desk 1-2"), brought(desk, 3, 5, "desk 3-5")};
  }
  static void take(Ledger& ledger, const Brought& file) {
    const auto taken = ledger.absorb(file.stream, file.first, file.before, file.bodies);
    ASSERT_TRUE(taken) << file.name << ": " << one_line(taken.error());
  }

  Folder folder_{true};
  std::vector<Brought> files_, without_;
};

TEST_F(ShiftOrder, OfArrivalDoesNotMatter) {
  std::vector<std::size_t> order{0, 1, 2, 3, 4};
  std::set<Digest> digests;
  std::set<std::vector<std::string>> answers;
  int orders = 0;
  do {
    const Folder place(true);
    Ledger ledger = need(Ledger::create(place.file("desk.ledger")));
    for (const std::size_t i : order) take(ledger, files_[i]);
    digests.insert(need(ledger.digest()));
    answers.insert(all_of(ledger));
    if (orders++ % 15 != 0) continue;
    need(ledger.replay());
    answers.insert(all_of(ledger));
    EXPECT_TRUE(need(ledger.check()).empty());
  } while (std::ranges::next_permutation(order).found);
  EXPECT_EQ(orders, 120);
  EXPECT_EQ(digests.size(), 1U);
  ASSERT_EQ(answers.size(), 1U);
  // And they are what they should be: A's acts from its 4th record on came after B's.
  const std::vector<std::string>& now = *answers.begin();
  const auto has = [](std::string what) { return testing::Contains(std::move(what)); };
  EXPECT_THAT(now, has("plan told by A"));
  EXPECT_THAT(now, has("sown unknown"));
  EXPECT_THAT(now, has("taken back by " + id(222).text()));
  EXPECT_THAT(now, has("doubt 101 102"));
}

// Proves: the test before could fail: without the shifts each of these comes out otherwise.
TEST_F(ShiftOrder, WithoutThemTheSameThingsComeOutOtherwise) {
  Ledger ledger = need(Ledger::create(folder_.file("without.ledger")));
  for (const Brought& file : without_) take(ledger, file);
  const auto before = all_of(ledger);
  const auto has = [](std::string what) { return testing::Contains(std::move(what)); };
  EXPECT_THAT(before, has("plan told by B"));
  EXPECT_THAT(before, has("sown as planned"));
  EXPECT_THAT(before, has("taken back by " + id(22).text()));
  EXPECT_THAT(before, testing::Not(has("doubt 101 102")));
}

// Proves: what is said of a tablet's clock before anything of it is held waits for it.
TEST_F(ShiftOrder, OneOfAStreamThatIsNotHeldYetWaits) {
  Ledger ledger = need(Ledger::create(folder_.file("waits.ledger")));
  take(ledger, files_[3]);
  take(ledger, files_[4]);
  EXPECT_EQ(need(held_shifts(ledger)).size(), 4U);
  EXPECT_FALSE(need(ledger.find({id(11)})));
  take(ledger, files_[0]);
  EXPECT_EQ(time_of(need(ledger.find({id(10)})).value()), "10 2026-05-04");
  EXPECT_EQ(time_of(need(ledger.find({id(11)})).value()), "1011 2026-05-04");
}

// --- claims of one slot

// Proves: how many stand against each is what holding each against each gives, whatever they say
// (60 slots of up to 40 claims).
TEST(ClaimsOfOneSlot, AreCountedAsHoldingEachAgainstEachGives) {
  std::mt19937_64 random(11);
  const Folder folder(true);
  Ledger ledger = started(folder.file("a.ledger"), 1);
  std::vector<Record> drafts;
  std::uint64_t n = 100;
  for (int slot = 1; slot <= 60; ++slot) {
    const bool gross = slot % 2 == 0;
    for (std::uint64_t claims = random() % 40; claims > 0; --claims) {
      const char* const entered[] = {"20", "20.0", "21", "sown=60 weed=40", "words"};
      Record record =
          reading(++n, "101", gross ? "gross_weight" : "percent_stand", entered[random() % 5]);
      record.part = slot;
      if (random() % 3 == 0) record.state = ValueState::kOnHold;
      record.unit = random() % 4 == 0 ? "kg" : "lb";
      if (gross && random() % 2 == 0) record.details = R"({"weeds":"only"})";
      drafts.push_back(std::move(record));
    }
  }
  need(ledger.append(drafts));
  const auto claims = need(ledger.claims(trial()));
  ASSERT_EQ(claims.size(), drafts.size());
  int against = 0;
  for (const Claim& claim : claims) {
    const auto differ = std::ranges::count_if(claims, [&](const Claim& other) {
      return other.record.measure == claim.record.measure &&
             other.record.part == claim.record.part && !said::the_same(claim.record, other.record);
    });
    ASSERT_EQ(claim.others, differ);
    against += claim.others > 0 ? 1 : 0;
  }
  EXPECT_GT(against, 500);
}

}  // namespace
}  // namespace ligule::ledger
