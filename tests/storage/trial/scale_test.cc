#include "storage/trial/scale.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <functional>

#include "storage/trial/plan.h"

namespace ligule {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;

Scale stand() {
  return {"percent_stand",
          ScaleKind::kPercent,
          Direction::kHighIsBest,
          {"%"},
          0,
          100,
          5,
          1,
          {},
          "d",
          "s"};
}
Scale vigor() {
  return {"vigor",
          ScaleKind::kScore,
          Direction::kHighIsBest,
          {},
          1,
          3,
          1,
          1,
          {{"1", 1, "weak"}, {"2", 2, "middling"}, {"3", 3, "strong"}},
          "d",
          "s"};
}
Scale weight() {
  return {"weight", ScaleKind::kMass, Direction::kNone, {"kg", "lb"}, 0, 50, 0.1, 0.001, {}, "d",
          "s"};
}
Scale height() {
  return {"height", ScaleKind::kLength, Direction::kNone, {"in", "cm"}, 1, {}, 0.5, 0.1, {}, "d",
          "s"};
}
Scale words() {
  return {"note", ScaleKind::kText, Direction::kNone, {}, {}, {}, 1, 1, {}, "d", "s"};
}
Scale label() {
  return {"bag", ScaleKind::kLabel, Direction::kNone, {}, {}, {}, 1, 1, {}, "d", "s"};
}

Scale frame() {
  Scale scale{"frame", ScaleKind::kCells, Direction::kNone, {"%"}, 0, 25, 1, 1, {}, "d", "s"};
  scale.readings = 4;
  scale.plants_per_percent = 0.4;
  return scale;
}
Scale reached() {
  return {"heading",
          ScaleKind::kReached,
          Direction::kNone,
          {},
          {},
          {},
          1,
          1,
          {{"not_yet", 0, "not yet"}, {"reached", 1, "reached"}},
          "d",
          "s"};
}

TEST(ReadEntered, KeepsTheTextAndParsesItOnce) {
  EXPECT_EQ(read_entered(stand(), "085", ""), (EnteredValue{"085", "%", 85.0}));
  EXPECT_EQ(read_entered(vigor(), "2", ""), (EnteredValue{"2", "", 2.0}));
  EXPECT_EQ(read_entered(weight(), "12.40", ""), (EnteredValue{"12.40", "kg", 12.4}));
  EXPECT_EQ(read_entered(weight(), "12.40", "lb"), (EnteredValue{"12.40", "lb", 12.4}));
  EXPECT_EQ(read_entered(words(), "wet, low end", ""), (EnteredValue{"wet, low end", "", {}}));
  EXPECT_EQ(read_entered(label(), "0012", ""), (EnteredValue{"0012", "", {}}));
}

TEST(ReadEntered, RefusesWhatCannotBeMeantAndSaysWhatCan) {
  const struct {
    Scale scale;
    const char* text;
    const char* unit;
    const char* mend;
  } cases[] = {
      {stand(), "101", "", "enter 0 to 100 %"},
      {stand(), "-1", "", "enter 0 to 100 %"},
      {stand(), "92.5", "", "enter steps of 1"},
      {stand(), "50", "kg", "use a unit of this scale"},
      {vigor(), "4", "", "choose one of its steps, 1 to 3"},
      {vigor(), "2.5", "", "choose one of its steps, 1 to 3"},
      {weight(), "50.01", "kg", "enter 0 to 50 kg"},
      {weight(), "110.24", "lb", "enter 0 to 50 kg"},  // 50 kg is 110.231 lb
      {weight(), "5", "stone", "use a unit of this scale"},
      {height(), "0.9", "in", "enter 1 in or more"},
      {height(), "2.5", "cm", "enter 1 in or more"},
      {label(), "bag 12", "", "use letters, digits, point, hyphen, up to 32"},
      {words(), "x", "kg", "use a unit of this scale"},
  };
  for (const auto& c : cases) {
    const auto value = read_entered(c.scale, c.text, c.unit);
    ASSERT_FALSE(value.has_value()) << c.scale.code << " " << c.text << c.unit;
    EXPECT_EQ(value.error().kind, ErrorKind::kRefused);
    EXPECT_EQ(value.error().mend, c.mend) << c.text;
    EXPECT_THAT(value.error().what, HasSubstr(c.scale.code));
  }
}

TEST(ReadEntered, ATextThatIsNoNumberIsInvalid) {
  for (const Scale& scale : {stand(), weight(), height()}) {
    for (const char* text : {"x", "1,5", "1e2", " 1"}) {
      const auto value = read_entered(scale, text, "");
      ASSERT_FALSE(value.has_value());
      EXPECT_EQ(value.error().kind, ErrorKind::kInvalid);
    }
  }
}

TEST(ReadEntered, NothingEnteredIsInvalidOnEveryScale) {
  for (const Scale& scale : {stand(), vigor(), weight(), height(), words(), label()}) {
    const auto value = read_entered(scale, "", "");
    ASSERT_FALSE(value.has_value()) << scale.code;
    EXPECT_EQ(value.error().kind, ErrorKind::kInvalid);
  }
}

TEST(ReadEntered, BoundsHoldInEveryUnit) {
  EXPECT_TRUE(read_entered(weight(), "110.23", "lb").has_value());
  EXPECT_TRUE(read_entered(height(), "2.54", "cm").has_value()) << "exactly one inch";
}

TEST(ScaleFaults, NoneForSoundScales) {
  for (const Scale& scale : {stand(), vigor(), weight(), height(), words(), label()})
    EXPECT_THAT(scale_faults(scale), IsEmpty()) << scale.code;
}

TEST(ScaleFaults, EachFaultIsNamed) {
  const struct {
    Scale scale;
    std::function<void(Scale&)> spoil;
    const char* wanted;
  } cases[] = {
      {stand(), [](Scale& s) { s.code = "a b"; }, "the code is not usable"},
      {stand(), [](Scale& s) { s.source.clear(); }, "no source is named"},
      {stand(), [](Scale& s) { s.definition.clear(); }, "the definition is missing"},
      {stand(), [](Scale& s) { s.steps = vigor().steps; }, "steps belong to scores and stages"},
      {vigor(), [](Scale& s) { s.steps.clear(); }, "steps belong to scores and stages"},
      {vigor(), [](Scale& s) { s.steps[1].code = "a b"; }, "a step's code is not usable"},
      {vigor(), [](Scale& s) { s.steps[1].value = 1; }, "steps do not ascend"},
      {vigor(), [](Scale& s) { s.steps[1].code = "1"; }, "two steps share a code"},
      {stand(), [](Scale& s) { s.units.clear(); }, "an amount needs a unit"},
      {weight(),
       [](Scale& s) {
         s.units = {"kg", "stone"};
       },
       "'stone' is not a unit of weight"},
      {weight(),
       [](Scale& s) {
         s.units = {"in", "kg"};
       },
       "'in' is not a unit of weight"},
      {height(),
       [](Scale& s) {
         s.units = {"in", "kg"};
       },
       "'kg' is not a unit of length"},
      {stand(),
       [](Scale& s) {
         s.units = {"%", "share"};
       },
       "a percent has one unit"},
      {weight(), [](Scale& s) { s.minimum.reset(); }, "an amount needs a lower end"},
      {weight(), [](Scale& s) { s.maximum = 0; }, "the ends are out of order"},
      {weight(), [](Scale& s) { s.step = 0; }, "a step must be above zero"},
      {weight(), [](Scale& s) { s.fine_step = -1; }, "a step must be above zero"},
      {height(), [](Scale& s) { s.readings = 0; }, "readings of one act are 1 to 20"},
      {height(), [](Scale& s) { s.readings = 21; }, "readings of one act are 1 to 20"},
      {vigor(), [](Scale& s) { s.readings = 2; }, "only lengths and frames are read several times"},
      {frame(), [](Scale& s) { s.maximum.reset(); }, "a frame needs its number of cells"},
      {reached(), [](Scale& s) { s.steps.pop_back(); }, "a stage is reached or not"},
  };
  for (const auto& c : cases) {
    Scale scale = c.scale;
    c.spoil(scale);
    std::vector<std::string> lines;
    for (const Error& fault : scale_faults(scale)) lines.push_back(one_line(fault));
    EXPECT_THAT(lines, ElementsAre(HasSubstr(c.wanted))) << c.wanted;
  }
}

TEST(ScaleText, ReadsBackTheSame) {
  for (const Scale& scale : {stand(), vigor(), weight(), height(), words(), label()})
    EXPECT_EQ(parse_scale_text(scale_text(scale)).value(), scale) << scale.code;
}

TEST(ScaleText, ReadsBackWhatCameLater) {
  for (const Scale& scale : {frame(), reached()}) {
    EXPECT_EQ(parse_scale_text(scale_text(scale)).value(), scale) << scale.code;
    EXPECT_THAT(scale_faults(scale), IsEmpty()) << scale.code;
  }
  EXPECT_EQ(read_entered(reached(), "not_yet", ""), (EnteredValue{"not_yet", "", 0.0}));
}

TEST(ScaleText, IsCanonical) {
  EXPECT_EQ(
      scale_text(stand()),
      R"({"code":"percent_stand","definition":"d","direction":"high is best","fine_step":1.0,)"
      R"("kind":"percent","maximum":100.0,"minimum":0.0,"source":"s","step":5.0,"steps":[],"units":["%"]})");
}

TEST(ScaleText, ReadingNamesTheKeyAtFault) {
  const std::string text = scale_text(vigor());
  const struct {
    const char* from;
    const char* to;
    const char* where;
  } cases[] = {
      {R"("kind":"score")", R"("kind":"smell")", "scale.kind"},
      {R"("direction":"high is best")", R"("direction":"up")", "scale.direction"},
      {R"("code":"vigor")", R"("code":5)", "scale"},
      {R"("step":1.0)", R"("step":"1")", "scale"},
      {R"("step":1.0,)", R"()", "scale"},
      {R"("units":[])", R"("units":[1])", "scale"},
      {R"("value":2.0)", R"("value":null)", "steps 2"},
      {R"(,"value":2.0)", R"()", "steps 2"},
  };
  for (const auto& c : cases) {
    std::string spoiled = text;
    const std::size_t at = spoiled.find(c.from);
    ASSERT_NE(at, std::string::npos) << c.from << " in " << text;
    spoiled.replace(at, std::string_view(c.from).size(), c.to);
    const auto scale = parse_scale_text(spoiled);
    ASSERT_FALSE(scale.has_value()) << spoiled;
    EXPECT_EQ(scale.error().kind, ErrorKind::kInvalid);
    EXPECT_EQ(scale.error().where, c.where) << c.from;
  }
  EXPECT_FALSE(parse_scale_text("").has_value());
  EXPECT_FALSE(parse_scale_text("[]").has_value());
}

class ScaleFor : public testing::Test {
 protected:
  Definitions definitions_{
      {stand(), vigor()},
      {{"stand", Subject::kPlot, {{"", "percent_stand"}}},
       {"mixed", Subject::kPlot, {{"legume", "vigor"}, {"", "percent_stand"}}},
       {"legumes", Subject::kPlot, {{"legume", "vigor"}}},
       {"lost", Subject::kPlot, {{"", "gone"}}}},
      {{"alfalfa", "alfalfa", "legume", false}, {"timothy", "timothy", "grass", false}},
      {}};
  std::string scale(const char* measure, const char* species) {
    const Scale* found = definitions_.scale_for(measure, species);
    return found == nullptr ? "none" : found->code;
  }
};

TEST_F(ScaleFor, TheGroupsOwnScaleComesBeforeTheOneForAll) {
  EXPECT_EQ(scale("stand", "alfalfa"), "percent_stand");
  EXPECT_EQ(scale("mixed", "alfalfa"), "vigor");
  EXPECT_EQ(scale("mixed", "timothy"), "percent_stand");
  EXPECT_EQ(scale("legumes", "alfalfa"), "vigor");
}

TEST_F(ScaleFor, NoneWhereTheGroupHasNone) {
  EXPECT_EQ(scale("legumes", "timothy"), "none");
  EXPECT_EQ(scale("nothing", "timothy"), "none");
  EXPECT_EQ(scale("lost", "timothy"), "none");
  EXPECT_EQ(scale("legumes", "unknown species"), "none");
}

}  // namespace
}  // namespace ligule
