// What is known of the trials from the last look tells what a fresh look tells, whatever came in.
#include "app/work/trials_progress.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "app/work/load.h"
#include "storage/files/definitions.h"
#include "storage/trial/as_sown.h"
#include "storage/trial/clock_shift.h"
#include "tests/storage/ledger/sample.h"

namespace ligule::work {
namespace {

using namespace ledger::sample;

Plan other_plan() {
  Plan other = plan();
  other.codes.trial = "TF27";
  return other;
}
// A record of the one trial, as one of the other says it.
Record in_other(Record record) {
  record.trial = other_plan().id();
  record.plan = sha256(plan_text(other_plan())).hex();
  record.occasion = other_plan().occasion(other_plan().occasions[1]);
  return record;
}

// Plot 101 of the one trial.
Record abandoned(std::uint64_t n) {
  Record gone;
  gone.id = {id(n)};
  gone.at = at(61);
  gone.person = person_id("AB");
  gone.trial = trial();
  write_as_sown({plot("101"), AsSownStatus::kAbandoned, {}, at(0).local_date, "flooded"}, gone);
  return gone;
}

class KnownProgress : public testing::Test {
 protected:
  KnownProgress() { need(ledger_.append({plan_record(9, plan()), plan_record(8, other_plan())})); }
  std::vector<flow::OccasionProgress> progress(TrialsProgress& known, CalendarDate day) {
    return need(known.of(ledger_, need(load_plans(ledger_)), definitions_, day));
  }
  // The trials that had to be read for it.
  int read_for(CalendarDate day = at(0).local_date) {
    TrialsProgress fresh;
    const auto told = progress(known_, day);
    EXPECT_EQ(told, progress(fresh, day));
    return known_.read();
  }
  // The same after more records, which change what is told.
  int read_for(std::vector<Record> more) {
    const auto before = progress(known_, at(0).local_date);
    need(ledger_.append(std::move(more)));
    const int read = read_for();
    EXPECT_NE(progress(known_, at(0).local_date), before);
    return read;
  }

  std::unique_ptr<files::FileSystem> files_ = files::real_file_system();
  Definitions definitions_ = files::load_definitions(*files_, LIGULE_SOURCE_ASSETS).value();
  Folder folder_{true};
  ledger::Ledger ledger_ = started(folder_.file("a.ledger"), 1, "tablet 3");
  TrialsProgress known_;
};

TEST_F(KnownProgress, IsReadAgainForTheTrialThatSomethingCameInOf) {
  EXPECT_EQ(read_for(), 2);
  EXPECT_EQ(read_for(), 0);
  const Record first = reading(10, "101", "percent_stand", "80");
  EXPECT_EQ(read_for({first, reading(11, "101", "seedling_vigor", "4")}), 1);
  EXPECT_EQ(read_for(), 0);
  EXPECT_EQ(read_for({withdrawal(12, first)}), 1);
  EXPECT_EQ(read_for({in_other(reading(13, "102", "percent_stand", "70"))}), 1);
}

TEST_F(KnownProgress, KnowsPlansClosingsAndWhatPlotsHold) {
  read_for();
  Record closing;
  closing.id = {id(20)};
  closing.kind = kind::kClosed;
  closing.at = at(60);
  closing.person = person_id("AB");
  closing.trial = trial();
  closing.plan = sha256(plan_text(plan())).hex();
  closing.occasion = rating();
  closing.reason = "left_open";
  EXPECT_EQ(read_for({closing}), 1);
  // Said of no trial, it may be of any.
  closing.id = {id(21)};
  closing.trial.reset();
  closing.plan.clear();
  closing.occasion = cutting();
  EXPECT_EQ(read_for({closing}), 2);
  EXPECT_EQ(read_for({abandoned(22)}), 1);
  Plan revised = plan();
  revised.parent = sha256(plan_text(plan())).hex();
  revised.occasions.back().measures.emplace_back("note");
  revised.occasions.front().measures.emplace_back("percent_stand");
  revised.occasions.push_back(revised.occasions.back());
  revised.occasions.back().code = "2026-again";
  EXPECT_EQ(read_for({plan_record(23, revised)}), 1);
}

TEST_F(KnownProgress, IsReadWholeOnAnotherDayAndWhenAClockIsPutRight) {
  read_for({reading(10, "101", "percent_stand", "80")});
  const CalendarDate next_day = at(86'400).local_date;
  EXPECT_EQ(read_for(next_day), 2);
  EXPECT_EQ(read_for(next_day), 0);
  EXPECT_EQ(read_for(), 2);
  Record shift;
  shift.id = {id(30)};
  shift.at = at(90);
  shift.person = person_id("AB");
  shift.reason = "the clock was a day slow";
  write_clock_shift({StreamId{id(1)}, 1, 4, std::chrono::hours(24)}, shift);
  EXPECT_EQ(read_for({shift}), 2);
}

// A stranger's record may say one trial and replace a value of another.
TEST_F(KnownProgress, KnowsWhatWasReplacedFromAnotherTrial) {
  const Record first = reading(10, "101", "percent_stand", "80");
  const Record second = reading(11, "101", "seedling_vigor", "4");
  read_for({first, second});
  EXPECT_EQ(read_for({in_other(correction(12, first, "85"))}), 2);
}

// Another program gathers into the ledger, a correction before what it corrects.
TEST_F(KnownProgress, KnowsWhatAnotherProgramTookIn) {
  read_for();
  auto tablet = started(folder_.file("b.ledger"), 2, "tablet 4");
  const Record first = reading(110, "101", "percent_stand", "80");
  need(tablet.append({first, reading(111, "101", "seedling_vigor", "4")}));
  need(tablet.append({withdrawal(112, first), reading(113, "102", "percent_stand", "60")}));
  ledger::StreamInfo stream = need(tablet.streams()).at(0);
  stream.mine = false;
  const auto all = bodies(tablet, stream.id, 1, 5);
  auto desk = need(ledger::Ledger::open(folder_.file("a.ledger")));
  need(desk.absorb(stream, 4, need(tablet.digest_at(stream.id, 3)), std::span(all).subspan(3)));
  EXPECT_EQ(read_for(), 1);
  need(desk.absorb(stream, 1, {}, std::span(all).first(3)));
  EXPECT_EQ(read_for(), 1);
}

// It was said after the trials were read, and before what is new was asked for.
TEST_F(KnownProgress, KnowsWhatPlotsHoldThoughItCameInBetween) {
  const auto trials = need(load_plans(ledger_));
  need(ledger_.append({abandoned(22)}));
  need(known_.of(ledger_, trials, definitions_, at(0).local_date));
  EXPECT_EQ(read_for(), 1);
}

TEST_F(KnownProgress, IsReadWholeAfterMoreThanIsLookedAt) {
  read_for();
  std::vector<Record> many;
  many.reserve(2'100);
  for (std::uint64_t n = 0; n < 2'100; ++n)
    many.push_back(reading(1'000 + n, "101", "percent_stand", "80"));
  EXPECT_EQ(read_for(many), 2);
}

TEST_F(KnownProgress, ADamagedNewcomerIsAnErrorAndNothingIsTakenForKnown) {
  read_for();
  need(ledger_.append({reading(10, "101", "percent_stand", "80")}));
  const std::string path = folder_.file("a.ledger");
  const std::string row = std::to_string(need(ledger_.changed_since(1)).row);
  ASSERT_EQ(raw_sql(path,
                    "DROP TRIGGER record_no_update; CREATE TABLE was AS SELECT body FROM"
                    " record WHERE row=" +
                        row + "; UPDATE record SET body='x' WHERE row=" + row),
            "");
  const auto plans = need(load_plans(ledger_));
  EXPECT_EQ(error_line(known_.of(ledger_, plans, definitions_, at(0).local_date)).substr(0, 8),
            "damaged:");
  ASSERT_EQ(raw_sql(path, "UPDATE record SET body=(SELECT body FROM was) WHERE row=" + row), "");
  EXPECT_EQ(read_for(), 1);
}

}  // namespace
}  // namespace ligule::work
