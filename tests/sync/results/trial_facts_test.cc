#include "sync/results/trial_facts.h"

#include <gtest/gtest.h>

#include "storage/trial/as_sown.h"
#include "tests/sync/results/weighed_trial.h"

namespace ligule::results {
namespace {

TrialFacts trial_named(const std::string& station, const std::string& site,
                       const std::string& code) {
  TrialFacts facts;
  facts.plan.codes = {station, site, code};
  return facts;
}

TEST(TrialFacts, NamesGrowOnlyWhereTheyMust) {
  EXPECT_EQ(test_names({trial_named("s", "hill", "a"), trial_named("s", "hill", "b"),
                        trial_named("s", "low", "b"), trial_named("s", "low", "c"),
                        trial_named("t", "low", "c")}),
            (std::vector<std::string>{"a", "hill/b", "low/b", "s/low/c", "t/low/c"}));
}

TEST(HeldOn, FollowsTheNewestStatementOfTheDay) {
  WeighedTrial trial;
  const PlanPlot& plot = *trial.facts().plan.find_plot("101");
  trial.as_sown("101", AsSownStatus::kHolds, WeighedTrial::day(5, 1), "C");
  trial.as_sown("101", AsSownStatus::kReseeded, WeighedTrial::day(7, 1));
  trial.as_sown("101", AsSownStatus::kAsPlanned, WeighedTrial::day(7, 1));
  trial.as_sown("101", AsSownStatus::kHolds, WeighedTrial::day(9, 1), "no-such-entry");
  const auto code_on = [&](CalendarDate day) {
    const Held held = held_on(trial.facts(), plot, day);
    return held.entry == nullptr ? held.why : held.entry->code;
  };
  EXPECT_EQ(code_on(WeighedTrial::day(4, 30)), "A");
  EXPECT_EQ(code_on(WeighedTrial::day(5, 1)), "C");
  EXPECT_EQ(code_on(WeighedTrial::day(7, 1)), "A");
  EXPECT_EQ(code_on(WeighedTrial::day(9, 2)), "the plot holds an entry that is not in the plan");
}

TEST(HeldOn, AStatementThatCannotBeReadIsPassedOver) {
  WeighedTrial trial;
  trial.as_sown("101", AsSownStatus::kAbandoned, WeighedTrial::day(5, 1));
  trial.facts().as_sown.front().details.clear();
  EXPECT_EQ(held_on(trial.facts(), *trial.facts().plan.find_plot("101"), WeighedTrial::day(6, 1))
                .entry->code,
            "A");
}

}  // namespace
}  // namespace ligule::results
