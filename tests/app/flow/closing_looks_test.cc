// What is told once, when a rating is closed, of how it was made.
#include "app/flow/closing_looks.h"

#include <gtest/gtest.h>

#include <array>
#include <map>

#include "app/flow/book.h"
#include "storage/trial/details.h"
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

// Proves: from Day's end the values are read first, so that the same is told there.
TEST_F(ClosingLooksTest, ClosedFromTheDaysEndTheSameIsTold) {
  for (int n = 0; n < 8; ++n) rate("80");
  for (const char* const other : kOthers) rate(other);
  OccasionProgress begun;
  const Plan& plan = tablet.model.trials.back().plan;
  begun.trial = plan.id();
  begun.occasion = plan.occasion(plan.occasions.back());
  begun.done = begun.total = begun.values_today = 16;
  tablet.today_answer.progress = {begun};
  tablet.tap(ShowDaysEnd{});
  tablet.settle();
  tablet.tap(CloseOccasion{begun.trial, begun.occasion});
  EXPECT_FALSE(tablet.above().closing) << "they are being read";
  tablet.settle();
  ASSERT_TRUE(tablet.above().closing);
  EXPECT_EQ(tablet.above().closing->looks.front().rule, "odd_run");
  EXPECT_TRUE(std::holds_alternative<DaysEndView>(view_of(tablet.model)));
  tablet.tap(AnswerClosing{true});
  tablet.settle();
  EXPECT_EQ(last().kind, kind::kClosed);
  EXPECT_EQ(last().answers.front().answer, "closed_so");
  EXPECT_EQ(detail(last().details, "odd_run"), "percent_stand 80 8 101 108");
}

// Four blocks of eight entries, each in another order.
constexpr std::array<std::string_view, 4> kOrders{"ABCDEFGH", "DEFGHCAB", "HBFADGCE", "CGAEBHDF"};

Plan four_blocks() {
  Plan plan = wide_plan();
  plan.codes.trial = "W2";
  plan.occasions.back().measures = {"percent_stand"};
  plan.plots.clear();
  for (std::size_t block = 0; block < kOrders.size(); ++block) {
    for (std::size_t at = 0; at < kOrders.at(block).size(); ++at) {
      PlanPlot plot;
      plot.block = plot.row = static_cast<int>(block) + 1;
      plot.column = static_cast<int>(at) + 1;
      plot.number = std::to_string(100 * plot.block + plot.column);
      plot.entry = kOrders.at(block).substr(at, 1);
      plot.path = static_cast<int>(plan.plots.size()) + 1;
      plan.plots.push_back(plot);
    }
  }
  return plan;
}

// Proves: a lane one plot off is told at the closing. In the last block each value stands one plot
// too early, and the last plot is open.
TEST_F(ClosingLooksTest, ALaneOnePlotOffIsTold) {
  const std::map<char, int> stands{{'A', 90}, {'B', 60}, {'C', 30}, {'D', 75},
                                   {'E', 45}, {'F', 95}, {'G', 15}, {'H', 70}};
  tablet.model.trials.push_back({four_blocks(), "plan digest", {}});
  tablet.tap(ShowToday{});
  tablet.settle();
  tablet.open(four_blocks(), "late");
  for (std::size_t block = 0; block < kOrders.size(); ++block) {
    const std::size_t from = block == 3 ? 1 : 0;
    for (std::size_t at = from; at < kOrders.at(block).size(); ++at)
      rate(std::to_string(stands.at(kOrders.at(block)[at]) + (at % 3 == 0 ? 5 : 0)));
  }
  tablet.tap(DeclareDone{});
  ASSERT_TRUE(tablet.above().closing);
  const auto looks = tablet.above().closing->looks;
  ASSERT_EQ(looks.size(), 1U);
  EXPECT_EQ(looks.front().rule, "shift_on");
  EXPECT_EQ(looks.front().measure, "percent_stand");
  ASSERT_EQ(looks.front().arguments.size(), 2U);
  EXPECT_THAT(looks.front().arguments[0], ::testing::AnyOf("401", "402")) << "an end is uncertain";
  EXPECT_EQ(looks.front().arguments[1], "407");
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

// Proves: however often it was put right, the visit is when a value was given first, also where the
// values were read again.
TEST_F(ClosingLooksTest, AValuePutRightTwiceIsNoVisitEither) {
  for (int n = 0; n < 2; ++n)
    for (const char* const other : kOthers) rate(other);
  for (const char* const stand : {"50", "45"}) {
    for (const char* const plot : {"101", "108", "102", "107", "103", "106"}) {
      tablet.rest(std::chrono::seconds{1});
      tablet.tap(GoToPlot{plot});
      tablet.choose("percent_stand", stand);
      tablet.settle();
    }
  }
  const Plan plan = tablet.model.trials.back().plan;
  EXPECT_TRUE(closing_looks(tablet.model, *book_of(tablet.model.screen)).empty());
  tablet.tap(ShowToday{});
  tablet.settle();
  tablet.open(plan, "late");
  EXPECT_TRUE(closing_looks(tablet.model, *book_of(tablet.model.screen)).empty());
}

// A put off plot is visited when it gets its value.
TEST_F(ClosingLooksTest, PuttingOffIsNoVisit) {
  tablet.tap(PutOff{});
  rate("80");
  tablet.rest(std::chrono::seconds{60});
  tablet.tap(GoToPlot{"101"});
  rate("70");
  const Book& book = *book_of(tablet.model.screen);
  const Cell cell = cell_of(tablet.model, book, book.plots.front(), "percent_stand");
  ASSERT_TRUE(cell.claim && cell.claim->before);
  EXPECT_FALSE(cell.claim->given) << "its own time tells";
}

}  // namespace
}  // namespace ligule::flow
