// Practice on drawn stands: what is drawn, what is kept of it, and what is said at the end.
#include "app/flow/practice.h"

#include <algorithm>
#include <cmath>

#include "storage/trial/details.h"
#include "tests/app/flow/tablet.h"

namespace ligule::flow {
namespace {

using ::testing::SizeIs;

TEST(DrawnStands, AreTheSameForTheSameSeedAndOthersForAnother) {
  EXPECT_EQ(drawn_stands("2026-05-04 AB 1"), drawn_stands("2026-05-04 AB 1"));
  EXPECT_NE(drawn_stands("2026-05-04 AB 1"), drawn_stands("2026-05-04 AB 2"));
  EXPECT_NE(drawn_stands("2026-05-04 AB 1"), drawn_stands("2026-05-05 AB 1"));
  EXPECT_NE(drawn_stands("2026-05-04 AB 1"), drawn_stands("2026-05-04 CD 1"));
  EXPECT_EQ(lie_of("seed", 3), lie_of("seed", 3));
  EXPECT_NE(lie_of("seed", 3), lie_of("seed", 4));
}

TEST(DrawnStands, AreSpreadOverTheScaleAndMostlyNoRoundFives) {
  int sorted = 0;
  for (int round = 1; round <= 500; ++round) {
    const std::vector<int> drawn = drawn_stands("2026-05-04 AB " + std::to_string(round));
    ASSERT_THAT(drawn, SizeIs(kPracticeStands));
    std::vector<int> order = drawn;
    std::ranges::sort(order);
    sorted += order == drawn ? 1 : 0;
    EXPECT_GE(order.front(), 1);
    EXPECT_LE(order.back(), 99);
    for (int fifth = 0; fifth < 5; ++fifth)
      EXPECT_EQ(
          std::ranges::count_if(drawn, [&](int percent) { return (percent - 1) / 20 == fifth; }),
          2);
    for (std::size_t n = 1; n < order.size(); ++n) EXPECT_GE(order[n] - order[n - 1], 4);
    EXPECT_LE(std::ranges::count_if(drawn, [](int percent) { return percent % 5 == 0; }), 2);
  }
  EXPECT_EQ(sorted, 0);
}

class PracticeTest : public ::testing::Test {
 protected:
  PracticeTest() { open(); }

  void open() {
    tablet.tap(ShowTablet{});
    tablet.settle();
    const View view = view_of(tablet.model);
    const PracticeOffer offer = std::get<TabletView>(view).practice.at(0);
    tablet.tap(ShowPractice{offer.trial, offer.occasion});
  }
  [[nodiscard]] PracticeView shown() const { return std::get<PracticeView>(view_of(tablet.model)); }
  void give(int percent) { tablet.choose("percent_stand", std::to_string(percent)); }
  // All that are left, each so many points off what is drawn, to the nearest five.
  void give_all(int off) {
    while (!shown().result) {
      const int wanted = std::clamp(shown().stand.percent + off, 0, 100);
      give((wanted + 2) / 5 * 5);
      tablet.settle();
    }
  }
  [[nodiscard]] std::vector<Record> practised() const {
    std::vector<Record> found;
    std::ranges::copy_if(tablet.ledger, std::back_inserter(found),
                         [](const Record& record) { return record.purpose == Purpose::kPractice; });
    return found;
  }

  Tablet tablet;
};

TEST_F(PracticeTest, IsOfferedForTheNearestRatingOfPercentStand) {
  tablet.tap(ShowTablet{});
  const View view = view_of(tablet.model);
  const auto& offers = std::get<TabletView>(view).practice;
  ASSERT_EQ(offers.size(), 1U) << "A1 rates no stand";
  EXPECT_EQ(offers[0].trial_code, "G1");
  EXPECT_EQ(offers[0].occasion, grass_plan().occasion(grass_plan().occasions[0]));
  EXPECT_TRUE(offers[0].drilled);
  // A broadcast trial is practised for by its patches; one without a date comes last.
  Plan broadcast = grass_plan();
  broadcast.codes.trial = "B1";
  broadcast.drilled = false;
  broadcast.occasions.erase(broadcast.occasions.begin());
  tablet.model.trials.push_back({broadcast, "plan digest B1", {}});
  const auto two = practice_offers(tablet.model);
  ASSERT_EQ(two.size(), 2U);
  EXPECT_EQ(two[1].trial_code, "B1");
  EXPECT_EQ(two[1].occasion, broadcast.occasion(broadcast.occasions[2]))
      << "the one without a date";
  EXPECT_FALSE(two[1].drilled);
}

TEST_F(PracticeTest, AnAnswerIsOneTapAndARecordThatIsNoValueOfAPlot) {
  EXPECT_EQ(shown().place, 1U);
  EXPECT_EQ(shown().stands, 10U);
  EXPECT_EQ(shown().choices.size(), 21U);
  const int drawn = shown().stand.percent;
  give(60);
  EXPECT_EQ(shown().place, 2U) << "moves on by itself, before it is durable";
  EXPECT_EQ(shown().head.saving, 1U);
  tablet.settle();
  give(35);
  tablet.settle();
  const auto answers = practised();
  ASSERT_EQ(answers.size(), 2U);
  const Record& first = answers[0];
  EXPECT_EQ(first.kind, kind::kReading);
  EXPECT_EQ(first.measure, "percent_stand");
  EXPECT_EQ(first.trial, grass_plan().id());
  EXPECT_EQ(first.plan, "plan digest G1");
  EXPECT_EQ(first.occasion, grass_plan().occasion(grass_plan().occasions[0]));
  EXPECT_EQ(first.person, person_id("AB"));
  EXPECT_EQ(first.state, ValueState::kValue);
  EXPECT_EQ(first.entered, "60");
  EXPECT_EQ(first.unit, "%");
  EXPECT_EQ(first.value, 60);
  EXPECT_EQ(first.definition, "digest of percent_stand");
  EXPECT_EQ(first.source, Source::kTapped);
  EXPECT_FALSE(first.blind) << "there is no entry";
  EXPECT_EQ(first.part, 1);
  EXPECT_EQ(answers[1].part, 2);
  EXPECT_EQ(first.subject, answers[1].subject);
  for (const PlanPlot& plot : grass_plan().plots)
    EXPECT_NE(first.subject, grass_plan().plot(plot).uuid);
  EXPECT_EQ(detail(first.details, "drawn"), std::to_string(drawn));
  EXPECT_EQ(detail(first.details, "seed"), "2026-05-04 AB 1");
  EXPECT_EQ(detail(first.details, "sowing"), "drilled");
  EXPECT_EQ(drawn, drawn_stands("2026-05-04 AB 1").front());
}

TEST_F(PracticeTest, OnlyWhatThePadOffersIsTaken) {
  tablet.choose("percent_stand", "61");
  tablet.choose("percent_stand", "");
  tablet.choose("seedling_vigor", "4");
  EXPECT_EQ(shown().place, 1U);
  EXPECT_TRUE(practised().empty());
}

TEST_F(PracticeTest, OneTapTakesTheLastBack) {
  EXPECT_FALSE(shown().can_take_back);
  tablet.tap(TakeBack{});
  EXPECT_EQ(shown().place, 1U);
  give(60);
  give(35);
  tablet.settle();
  EXPECT_TRUE(shown().can_take_back);
  tablet.tap(TakeBack{});
  EXPECT_EQ(shown().place, 2U);
  tablet.settle();
  const auto answers = practised();
  ASSERT_EQ(answers.size(), 3U);
  EXPECT_EQ(answers[2].kind, kind::kWithdrawal);
  EXPECT_EQ(answers[2].targets, std::vector{answers[1].id});
  EXPECT_EQ(answers[2].reason, "taken_back");
  EXPECT_FALSE(answers[2].blind);
  EXPECT_TRUE(answers[2].details.empty());
  give(40);
  tablet.settle();
  EXPECT_EQ(shown().place, 3U);
  EXPECT_EQ(practised().back().kind, kind::kReading);
  EXPECT_EQ(practised().back().part, 2);
}

TEST_F(PracticeTest, SaysHowFarOffSomebodyRates) {
  give_all(6);
  const PracticeResult result = *shown().result;
  EXPECT_EQ(result.how, RatesHow::kHigh);
  ASSERT_THAT(result.stands, SizeIs(10));
  const std::vector<int> drawn = drawn_stands("2026-05-04 AB 1");
  double sum = 0;
  for (std::size_t n = 0; n < 10; ++n) {
    EXPECT_EQ(result.stands[n].percent, drawn[n]);
    sum += std::stod(result.stands[n].given) - drawn[n];
  }
  EXPECT_EQ(result.points, std::lround(sum / 10));
  double squares = 0;
  for (std::size_t n = 0; n < 10; ++n)
    squares += std::pow(std::stod(result.stands[n].given) - drawn[n] - sum / 10, 2);
  EXPECT_EQ(result.give_or_take, std::lround(std::sqrt(squares / 9)));
  tablet.tap(TakeBack{});
  EXPECT_TRUE(shown().result) << "what was drawn is known now";
  give(50);
  EXPECT_EQ(practised().size(), 10U);
}

TEST_F(PracticeTest, LowAndNearAreSaidLikewise) {
  give_all(-12);
  EXPECT_EQ(shown().result->how, RatesHow::kLow);
  EXPECT_GE(shown().result->points, 8);
  tablet.tap(ShowPractice{shown().trial, shown().occasion});
  EXPECT_FALSE(shown().result);
  give_all(0);
  EXPECT_EQ(shown().result->how, RatesHow::kNear);
  EXPECT_LE(shown().result->give_or_take, 3);
}

TEST_F(PracticeTest, AgainDrawsOthersAndKeepsItsOwnSubject) {
  give_all(0);
  const Record first = practised().front();
  tablet.tap(ShowPractice{shown().trial, shown().occasion});
  EXPECT_EQ(shown().place, 1U);
  give(50);
  tablet.settle();
  EXPECT_EQ(detail(practised().back().details, "seed"), "2026-05-04 AB 2");
  EXPECT_NE(practised().back().subject, first.subject);
}

TEST_F(PracticeTest, IsLeftByOneTapAndGoesOnWhereItStopped) {
  give(50);
  give(55);
  tablet.settle();
  const int third = shown().stand.percent;
  tablet.tap(ShowToday{});
  tablet.settle();
  EXPECT_TRUE(std::holds_alternative<TodayView>(view_of(tablet.model)));
  open();
  EXPECT_EQ(shown().place, 3U);
  EXPECT_EQ(shown().stand.percent, third);
  tablet.tap(ShowToday{});
  tablet.next_day();
  open();
  EXPECT_EQ(shown().place, 1U) << "another day, other stands";
  EXPECT_EQ(shown().stand.percent, drawn_stands("2026-05-05 AB 1").front());
}

TEST_F(PracticeTest, ShowsNothingAgainAfterTheProgramWasClosed) {
  give_all(0);
  tablet.restart();
  tablet.sign_in("AB");
  const CalendarDate day = tablet.model.now.local_date;
  tablet.facts_answer.practised = {{person_id("CD"), day}, {person_id("AB"), day}};
  open();
  EXPECT_EQ(shown().stand.percent, drawn_stands("2026-05-04 AB 2").front());
}

TEST_F(PracticeTest, WhoeverTakesTheTabletRatesStandsOfTheirOwn) {
  give(50);
  tablet.tap(HandOver{});
  tablet.type("CD");
  tablet.tap(KeyDone{});
  tablet.settle();
  EXPECT_EQ(shown().place, 1U);
  EXPECT_EQ(shown().stand.percent, drawn_stands("2026-05-04 CD 1").front());
  give(70);
  tablet.settle();
  EXPECT_EQ(practised().back().person, person_id("CD"));
  tablet.tap(HandOver{});
  tablet.sign_in("AB");
  EXPECT_EQ(shown().place, 2U) << "theirs goes on";
}

TEST_F(PracticeTest, CountsInNoProgressAndIsNoValueOfTheRating) {
  give_all(3);
  tablet.open(grass_plan(), "stand");
  EXPECT_EQ(tablet.rate().done, 0U);
  EXPECT_EQ(tablet.rate().measures.at(0).mark, Mark::kOpen);
  EXPECT_FALSE(tablet.rate().can_take_back);
  for (const StakeView& stake : tablet.rate().lane) EXPECT_EQ(stake.mark, Mark::kOpen);
  tablet.choose("percent_stand", "85");
  EXPECT_EQ(tablet.question(), "") << "nobody rated this block before";
  tablet.look_over(grass_plan(), "stand");
  for (const MapCell& cell : tablet.map().cells) EXPECT_FALSE(cell.conflict);
}

TEST_F(PracticeTest, WhatIsNotSavedIsGoneBackToAndWrittenAgain) {
  give(50);
  tablet.settle();
  tablet.break_disk(true);
  give(55);
  give(60);
  tablet.settle();
  ASSERT_TRUE(tablet.above().unsaved);
  EXPECT_EQ(tablet.above().unsaved->acts, 2U);
  EXPECT_EQ(shown().place, 2U) << "back at the stand";
  EXPECT_EQ(shown().stand.given, "55") << "with its answer";
  EXPECT_FALSE(shown().can_enter);
  give(70);
  tablet.break_disk(false);
  tablet.tap(RetryUnsaved{});
  tablet.settle();
  EXPECT_FALSE(tablet.above().unsaved);
  EXPECT_EQ(shown().place, 4U);
  EXPECT_EQ(practised().size(), 3U);
}

TEST_F(PracticeTest, WhatIsLetGoIsAskedAgain) {
  give(50);
  give(55);
  tablet.settle();
  tablet.break_disk(true);
  tablet.tap(TakeBack{});
  give(60);
  tablet.tap(ShowToday{});
  tablet.settle();
  ASSERT_TRUE(tablet.above().unsaved);
  EXPECT_EQ(shown().place, 2U) << "back from wherever one was";
  tablet.break_disk(false);
  tablet.tap(DropUnsaved{});
  tablet.settle();
  EXPECT_EQ(shown().place, 3U) << "the second answer was not taken back after all";
  EXPECT_EQ(practised().size(), 2U);
}

TEST_F(PracticeTest, NobodyElseIsBroughtBackToIt) {
  tablet.break_disk(true);
  give(55);
  tablet.tap(HandOver{});
  tablet.type("CD");
  tablet.tap(KeyDone{});
  tablet.settle();
  ASSERT_TRUE(tablet.above().unsaved);
  EXPECT_EQ(shown().stand.given, "") << "what AB said is no business of CD";
}

}  // namespace
}  // namespace ligule::flow
