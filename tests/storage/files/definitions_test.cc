#include "storage/files/definitions.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "storage/trial/composition.h"
#include "storage/trial/plan.h"
#include "storage/trial/record.h"
#include "tests/storage/files/faulty_file_system.h"

namespace ligule::files {
namespace {

using testing::Contains;
using testing::ElementsAre;
using testing::HasSubstr;

std::vector<std::string> lines(const Faults& faults) {
  std::vector<std::string> out;
  for (const Error& fault : faults) out.push_back(one_line(fault));
  return out;
}

class DefinitionFiles : public testing::Test {
 protected:
  // A small sound set; tests spoil one file.
  void SetUp() override {
    ASSERT_TRUE(files_->make_folders(folder_ / "scales").has_value());
    write("scales/stand.json", kStand);
    write(
        "species.json",
        R"({"species": [{"code": "timothy", "name": "timothy", "group": "grass", "endophyte": false}]})");
    write(
        "measures.json",
        R"({"measures": [{"code": "stand", "subject": "plot", "scales": [{"group": "", "scale": "stand"}]}]})");
    write("limits.json", R"({"limits": [
        {"measure": "stand", "group": "grass", "unit": "%", "ask_below": 20, "source": "s"},
        {"measure": "dry_matter_percent", "unit": "percent", "ask_below": 10, "ask_above": 50,
         "source": "s"}]})");
  }
  void write(const char* name, std::string_view text) {
    ASSERT_TRUE(files_->write_durably(folder_ / name, text, Access::kEveryone).has_value());
  }
  std::vector<std::string> faults() {
    const auto loaded = load_definitions(*files_, folder_.path());
    return loaded ? std::vector<std::string>{} : lines(loaded.error());
  }

  static constexpr std::string_view kStand =
      R"({"code": "stand", "kind": "percent", "direction": "high is best", "units": ["%"], "minimum": 0,
          "maximum": 100, "step": 5, "fine_step": 1, "steps": [], "definition": "d", "source": "s"})";
  TestFolder folder_;
  std::unique_ptr<FileSystem> files_ = real_file_system();
};

TEST_F(DefinitionFiles, ASoundSetLoads) {
  const auto loaded = load_definitions(*files_, folder_.path());
  ASSERT_TRUE(loaded.has_value()) << lines(loaded.error())[0];
  ASSERT_NE(loaded->scale_for("stand", "timothy"), nullptr);
  EXPECT_EQ(loaded->scale_for("stand", "timothy")->maximum, 100.0);
}

TEST_F(DefinitionFiles, EveryFaultOfEveryFileIsListed) {
  write("scales/stand.json", "{\n\"code\": \"stand\",,\n}");
  write("scales/other.json",
        std::string(kStand).replace(std::string(kStand).find("\"s\""), 3, "\"\""));
  write("species.json",
        R"({"species": [{"code": "a", "name": "a", "group": "g", "endophyte": false, "spreads": 1},
                        {"code": "a", "name": 3, "group": "g h"}]})");
  write(
      "measures.json",
      R"({"measures": [{"code": "x y", "subject": "barn", "scales": [{"group": "moss", "scale": "none"}]},
                         {"code": "z", "subject": "bag", "scales": []}, 5]})");
  const auto found = faults();
  for (const char* part :
       {"scales/stand.json line 2: the text is not JSON", "scales/other.json: no source is named",
        "scales/other.json: the scale's code is 'stand'", "species.json, item 2: 'a' stands twice",
        "species.json, item 2: 'name' should be a text",
        "species.json, item 2: 'g h' is not a usable group",
        "species.json, item 2: 'endophyte' should be true or false",
        "species.json, item 1: 'spreads' should be true or false",
        "measures.json, item 1: 'x y' is not a usable code",
        "measures.json, item 1: the subject of a measure is 'plot' or 'bag'",
        "measures.json, item 1: scale 'none' is not defined",
        "measures.json, item 1: no species is of group 'moss'",
        "measures.json, item 2: 'scales' should be a list",
        "measures.json, item 3: 'code' should be a text"}) {
    EXPECT_THAT(found, Contains(HasSubstr(part)));
  }
}

TEST_F(DefinitionFiles, AScaleThatIsNoScaleNamesTheKey) {
  write("scales/stand.json", R"({"code": "stand", "kind": "smell"})");
  EXPECT_THAT(faults(), Contains(HasSubstr("scales/stand.json, scale.kind: 'smell'")));
  write("scales/stand.json", "[]");
  EXPECT_THAT(faults(), Contains(HasSubstr("scales/stand.json, scale")));
}

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
  EXPECT_EQ(load_definitions(*files_, folder_.path())->limit_for("maturity", "alfalfa")->ask_above,
            2);
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

TEST_F(DefinitionFiles, OneGroupHasOneScale) {
  write("limits.json", R"({"limits": []})");
  write("measures.json",
        R"({"measures": [{"code": "m", "subject": "plot",
            "scales": [{"group": "", "scale": "stand"}, {"group": "", "scale": "stand"}]}]})");
  EXPECT_THAT(faults(), ElementsAre(HasSubstr("group '' has two scales")));
}

TEST_F(DefinitionFiles, FilesOfAnotherShapeAreNamed) {
  for (const char* text : {"[]", "{}", R"({"species": {}})"}) {
    write("species.json", text);
    EXPECT_THAT(faults(), Contains(HasSubstr("species.json: the list 'species' is missing")))
        << text;
  }
  write("species.json", "");
  EXPECT_THAT(faults(), Contains(HasSubstr("species.json line 1: the text is not JSON")));
}

TEST_F(DefinitionFiles, AFolderWithoutScalesIsAFault) {
  ASSERT_TRUE(files_->remove(folder_ / "scales/stand.json").has_value());
  EXPECT_THAT(faults(), Contains(HasSubstr("no scale could be read")));
}

TEST_F(DefinitionFiles, EachFileThatCannotBeReadIsAFault) {
  FaultyFileSystem faulty(*files_);
  ASSERT_TRUE(load_definitions(faulty, folder_.path()).has_value());
  const std::size_t acts = faulty.acts();
  ASSERT_EQ(acts, 5U) << "one list and four files";
  for (std::size_t act = 1; act <= acts; ++act) {
    faulty.fail_at(act);
    const auto loaded = load_definitions(faulty, folder_.path());
    ASSERT_FALSE(loaded.has_value()) << act;
    EXPECT_THAT(lines(loaded.error()), Contains(HasSubstr("No space left"))) << act;
  }
}

class ShippedDefinitions : public testing::Test {
 protected:
  void SetUp() override {
    const auto files = real_file_system();
    auto loaded = load_definitions(*files, LIGULE_SOURCE_ASSETS);
    ASSERT_TRUE(loaded.has_value()) << lines(loaded.error())[0];
    definitions_ = *std::move(loaded);
  }
  Definitions definitions_;
};

TEST_F(ShippedDefinitions, EveryMeasureOfTheYieldComputationIsThere) {
  for (const std::string_view code :
       {measure::kGrossWeight, measure::kTareWeight, measure::kBagNumber, measure::kSampleFresh,
        measure::kSampleDry, measure::kBagTare, measure::kSwathLength, measure::kSwathWidth,
        measure::kNote, measure::kSeparatedFresh, measure::kPartBag, measure::kWeedsByEye}) {
    EXPECT_NE(definitions_.measure(code), nullptr) << code;
  }
}

TEST_F(ShippedDefinitions, WeightsOfASampleBelongToItsBag) {
  for (const std::string_view code :
       {measure::kSampleFresh, measure::kSampleDry, measure::kBagTare})
    EXPECT_EQ(definitions_.measure(code)->subject, Subject::kBag) << code;
  EXPECT_EQ(definitions_.measure(measure::kBagNumber)->subject, Subject::kPlot);
}

// The definition that travels with a part's bag says what the program calls its parts.
TEST_F(ShippedDefinitions, ASortedSampleHasThePartsThatItsDefinitionNames) {
  const Scale* const parts = definitions_.scale("part_bag");
  ASSERT_NE(parts, nullptr);
  ASSERT_EQ(parts->steps.size(), composition::kPartCount);
  for (std::size_t n = 0; n < parts->steps.size(); ++n) {
    EXPECT_EQ(parts->steps[n].code, composition::kParts.at(n));
    EXPECT_EQ(parts->steps[n].value, static_cast<double>(n + 1));
  }
  EXPECT_EQ(composition::name_of_part(3), "grass_weed");
  EXPECT_EQ(composition::name_of_part(0), "");
  EXPECT_EQ(composition::name_of_part(6), "");
}

TEST_F(ShippedDefinitions, GrassesHeadAndLegumesFlower) {
  for (const Species& species : definitions_.species) {
    const bool legume = species.group == "legume";
    EXPECT_EQ(definitions_.scale_for("heading_date", species.code) == nullptr, legume);
    EXPECT_EQ(definitions_.scale_for("first_flower_date", species.code) != nullptr, legume);
  }
}

TEST_F(ShippedDefinitions, EveryMeasureHasAScaleForEverySpecies) {
  for (const Measure& measure : definitions_.measures) {
    if (measure.code == "heading_date" || measure.code == "first_flower_date") continue;  // below
    for (const Species& species : definitions_.species)
      EXPECT_NE(definitions_.scale_for(measure.code, species.code), nullptr)
          << measure.code << " of " << species.code;
  }
}

TEST_F(ShippedDefinitions, EveryScaleServesSomeMeasure) {
  for (const Scale& scale : definitions_.scales) {
    bool used = false;
    for (const Measure& measure : definitions_.measures)
      for (const MeasureScale& line : measure.scales) used = used || line.scale == scale.code;
    EXPECT_TRUE(used) << scale.code;
  }
}

TEST_F(ShippedDefinitions, FiveIsTheMostVigorous) {
  const Scale* vigor = definitions_.scale("seedling_vigor");
  ASSERT_NE(vigor, nullptr);
  EXPECT_EQ(vigor->direction, Direction::kHighIsBest);
  EXPECT_EQ(vigor->steps.back().code, "5");
  EXPECT_EQ(vigor->steps.back().name, "most vigorous");
}

// Which end is the bad one differs between programs, so each scale says it itself.
TEST_F(ShippedDefinitions, ScoresOfInjuryRunFromNoneToTheWorst) {
  struct Ends {
    const char* scale;
    const char* first;
    const char* last;
    std::size_t steps;
  };
  for (const Ends& ends :
       {Ends{"winter_injury", "no injury", "dead", 5}, Ends{"lodging", "erect", "flat", 9},
        Ends{"disease", "none", "severe", 9}}) {
    const Scale* scale = definitions_.scale_for(ends.scale, "tall_fescue");
    ASSERT_NE(scale, nullptr) << ends.scale;
    EXPECT_EQ(scale->direction, Direction::kLowIsBest) << ends.scale;
    ASSERT_EQ(scale->steps.size(), ends.steps);
    EXPECT_EQ(scale->steps.front().code, "1");
    EXPECT_EQ(scale->steps.front().name, ends.first);
    EXPECT_EQ(scale->steps.back().name, ends.last);
  }
}

// Stages and names: Kalu and Fick 1981, Crop Science 21:267-271.
TEST_F(ShippedDefinitions, LegumesRipenFromNoughtToNine) {
  const Scale* scale = definitions_.scale_for("maturity", "red_clover");
  ASSERT_NE(scale, nullptr);
  ASSERT_EQ(scale->steps.size(), 10U);
  for (int stage = 0; stage <= 9; ++stage) {
    EXPECT_EQ(scale->steps[static_cast<std::size_t>(stage)].code, std::to_string(stage));
    EXPECT_EQ(scale->steps[static_cast<std::size_t>(stage)].value, stage);
  }
  EXPECT_EQ(scale->steps[4].name, "late bud");
  EXPECT_EQ(scale->steps[5].name, "early flower");
}

// Indexes: Moore et al. 1991, Agronomy Journal 83:1073-1077 (values from memory).
TEST_F(ShippedDefinitions, GrassesRipenOnTheirOwnScaleAnnualsToo) {
  const Scale* scale = definitions_.scale_for("maturity", "tall_fescue");
  ASSERT_NE(scale, nullptr);
  EXPECT_EQ(scale, definitions_.scale_for("maturity", "sorghum_sudangrass"));
  EXPECT_EQ(scale, definitions_.scale_for("maturity", "bermudagrass"));
  const auto index = [&](const char* code) { return read_entered(*scale, code, "")->value; };
  EXPECT_EQ(index("R0"), 3.0);
  EXPECT_EQ(index("R1"), 3.1);
  EXPECT_EQ(index("R2"), 3.3);
  EXPECT_EQ(index("R3"), 3.5);
  EXPECT_EQ(index("R4"), 3.7);
  EXPECT_EQ(index("R5"), 3.9);
  EXPECT_EQ(index("S5"), 4.9);
  EXPECT_GE(scale->steps.front().value, 1.0);
  EXPECT_LT(scale->steps.front().value, 2.0);
}

TEST_F(ShippedDefinitions, StandAndStubbleRefuseWhatCannotBe) {
  const Scale* stand = definitions_.scale("percent_stand");
  EXPECT_EQ(read_entered(*stand, "100", "")->value, 100.0);
  EXPECT_EQ(read_entered(*stand, "101", "").error().kind, ErrorKind::kRefused);
  EXPECT_EQ(read_entered(*stand, "-1", "").error().kind, ErrorKind::kRefused);
  EXPECT_EQ(read_entered(*stand, "92.5", "").error().kind, ErrorKind::kRefused);
  const Scale* stubble = definitions_.scale("stubble_height");
  EXPECT_TRUE(read_entered(*stubble, "24", "in").has_value());
  EXPECT_FALSE(read_entered(*stubble, "24.1", "in").has_value());
  EXPECT_TRUE(read_entered(*stubble, "60.9", "cm").has_value());
  EXPECT_FALSE(read_entered(*stubble, "61", "cm").has_value()) << "61 cm is above 24 in";
}

// Figures and their sources: assets/limits.json.
TEST_F(ShippedDefinitions, EverySpeciesHasALeastStubbleAndADryMatterToExpect) {
  for (const Species& species : definitions_.species) {
    const Limit* const stubble = definitions_.limit_for("stubble_height", species.code);
    ASSERT_NE(stubble, nullptr) << species.code;
    EXPECT_EQ(stubble->unit, "in");
    EXPECT_GE(stubble->ask_below, 2) << species.code;
    const Limit* const dry = definitions_.limit_for(kDryMatterPercent, species.code);
    ASSERT_NE(dry, nullptr) << species.code;
    EXPECT_EQ(dry->ask_below, 10) << species.code;
  }
  for (const Limit& limit : definitions_.limits) EXPECT_FALSE(limit.source.empty());
  const auto above = [&](const char* species) {
    return definitions_.limit_for(kDryMatterPercent, species)->ask_above;
  };
  for (const Species& species : definitions_.species) {
    const Limit* const yield = definitions_.limit_for(kCuttingYield, species.code);
    ASSERT_NE(yield, nullptr) << species.code;
    EXPECT_EQ(yield->ask_above, species.group == "warm_season_annual" ? 10 : 4) << species.code;
  }
  EXPECT_EQ(definitions_.limit_for("sample_fresh", "teff")->ask_below, 100);
  EXPECT_EQ(above("tall_fescue"), 50);
  EXPECT_EQ(above("alfalfa"), 50);
  EXPECT_EQ(above("white_clover"), 25);
  EXPECT_EQ(above("forage_sorghum"), 35);
  const auto stubble = [&](const char* species) {
    return definitions_.limit_for("stubble_height", species)->ask_below;
  };
  EXPECT_EQ(stubble("tall_fescue"), 4);
  EXPECT_EQ(stubble("orchardgrass"), 4);
  EXPECT_EQ(stubble("alfalfa"), 2);
  EXPECT_EQ(stubble("pearl_millet"), 6);
  EXPECT_EQ(stubble("teff"), 4);
  EXPECT_EQ(stubble("bermudagrass"), 2);
}

// Common practice, no source: what a slip of ten makes of a usual height is asked about.
TEST_F(ShippedDefinitions, EveryHeightHasEndsThatATenfoldSlipLiesBeyond) {
  for (const Species& species : definitions_.species) {
    const Limit* const canopy = definitions_.limit_for("plant_height_canopy", species.code);
    const Limit* const plant = definitions_.limit_for("plant_height_stretched", species.code);
    ASSERT_TRUE(canopy != nullptr && plant != nullptr) << species.code;
    for (const Limit* const limit : {canopy, plant}) {
      EXPECT_EQ(limit->unit, "in") << species.code;
      EXPECT_GE(limit->ask_below, 1) << species.code;
      EXPECT_LT(limit->ask_above, 220) << species.code;
    }
    EXPECT_GT(plant->ask_above, canopy->ask_above) << species.code;
  }
}

// Runners and rhizomes: common practice, no source.
TEST_F(ShippedDefinitions, SomeSpeciesSpreadByThemselves) {
  for (const char* code : {"white_clover", "bermudagrass", "kentucky_bluegrass"})
    EXPECT_TRUE(definitions_.find_species(code)->spreads) << code;
  for (const char* code : {"tall_fescue", "orchardgrass", "alfalfa"})
    EXPECT_FALSE(definitions_.find_species(code)->spreads) << code;
}

TEST_F(ShippedDefinitions, EndophytesLiveInFescuesAndRyegrass) {
  for (const char* code : {"tall_fescue", "meadow_fescue", "perennial_ryegrass"})
    EXPECT_TRUE(definitions_.find_species(code)->endophyte) << code;
  for (const char* code : {"alfalfa", "orchardgrass", "timothy", "pearl_millet"})
    EXPECT_FALSE(definitions_.find_species(code)->endophyte) << code;
}

TEST_F(ShippedDefinitions, EveryScaleSurvivesItsCanonicalText) {
  for (const Scale& scale : definitions_.scales)
    EXPECT_EQ(parse_scale_text(scale_text(scale)).value(), scale) << scale.code;
}

}  // namespace
}  // namespace ligule::files
