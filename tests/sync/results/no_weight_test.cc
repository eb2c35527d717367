#include "sync/results/no_weight.h"

#include <gtest/gtest.h>

#include "tests/sync/results/weighed_trial.h"

namespace ligule::results {
namespace {

// Each reason for no weight counts as zero or as missing, and the report foots how many of each.
TEST(NoWeight, WhatIsNoWeightIsCountedByItsReason) {
  WeighedTrial trial;
  trial.weigh_all("cut-1");
  const auto no_weight = [&](const char* plot, ValueState state, const char* reason) {
    Record& gross = trial.claim(trial.plot(plot), measure::kGrossWeight).record;
    gross.state = state;
    gross.value.reset();
    gross.reason = reason;
  };
  no_weight("101", ValueState::kMissing, "washed_out");
  no_weight("102", ValueState::kZero, "winterkill");
  const TrialYields yields = yields_of(trial.facts(), "T");
  EXPECT_EQ(row_of(yields, "101").why, "the gross weight is missing: washed out");
  EXPECT_EQ(row_of(yields, "102").why, "");
  const auto counts = no_weights(yields.plots);
  ASSERT_EQ(counts.size(), 2U);
  EXPECT_EQ(counts[0], (NoWeightCount{"T", 2026, 1, {true, "winterkill"}, {"102"}, {"102"}}));
  EXPECT_EQ(counts[1], (NoWeightCount{"T", 2026, 1, {false, "washed_out"}, {"101"}}));
  EXPECT_EQ(no_weight_footings(yields.plots),
            (std::vector<Footing>{
                {"T", 2026, 1, "1 plot counts as zero: winterkill 1; none confirmed yet."},
                {"T", 2026, 1, "1 plot counts as missing: washed out 1."}}));
  // The lead is told of zeros: they pull a mean down.
  ASSERT_EQ(yields.notices.size(), 1U);
  EXPECT_EQ(one_line(yields.notices[0]),
            "T 2026 cutting 1 plots 102: 1 plot counts as zero: winterkill (confirm in "
            "Review that nothing grew there, or correct it to missing)");
}

TEST(NoWeight, ZerosThatWereConfirmedAreNamedNoMore) {
  WeighedTrial trial;
  trial.weigh_all("cut-1");
  const auto zero = [&](const char* plot, const char* reason, const char* details) {
    Record& gross = trial.claim(trial.plot(plot), measure::kGrossWeight).record;
    gross.state = ValueState::kZero;
    gross.value.reset();
    gross.reason = reason;
    gross.details = details;
  };
  zero("101", "winterkill", R"({"zero":"confirmed"})");
  zero("102", "winterkill", "");
  zero("201", "stand_died", R"({"zero":"confirmed"})");
  const TrialYields yields = yields_of(trial.facts(), "T");
  EXPECT_EQ(no_weight_footings(yields.plots),
            (std::vector<Footing>{{"T", 2026, 1,
                                   "3 plots count as zero: stand died 1, winterkill 2; 2 "
                                   "confirmed, 1 not yet."}}));
  ASSERT_EQ(yields.notices.size(), 1U);
  EXPECT_EQ(yields.notices[0].where, "T 2026 cutting 1 plots 102");
  EXPECT_EQ(yields.notices[0].what, "1 plot counts as zero: winterkill");
  EXPECT_EQ(row_of(yields, "101").yield, KilogramsPerHectare(0.0));
  zero("102", "winterkill", R"({"zero":"confirmed"})");
  const TrialYields all = yields_of(trial.facts(), "T");
  EXPECT_TRUE(all.notices.empty());
  EXPECT_EQ(no_weight_footings(all.plots).front().text,
            "3 plots count as zero: stand died 1, winterkill 2; 3 confirmed.");
}

// Proves: a plot of two empty bags is confirmed when both are.
TEST(NoWeight, EveryBagOfAPlotIsConfirmed) {
  WeighedTrial trial;
  trial.weigh_all("cut-1");
  Record& first = trial.claim(trial.plot("101"), measure::kGrossWeight).record;
  first.state = ValueState::kZero;
  first.value.reset();
  first.reason = "winterkill";
  first.details = R"({"zero":"confirmed"})";
  TrialFacts facts = trial.facts();
  const auto at = std::ranges::find_if(
      facts.claims, [&](const auto& claim) { return claim.record.id == first.id; });
  ASSERT_NE(at, facts.claims.end());
  auto second = *at;
  second.record.part = 2;
  second.record.id.uuid.bytes[0] ^= 0xff;
  second.record.details.clear();
  facts.claims.push_back(second);
  EXPECT_EQ(no_weight_footings(yields_of(facts, "T").plots).front().text,
            "1 plot counts as zero: winterkill 1; none confirmed yet.");
}

TEST(NoWeight, ATareThatThePlanAsksForAndNobodyGaveIsNamed) {
  WeighedTrial trial;
  trial.weigh_all("cut-1");
  EXPECT_TRUE(yields_of(trial.facts(), "T").notices.empty()) << "the plan asks for none";
  for (PlanOccasion& occasion : trial.facts().plan.occasions)
    occasion.measures = {"gross_weight", "tare_weight"};
  trial.reading(trial.plot("102"), measure::kTareWeight, "cut-1", 1.0, "lb");
  // Somebody said of this one that there is nothing to take off.
  trial.claim(trial.plot("201"), measure::kGrossWeight).record.answers = {
      {"tare_missing", "bin_reads_zero"}};
  const TrialYields yields = yields_of(trial.facts(), "T");
  ASSERT_EQ(yields.notices.size(), 1U);
  EXPECT_EQ(one_line(yields.notices[0]),
            "T 2026 cutting 1 plots 101, 202: 2 plots without the tare that the plan asks for: "
            "taken as 0 (weigh the empty bin and enter its tare, or take the tare out of the "
            "plan's measures)");
  EXPECT_TRUE(row_of(yields, "101").yield);
}

// Of two bags the second one's.
TEST(NoWeight, EachBagNeedsItsTare) {
  WeighedTrial trial;
  trial.weigh("101", "cut-1", 10.2, 0.45, 0.15);
  for (PlanOccasion& occasion : trial.facts().plan.occasions)
    occasion.measures = {"gross_weight", "tare_weight"};
  trial.reading(trial.plot("101"), measure::kGrossWeight, "cut-1", 5.6, "lb").part = 2;
  trial.reading(trial.plot("101"), measure::kTareWeight, "cut-1", 1.0, "lb");
  EXPECT_TRUE(row_of(yields_of(trial.facts(), "T"), "101").tare_taken_as_zero);
  trial.reading(trial.plot("101"), measure::kTareWeight, "cut-1", 1.0, "lb").part = 2;
  EXPECT_FALSE(row_of(yields_of(trial.facts(), "T"), "101").tare_taken_as_zero);
}

}  // namespace
}  // namespace ligule::results
