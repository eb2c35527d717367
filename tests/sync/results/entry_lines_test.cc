#include "sync/results/entry_lines.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "sync/results/report.h"
#include "tests/sync/results/weighed_trial.h"

namespace ligule::results {
namespace {

using ::testing::ElementsAre;
using ::testing::HasSubstr;
using ::testing::IsEmpty;
using ::testing::Not;

class EntryLines : public ::testing::Test {
 protected:
  EntryLines() {
    definitions_.species = {{"tall_fescue", "tall fescue", "cool_season_grass", true},
                            {"alfalfa", "alfalfa", "legume", false}};
    for (PlanEntry& entry : entries()) {
      entry.species = "tall_fescue";
      entry.endophyte = Endophyte::kNotStated;
    }
  }
  std::vector<PlanEntry>& entries() { return trial_.facts().plan.entries; }
  std::vector<std::string> texts() {
    std::vector<std::string> all;
    for (const EntryLine& line : entry_lines(trial_.facts(), "T", definitions_))
      all.push_back(line.text);
    return all;
  }

  WeighedTrial trial_;
  Definitions definitions_;
};

TEST_F(EntryLines, SayHowTheEndophyteIsKnown) {
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

TEST_F(EntryLines, HalfATestSaysWhatIsMissing) {
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

TEST_F(EntryLines, SpeciesWithoutAnEndophyteHaveNone) {
  for (PlanEntry& entry : entries()) entry.species = "alfalfa";
  EXPECT_THAT(texts(), IsEmpty());
  // Where nobody knows the species, what is stated is told.
  definitions_.species.clear();
  entries()[1].endophyte = Endophyte::kFree;
  EXPECT_THAT(texts(), ElementsAre(HasSubstr("Birch (endophyte-free)")));
}

TEST_F(EntryLines, StandInTheSectionOfTheirTest) {
  std::vector<PlotValue> values;
  for (const char* entry : {"A", "B"})
    for (const char* rep : {"1", "2", "3"})
      values.push_back(
          {"T", "Hill", 2026, "1", rep, entry, "", static_cast<double>(values.size() + 1)});
  const std::vector<Analysis> analyses = analyse(values, {});
  ReportText text;
  text.entries = {{"T", "Amber <novel>: as the entrant states, not tested"},
                  {"Other", "of another test"}};
  const std::string html = report_html(analyses, long_term(analyses, 2), text);
  EXPECT_THAT(html, HasSubstr("<h3>How the endophyte of the entries is known</h3>"));
  EXPECT_THAT(html, HasSubstr("<li>Amber &lt;novel&gt;: as the entrant states, not tested</li>"));
  EXPECT_THAT(html, Not(HasSubstr("of another test")));
  text.entries.clear();
  EXPECT_THAT(report_html(analyses, long_term(analyses, 2), text), Not(HasSubstr("endophyte")));
}

}  // namespace
}  // namespace ligule::results
