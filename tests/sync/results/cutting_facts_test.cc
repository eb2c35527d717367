#include "sync/results/cutting_facts.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "storage/trial/details.h"
#include "tests/sync/results/weighed_trial.h"

namespace ligule::results {
namespace {

class CuttingFacts : public ::testing::Test {
 protected:
  CuttingFacts() {
    Scale& stages = trial_.facts().scales["stages"];
    stages.kind = ScaleKind::kStages;
    stages.steps = {{"R0", 3.0, "boot"}, {"R1", 3.1, "head showing"}, {"R2", 3.3, ""}};
    trial_.weigh_all("cut-1");  // on 1 June
  }
  void stage(const std::string& plot, const std::string& code, CalendarDate on,
             const std::string& occasion = "spring") {
    Record& record = trial_.reading(trial_.plot(plot), "maturity", occasion, 3.0, "");
    record.entered = code;
    record.definition = "stages";
    record.at.local_date = on;
  }
  std::string stages() {
    return stage_at_first_cutting_told(trial_.facts(), pass_days(trial_.facts()));
  }
  void run(const std::string& stubble) {
    Record run;
    run.details = details_text({{"machine", "flail 2"}, {"stubble", stubble}});
    trial_.facts().runs.push_back(run);
  }

  WeighedTrial trial_;
};

TEST_F(CuttingFacts, TellTheStagesOfTheFirstCutting) {
  EXPECT_EQ(stages(), "");
  stage("101", "R1", WeighedTrial::day(5, 31));
  EXPECT_EQ(stages(), "2026: head showing, 31 May");
  stage("102", "R0", WeighedTrial::day(5, 31));
  stage("201", "R1", WeighedTrial::day(6, 1));
  stage("202", "R2", WeighedTrial::day(6, 1));
  EXPECT_EQ(stages(), "2026: boot to R2, mostly head showing (2 of 4 plots), 31 May–1 Jun");
}

TEST_F(CuttingFacts, AStageOfAnotherTimeIsNone) {
  stage("101", "R1", WeighedTrial::day(5, 24));
  EXPECT_EQ(stages(), "") << "eight days before";
  trial_.facts().claims.back().record.at.local_date = WeighedTrial::day(6, 2);
  EXPECT_EQ(stages(), "") << "the day after";
  trial_.facts().claims.back().record.at.local_date = WeighedTrial::day(5, 25);
  EXPECT_EQ(stages(), "2026: head showing, 25 May");
  trial_.facts().claims.back().record.state = ValueState::kMissing;
  EXPECT_EQ(stages(), "");
}

// Proves: of a rating that took weeks only the plots judged near the cutting count.
TEST_F(CuttingFacts, EachPlotCountsByItsOwnDay) {
  stage("101", "R0", WeighedTrial::day(5, 10));
  stage("102", "R1", WeighedTrial::day(5, 30));
  stage("201", "R1", WeighedTrial::day(6, 1));
  stage("202", "R2", WeighedTrial::day(6, 9));
  EXPECT_EQ(stages(), "2026: head showing, 30 May–1 Jun");
}

TEST_F(CuttingFacts, WhereTheFirstCuttingWasNotWeighedTheSecondIsNoFirst) {
  stage("101", "R1", WeighedTrial::day(5, 31));
  const OccasionId first = trial_.facts().plan.occasion(trial_.facts().plan.occasions.front());
  const OccasionId second = trial_.facts().plan.occasion(trial_.facts().plan.occasions[1]);
  for (ledger::Claim& claim : trial_.facts().claims)
    if (claim.record.occasion == first) claim.record.occasion = second;
  EXPECT_EQ(stages(), "");
}

TEST_F(CuttingFacts, APlotThatIsOutOfResultsIsNotCounted) {
  stage("101", "R1", WeighedTrial::day(5, 31));
  stage("102", "R2", WeighedTrial::day(5, 31));
  trial_.as_sown("102", AsSownStatus::kAbandoned, WeighedTrial::day(5, 1));
  EXPECT_EQ(stages(), "2026: head showing, 31 May");
}

TEST_F(CuttingFacts, OfTwoRatingsTheNearerCounts) {
  PlanOccasion later = trial_.facts().plan.occasions.back();
  later.code = "later";
  trial_.facts().plan.occasions.push_back(later);
  stage("101", "R0", WeighedTrial::day(5, 26));
  stage("101", "R1", WeighedTrial::day(5, 31), "later");
  EXPECT_EQ(stages(), "2026: head showing, 31 May");
}

TEST_F(CuttingFacts, TellEachStubbleOnce) {
  EXPECT_EQ(stubble_told(trial_.facts()), "");
  for (const char* height : {"4 in", "", "3 in", "4 in"}) run(height);
  EXPECT_EQ(stubble_told(trial_.facts()), "4 in, 3 in");
}

TEST_F(CuttingFacts, TellTheSowingRateOfThePlan) {
  Plan& plan = trial_.facts().plan;
  EXPECT_EQ(sowing_rate_told(plan), "");
  for (PlanEntry& entry : plan.entries) {
    entry.sowing_rate = "14";
    entry.sowing_rate_unit = "lb/acre";
  }
  EXPECT_EQ(sowing_rate_told(plan), "14 lb/acre of pure live seed");
  plan.entries[1].sowing_rate = "20";
  EXPECT_EQ(sowing_rate_told(plan), "14 to 20 lb/acre of pure live seed, by entry");
  plan.entries[1].role = EntryRole::kFiller;
  EXPECT_EQ(sowing_rate_told(plan), "14 lb/acre of pure live seed");
  plan.entries[1].role = EntryRole::kTest;
  plan.entries[1].sowing_rate = "";
  EXPECT_EQ(sowing_rate_told(plan), "14 lb/acre of pure live seed (stated of 2 of 3 entries)");
}

}  // namespace
}  // namespace ligule::results
