#include "storage/trial/sown_together.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "tests/storage/trial/sample_plan.h"

namespace ligule {
namespace {

using testing::AllOf;
using testing::HasSubstr;
using testing::Not;

const CalendarDate sown_day = date::year{2024} / 9 / 3;
const CalendarDate next_day = date::year{2024} / 9 / 4;

std::string refusal(const Plan& revision, const Enrolment& enrolment = {next_day}) {
  const auto fits = check_sown_together(std::vector{sample_plan()}, revision, enrolment);
  if (fits) return "";
  EXPECT_EQ(fits.error().kind, ErrorKind::kRefused);
  return one_line(fits.error());
}

Plan with_later_entry() {
  Plan plan = sample_plan();
  plan.entries.push_back(
      {"D", "tall_fescue", "Corrie", Endophyte::kFree, "", EntryRole::kTest, ""});
  plan.plots.push_back({"104", 1, "D", 1, 4, 10});
  return plan;
}

TEST(SownTogether, TellsTheEntriesThatCameByTheirCodes) {
  EXPECT_THAT(
      refusal(with_later_entry()),
      AllOf(HasSubstr("trial TF24: entries D are new in the trial, which was sown on "
                      "2024-09-03"),
            HasSubstr("a trial of its own"), Not(HasSubstr("104")), Not(HasSubstr("Corrie"))));
}

TEST(SownTogether, TellsPlotsThatCameOfEntriesThatWereThere) {
  Plan plan = sample_plan();
  plan.plots.push_back({"104", 1, "A", 1, 4, 10});
  plan.plots.push_back({"204", 2, "A", 2, 4, 11});
  EXPECT_THAT(refusal(plan), HasSubstr("plots 104, 204 are new in the trial"));
  plan.entries.push_back(
      {"D", "tall_fescue", "Corrie", Endophyte::kFree, "", EntryRole::kTest, ""});
  EXPECT_THAT(refusal(plan), HasSubstr("entries D and plots 104, 204 are new in the trial"));
}

TEST(SownTogether, AnythingMayComeUntilTheDayIsOver) {
  EXPECT_EQ(refusal(with_later_entry(), {sown_day}), "");
  EXPECT_NE(refusal(with_later_entry(), {next_day}), "");
}

// Proves: that a revision says another day of sowing makes no way around it, once the trial has
// values.
TEST(SownTogether, SowingIsPutOffOnlyWhereNobodyWasThere) {
  const Enrolment begun{.on = next_day, .has_values = true};
  Plan moved = with_later_entry();
  moved.sown = next_day;
  EXPECT_THAT(refusal(moved, begun), HasSubstr("was sown on 2024-09-03"));
  EXPECT_EQ(refusal(moved), "") << "it rained on the day that was planned";
  Plan only_moved = sample_plan();
  only_moved.sown = next_day;
  EXPECT_EQ(refusal(only_moved, begun), "") << "the day alone may be put right";
}

TEST(SownTogether, SomebodyMayVouch) {
  EXPECT_EQ(refusal(with_later_entry(), {next_day, true}), "");
}

TEST(SownTogether, WhatIsTakenOutOrSaidOtherwiseIsNoNewSowing) {
  Plan plan = sample_plan();
  plan.title = "Another title";
  plan.entries.back().variety = "Older Mill";
  plan.plots.pop_back();
  EXPECT_EQ(refusal(plan), "");
  EXPECT_EQ(refusal(sample_plan()), "");
}

TEST(SownTogether, WhatStoodInAnEarlierPlanMayComeBack) {
  const std::vector held{with_later_entry(), sample_plan()};
  EXPECT_TRUE(check_sown_together(held, with_later_entry(), {next_day}));
}

}  // namespace
}  // namespace ligule
