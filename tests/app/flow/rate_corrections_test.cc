// Values of a rating restated and taken back.
#include "app/flow/book.h"
#include "storage/trial/details.h"
#include "tests/app/flow/rate_fixture.h"

namespace ligule::flow {
namespace {

using ::testing::ElementsAre;

// Proves: design.md 4, a correction restates the whole value and names the claim.
TEST_F(Rate, AnotherValueOnAKeptMeasureIsACorrection) {
  rate_plot();
  tablet.settle();
  const RecordId first = tablet.ledger.at(1).id;
  tablet.tap(GoToPlot{"101"});
  tablet.choose("percent_stand", "80");
  tablet.settle();
  EXPECT_EQ(last().kind, kind::kCorrection);
  EXPECT_THAT(last().targets, ElementsAre(first));
  EXPECT_EQ(last().reason, "mistap");
  EXPECT_EQ(last().entered, "80");
  EXPECT_EQ(last().unit, "%");
  EXPECT_EQ(tablet.rate().plot, "101") << "a correction does not walk on";
  tablet.tap(ChooseValue{"percent_stand", "75", "looked_again"});
  tablet.settle();
  EXPECT_EQ(last().reason, "looked_again");
  EXPECT_EQ(last().targets.front(), tablet.ledger.at(tablet.ledger.size() - 2).id);
}

TEST_F(Rate, ACorrectionOfAValueStillUnderWayNamesIt) {
  tablet.choose("percent_stand", "85");
  tablet.choose("percent_stand", "80");
  tablet.settle();
  ASSERT_EQ(tablet.ledger.size(), 3U);
  EXPECT_EQ(last().kind, kind::kCorrection);
  EXPECT_THAT(last().targets, ElementsAre(tablet.ledger.at(1).id));
}

TEST_F(Rate, TheSameValueAgainSaysNothingNew) {
  tablet.choose("percent_stand", "85");
  tablet.settle();
  tablet.choose("percent_stand", "85");
  tablet.settle();
  EXPECT_EQ(tablet.ledger.size(), 2U);
}

TEST_F(Rate, TakingBackAFirstValueIsAWithdrawal) {
  tablet.choose("percent_stand", "85");
  tablet.settle();
  ASSERT_TRUE(tablet.rate().can_take_back);
  tablet.tap(TakeBack{});
  tablet.settle();
  EXPECT_EQ(last().kind, kind::kWithdrawal);
  EXPECT_THAT(last().targets, ElementsAre(tablet.ledger.at(1).id));
  EXPECT_EQ(last().measure, "percent_stand");
  EXPECT_FALSE(last().value);
  EXPECT_FALSE(last().state);
  EXPECT_EQ(last().entered, "");
  EXPECT_EQ(last().reason, "taken_back");
  EXPECT_EQ(measure("percent_stand").mark, Mark::kOpen);
  tablet.tap(TakeBack{});
  EXPECT_EQ(tablet.notice(), "notice.nothing_to_take_back");
  tablet.choose("percent_stand", "60");
  tablet.settle();
  EXPECT_EQ(last().kind, kind::kReading) << "the slot is empty again";
}

TEST_F(Rate, TakingBackACorrectionReturnsToTheEarlierValue) {
  tablet.choose("percent_stand", "85");
  tablet.choose("percent_stand", "80");
  tablet.settle();
  tablet.tap(TakeBack{});
  tablet.settle();
  EXPECT_EQ(last().kind, kind::kCorrection);
  EXPECT_EQ(last().entered, "85");
  EXPECT_EQ(last().value, 85.0);
  EXPECT_EQ(last().reason, "taken_back");
  EXPECT_THAT(last().targets, ElementsAre(tablet.ledger.at(2).id));
  // And the first act below it: the claim that stands is named, not the one it was given as.
  const RecordId standing = last().id;
  tablet.tap(TakeBack{});
  tablet.settle();
  EXPECT_EQ(last().kind, kind::kWithdrawal);
  EXPECT_THAT(last().targets, ElementsAre(standing));
}

TEST_F(Rate, TakingBackGoesToThePlot) {
  rate_plot();
  ASSERT_EQ(tablet.rate().plot, "102");
  tablet.tap(TakeBack{});
  view = tablet.rate();
  EXPECT_EQ(view.plot, "101");
  EXPECT_EQ(view.measures.at(*view.focus).measure, "stubble_height");
}

TEST_F(Rate, NamesTheNextOpenPlotFromAnywhere) {
  rate_plot();
  rate_plot();
  tablet.tap(GoToPlot{"101"});
  EXPECT_EQ(tablet.rate().next_open, "103");
  tablet.tap(GoToPlot{tablet.rate().next_open});
  for (int plot = 2; plot < 6; ++plot) {
    rate_plot();
    tablet.settle();
  }
  EXPECT_EQ(tablet.rate().next_open, "") << "there is none";
}

}  // namespace
}  // namespace ligule::flow
