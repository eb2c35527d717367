// What is typed of a box, against what FORMAT.md section 5 says that records hold.
#include "sync/gather/paper_values.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "storage/files/assets.h"
#include "storage/files/definitions.h"

namespace ligule::gather {
namespace {

using testing::ElementsAre;

const Scale& scale(std::string_view code) {
  static const Definitions definitions = [] {
    const auto files = files::real_file_system();
    return files::load_definitions(*files, files::find_assets(*files).value()).value();
  }();
  return *definitions.scale(code);
}

std::vector<std::string> typed(std::string_view code, std::string_view text) {
  return entered_in_box(scale(code), text).value_or(std::vector<std::string>{"a fault"});
}

TEST(PaperValues, ASingleNumberStaysAsItIs) {
  EXPECT_THAT(typed("percent_stand", "85"), ElementsAre("85"));
  EXPECT_THAT(typed("lodging", "3"), ElementsAre("3"));
  EXPECT_THAT(typed("note", "wheel track + birds"), ElementsAre("wheel track + birds"));
}

TEST(PaperValues, CodesAreSpelledAsTheScaleHasThem) {
  EXPECT_THAT(typed("maturity_grass", "r0"), ElementsAre("R0"));
  EXPECT_THAT(typed("maturity_grass", "E-EARLY"), ElementsAre("E-early"));
  EXPECT_THAT(typed("maturity_grass", "x9"), ElementsAre("x9")) << "for the rules to refuse";
}

TEST(PaperValues, HeightsArePartsOfOneAct) {
  EXPECT_THAT(typed("plant_height_canopy", "12+11.5+13"), ElementsAre("12", "11.5", "13"));
  EXPECT_THAT(typed("plant_height_canopy", "12"), ElementsAre("12"));
  EXPECT_THAT(entered_in_box(scale("stubble_height"), "3+4").error().mend, "write one reading");
}

TEST(PaperValues, SeveralNumbersOfOneStatementAreOneRecord) {
  EXPECT_THAT(typed("ground_cover", "60+25+15"), ElementsAre("sown=60 weed=25 bare=15"));
  EXPECT_THAT(typed("stage_counts_grass", "R0=15+v=10"), ElementsAre("V=10 R0=15"));
  EXPECT_THAT(typed("frequency_grid", "15+14+20+21"), ElementsAre("15 14 20 21"));
}

TEST(PaperValues, AVisitSaysReachedOrNot) {
  for (const char* yes : {"x", "X", "y", "yes", "1", "reached"})
    EXPECT_THAT(typed("heading_date", yes), ElementsAre("reached")) << yes;
  for (const char* no : {"o", "O", "n", "no", "0", "not_yet"})
    EXPECT_THAT(typed("heading_date", no), ElementsAre("not_yet")) << no;
  EXPECT_THAT(entered_in_box(scale("heading_date"), "maybe").error().mend,
              "write x where it is reached, o where it is not yet");
}

TEST(PaperValues, EveryKindSaysHowItIsTyped) {
  EXPECT_EQ(how_to_type(scale("percent_stand"), "%"), "0 to 100 %");
  EXPECT_EQ(how_to_type(scale("seedling_vigor"), ""), "1 to 5");
  EXPECT_EQ(how_to_type(scale("stubble_height"), "cm"), "a number (cm)");
  EXPECT_EQ(how_to_type(scale("frequency_grid"), "%"), "4 placements with + between");
  EXPECT_EQ(how_to_type(scale("stage_counts_legume"), ""), "0=10+9=15");
  EXPECT_EQ(how_to_type(scale("note"), ""), "words");
}

}  // namespace
}  // namespace ligule::gather
