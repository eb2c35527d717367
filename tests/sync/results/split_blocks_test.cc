#include "sync/results/split_blocks.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "storage/trial/details.h"
#include "tests/sync/results/weighed_trial.h"

namespace ligule::results {
namespace {

using ::testing::ElementsAre;
using ::testing::IsEmpty;

class Split : public ::testing::Test {
 protected:
  Split() {
    trial.weigh_all("cut-1");
    first = run(1, WeighedTrial::day(6, 1), "mower 1");
  }
  RecordId run(std::uint8_t n, CalendarDate day, const std::string& machine) {
    Record record;
    record.id.uuid.bytes[0] = n;
    record.kind = kind::kHarvestRun;
    record.occasion = trial.facts().plan.occasion(trial.facts().plan.occasions.front());
    record.at.local_date = day;
    record.details = details_text({{"machine", machine}});
    trial.facts().runs.push_back(record);
    return record.id;
  }
  void cut_in(RecordId which, std::initializer_list<const char*> plots) {
    for (const char* plot : plots)
      trial.claim(trial.plot(plot), measure::kGrossWeight).record.run = which;
  }
  std::vector<std::string> named() const {
    std::vector<std::string> texts;
    for (const SplitBlock& split : split_blocks(trial.facts(), "T"))
      texts.push_back(split_text(split));
    return texts;
  }
  WeighedTrial trial;
  RecordId first;
};

TEST_F(Split, ACuttingOfOneRunIsWhole) {
  cut_in(first, {"101", "102", "201", "202"});
  EXPECT_THAT(named(), IsEmpty());
}

// Proves: a whole block on another day is normal.
TEST_F(Split, AWholeBlockOnAnotherDayIsNormal) {
  cut_in(first, {"101", "102"});
  cut_in(run(2, WeighedTrial::day(6, 2), "mower 1"), {"201", "202"});
  EXPECT_THAT(named(), IsEmpty());
}

TEST_F(Split, ABlockOfTwoDaysIsNamed) {
  cut_in(first, {"101", "102", "201"});
  cut_in(run(2, WeighedTrial::day(6, 2), "mower 1"), {"202"});
  EXPECT_THAT(named(), ElementsAre("block 2 was cut on 2026-06-01 and 2026-06-02"));
  const auto splits = split_blocks(trial.facts(), "T");
  EXPECT_EQ(splits[0].test, "T");
  EXPECT_EQ(splits[0].year, 2026);
  EXPECT_EQ(splits[0].cutting, 1);
}

TEST_F(Split, ABlockOfTwoMachinesIsNamed) {
  cut_in(first, {"101", "201", "202"});
  cut_in(run(2, WeighedTrial::day(6, 1), "mower 2"), {"102"});
  EXPECT_THAT(named(), ElementsAre("block 1 was cut with mower 1 and mower 2"));
  cut_in(run(3, WeighedTrial::day(6, 2), "mower 2"), {"102"});
  EXPECT_THAT(
      named(),
      ElementsAre("block 1 was cut on 2026-06-01 and 2026-06-02, with mower 1 and mower 2"));
}

TEST_F(Split, AWeightCorrectedNextDayStaysWithItsRun) {
  cut_in(first, {"101", "102", "201", "202"});
  trial.claim(trial.plot("101"), measure::kGrossWeight).record.at.local_date =
      WeighedTrial::day(6, 5);
  EXPECT_THAT(named(), IsEmpty());
}

TEST_F(Split, WhatWasSaidLaterOfAPlotWithoutAWeightIsNoCut) {
  cut_in(first, {"101", "201", "202"});
  cut_in(run(2, WeighedTrial::day(6, 2), "mower 1"), {"102"});
  trial.claim(trial.plot("102"), measure::kGrossWeight).record.state = ValueState::kMissing;
  EXPECT_THAT(named(), IsEmpty());
}

TEST_F(Split, WeightsWithoutARunSayNothing) {
  cut_in(first, {"101"});
  EXPECT_THAT(named(), IsEmpty());
}

}  // namespace
}  // namespace ligule::results
