#include "storage/checks/soil_verdict.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "storage/files/definitions.h"
#include "storage/files/soil_tables.h"
#include "tests/storage/trial/sample_plan.h"

namespace ligule::checks {
namespace {

using date::year;
using testing::Contains;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::Not;

class SoilVerdictOf : public testing::Test {
 protected:
  SoilVerdictOf() { plan_.entries.resize(1); }
  void sow(std::initializer_list<const char*> species) {
    plan_.entries.clear();
    for (const char* one : species)
      plan_.entries.push_back({one, one, one, Endophyte::kNotStated, "", EntryRole::kTest, ""});
  }
  std::vector<std::string> lines() {
    std::vector<std::string> all;
    for (const SoilVerdict& verdict : soil_verdicts(plan_, tables_, definitions_))
      if (verdict.judged != "not in the soil test") all.push_back(verdict.line());
    return all;
  }
  std::vector<std::string> of(const char* property, const char* value, const char* unit,
                              const char* extractant, const char* depth = "") {
    plan_.soil = {{property, value, unit, extractant, depth, "in", "", std::nullopt}};
    return lines();
  }
  // The class alone, of Mehlich-3 in lb/acre.
  std::string class_of(const char* property, const char* pounds) {
    const auto all = of(property, pounds, "lb/acre", "mehlich_3");
    if (all.size() != 1) return "none";
    const std::size_t at = all[0].find(": ") + 2;
    return all[0].substr(at, all[0].find_first_of(",(", at) - at);
  }

  std::unique_ptr<files::FileSystem> files_ = files::real_file_system();
  Definitions definitions_ = files::load_definitions(*files_, LIGULE_SOURCE_ASSETS).value();
  SoilTables tables_ = files::load_soil_tables(*files_, LIGULE_SOURCE_ASSETS).value();
  Plan plan_ = sample_plan();
};

TEST_F(SoilVerdictOf, NothingIsSaidWithoutASoilTest) {
  EXPECT_THAT(soil_verdicts(plan_, tables_, definitions_), IsEmpty());
}

// Rutgers NJAES, "Mehlich-3 Values for Relative Level Categories", pounds/acre:
// phosphorus 0-24, 25-45, 46-71, 72-137, >137; potassium 0-40, 41-81, 82-145, 146-277, >277;
// magnesium 0-45, 46-83, 84-143, 144-295, >295; calcium 0-615, 616-1007, 1008-1400, 1401-1790,
// >1790; very low, low, medium, high, very high. njaes.rutgers.edu, read 2026-11-28.
TEST_F(SoilVerdictOf, PublishedClassesHoldAtBothSidesOfEachEdge) {
  struct Edge {
    const char *property, *last, *first, *below, *above;
  };
  for (const Edge& edge : {Edge{"p", "24", "25", "very low", "low"},
                           {"p", "45", "46", "low", "medium"},
                           {"p", "71", "72", "medium", "high"},
                           {"p", "137", "138", "high", "very high"},
                           {"k", "40", "41", "very low", "low"},
                           {"k", "81", "82", "low", "medium"},
                           {"k", "145", "146", "medium", "high"},
                           {"k", "277", "278", "high", "very high"},
                           {"mg", "45", "46", "very low", "low"},
                           {"mg", "83", "84", "low", "medium"},
                           {"mg", "143", "144", "medium", "high"},
                           {"mg", "295", "296", "high", "very high"},
                           {"ca", "615", "616", "very low", "low"},
                           {"ca", "1007", "1008", "low", "medium"},
                           {"ca", "1400", "1401", "medium", "high"},
                           {"ca", "1790", "1791", "high", "very high"}}) {
    const auto is = [](std::string told, const char* name) {
      while (told.ends_with(' ')) told.pop_back();
      return told == name;
    };
    EXPECT_TRUE(is(class_of(edge.property, edge.last), edge.below)) << edge.property << edge.last;
    EXPECT_TRUE(is(class_of(edge.property, edge.first), edge.above)) << edge.property << edge.first;
  }
}

TEST_F(SoilVerdictOf, AClassIsOfItsExtractantAndGoesBeforeACheckValue) {
  EXPECT_THAT(of("p", "41", "ppm", "Mehlich 3", "6"),
              ElementsAre("P 41 ppm (Mehlich-3) = 82 lb/acre (ppm x 2, a furrow slice of 6 to 7 "
                          "in): high, its optimum (classes by Mehlich-3 in lb/acre: Rutgers NJAES, "
                          "relative levels of nutrients, njaes.rutgers.edu)"));
  // 54 lb/acre lies below the target of 60, but its class is what counts.
  EXPECT_THAT(of("p", "54", "lb/acre", "mehlich_3"),
              ElementsAre(testing::StartsWith(
                  "P 54 lb/acre (Mehlich-3): medium, below its optimum (classes by")));
  EXPECT_THAT(of("p", "54", "lb/acre", "bray_p1"), ElementsAre(HasSubstr("below the target")));
  // "The high category is considered optimum fertility ... very high is above optimum": the same.
  EXPECT_THAT(of("p", "138", "lb/acre", "mehlich_3"),
              ElementsAre(HasSubstr("very high, above its optimum (classes")));
  // Classes are the same whatever is sown.
  sow({"tall_fescue", "alfalfa"});
  EXPECT_THAT(of("k", "100", "mg/kg", "m3"),
              ElementsAre(HasSubstr("= 200 lb/acre (ppm x 2, a furrow slice of 6 to 7 in; depth "
                                    "not stated): high, its optimum (classes")));
}

// P at least 30, target 60; K at least 200, target 250: common practice, no source; lb/acre
// assumed.
TEST_F(SoilVerdictOf, CheckValuesOfANewGrassStandHoldAtBothSidesOfEachEdge) {
  EXPECT_THAT(of("k", "90", "ppm", ""),
              ElementsAre("K 90 ppm (extractant not stated) = 180 lb/acre (ppm x 2, a furrow slice "
                          "of 6 to 7 in; depth not stated): for tall fescue, below the minimum of "
                          "200 lb/acre for a new cool-season grass stand, target 250 (common "
                          "practice, no source; that its numbers are lb/acre is assumed)"));
  const auto judged = [&](const char* property, const char* value, const char* words) {
    EXPECT_THAT(of(property, value, "lb/acre", ""), ElementsAre(HasSubstr(words))) << value;
  };
  judged("p", "29.9", "below the minimum of 30 lb/acre");
  judged("p", "30", "at or above the minimum of 30, below the target of 60 lb/acre");
  judged("p", "59.9", "at or above the minimum of 30, below the target of 60 lb/acre");
  judged("p", "60", "fescue, at or above the target of 60 lb/acre for a new cool-season grass");
  judged("k", "199.9", "below the minimum of 200 lb/acre");
  judged("k", "200", "at or above the minimum of 200, below the target of 250 lb/acre");
  judged("k", "249.9", "at or above the minimum of 200, below the target of 250 lb/acre");
  judged("k", "250", "fescue, at or above the target of 250 lb/acre");
  // What is shown is what is judged: 33.62 kg/ha are 29.995 lb/acre.
  EXPECT_THAT(of("p", "33.62", "kg/ha", ""),
              ElementsAre(testing::AllOf(HasSubstr("= 30 lb/acre (kg/ha x 0.892)"),
                                         HasSubstr("at or above the minimum"))));
}

TEST_F(SoilVerdictOf, AnAmountWithoutUnitIsReadAsACheckValuesAndSaidToBe) {
  EXPECT_THAT(of("p", "41", "", "mehlich_3"),
              ElementsAre(HasSubstr("P 41 (unit not stated, Mehlich-3): for tall fescue, read as "
                                    "lb/acre, which is assumed, at or above the minimum of 30")));
  sow({"alfalfa"});
  EXPECT_THAT(of("p", "41", "", "mehlich_3"),
              ElementsAre(HasSubstr("for alfalfa, no verdict: its unit is not stated, and no check "
                                    "value")));
}

TEST_F(SoilVerdictOf, WithoutATableForExtractantOrSpeciesThereIsNone) {
  EXPECT_THAT(
      of("p", "12", "ppm", "olsen"),
      ElementsAre(HasSubstr("(Olsen) = 24 lb/acre (ppm x 2, a furrow slice of 6 to 7 in; "
                            "depth not stated): for tall fescue, no verdict: no class table "
                            "of it by Olsen is held here, and no check value")));
  EXPECT_THAT(of("p", "12", "ppm", "resin"),
              ElementsAre(HasSubstr("no class table of it by resin")));
  sow({"alfalfa"});
  EXPECT_THAT(of("p", "41", "ppm", ""),
              ElementsAre(HasSubstr("for alfalfa, no verdict: its extractant is not stated, and")));
  EXPECT_THAT(
      of("organic_matter", "3.1", "%", ""),
      ElementsAre("organic matter 3.1%: no verdict: no published table of it is held here"));
}

TEST_F(SoilVerdictOf, AnotherLayerIsConvertedButNotJudged) {
  EXPECT_THAT(
      of("p", "41", "ppm", "mehlich_3", "4"),
      ElementsAre("P 41 ppm (Mehlich-3) = 54.7 lb/acre (ppm x 1.33 in 4 in, 2 for each 6 "
                  "in): no verdict: tables hold for a furrow slice of 6 to 7 in, and this is "
                  "of 4 in"));
  EXPECT_THAT(of("k", "300", "lb/acre", "", "12"),
              ElementsAre(HasSubstr("no verdict: tables hold for a furrow slice")));
  EXPECT_THAT(of("k", "300", "lb/acre", "", "7"), ElementsAre(HasSubstr("the target of 250")));
}

// West Virginia University Extension 5302: alfalfa 6.5 to 7.0; clovers, orchardgrass, timothy,
// ryegrass and bermudagrass 5.8 to 6.5; tall fescue 5.6 to 6.5.
TEST_F(SoilVerdictOf, PhIsJudgedBySpeciesAtBothSidesOfEachEdge) {
  const auto judged = [&](const char* species, const char* value, const std::string& words) {
    sow({species});
    EXPECT_THAT(of("ph", value, "", ""),
                ElementsAre(testing::AllOf(
                    HasSubstr(", " + words + " (West Virginia University Extension 5302)"),
                    testing::StartsWith(std::string("pH ") + value + ": for "))))
        << species << value;
  };
  judged("alfalfa", "6.4", "below 6.5 to 7.0");
  judged("alfalfa", "6.5", "within 6.5 to 7.0");
  judged("alfalfa", "7", "within 6.5 to 7.0");
  judged("alfalfa", "7.1", "above 6.5 to 7.0");
  for (const char* species :
       {"red_clover", "white_clover", "alsike_clover", "crimson_clover", "orchardgrass", "timothy",
        "perennial_ryegrass", "annual_ryegrass", "bermudagrass"}) {
    judged(species, "5.7", "below 5.8 to 6.5");
    judged(species, "5.8", "within 5.8 to 6.5");
    judged(species, "6.5", "within 5.8 to 6.5");
    judged(species, "6.6", "above 5.8 to 6.5");
  }
  judged("tall_fescue", "5.5", "below 5.6 to 6.5");
  judged("tall_fescue", "5.6", "within 5.6 to 6.5");
  sow({"teff"});
  EXPECT_THAT(of("ph", "6", "", ""),
              ElementsAre("pH 6: for teff, no verdict: no published range is held here"));
  // In calcium chloride pH reads lower than in water (common practice, no source).
  sow({"tall_fescue"});
  EXPECT_THAT(
      of("ph", "6", "", "CaCl2"),
      ElementsAre(HasSubstr("no verdict: no range of it by calcium chloride is held here")));
  EXPECT_THAT(of("ph", "6", "", "water"), ElementsAre(HasSubstr("within")));
}

TEST_F(SoilVerdictOf, SpeciesOfOneVerdictStandTogetherAndFillersDoNotCount) {
  sow({"timothy", "alfalfa", "orchardgrass", "teff", "red_clover"});
  plan_.entries[3].role = EntryRole::kFiller;
  EXPECT_THAT(of("ph", "6.2", "", ""),
              ElementsAre(HasSubstr("for timothy, orchardgrass and red clover, within 5.8 to 6.5"),
                          HasSubstr("for alfalfa, below 6.5 to 7.0")));
}

TEST_F(SoilVerdictOf, TheNewestSamplesAreJudgedAndWhatWasNotTestedIsNamed) {
  plan_.soil = {{"p", "10", "ppm", "mehlich_3", "", "", "", year{2020} / 8 / 2},
                {"p", "41", "ppm", "mehlich_3", "", "", "", year{2024} / 8 / 2},
                {"p", "8", "ppm", "mehlich_3", "", "", "", std::nullopt},
                {"p", "30", "ppm", "bray_p1", "", "", "", year{2024} / 8 / 2}};
  EXPECT_THAT(lines(), ElementsAre(HasSubstr("P 41 ppm"), HasSubstr("P 30 ppm")));
  const auto all = soil_verdicts(plan_, tables_, definitions_);
  EXPECT_THAT(all, Contains(SoilVerdict{"pH", "", "not in the soil test", "ph"}));
  EXPECT_THAT(all, Contains(SoilVerdict{"K", "", "not in the soil test", "k"}));
  EXPECT_THAT(all, Not(Contains(SoilVerdict{"Mg", "", "not in the soil test", "mg"})));
}

TEST_F(SoilVerdictOf, ValuesThatCannotBeReadHaveNone) {
  EXPECT_THAT(of("ph", "acid", "", ""), ElementsAre(HasSubstr("the value is no number")));
  EXPECT_THAT(of("p", "much", "ppm", "mehlich_3"), ElementsAre(HasSubstr("no verdict")));
  EXPECT_THAT(of("p", "much", "", ""), ElementsAre(HasSubstr("no verdict")));
  EXPECT_THAT(of("p", "-5", "ppm", "mehlich_3"), ElementsAre(HasSubstr("below the minimum")));
}

}  // namespace
}  // namespace ligule::checks
