#include "sync/results/variety_lines.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "sync/results/report.h"
#include "tests/sync/results/weighed_trial.h"

namespace ligule::results {
namespace {

using ::testing::ElementsAre;
using ::testing::HasSubstr;
using ::testing::IsEmpty;
using ::testing::SizeIs;

class VarietyLines : public ::testing::Test {
 protected:
  VarietyLines() {
    definitions_.species = {{"tall_fescue", "tall fescue", "cool_season_grass", true},
                            {"alfalfa", "alfalfa", "legume", false}};
    for (PlanEntry& entry : entries()) {
      entry.species = "tall_fescue";
      entry.endophyte = Endophyte::kNotStated;
    }
  }
  std::vector<PlanEntry>& entries() { return trial_.facts().plan.entries; }
  // "Amber (novel AX1): found in ..." of those that have an endophyte.
  std::vector<std::string> texts() {
    std::vector<VarietyLine> lines;
    add_varieties(trial_.facts(), "T", definitions_, {}, lines);
    std::vector<std::string> all;
    for (const VarietyLine& line : lines)
      if (!line.known_by.empty()) all.push_back(line.entry + ": " + line.known_by);
    return all;
  }

  WeighedTrial trial_;
  Definitions definitions_;
};

TEST_F(VarietyLines, SayHowTheEndophyteIsKnown) {
  entries()[0].endophyte = Endophyte::kNovel;
  entries()[0].strain = "AX1";
  entries()[0].endophyte_percent = "92.5";
  entries()[0].endophyte_tested = WeighedTrial::day(2, 3);
  entries()[1].endophyte = Endophyte::kFree;
  EXPECT_THAT(texts(),
              ElementsAre("Amber (novel AX1): found in 92.5 % of what was tested on 2026-02-03",
                          "Birch (endophyte-free): as the entrant states, not tested",
                          "Cedar: not stated"));
}

TEST_F(VarietyLines, HalfATestSaysWhatIsMissing) {
  entries()[0].endophyte = Endophyte::kToxic;
  entries()[0].endophyte_percent = "88";
  entries()[1].endophyte = Endophyte::kNovel;
  entries()[1].endophyte_tested = WeighedTrial::day(2, 3);
  entries()[2].role = EntryRole::kFiller;
  EXPECT_THAT(
      texts(),
      ElementsAre("Amber (toxic): found in 88 % of what was tested, on a date that is not stated",
                  "Birch (novel): tested on 2026-02-03, what was found is not stated"));
}

TEST_F(VarietyLines, SpeciesWithoutAnEndophyteHaveNone) {
  for (PlanEntry& entry : entries()) entry.species = "alfalfa";
  EXPECT_THAT(texts(), IsEmpty());
  // Where nobody knows the species, what is stated is told.
  definitions_.species.clear();
  entries()[1].endophyte = Endophyte::kFree;
  EXPECT_THAT(texts(), ElementsAre(HasSubstr("Birch (endophyte-free)")));
}

TEST_F(VarietyLines, OneLabelHasOneLineForAllItsTests) {
  std::vector<VarietyLine> lines;
  add_varieties(trial_.facts(), "T", definitions_, {}, lines);
  entries()[1].endophyte_percent = "90";
  add_varieties(trial_.facts(), "U", definitions_, {}, lines);
  ASSERT_THAT(lines, SizeIs(4));
  EXPECT_THAT(lines[0].tests, ElementsAre("T", "U"));
  EXPECT_EQ(lines[0].species, "tall fescue");
  // Birch is known in two ways.
  EXPECT_EQ(lines[1].entry, "Birch");
  EXPECT_THAT(lines[1].tests, ElementsAre("U"));
  EXPECT_THAT(lines[2].tests, ElementsAre("T"));
}

TEST_F(VarietyLines, StandInATableOfTheirSpecies) {
  ReportText text;
  text.varieties = {{.species = "alfalfa", .entry = "Larch <1>", .tests = {"T", "U"}},
                    {.species = "tall fescue",
                     .entry = "Amber (novel)",
                     .type = "late",
                     .endophyte = "novel",
                     .known_by = "as the entrant states, not tested",
                     .market = Market::kExperimental,
                     .note = "",
                     .tests = {"T"}}};
  const std::string html = report_html({}, {}, text);
  const std::string section = html.substr(html.find("id=\"varieties\""));
  EXPECT_THAT(section, HasSubstr("<caption>Alfalfa</caption>"));
  EXPECT_THAT(section,
              HasSubstr("<th scope=\"row\">Larch &lt;1&gt;</th><td class=\"text\">T, U</td></tr>"));
  EXPECT_THAT(section, HasSubstr("<td class=\"text\">late</td><td class=\"text\">novel</td><td "
                                 "class=\"text\">as the entrant states, not tested</td><td "
                                 "class=\"text\">experimental</td><td class=\"text\">T</td></tr>"));
}

}  // namespace
}  // namespace ligule::results
