// Weights that a check weight put in doubt and nobody answered for.
#include "sync/results/scale_doubts.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <chrono>

#include "storage/trial/details.h"
#include "storage/trial/scale_check.h"
#include "tests/sync/results/weighed_trial.h"

namespace ligule::results {
namespace {

using std::chrono::minutes;
using ::testing::ElementsAre;
using ::testing::IsEmpty;

// Two trials weighed with one scale on 2026-06-01; times are minutes after 08:00.
class ScaleDoubts : public ::testing::Test {
 protected:
  ScaleDoubts() {
    other.facts().plan.codes.trial = "orchard26";
    tablet.uuid.bytes[0] = 1;
    run_of(trial, 1);
    run_of(other, 2);
  }
  static Stamp at(int minute) {
    return stamp_at(UtcInstant{date::sys_days{WeighedTrial::day(6, 1)}} + minutes{720 + minute},
                    minutes{-240});
  }
  void run_of(WeighedTrial& of, std::uint8_t n) {
    Record run;
    run.id.uuid.bytes[0] = n;
    run.stream = tablet;
    run.kind = kind::kHarvestRun;
    run.details = details_text({{"machine", "mower 1"}, {"scale", "usb-one"}});
    of.facts().runs.push_back(run);
  }
  Record& weigh(WeighedTrial& of, const std::string& plot, int minute,
                const std::string& cutting = "cut-1") {
    Record& weight = of.reading(of.plot(plot), measure::kGrossWeight, cutting, 13.8, "kg");
    weight.id.uuid.bytes[1] = ++ids;
    weight.stream = tablet;
    weight.run = of.facts().runs.front().id;
    weight.source = Source::kScale;
    weight.at = at(minute);
    return weight;
  }
  Record& check(int minute, const std::string& reading) {
    Record check;
    check.id.uuid.bytes[2] = ++ids;
    check.stream = tablet;
    check.kind = kind::kCheckWeight;
    check.at = at(minute);
    check.entered = reading;
    check.unit = "kg";
    check.details = details_text({{"allowance", "0.05"}, {"mass", "20"}, {"port", "usb-one"}});
    trial.facts().checks.push_back(check);
    return trial.facts().checks.back();
  }
  std::vector<std::string> named(std::optional<int> year = {}) const {
    LedgerFacts facts{{trial.facts(), other.facts()}, false};
    facts.tablets = tablets;
    const std::vector<std::string> names{"CE26", "MX26"};
    std::vector<std::string> lines;
    for (const Error& notice : scale_notices(facts, names, year))
      lines.push_back(notice.where + ": " + notice.what);
    return lines;
  }

  WeighedTrial trial;
  WeighedTrial other;
  StreamId tablet;
  std::map<StreamId, StreamId> tablets;
  std::uint8_t ids = 0;
};

constexpr const char* kOff =
    "the scale was off by 3.00 kg on 2026-06-01 at 10:40, and nobody answered for what it weighed "
    "since it was right: ";

TEST_F(ScaleDoubts, AreNamedByCuttingWithTimeAndPlots) {
  weigh(trial, "101", 10);
  check(20, "20.00");
  weigh(trial, "202", 40);
  weigh(trial, "102", 30);
  weigh(trial, "101", 50, "cut-2");
  weigh(other, "201", 60);
  check(160, "23.00");
  EXPECT_THAT(named(), ElementsAre("CE26 cut-1: " + std::string(kOff) + "plots 102, 202",
                                   "CE26 cut-2: " + std::string(kOff) + "plot 101",
                                   "MX26 cut-1: " + std::string(kOff) + "plot 201"));
  EXPECT_THAT(named(2025), IsEmpty());
  EXPECT_EQ(named(2026).size(), 3U);
}

TEST_F(ScaleDoubts, WhatIsHeldAnsweredForOrTypedIsNot) {
  weigh(trial, "101", 10).state = ValueState::kOnHold;
  weigh(trial, "102", 20).source = Source::kTyped;
  Record& answered = weigh(trial, "201", 200);
  answered.answers = {{std::string(scale_check::kRule), std::string(scale_check::kStand)}};
  trial.facts().weighed[answered.id] = at(30);
  Record& repeat = weigh(trial, "202", 40);
  repeat.purpose = Purpose::kRepeat;
  check(160, "23.00");
  EXPECT_THAT(named(), IsEmpty());
}

TEST_F(ScaleDoubts, AWeightCountsFromWhenItHungThere) {
  const Record& exchanged = weigh(trial, "101", 300);
  check(160, "23.00");
  EXPECT_THAT(named(), IsEmpty());
  trial.facts().weighed[exchanged.id] = at(30);
  EXPECT_EQ(named().size(), 1U);
}

TEST_F(ScaleDoubts, APortOfTheSameNameOnAnotherTabletIsAnotherScale) {
  StreamId elsewhere;
  elsewhere.uuid.bytes[0] = 2;
  weigh(trial, "101", 10);
  check(160, "23.00").stream = elsewhere;
  EXPECT_THAT(named(), IsEmpty());
  // A restored ledger goes on in a stream of its own.
  tablets = {{tablet, tablet}, {elsewhere, tablet}};
  EXPECT_EQ(named().size(), 1U);
}

TEST_F(ScaleDoubts, WhereNobodyWroteDownWhichScaleItMayBeAnyOfTheTablet) {
  weigh(trial, "101", 10);
  trial.facts().runs.front().details = details_text({{"machine", "mower 1"}});
  check(160, "23.00");
  EXPECT_EQ(named().size(), 1U);
}

}  // namespace
}  // namespace ligule::results
