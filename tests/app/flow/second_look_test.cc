#include "tests/app/flow/second_looks.h"

namespace ligule::flow {
namespace {

TEST_F(SecondLookTest, APlotComesBackUnannouncedWithNothingOnItsCard) {
  ASSERT_TRUE(rate_until_one_comes_back());
  const RateView view = tablet.rate();
  const std::size_t came_from = book_of(tablet.model.screen)->looks.look->after;
  EXPECT_EQ(view.measures.at(0).shown, "");
  EXPECT_EQ(view.measures.at(0).mark, Mark::kOpen);
  EXPECT_EQ(view.lane.at(view.present).plot, view.plot);
  EXPECT_EQ(tablet.mark(view.plot), Mark::kOpen);
  EXPECT_EQ(tablet.notice(), "");
  EXPECT_GE(came_from, 9U) << "eight others lie in between";
  tablet.choose("percent_stand", "60");
  tablet.settle();
  const auto repeats = of(Purpose::kRepeat);
  ASSERT_EQ(repeats.size(), 1U);
  EXPECT_EQ(repeats[0].kind, kind::kReading) << "it corrects nothing";
  EXPECT_EQ(repeats[0].entered, "60");
  EXPECT_EQ(repeats[0].blind, true);
  EXPECT_FALSE(looking());
  const Book& book = *book_of(tablet.model.screen);
  EXPECT_EQ(tablet.rate().plot, book.plots.at(came_from + 1).number) << "on where it was";
  const Cell first = cell_of(tablet.model, book, *plan.find_plot(view.plot), "percent_stand");
  ASSERT_TRUE(first.claim);
  EXPECT_EQ(first.claim->record.entered, "85") << "the first value stands";
}

// Proves: nobody rates the plot they stand at as the one that came back, nor the next one as the
// one the path goes on with: a stake is named before anything can be given.
TEST_F(SecondLookTest, TheStakeIsNamedThereAndOnTheWayBack) {
  ASSERT_TRUE(rate_until_one_comes_back());
  tablet.agrees = false;
  const std::string back = tablet.rate().plot;
  const std::size_t after = book_of(tablet.model.screen)->looks.look->after;
  ASSERT_TRUE(tablet.rate().stake.question);
  EXPECT_EQ(tablet.rate().stake.question->expected, back);
  EXPECT_FALSE(tablet.rate().can_enter);
  EXPECT_EQ(tablet.rate().measures.at(0).shown, "") << "nothing of the first value";
  tablet.choose("percent_stand", "60");
  tablet.settle();
  EXPECT_TRUE(of(Purpose::kRepeat).empty());
  tablet.tap(NameStake{back});
  EXPECT_TRUE(looking());
  EXPECT_FALSE(tablet.rate().stake.any());
  tablet.choose("percent_stand", "60");
  tablet.settle();
  const std::string next = book_of(tablet.model.screen)->plots.at(after + 1).number;
  ASSERT_TRUE(tablet.rate().stake.question);
  EXPECT_EQ(tablet.rate().stake.question->expected, next);
  tablet.tap(NameStake{next});
  EXPECT_FALSE(tablet.rate().stake.any());
  EXPECT_EQ(tablet.rate().plot, next);
}

TEST_F(SecondLookTest, WhoStandsElsewhereIsThereAndNothingIsToldOfSlippedValues) {
  ASSERT_TRUE(rate_until_one_comes_back());
  tablet.agrees = false;
  const Book& book = *book_of(tablet.model.screen);
  const std::size_t beside = book.present + 1;
  const std::string stood = book.plots.at(beside).number;
  tablet.tap(NameStake{stood});
  EXPECT_FALSE(looking());
  EXPECT_EQ(tablet.rate().plot, stood);
  EXPECT_FALSE(tablet.rate().stake.any()) << "the way there says nothing of what was given before";
  EXPECT_FALSE(tablet.model.stakes.back().answered);
}

TEST_F(SecondLookTest, TheStakeOfTheLaneNamesItToo) {
  ASSERT_TRUE(rate_until_one_comes_back());
  tablet.agrees = false;
  tablet.tap(GoToPlot{tablet.rate().plot});
  EXPECT_TRUE(looking());
  EXPECT_FALSE(tablet.rate().stake.any());
}

// Proves: what is taken back from the question of the way back is open at once; one stands there.
TEST_F(SecondLookTest, TakenBackFromTheWayBackItAsksForNoStake) {
  ASSERT_TRUE(rate_until_one_comes_back());
  const std::string back = tablet.rate().plot;
  tablet.choose("percent_stand", "60");
  tablet.settle();
  tablet.agrees = false;
  ASSERT_TRUE(tablet.rate().stake.question);
  tablet.tap(TakeBack{});
  tablet.settle();
  EXPECT_EQ(tablet.rate().plot, back);
  EXPECT_TRUE(looking());
  EXPECT_FALSE(tablet.rate().stake.any());
  tablet.tap(TakeBack{});  // the plot that led to it
  tablet.settle();
  EXPECT_FALSE(looking());
  EXPECT_FALSE(tablet.rate().stake.any());
}

TEST_F(SecondLookTest, LetGoOrHandedOverTheWayBackAsksToo) {
  ASSERT_TRUE(rate_until_one_comes_back());
  const std::size_t after = book_of(tablet.model.screen)->looks.look->after;
  const std::string next = book_of(tablet.model.screen)->plots.at(after + 1).number;
  tablet.agrees = false;
  hand_to("CD");
  EXPECT_FALSE(looking());
  ASSERT_TRUE(tablet.rate().stake.question);
  EXPECT_EQ(tablet.rate().stake.question->expected, next);
}

TEST_F(SecondLookTest, ClosedFromItNothingIsAskedOfAStakeAtAPlotThatIsDone) {
  while (!tablet.rate().all_done) {
    tablet.choose("percent_stand", looking() ? "60" : "85");
    tablet.settle();
  }
  EXPECT_FALSE(tablet.rate().stake.any());
  tablet.tap(DeclareDone{});
  tablet.settle();
  EXPECT_FALSE(looking());
}

TEST_F(SecondLookTest, TakenBackItIsOpenAgainAndTheFirstValueStays) {
  ASSERT_TRUE(rate_until_one_comes_back());
  const std::string plot = tablet.rate().plot;
  tablet.choose("percent_stand", "60");
  tablet.settle();
  const std::string next = tablet.rate().plot;
  tablet.tap(TakeBack{});
  tablet.settle();
  EXPECT_EQ(tablet.ledger.back().kind, kind::kWithdrawal);
  EXPECT_EQ(tablet.ledger.back().purpose, Purpose::kRepeat);
  EXPECT_TRUE(looking());
  EXPECT_EQ(tablet.rate().plot, plot);
  EXPECT_EQ(tablet.rate().measures.at(0).shown, "");
  tablet.choose("percent_stand", "65");
  tablet.settle();
  EXPECT_EQ(of(Purpose::kRepeat).size(), 2U);
  EXPECT_EQ(tablet.rate().plot, next);
}

TEST_F(SecondLookTest, LaterAndGoingElsewhereLetItGo) {
  ASSERT_TRUE(rate_until_one_comes_back());
  const std::string plot = tablet.rate().plot;
  tablet.tap(GoToPlot{plot});
  EXPECT_TRUE(looking()) << "its own stake does not show the first value";
  const std::size_t kept = tablet.ledger.size();
  tablet.tap(PutOff{});
  tablet.settle();
  EXPECT_FALSE(looking());
  EXPECT_EQ(tablet.ledger.size(), kept) << "nothing is recorded of it";
  while (rate_until_one_comes_back()) {
    EXPECT_NE(tablet.rate().plot, plot) << "each comes once";
    tablet.tap(GoToPlot{"101"});
    EXPECT_FALSE(looking());
    EXPECT_EQ(tablet.rate().measures.at(0).shown, "85");
    const std::string next = tablet.rate().next_open;
    if (next.empty()) break;
    tablet.tap(GoToPlot{next});
  }
  EXPECT_TRUE(of(Purpose::kRepeat).empty());
}

TEST_F(SecondLookTest, ComesOnceThoughTheProgramIsStartedAgain) {
  ASSERT_TRUE(rate_until_one_comes_back());
  const std::string plot = tablet.rate().plot;
  tablet.choose("percent_stand", "60");
  tablet.settle();
  const std::string next = tablet.rate().plot;
  tablet.model.looked_again.clear();
  tablet.open(plan, "late");
  EXPECT_EQ(tablet.rate().plot, next);
  while (rate_until_one_comes_back()) {
    EXPECT_NE(tablet.rate().plot, plot);
    tablet.choose("percent_stand", "60");
    tablet.settle();
  }
  EXPECT_EQ(tablet.rate().done, 16U);
}

TEST_F(SecondLookTest, ComesOnlyWhereItIsSwitchedOn) {
  tablet.tap(Choose{Preference::kRepeats, "off"});
  EXPECT_FALSE(rate_until_one_comes_back());
  EXPECT_TRUE(of(Purpose::kRepeat).empty());
}

TEST_F(SecondLookTest, WhoeverTakesTheTabletIsNotAskedForAnothersLook) {
  ASSERT_TRUE(rate_until_one_comes_back());
  hand_to("CD");
  EXPECT_FALSE(looking());
}

TEST_F(SecondLookTest, NotSavedItIsOpenOnItsCardUntilItIsWrittenAgain) {
  ASSERT_TRUE(rate_until_one_comes_back());
  const std::string plot = tablet.rate().plot;
  tablet.break_disk(true);
  tablet.choose("percent_stand", "60");
  tablet.settle();
  EXPECT_EQ(tablet.rate().plot, plot);
  EXPECT_EQ(tablet.rate().measures.at(0).shown, "60");
  tablet.break_disk(false);
  tablet.tap(RetryUnsaved{});
  tablet.settle();
  ASSERT_EQ(of(Purpose::kRepeat).size(), 1U);
  EXPECT_EQ(of(Purpose::kRepeat)[0].entered, "60");
}

}  // namespace
}  // namespace ligule::flow
