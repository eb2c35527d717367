// Under 1 inch must ask for tall fescue and orchardgrass alike, 4 inches must not (common practice,
// no source); least heights: assets/limits.json.
#include "tests/app/flow/harvest_fixture.h"

namespace ligule::flow {
namespace {

class LowStubbleTest : public HarvestTest {
 protected:
  LowStubbleTest() {
    tablet.model.setup.definitions.limits = {
        {"stubble_height", "alfalfa", "", "in", 2, {}, "common practice, no source"},
        {"stubble_height", "", "", "in", 4, {}, "common practice, no source"}};
  }
  // Whether a run set so is asked about.
  bool asks(const std::string& setting) {
    tablet.fill(Field::kMachine, "Mower 1");
    tablet.fill(Field::kStubble, setting);
    tablet.tap(StartRun{});
    const bool asked = tablet.above().low_stubble.has_value();
    if (asked) tablet.tap(AnswerLowStubble{false});
    return asked;
  }
  bool running() const {
    const auto view = std::get<HarvestView>(view_of(tablet.model));
    return std::holds_alternative<WeighingView>(view.step);
  }
};

TEST_F(LowStubbleTest, AsksUnderTheLeastHeightInAnyUnit) {
  for (const char* low : {"0.9 in", "0.9", "3.9 in", "3 in", "10 cm", "2.5cm", "1\"", "1 inch",
                          "1 in.", "0.5 inches", "1/2 in", "25 mm", "1,5 in", "2-3 in", "2-5 in"})
    EXPECT_TRUE(asks(low)) << low;
  EXPECT_FALSE(running());
}

TEST_F(LowStubbleTest, FourInchesAreNotAskedAbout) {
  EXPECT_FALSE(asks("4 in"));
  EXPECT_TRUE(running());
}

TEST_F(LowStubbleTest, TheSameHeightInCentimetresIsNotLower) {
  EXPECT_FALSE(asks("10.16 cm"));
}

TEST_F(LowStubbleTest, ANumberThatIsNoLengthIsWrittenAgain) {
  EXPECT_FALSE(asks("3 hands"));
  EXPECT_EQ(tablet.notice(), "notice.stubble_unclear");
  EXPECT_FALSE(running());
}

TEST_F(LowStubbleTest, ANumberAloneIsInThePersonsUnit) {
  tablet.tap(Choose{Preference::kLength, "cm"});
  EXPECT_TRUE(asks("10"));
  EXPECT_FALSE(asks("11"));
}

TEST_F(LowStubbleTest, SaysTheLeastHeightInThePersonsUnit) {
  tablet.tap(Choose{Preference::kLength, "cm"});
  tablet.fill(Field::kMachine, "Mower 1");
  tablet.fill(Field::kStubble, "9");
  tablet.tap(StartRun{});
  ASSERT_TRUE(tablet.above().low_stubble);
  EXPECT_EQ(tablet.above().low_stubble->least, "10.2\u00a0cm");
}

TEST_F(LowStubbleTest, WhatIsNoLengthSaysNothing) {
  EXPECT_FALSE(asks("as last year"));
  EXPECT_TRUE(running());
}

TEST_F(LowStubbleTest, MeantItIsKeptWithTheAnswer) {
  tablet.fill(Field::kMachine, "Mower 1");
  tablet.fill(Field::kStubble, "3 in");
  tablet.tap(StartRun{});
  ASSERT_TRUE(tablet.above().low_stubble);
  EXPECT_EQ(tablet.above().low_stubble->setting, "3 in");
  EXPECT_EQ(tablet.above().low_stubble->least, "4\u00a0in");
  tablet.tap(GoToPlot{"102"});
  EXPECT_TRUE(tablet.above().low_stubble) << "it is answered first";
  tablet.tap(AnswerLowStubble{true});
  tablet.settle();
  EXPECT_TRUE(running());
  EXPECT_THAT(tablet.ledger.back().answers,
              ::testing::ElementsAre(Answer{"stubble_low", "go_on_low"}));
}

TEST_F(LowStubbleTest, ChangedItIsTypedAgain) {
  EXPECT_TRUE(asks("3 in"));
  EXPECT_TRUE(head().fields[2].focused);
  EXPECT_FALSE(asks("4 in"));
  tablet.settle();
  EXPECT_TRUE(tablet.ledger.back().answers.empty());
}

TEST_F(LowStubbleTest, WhereNobodySaysALeastHeightNothingIsAsked) {
  tablet.model.setup.definitions.limits.clear();
  EXPECT_FALSE(asks("0.5 in"));
}

// The same of what is measured on a plot; entries A and C are tall fescue and alfalfa.
class MeasuredStubbleTest : public ::testing::Test {
 protected:
  MeasuredStubbleTest() {
    tablet.model.setup.definitions.limits = {
        {"stubble_height", "alfalfa", "", "in", 2, {}, "common practice, no source"},
        {"stubble_height", "", "grass", "in", 4, {}, "common practice, no source"}};
    tablet.open(grass_plan(), "stand");
  }
  // Whether it is asked about on a plot, and the least height that is said then.
  std::string asked(const std::string& plot, const std::string& height) {
    tablet.tap(GoToPlot{plot});
    tablet.tap(FocusMeasure{"stubble_height"});
    tablet.choose("stubble_height", height);
    return tablet.question().empty() ? "" : tablet.above().question->text.arguments.front();
  }
  Tablet tablet;
};

TEST_F(MeasuredStubbleTest, UnderTheSpeciesLeastHeightItAsksOnceADay) {
  EXPECT_EQ(asked("101", "4"), "");
  EXPECT_EQ(asked("102", "0.9"), "4\u00a0in");
  EXPECT_EQ(tablet.question(), "check.stubble_low");
  tablet.answer("measured_so");
  tablet.settle();
  EXPECT_EQ(tablet.ledger.back().entered, "0.9");
  EXPECT_THAT(tablet.ledger.back().answers,
              ::testing::ElementsAre(Answer{"stubble_low", "measured_so"}));
  EXPECT_EQ(asked("101", "1"), "") << "the bar is the same for all plots";
  tablet.settle();
  EXPECT_THAT(tablet.ledger.back().answers,
              ::testing::ElementsAre(Answer{"stubble_low", "measured_so"}));
  tablet.next_day();
  EXPECT_EQ(asked("102", "1"), "4\u00a0in");
}

TEST_F(MeasuredStubbleTest, MeasuredAgainTheSameItIsAnsweredForTheDay) {
  EXPECT_EQ(asked("102", "1"), "4\u00a0in");
  tablet.answer("measure_again");
  EXPECT_EQ(asked("102", "1"), "");
  tablet.settle();
  EXPECT_THAT(tablet.ledger.back().answers,
              ::testing::ElementsAre(Answer{"stubble_low", "same_again"}));
  EXPECT_EQ(asked("101", "1"), "") << "the bar is the same for all plots";
}

TEST_F(MeasuredStubbleTest, EitherSpeciesHasItsOwn) {
  EXPECT_EQ(asked("103", "2"), "");
  EXPECT_EQ(asked("103", "1.9"), "2\u00a0in");
  tablet.answer("measure_again");
  EXPECT_EQ(asked("201", "0.9"), "2\u00a0in");
  tablet.answer("measure_again");
  EXPECT_EQ(asked("101", "3.9"), "4\u00a0in");
}

TEST_F(MeasuredStubbleTest, SeveralReadingsAreAskedAboutTogether) {
  for (Scale& scale : tablet.model.setup.definitions.scales)
    if (scale.code == "stubble_height") scale.readings = 3;
  tablet.tap(FocusMeasure{"stubble_height"});
  for (const char* height : {"3", "4", "5"}) tablet.choose("stubble_height", height);
  ASSERT_EQ(tablet.question(), "check.stubble_low");
  tablet.answer("measured_so");
  EXPECT_EQ(tablet.question(), "");
  tablet.settle();
  EXPECT_EQ(std::ranges::count(tablet.ledger, "stubble_height", &Record::measure), 3);
}

}  // namespace
}  // namespace ligule::flow
