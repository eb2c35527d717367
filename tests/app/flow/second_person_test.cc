// A rating of the same plots by another person, blind to the first.
#include "storage/trial/said.h"
#include "tests/app/flow/second_looks.h"

namespace ligule::flow {
namespace {

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
  void rate_as_second(const char* stand) {
    answer_as(RateAs::kSecond);
    tablet.choose("percent_stand", stand);
    tablet.settle();
  }
  // To the first rater, who goes on with the rating.
  void hand_back() {
    tablet.tap(HandOver{});
    tablet.tap(PickPerson{"AB"});
    tablet.settle();
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
  rate_as_second("70");
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
  rate_as_second("70");
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
  rate_as_second("75");
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

// Proves: who rated one plot as second person and then goes on with the rating itself comes to no
// plot that another rated, also where the day's end leads there; once all are rated, to all.
TEST_F(SecondPersonTest, TheRatingItselfLeavesOutWhatTheyHaveNotRatedYet) {
  rate_as_second("70");
  tablet.tap(ShowToday{});
  tablet.settle();
  tablet.open(plan, "late");
  answer_as(RateAs::kFirst);
  EXPECT_EQ(tablet.notice(), "review.hidden");
  EXPECT_EQ(tablet.rate().plot, "105");
  EXPECT_EQ(tablet.rate().done, 0U);
  EXPECT_EQ(tablet.rate().plots, 12U);
  tablet.tap(GoToPlot{"104"});
  EXPECT_EQ(tablet.rate().plot, "105");
  tablet.tap(ShowToday{});
  tablet.settle();
  tablet.open(plan, "late");
  EXPECT_FALSE(tablet.above().as_second) << "said today already";
  EXPECT_EQ(tablet.rate().plots, 12U);
}

// Proves: handed a first rating that is open, they come to no plot that another rated either.
TEST_F(SecondPersonTest, HandedTheRatingTheySeeNothingOfTheFirst) {
  rate_as_second("70");
  tablet.tap(ShowToday{});
  tablet.settle();
  hand_back();
  ASSERT_EQ(tablet.rate().plots, 16U);
  tablet.tap(GoToPlot{"102"});
  ASSERT_EQ(tablet.rate().measures.at(0).shown, "85");
  hand_to("CD");
  EXPECT_TRUE(tablet.above().as_second) << "it is asked as whenever it is opened";
  EXPECT_FALSE(std::holds_alternative<Rating>(tablet.model.screen));
}

// Proves: where all was rated by others there is nothing to open, and it says why.
TEST_F(SecondPersonTest, ARatingOfOthersAloneIsNotOpenedBeforeTheSecondIsDone) {
  answer_as(RateAs::kNotNow);
  hand_back();
  for (int n = 4; n < 16; ++n) {
    tablet.choose("percent_stand", "85");
    tablet.settle();
  }
  tablet.tap(ShowToday{});
  tablet.settle();
  hand_to("CD");
  tablet.open(plan, "late");
  rate_as_second("70");
  tablet.tap(ShowToday{});
  tablet.settle();
  tablet.open(plan, "late");
  ASSERT_TRUE(tablet.above().as_second);
  EXPECT_EQ(tablet.above().as_second->open, 0U);
  answer_as(RateAs::kFirst);
  EXPECT_TRUE(std::holds_alternative<OnToday>(tablet.model.screen));
  EXPECT_EQ(tablet.notice(), "review.hidden");
}

TEST_F(SecondPersonTest, NotNowLeadsBack) {
  answer_as(RateAs::kNotNow);
  EXPECT_TRUE(std::holds_alternative<OnToday>(tablet.model.screen));
}

TEST_F(SecondPersonTest, WhoGaveNothingClosesNothing) {
  answer_as(RateAs::kSecond);
  tablet.tap(DeclareDone{});
  tablet.settle();
  EXPECT_TRUE(std::holds_alternative<OnToday>(tablet.model.screen));
  EXPECT_NE(tablet.ledger.back().kind, kind::kClosed);
}

// Proves: who rated some plots and is done with it says so: others' values show from then on,
// and the rating itself stays open.
TEST_F(SecondPersonTest, WhoIsDoneWithTheirsClosesItAndNotTheRating) {
  rate_as_second("70");
  tablet.tap(DeclareDone{});
  ASSERT_TRUE(tablet.above().closing);
  EXPECT_TRUE(tablet.above().closing->second);
  EXPECT_EQ(tablet.above().closing->open.size(), 15U);
  tablet.tap(AnswerClosing{false});
  EXPECT_EQ(tablet.rate().plot, "102") << "not yet";
  tablet.tap(DeclareDone{});
  tablet.tap(AnswerClosing{true});
  tablet.settle();
  ASSERT_EQ(tablet.ledger.back().kind, kind::kClosed);
  EXPECT_TRUE(said::closes_second(tablet.ledger.back()));
  tablet.tap(ShowToday{});
  tablet.settle();
  tablet.look_over(plan, "late");
  EXPECT_FALSE(tablet.review().hidden);
  EXPECT_EQ(tablet.on_map("101").shown, "85");
  tablet.open(plan, "late");
  EXPECT_NE(tablet.notice(), "notice.rating_closed");
  ASSERT_TRUE(tablet.above().as_second) << "they may go on";
  rate_as_second("75");
  tablet.look_over(plan, "late");
  EXPECT_TRUE(tablet.review().hidden);
}

// Proves: whoever is not done with a second rating hears nothing of the first at the day's end.
TEST_F(SecondPersonTest, ClosingTheFirstFromTheDaysEndTellsNoValues) {
  answer_as(RateAs::kNotNow);
  hand_back();
  for (const char* const stand :
       {"80", "80", "80", "80", "80", "80", "80", "80", "60", "75", "90", "55"}) {
    tablet.rest(std::chrono::seconds{20});
    tablet.choose("percent_stand", stand);
    tablet.settle();
  }
  OccasionProgress begun;
  begun.trial = plan.id();
  begun.occasion = plan.occasion(plan.occasions.back());
  begun.values_today = 16;
  tablet.today_answer.progress = {begun};
  const auto close = [&] {
    tablet.tap(ShowDaysEnd{});
    tablet.settle();
    tablet.tap(CloseOccasion{begun.trial, begun.occasion});
    tablet.settle();
  };
  close();
  ASSERT_TRUE(tablet.above().closing) << "one value on eight plots running";
  EXPECT_EQ(tablet.above().closing->looks.front().rule, "odd_run");
  tablet.tap(AnswerClosing{false});
  hand_to("CD");
  tablet.open(plan, "late");
  rate_as_second("70");
  close();
  EXPECT_FALSE(tablet.above().closing);
  ASSERT_EQ(tablet.ledger.back().kind, kind::kClosed);
  EXPECT_TRUE(tablet.ledger.back().answers.empty());
}

TEST_F(SecondPersonTest, TheFirstWhoTakesTheTabletIsBackInTheirRating) {
  rate_as_second("70");
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
