#include <algorithm>

#include "app/flow/book.h"
#include "tests/app/flow/tablet.h"

namespace ligule::flow {
namespace {

// Sixteen plots in two rows: from the tenth on the path comes by earlier ones.
class SecondLookTest : public ::testing::Test {
 protected:
  explicit SecondLookTest() {
    plan = wide_plan();
    plan.occasions.back().measures = {"percent_stand"};
    tablet.model.trials.push_back({plan, "plan digest", {}});
    tablet.goes_on = false;
    tablet.tap(Choose{Preference::kRepeats, "10"});
    tablet.open(plan, "late");
  }
  // Rates until a plot comes back, or all is done; whether one came back.
  bool rate_until_one_comes_back(std::string_view stand = "85") {
    while (!tablet.rate().all_done) {
      if (looking()) return true;
      tablet.choose("percent_stand", stand);
      tablet.settle();
    }
    return looking();
  }
  bool looking() const {
    const Book* const book = book_of(tablet.model.screen);
    return book != nullptr && book->looks.look;
  }
  std::vector<Record> of(Purpose purpose) const {
    std::vector<Record> found;
    std::ranges::copy_if(tablet.ledger, std::back_inserter(found), [&](const Record& record) {
      return record.purpose == purpose && record.is_claim();
    });
    return found;
  }
  void hand_to(const std::string& initials) {
    tablet.tap(HandOver{});
    tablet.type(initials);
    tablet.tap(KeyDone{});
    tablet.settle();
  }
  void answer_as(RateAs as) {
    ASSERT_TRUE(tablet.above().as_second);
    tablet.tap(AnswerAsSecond{as});
    tablet.settle();
  }

  Plan plan;
  Tablet tablet;
};

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

// --- a second person

class SecondPersonTest : public SecondLookTest {
 protected:
  SecondPersonTest() {
    tablet.tap(Choose{Preference::kRepeats, "off"});
    for (int n = 0; n < 4; ++n) {
      tablet.choose("percent_stand", "85");
      tablet.settle();
    }
    tablet.tap(ShowToday{});
    tablet.settle();
    hand_to("CD");
    tablet.open(plan, "late");
  }
};

TEST_F(SecondPersonTest, IsAskedBeforeAnyValueShows) {
  const auto asked = tablet.above().as_second;
  ASSERT_TRUE(asked);
  EXPECT_EQ(asked->raters, std::vector<std::string>{"AB"});
  EXPECT_EQ(asked->plots, 4U);
  EXPECT_EQ(asked->open, 12U);
  EXPECT_EQ(asked->own, 0U);
  EXPECT_TRUE(std::holds_alternative<StartingView>(view_of(tablet.model)));
}

TEST_F(SecondPersonTest, RatesAllPlotsBlindAndReplacesNothing) {
  answer_as(RateAs::kSecond);
  EXPECT_EQ(tablet.rate().plot, "101");
  EXPECT_EQ(tablet.rate().measures.at(0).shown, "");
  EXPECT_EQ(tablet.rate().done, 0U);
  tablet.choose("percent_stand", "70");
  tablet.settle();
  EXPECT_EQ(tablet.question(), "") << "nobody is told that another rated this block";
  EXPECT_EQ(tablet.rate().plot, "102");
  const auto seconds = of(Purpose::kSecond);
  ASSERT_EQ(seconds.size(), 1U);
  EXPECT_EQ(seconds[0].kind, kind::kReading);
  EXPECT_EQ(seconds[0].person, person_id("CD"));
  EXPECT_EQ(of(Purpose::kSurvey).size(), 4U);
}

TEST_F(SecondPersonTest, GoesOnWithTheirOwnAndTakesThemBack) {
  answer_as(RateAs::kSecond);
  tablet.choose("percent_stand", "70");
  tablet.choose("percent_stand", "75");
  tablet.settle();
  tablet.tap(ShowToday{});
  tablet.settle();
  tablet.open(plan, "late");
  ASSERT_TRUE(tablet.above().as_second);
  EXPECT_EQ(tablet.above().as_second->own, 2U);
  answer_as(RateAs::kSecond);
  EXPECT_EQ(tablet.rate().plot, "103");
  tablet.choose("percent_stand", "40");
  tablet.tap(TakeBack{});
  tablet.settle();
  EXPECT_EQ(tablet.ledger.back().purpose, Purpose::kSecond);
  EXPECT_EQ(tablet.rate().plot, "103");
  EXPECT_EQ(tablet.rate().done, 2U);
}

// Proves: who is not done with a second rating reads nothing of the first in Review: not on the
// map, in a plot's history, among questions, beside another rating.
TEST_F(SecondPersonTest, ReviewHidesTheFirstUntilTheSecondIsDone) {
  answer_as(RateAs::kNotNow);
  tablet.look_over(plan, "late");
  EXPECT_EQ(tablet.on_map("101").shown, "85") << "who did not begin a second rating sees it";
  EXPECT_FALSE(tablet.review().hidden);
  tablet.open(plan, "late");
  answer_as(RateAs::kSecond);
  tablet.choose("percent_stand", "70");
  tablet.settle();
  tablet.look_over(plan, "late");
  EXPECT_TRUE(tablet.review().hidden);
  for (const char* const plot : {"101", "102", "104"}) {
    EXPECT_EQ(tablet.on_map(plot).shown, "");
    EXPECT_EQ(tablet.on_map(plot).mark, Mark::kOpen);
    EXPECT_FALSE(tablet.on_map(plot).share);
  }
  tablet.tap(ShowHistory{"101"});
  tablet.settle();
  ASSERT_EQ(tablet.history().rows.size(), 1U) << "their own";
  EXPECT_EQ(tablet.history().rows.front().initials, "CD");
  tablet.tap(ReviewBack{});
  tablet.tap(ShowSlide{});
  EXPECT_EQ(tablet.notice(), "review.hidden");
  EXPECT_TRUE(std::holds_alternative<MapView>(tablet.review().page));
  // From another occasion: beside it, and in the history of all occasions.
  tablet.look_over(plan, "stand");
  EXPECT_FALSE(tablet.review().hidden);
  tablet.tap(ReviewAgainst{plan.occasion(plan.occasions.back())});
  tablet.settle();
  EXPECT_TRUE(tablet.review().hidden);
  tablet.tap(ReviewAlone{});
  tablet.tap(ShowHistory{"102"});
  tablet.settle();
  EXPECT_TRUE(tablet.history().rows.empty());
  EXPECT_TRUE(tablet.review().hidden);
  // Who rated first sees it, and once it is done both do.
  tablet.look_over(plan, "late");
  tablet.tap(HandOver{});
  tablet.tap(PickPerson{"AB"});
  tablet.settle();
  EXPECT_EQ(tablet.on_map("101").shown, "85");
  hand_to("CD");
  EXPECT_EQ(tablet.on_map("101").shown, "");
  tablet.open(plan, "late");
  answer_as(RateAs::kSecond);
  for (int n = 0; n < 3; ++n) tablet.choose("percent_stand", "75");
  tablet.settle();
  tablet.look_over(plan, "late");
  EXPECT_FALSE(tablet.review().hidden);
  EXPECT_EQ(tablet.on_map("101").shown, "85");
}

TEST_F(SecondPersonTest, ClosedAfterwardsTheFirstShows) {
  answer_as(RateAs::kSecond);
  tablet.choose("percent_stand", "70");
  tablet.settle();
  tablet.look_over(plan, "late");
  EXPECT_TRUE(tablet.review().hidden);
  tablet.tap(HandOver{});
  tablet.tap(PickPerson{"AB"});
  tablet.open(plan, "late");
  tablet.tap(DeclareDone{});
  tablet.tap(AnswerClosing{true});
  tablet.settle();
  ASSERT_EQ(tablet.ledger.back().kind, kind::kClosed);
  hand_to("CD");
  tablet.look_over(plan, "late");
  EXPECT_FALSE(tablet.review().hidden);
  EXPECT_EQ(tablet.on_map("101").shown, "85");
  // What was closed before they go on says nothing of it.
  tablet.open(plan, "late");
  answer_as(RateAs::kSecond);
  tablet.choose("percent_stand", "75");
  tablet.settle();
  tablet.look_over(plan, "late");
  EXPECT_TRUE(tablet.review().hidden);
}

// Proves: an answer for the day that a second person gave outlives the program.
TEST(SecondPersonBeforeSowing, IsAskedOnceForTheDayThoughTheProgramIsStartedAgain) {
  Tablet tablet(date::year{2024} / 9 / 9);
  tablet.goes_on = false;
  tablet.open(grass_plan(), "late");
  tablet.choose("percent_stand", "85");
  tablet.answer("date_is_right");
  tablet.settle();
  tablet.tap(ShowToday{});
  tablet.settle();
  tablet.tap(HandOver{});
  tablet.type("CD");
  tablet.tap(KeyDone{});
  tablet.settle();
  tablet.model.day_answers.clear();
  for (Record& record : tablet.ledger) record.answers.clear();  // the first person was not asked
  tablet.open(grass_plan(), "late");
  ASSERT_TRUE(tablet.above().as_second);
  tablet.tap(AnswerAsSecond{RateAs::kSecond});
  tablet.settle();
  tablet.choose("percent_stand", "70");
  ASSERT_EQ(tablet.question(), "check.before_sowing");
  tablet.answer("date_is_right");
  tablet.settle();
  tablet.restart();
  tablet.sign_in("CD");
  tablet.open(grass_plan(), "late");
  tablet.tap(AnswerAsSecond{RateAs::kSecond});
  tablet.settle();
  tablet.choose("percent_stand", "75");
  EXPECT_EQ(tablet.question(), "");
}

TEST_F(SecondPersonTest, LaterIsTheirOwnToo) {
  answer_as(RateAs::kSecond);
  tablet.tap(PutOff{});
  tablet.settle();
  EXPECT_EQ(tablet.ledger.back().state, ValueState::kLater);
  EXPECT_EQ(tablet.ledger.back().purpose, Purpose::kSecond);
}

TEST_F(SecondPersonTest, GoesOnWithTheRatingItselfWhereTheySaySo) {
  answer_as(RateAs::kFirst);
  EXPECT_EQ(tablet.rate().plot, "105");
  EXPECT_EQ(tablet.rate().done, 4U);
}

// Proves: who goes on with a rating is asked once a day, and not whenever they open it.
TEST_F(SecondPersonTest, WhoGoesOnIsNotAskedAgainThatDay) {
  answer_as(RateAs::kFirst);
  tablet.tap(ShowToday{});
  tablet.settle();
  tablet.open(plan, "late");
  EXPECT_FALSE(tablet.above().as_second);
}

TEST_F(SecondPersonTest, NotNowLeadsBack) {
  answer_as(RateAs::kNotNow);
  EXPECT_TRUE(std::holds_alternative<OnToday>(tablet.model.screen));
}

TEST_F(SecondPersonTest, ClosesNoRating) {
  answer_as(RateAs::kSecond);
  tablet.tap(DeclareDone{});
  tablet.settle();
  EXPECT_TRUE(std::holds_alternative<OnToday>(tablet.model.screen));
  EXPECT_NE(tablet.ledger.back().kind, kind::kClosed);
}

TEST_F(SecondPersonTest, TheFirstWhoTakesTheTabletIsBackInTheirRating) {
  answer_as(RateAs::kSecond);
  tablet.choose("percent_stand", "70");
  tablet.settle();
  tablet.tap(HandOver{});
  tablet.tap(PickPerson{"AB"});
  tablet.settle();
  EXPECT_EQ(tablet.rate().plot, "105");
  EXPECT_EQ(tablet.rate().done, 4U);
}

TEST_F(SecondPersonTest, IsNotAskedOnceTheyRateItFirst) {
  answer_as(RateAs::kFirst);
  tablet.choose("percent_stand", "70");
  tablet.settle();
  tablet.answer("go_on");
  tablet.settle();
  ASSERT_EQ(of(Purpose::kSurvey).size(), 5U);
  tablet.tap(ShowToday{});
  tablet.settle();
  tablet.open(plan, "late");
  EXPECT_FALSE(tablet.above().as_second);
}

}  // namespace
}  // namespace ligule::flow
