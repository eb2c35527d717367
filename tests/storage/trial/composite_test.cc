#include "storage/trial/composite.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

namespace ligule {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;

Scale cover() {
  Scale scale;
  scale.code = "cover";
  scale.kind = ScaleKind::kShares;
  scale.units = {"%"};
  scale.steps = {{"sown", 1, ""}, {"weed", 2, ""}, {"bare", 3, ""}};
  return scale;
}
Scale grid() {
  Scale scale;
  scale.code = "grid";
  scale.kind = ScaleKind::kCells;
  scale.units = {"%"};
  scale.minimum = 0;
  scale.maximum = 25;
  scale.readings = 4;
  scale.plants_per_percent = 0.4;
  return scale;
}
Scale counts(std::vector<ScaleStep> steps) {
  Scale scale;
  scale.code = "counts";
  scale.kind = ScaleKind::kCounts;
  scale.steps = std::move(steps);
  return scale;
}

double value_of(const Scale& scale, std::string_view text) {
  const auto read = read_entered(scale, text, "");
  EXPECT_TRUE(read) << text << (read ? "" : ": " + read.error().what);
  if (!read) return -1;
  EXPECT_EQ(read->entered, text);
  return read->value.value_or(-1);
}

TEST(Shares, HoldEveryPartAndStandForTheFirst) {
  EXPECT_EQ(value_of(cover(), "sown=60 weed=25 bare=15"), 60);
  EXPECT_EQ(value_of(cover(), "sown=0 weed=0 bare=100"), 0);
  EXPECT_THAT(*composite_numbers(cover(), "sown=60 weed=25 bare=15"), ElementsAre(60, 25, 15));
  EXPECT_EQ(composite_text(cover(), {60, 0, 40}), "sown=60 weed=0 bare=40");
}

TEST(Shares, ComeTo100OrAreRefused) {
  for (const auto& [text, mend] : std::vector<std::pair<const char*, const char*>>{
           {"sown=60 weed=25 bare=14", "come to 100"},
           {"sown=60 weed=25 bare=16", "come to 100"},
           {"sown=60 weed=40", "every part"},
           {"sown=60.5 weed=24.5 bare=15", "steps of 1"},
           {"sown=110 weed=-10 bare=0", "0 to 100"}}) {
    const auto read = read_entered(cover(), text, "");
    ASSERT_FALSE(read) << text;
    EXPECT_EQ(read.error().kind, ErrorKind::kRefused) << text;
    EXPECT_THAT(read.error().mend, HasSubstr(mend)) << text;
  }
}

TEST(Shares, InAnotherFormAreNotRead) {
  for (const char* text : {"60 25 15", "weed=25 sown=60 bare=15", "sown=60  weed=25 bare=15",
                           "sown=60 weed=25 bare=15 ", "sown=60 sown=25 bare=15", "sown= weed=1",
                           "soil=60 weed=25 bare=15", "="}) {
    const auto read = read_entered(cover(), text, "");
    ASSERT_FALSE(read) << text;
    EXPECT_EQ(read.error().kind, ErrorKind::kInvalid) << text;
  }
}

// Proves: mean stage by count, sum(stage x stems) / stems; Kalu and Fick 1981, Crop Science
// 21:267-271. The example is constructed, no published one could be read: stems at stages 2, 3, 4,
// 5 = 6, 14, 16, 4 give 138 / 40.
TEST(Counts, GiveTheMeanStageOfStems) {
  std::vector<ScaleStep> stages;
  for (int stage = 0; stage <= 9; ++stage)
    stages.push_back({std::to_string(stage), static_cast<double>(stage), ""});
  const Scale legume = counts(stages);
  EXPECT_DOUBLE_EQ(value_of(legume, "2=6 3=14 4=16 5=4"), 3.45);
  EXPECT_DOUBLE_EQ(value_of(legume, "0=40"), 0);
  EXPECT_EQ(composite_text(legume, {0, 0, 6, 14, 16, 4, 0, 0, 0, 0}), "2=6 3=14 4=16 5=4");
}

// Proves: the same by index of the grass stages, Moore et al. 1991, Agronomy Journal 83:1073-1077.
// Constructed: tillers at 1.65 x 10, 2.30 x 25 and 3.1 x 15 give 120.5 / 50.
TEST(Counts, GiveTheMeanStageOfTillers) {
  const Scale grass = counts({{"V3", 1.65, ""}, {"E2", 2.3, ""}, {"R1", 3.1, ""}});
  EXPECT_DOUBLE_EQ(value_of(grass, "V3=10 E2=25 R1=15"), 2.41);
}

TEST(Counts, OfNothingAreRefused) {
  const Scale grass = counts({{"V", 1.5, ""}, {"R0", 3, ""}});
  for (const char* text : {"V=0 R0=0", "V=0"}) {
    const auto read = read_entered(grass, text, "");
    ASSERT_FALSE(read) << text;
    EXPECT_EQ(read.error().kind, ErrorKind::kRefused);
    EXPECT_THAT(read.error().mend, HasSubstr("at least one"));
  }
  EXPECT_EQ(read_entered(grass, composite_text(grass, {0, 0}), "").error().kind,
            ErrorKind::kInvalid);
  for (const char* text : {"V=1.5", "V=-1 R0=3", "V=1000000"})
    EXPECT_EQ(read_entered(grass, text, "").error().kind, ErrorKind::kRefused) << text;
}

// Proves: Oklahoma State University, stand establishment of switchgrass: cells 15 + 14 + 20 + 21 of
// four placements of 25 are 70 percent; Vogel and Masters 2001, J. Range Management 54:653-655:
// plants a square metre, read low, are percent x 0.4.
TEST(Cells, GivePercentOfAllCells) {
  EXPECT_DOUBLE_EQ(value_of(grid(), "15 14 20 21"), 70);
  EXPECT_DOUBLE_EQ(value_of(grid(), "15 14 20 21") * grid().plants_per_percent.value_or(0), 28);
  EXPECT_EQ(value_of(grid(), "0 0 0 0"), 0);
  EXPECT_EQ(value_of(grid(), "25 25 25 25"), 100);
  EXPECT_EQ(composite_text(grid(), {15, 14, 20, 21}), "15 14 20 21");
}

TEST(Cells, AreCountedInEveryPlacement) {
  for (const char* text :
       {"15 14 20", "15 14 20 21 3", "15 14 20 26", "15 14 20 -1", "15 14 20 2.5"})
    EXPECT_EQ(read_entered(grid(), text, "").error().kind, ErrorKind::kRefused) << text;
  for (const char* text : {"15 14  20 21", "a b c d", " 15 14 20 21"})
    EXPECT_NE(read_entered(grid(), text, "").has_value(), true) << text;
}

TEST(Composite, OtherScalesHoldOneValue) {
  Scale score;
  score.kind = ScaleKind::kScore;
  EXPECT_FALSE(is_composite(score.kind));
  EXPECT_TRUE(is_composite(ScaleKind::kCells));
  EXPECT_EQ(composite_numbers(score, "1").error().kind, ErrorKind::kRefused);
  EXPECT_EQ(composite_value(grid(), {}), 0);
}

}  // namespace
}  // namespace ligule
