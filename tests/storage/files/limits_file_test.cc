// limits.json, and a program's own limits beside its ledger.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "tests/storage/files/definition_files.h"

namespace ligule::files {
namespace {

using testing::Contains;
using testing::ElementsAre;
using testing::HasSubstr;

TEST_F(DefinitionFiles, LimitsAreRead) {
  const auto loaded = load_definitions(*files_, folder_.path());
  ASSERT_TRUE(loaded.has_value());
  ASSERT_NE(loaded->limit_for("stand", "timothy"), nullptr);
  EXPECT_EQ(*loaded->limit_for("stand", "timothy"),
            (Limit{"stand", "", "grass", "%", 20, std::nullopt, "s"}));
  EXPECT_EQ(loaded->limit_for("stand", "clover"), nullptr);
  EXPECT_EQ(loaded->limit_for("dry_matter_percent", "clover")->ask_above, 50);
}

TEST_F(DefinitionFiles, EveryFaultOfALimitIsListed) {
  write("limits.json", R"({"limits": [
      {"measure": "stand", "unit": "%", "ask_below": 20},
      {"measure": "stand", "unit": "in", "ask_below": 20, "ask_above": 20, "source": "s"},
      {"measure": "smell", "unit": "%", "ask_below": "much", "source": "s"},
      {"measure": "stand", "species": "moss", "group": "mosses", "unit": "%", "ask_above": 1,
       "source": ""},
      {"measure": "dry_matter_percent", "unit": "%", "ask_above": 50, "source": "s"}, 7]})");
  const auto found = faults();
  for (const char* part :
       {"limits.json, item 1: 'source' should be a text", "limits.json, item 1: no source is named",
        "limits.json, item 2: the limits are out of order",
        "limits.json, item 2: 'in' is no unit of stand",
        "limits.json, item 2: 'stand' stands twice for the same",
        "limits.json, item 3: 'ask_below' should be a number",
        "limits.json, item 3: it limits nothing", "limits.json, item 3: measure 'smell'",
        "limits.json, item 4: species 'moss' is not defined",
        "limits.json, item 4: no species is of group 'mosses'",
        "limits.json, item 4: a limit is about one species or one group",
        "limits.json, item 4: no source is named",
        "limits.json, item 5: '%' is no unit of dry_matter_percent",
        "limits.json, item 6: 'measure' should be a text"}) {
    EXPECT_THAT(found, Contains(HasSubstr(part)));
  }
}

TEST_F(DefinitionFiles, AProgramsOwnLimitsGoBeforeEverybodys) {
  const auto everybodys = load_definitions(*files_, folder_.path());
  ASSERT_TRUE(everybodys.has_value());
  const Path ledger = folder_ / "season.ligule";
  EXPECT_EQ(with_own_limits(*files_, ledger, *everybodys)->limits, everybodys->limits)
      << "there is no such file";
  write("season.ligule.limits.json", R"({"limits": [
      {"measure": "stand", "group": "grass", "unit": "%", "ask_below": 35, "refuse_below": 5,
       "source": "ours"}, {"measure": "cutting_yield", "unit": "ton/acre", "ask_above": 3,
       "source": "ours"}]})");
  const auto own = with_own_limits(*files_, ledger, *everybodys);
  ASSERT_TRUE(own.has_value());
  EXPECT_EQ(*own->limit_for("stand", "timothy"),
            (Limit{"stand", "", "grass", "%", 35, {}, "ours", 5}));
  EXPECT_EQ(own->limit_for("cutting_yield", "clover")->ask_above, 3);
  EXPECT_EQ(own->limit_for("dry_matter_percent", "clover")->ask_above, 50) << "it stays";
}

TEST_F(DefinitionFiles, FaultsOfOwnLimitsAreListedWithTheirFile) {
  const auto everybodys = load_definitions(*files_, folder_.path());
  ASSERT_TRUE(everybodys.has_value());
  const Path ledger = folder_ / "season.ligule";
  write("season.ligule.limits.json", R"({"limits": [
      {"measure": "stand", "unit": "%", "ask_below": 20},
      {"measure": "cutting_yield", "unit": "percent", "ask_above": 3, "refuse_above": 9,
       "source": "s"}]})");
  const auto faulty = with_own_limits(*files_, ledger, *everybodys);
  ASSERT_FALSE(faulty.has_value());
  const auto found = lines(faulty.error());
  EXPECT_THAT(found, Contains(HasSubstr("season.ligule.limits.json, item 1: no source is named")));
  EXPECT_THAT(found, Contains(HasSubstr("item 2: 'percent' is no unit of cutting_yield")));
  EXPECT_THAT(found, Contains(HasSubstr("item 2: 'cutting_yield' is weighed: a weight is asked")));
  write("season.ligule.limits.json", "{\"limits\": [");
  EXPECT_FALSE(with_own_limits(*files_, ledger, *everybodys).has_value());
}

// Proves: what no double holds is a fault like any, in whichever file and in one's own limits.
TEST_F(DefinitionFiles, ANumberThatIsTooLargeIsNamed) {
  const auto everybodys = load_definitions(*files_, folder_.path());
  ASSERT_TRUE(everybodys.has_value());
  write("season.ligule.limits.json",
        "{\"limits\": [\n{\"measure\": \"stand\", \"unit\": \"%\", \"ask_below\": 1e400}]}");
  const auto own = with_own_limits(*files_, folder_ / "season.ligule", *everybodys);
  ASSERT_FALSE(own.has_value());
  EXPECT_THAT(lines(own.error()),
              ElementsAre("season.ligule.limits.json line 2: the number 1e400 is too large (write "
                          "a smaller one)"));
  for (const char* name : {"limits.json", "species.json", "measures.json", "scales/stand.json"}) {
    const std::string sound = files_->read(folder_ / name, 1U << 20U).value();
    write(name, "[-1e999]");
    EXPECT_THAT(faults(),
                Contains(std::string(name) +
                         " line 1: the number -1e999 is too large (write a smaller one)"));
    write(name, "[" + std::string(500, '9') + ".0]");
    EXPECT_THAT(faults(),
                Contains(HasSubstr("line 1: the number " + std::string(40, '9') + "...")));
    write(name, sound);
  }
}

TEST_F(DefinitionFiles, AKeyThatNothingReadsIsNamedWithThoseThatAreRead) {
  write("limits.json", R"({"about": "a", "note": "b", "limits": [
      {"measure": "stand", "unit": "%", "ask_abov": 90, "ask_below": 20, "source": "s"}]})");
  EXPECT_THAT(
      faults(),
      ElementsAre("limits.json: 'note' is not known here (use about, limits)",
                  "limits.json, item 1: 'ask_abov' is not known here (use measure, species, group, "
                  "unit, ask_below, ask_above, refuse_below, refuse_above, weather, weather_below, "
                  "weather_above, source)"));
}

// Stages are told on one scale by grasses and on another by legumes; only grasses head.
class GroupedScales : public DefinitionFiles {
 protected:
  void SetUp() override {
    DefinitionFiles::SetUp();
    for (const char* code : {"grass_stage", "legume_stage", "word"})
      write(("scales/" + std::string(code) + ".json").c_str(), steps(code));
    write("species.json", R"({"species": [
        {"code": "timothy", "name": "timothy", "group": "grass", "endophyte": false},
        {"code": "alfalfa", "name": "alfalfa", "group": "legume", "endophyte": false}]})");
    write("measures.json", R"({"measures": [
        {"code": "stand", "subject": "plot", "scales": [{"group": "", "scale": "stand"}]},
        {"code": "note", "subject": "plot", "scales": [{"group": "", "scale": "word"}]},
        {"code": "head", "subject": "plot", "scales": [{"group": "grass", "scale": "grass_stage"}]},
        {"code": "maturity", "subject": "plot", "scales": [
            {"group": "grass", "scale": "grass_stage"},
            {"group": "legume", "scale": "legume_stage"}]}]})");
  }
  static std::string steps(const std::string& code) {
    const bool word = code == "word";
    return R"({"code": ")" + code + R"(", "kind": ")" + (word ? "text" : "stages") +
           R"(", "direction": "none", "units": [], "step": 1, "fine_step": 1, "steps": [)" +
           (word ? "" : R"({"code": "V", "value": 1, "name": "v"},
                           {"code": "R", "value": 3, "name": "r"})") +
           R"(], "definition": "d", "source": "s"})";
  }
  std::vector<std::string> faults_of(const std::string& whom) {
    write("limits.json", R"({"limits": [{)" + whom + R"(, "ask_above": 2, "source": "s"}]})");
    return faults();
  }
};

TEST_F(GroupedScales, StagesAreLimitedByGroup) {
  EXPECT_THAT(faults_of(R"("measure": "maturity", "group": "legume")"), testing::IsEmpty());
  const auto loaded = load_definitions(*files_, folder_.path());
  ASSERT_TRUE(loaded.has_value());
  EXPECT_EQ(loaded->limit_for("maturity", "alfalfa")->ask_above, 2);
  EXPECT_THAT(faults_of(R"("measure": "maturity", "species": "timothy")"), testing::IsEmpty());
  EXPECT_THAT(faults_of(R"("measure": "head")"), testing::IsEmpty()) << "one scale for all";
}

TEST_F(GroupedScales, WhereThereIsNoOneScaleItIsSaid) {
  EXPECT_THAT(
      faults_of(R"("measure": "maturity")"),
      ElementsAre("limits.json, item 1: 'maturity' is not given on one scale for all (write "
                  "a limit for each group)"));
  EXPECT_THAT(faults_of(R"("measure": "head", "group": "legume")"),
              ElementsAre("limits.json, item 1: 'head' is given of none of these (name a species "
                          "or a group that it is given of)"));
  EXPECT_THAT(faults_of(R"("measure": "note")"),
              ElementsAre("limits.json, item 1: 'note' is no number (take the limit out)"));
  EXPECT_THAT(faults_of(R"("measure": "head", "unit": "in")"),
              ElementsAre("limits.json, item 1: 'head' has no unit (leave 'unit' out)"));
  EXPECT_THAT(faults_of(R"("measure": "stand")"),
              ElementsAre(HasSubstr("limits.json, item 1: '' is no unit of stand")));
}

// Proves: one's own goes first, nearer before wider; everybody's only where none of one's own is
// about the species.
TEST_F(GroupedScales, OnesOwnForAllOrAGroupGoBeforeEverybodysForASpecies) {
  write("limits.json", R"({"limits": [
      {"measure": "stand", "unit": "%", "ask_below": 1, "source": "s"},
      {"measure": "stand", "group": "grass", "unit": "%", "ask_below": 2, "source": "s"},
      {"measure": "stand", "species": "timothy", "unit": "%", "ask_below": 3, "source": "s"},
      {"measure": "stand", "species": "alfalfa", "unit": "%", "ask_below": 4, "source": "s"}]})");
  const auto everybodys = load_definitions(*files_, folder_.path());
  ASSERT_TRUE(everybodys.has_value());
  const auto below = [&](const std::string& rows, const char* species) {
    write("season.ligule.limits.json", R"({"limits": [)" + rows + "]}");
    const auto own = with_own_limits(*files_, folder_ / "season.ligule", *everybodys);
    EXPECT_TRUE(own.has_value());
    const Limit* const limit = own ? own->limit_for("stand", species) : nullptr;
    return limit == nullptr ? std::nullopt : limit->ask_below;
  };
  const std::string all = R"({"measure": "stand", "unit": "%", "ask_below": 50, "source": "o"})";
  const std::string group =
      R"({"measure": "stand", "group": "grass", "unit": "%", "ask_below": 60, "source": "o"})";
  const std::string species =
      R"({"measure": "stand", "species": "timothy", "unit": "%", "ask_below": 70, "source": "o"})";
  EXPECT_EQ(below(all, "timothy"), 50);
  EXPECT_EQ(below(all, "alfalfa"), 50);
  EXPECT_EQ(below(group, "timothy"), 60);
  EXPECT_EQ(below(group, "alfalfa"), 4) << "theirs is not about it";
  EXPECT_EQ(below(species, "timothy"), 70);
  EXPECT_EQ(below(species, "alfalfa"), 4);
  EXPECT_EQ(below(all + "," + group + "," + species, "timothy"), 70);
  EXPECT_EQ(below(all + "," + group, "timothy"), 60);
  EXPECT_EQ(below(all + "," + group, "alfalfa"), 50);
}

}  // namespace
}  // namespace ligule::files
