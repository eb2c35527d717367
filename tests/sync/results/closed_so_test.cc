#include "sync/results/closed_so.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "storage/trial/details.h"
#include "tests/storage/trial/sample_plan.h"

namespace ligule::results {
namespace {

using ::testing::IsEmpty;

TEST(ClosedSo, WhatWasToldAtTheClosingIsToldAgain) {
  TrialFacts trial;
  trial.plan = sample_plan();
  Record closed;
  closed.kind = kind::kClosed;
  closed.occasion = trial.plan.occasion(trial.plan.occasions.front());
  trial.closings = {closed};
  EXPECT_THAT(closed_so_notices(trial, "TF24"), IsEmpty()) << "nothing was odd";
  trial.closings[0].answers = {{"odd_run", "closed_so"}};
  trial.closings[0].details = details_text({{"odd_run", "percent_stand 80 8 101 203"}});
  const auto notices = closed_so_notices(trial, "TF24", 2025);
  ASSERT_EQ(notices.size(), 1U);
  EXPECT_EQ(notices[0].what,
            "2025-spring-stand was closed with one value on many plots running: percent_stand 80 8 "
            "101 203");
  EXPECT_EQ(notices[0].where, "TF24");
  EXPECT_THAT(closed_so_notices(trial, "TF24", 2024), IsEmpty()) << "of another year";
}

}  // namespace
}  // namespace ligule::results
