// Under 1 inch must ask for tall fescue and orchardgrass alike, 4 inches must not (common practice,
// no source); least heights: assets/species.json.
#include "tests/app/flow/harvest_fixture.h"

namespace ligule::flow {
namespace {

class LowStubbleTest : public HarvestTest {
 protected:
  LowStubbleTest() {
    for (Species& species : tablet.model.setup.definitions.species)
      species.stubble_in = species.code == "alfalfa" ? 2 : 4;
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
  EXPECT_EQ(tablet.above().low_stubble->least, "4");
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
  for (Species& species : tablet.model.setup.definitions.species) species.stubble_in.reset();
  EXPECT_FALSE(asks("0.5 in"));
}

}  // namespace
}  // namespace ligule::flow
