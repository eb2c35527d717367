#include "app/flow/amounts.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <set>
#include <string>

namespace ligule::flow {
namespace {

using ::testing::ElementsAre;
using ::testing::IsEmpty;

Scale stubble() {
  Scale scale;
  scale.code = "stubble_height";
  scale.kind = ScaleKind::kLength;
  scale.units = {"in", "cm"};
  scale.minimum = 0;
  scale.maximum = 3;
  scale.step = 0.5;
  scale.fine_step = 0.1;
  return scale;
}
Scale percent() {
  Scale scale;
  scale.kind = ScaleKind::kPercent;
  scale.units = {"%"};
  scale.minimum = 0;
  scale.maximum = 100;
  scale.step = 25;
  return scale;
}

TEST(Choices, OfAPercentGoFromEndToEnd) {
  EXPECT_THAT(choices_of(percent(), "%"), ElementsAre("0", "25", "50", "75", "100"));
  Scale open = percent();
  open.minimum.reset();
  open.maximum.reset();
  EXPECT_EQ(choices_of(open, "%").size(), 5U);
}

TEST(Choices, OfAnAmountAreItsFirstStepsWithinTheBounds) {
  EXPECT_THAT(choices_of(stubble(), "in"), ElementsAre("0.5", "1", "1.5", "2", "2.5", "3"));
  // 3 in = 7.62 cm: whole centimetres up to 7.
  EXPECT_THAT(choices_of(stubble(), "cm"), ElementsAre("1", "2", "3", "4", "5", "6", "7"));
  Scale tall = stubble();
  tall.minimum = 1.2;
  tall.maximum.reset();
  EXPECT_EQ(choices_of(tall, "in").front(), "1.5");
  EXPECT_EQ(choices_of(tall, "in").back(), "6");
}

TEST(Choices, OfWordsOrAForeignUnitAreNone) {
  Scale words;
  words.kind = ScaleKind::kText;
  EXPECT_THAT(choices_of(words, ""), IsEmpty());
  EXPECT_THAT(choices_of(stubble(), "kg"), IsEmpty());
}

TEST(FineChoices, LieAroundATileWithinTheEnds) {
  Scale scale = percent();
  scale.step = 5;
  EXPECT_THAT(fine_choices_of(scale, "50"),
              ElementsAre("45", "46", "47", "48", "49", "50", "51", "52", "53", "54", "55"));
  EXPECT_THAT(fine_choices_of(scale, "100"), ElementsAre("95", "96", "97", "98", "99", "100"));
  EXPECT_THAT(fine_choices_of(scale, "0"), ElementsAre("0", "1", "2", "3", "4", "5"));
  EXPECT_THAT(fine_choices_of(scale, "some"), IsEmpty());
  EXPECT_THAT(fine_choices_of(stubble(), "1"), IsEmpty());
}

// Proves: every fine step is reached through some stretch.
TEST(Stretches, CoverTheWholeScaleByTheirFineSteps) {
  Scale scale = percent();
  scale.step = 5;
  const auto stretches = stretches_of(scale);
  ASSERT_EQ(stretches.size(), 10U);
  EXPECT_EQ(stretches.front().text, "0-10");
  EXPECT_EQ(stretches.back().text, "90-100");
  std::set<std::string> reached;
  for (const Stretch& stretch : stretches)
    for (std::string& step : fine_choices_of(scale, stretch.around)) reached.insert(step);
  EXPECT_EQ(reached.size(), 101U);
  scale.step = 30;  // the last one is short
  EXPECT_EQ(stretches_of(scale).back().text, "60-100");
  scale.fine_step = scale.step;
  EXPECT_FALSE(has_fine(scale));
  EXPECT_THAT(stretches_of(scale), IsEmpty()) << "nothing lies between";
  EXPECT_THAT(stretches_of(stubble()), IsEmpty());
}

TEST(Stepping, MovesByFineStepsWithinTheBounds) {
  struct Row {
    const char* from;
    int by;
    const char* to;
  };
  for (const Row& row :
       {Row{"", 1, "0.1"}, Row{"", -1, "0"}, Row{"1.9", 1, "2"}, Row{"2.95", 1, "3"},
        Row{"3", 1, "3"}, Row{"0.25", -1, "0.2"}, Row{"0.25", 1, "0.3"}, Row{"0.3", -1, "0.2"},
        Row{"what", 2, "0.2"}, Row{"0", -5, "0"}}) {
    EXPECT_EQ(stepped(stubble(), "in", row.from, row.by), row.to) << row.from << " " << row.by;
  }
  EXPECT_EQ(stepped(stubble(), "cm", "3", 1), "3.5");
  EXPECT_EQ(stepped(stubble(), "cm", "7.5", 1), "7.5") << "3 in = 7.62 cm";
}

}  // namespace
}  // namespace ligule::flow
