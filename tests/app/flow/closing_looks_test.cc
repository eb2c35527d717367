// What is told once, when a rating is closed, of how it was made.
#include "app/flow/closing_looks.h"

#include <gtest/gtest.h>

#include "tests/app/flow/tablet.h"

namespace ligule::flow {
namespace {

// Sixteen plots of one measure, 6 m on each side, eight to a row.
class ClosingLooksTest : public ::testing::Test {
 protected:
  ClosingLooksTest() {
    Plan plan = wide_plan();
    plan.occasions.back().measures = {"percent_stand"};
    plan.plot_width = {"20", "ft"};
    tablet.model.trials.push_back({plan, "plan digest", {}});
    tablet.open(plan, "late");
  }
  void rate(std::string_view stand, std::chrono::seconds after = std::chrono::seconds{20}) {
    tablet.rest(after);
    tablet.choose("percent_stand", stand);
    if (!tablet.question().empty()) tablet.answer("measured_so");
    tablet.settle();
  }
  const Record& last() { return tablet.ledger.back(); }

  Tablet tablet;
};

constexpr std::array<const char*, 8> kOthers{"85", "60", "75", "90", "55", "95", "70", "65"};

// Proves: a run of one value is told once, at the closing, and goes into its record.
TEST_F(ClosingLooksTest, ARunOfOneValueIsToldWhenTheRatingCloses) {
  for (int n = 0; n < 8; ++n) rate("80");
  for (const char* const other : kOthers) rate(other);
  EXPECT_FALSE(tablet.above().closing) << "nothing is said plot by plot";
  tablet.tap(DeclareDone{});
  ASSERT_TRUE(tablet.above().closing);
  const auto looks = tablet.above().closing->looks;
  ASSERT_EQ(looks.size(), 1U);
  EXPECT_EQ(looks.front(), (ClosingLook{"odd_run", "percent_stand", {"80", "8", "101", "108"}}));
  tablet.tap(AnswerClosing{true});
  tablet.settle();
  EXPECT_EQ(last().kind, kind::kClosed);
  EXPECT_THAT(last().answers, ::testing::ElementsAre(Answer{"odd_run", "closed_so"}));
}

TEST_F(ClosingLooksTest, NotYetLeavesTheRatingOpen) {
  for (int n = 0; n < 8; ++n) rate("80");
  for (const char* const other : kOthers) rate(other);
  tablet.tap(DeclareDone{});
  tablet.tap(AnswerClosing{false});
  EXPECT_FALSE(tablet.above().closing);
  EXPECT_NE(last().kind, kind::kClosed);
}

TEST_F(ClosingLooksTest, WithNothingOddItIsClosedAtOnce) {
  for (const char* const other : kOthers) {
    rate("80");
    rate(other);
  }
  tablet.tap(DeclareDone{});
  tablet.settle();
  EXPECT_FALSE(tablet.above().closing);
  EXPECT_EQ(last().kind, kind::kClosed);
  EXPECT_TRUE(last().answers.empty());
}

// Proves: who gives values for plots further on, from one place, is told so.
TEST_F(ClosingLooksTest, PlotsReachedFasterThanAnybodyWalksAreTold) {
  for (std::size_t n = 0; n < 8; ++n) {
    // Three or five plots on each time, 18 m and more in a few seconds.
    tablet.tap(GoToPlot{std::to_string(101 + (5 * n) % 8)});
    rate(kOthers[n], std::chrono::seconds{1});
  }
  tablet.tap(DeclareDone{});
  ASSERT_TRUE(tablet.above().closing);
  const auto looks = tablet.above().closing->looks;
  ASSERT_EQ(looks.size(), 1U);
  EXPECT_EQ(looks.front().rule, "too_fast");
  EXPECT_EQ(looks.front().arguments.back(), "106");
  EXPECT_FALSE(tablet.above().closing->open.empty()) << "what is open is named with it";
}

TEST_F(ClosingLooksTest, AValuePutRightLaterIsNoVisit) {
  for (int n = 0; n < 2; ++n)
    for (const char* const other : kOthers) rate(other);
  for (const char* const plot : {"101", "108", "102", "107"}) {
    tablet.rest(std::chrono::seconds{1});
    tablet.tap(GoToPlot{plot});
    tablet.choose("percent_stand", "50");
    tablet.settle();
  }
  tablet.tap(DeclareDone{});
  tablet.settle();
  EXPECT_FALSE(tablet.above().closing);
}

}  // namespace
}  // namespace ligule::flow
