#include "storage/files/plan_check.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <functional>

#include "storage/files/definitions.h"
#include "storage/files/file_system.h"
#include "tests/storage/trial/sample_plan.h"

namespace ligule::files {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;

class CheckPlan : public testing::Test {
 protected:
  void SetUp() override {
    const auto files = real_file_system();
    definitions_ = load_definitions(*files, LIGULE_SOURCE_ASSETS).value();
  }
  static std::vector<std::string> lines(const Faults& faults) {
    std::vector<std::string> out;
    for (const Error& fault : faults) out.push_back(one_line(fault));
    return out;
  }
  std::vector<std::string> faults(const PlanPlaces& places = {}) {
    return lines(check_plan(plan_, definitions_, places).faults);
  }
  std::vector<std::string> notices() { return lines(check_plan(plan_, definitions_).notices); }

  Definitions definitions_;
  Plan plan_ = sample_plan();
};

TEST_F(CheckPlan, ASoundPlanHasNoFaultAndNoNotice) {
  EXPECT_THAT(faults(), IsEmpty());
  EXPECT_THAT(notices(), IsEmpty());
}

TEST_F(CheckPlan, EachFaultIsFoundAndIsTheOnlyOne) {
  const struct {
    const char* name;
    std::function<void(Plan&)> spoil;
    const char* wanted;
  } cases[] = {
      {"station", [](Plan& p) { p.codes.station = "a b"; },
       "'a b' cannot be the code of a station"},
      {"site", [](Plan& p) { p.codes.site = ""; }, "'' cannot be the code of a site"},
      {"trial", [](Plan& p) { p.codes.trial = ".x"; }, "'.x' cannot be the code of a trial"},
      {"zone", [](Plan& p) { p.zone = "Nowhere/Town"; }, "'Nowhere/Town' is not a time zone"},
      {"design", [](Plan& p) { p.design = "split"; }, "'split' is not a design"},
      {"plot not a number",
       [](Plan& p) {
         p.plot_length = {"long", "ft"};
       },
       "trial TF24: plot_length: 'long' is not a number"},
      {"plot without unit",
       [](Plan& p) {
         p.plot_width = {"5", ""};
       },
       "plot_width: '' is not a unit"},
      {"plot of nothing",
       [](Plan& p) {
         p.plot_width = {"0", "ft"};
       },
       "plot_width is not above zero"},
      {"swath unit",
       [](Plan& p) {
         p.swath_width = {"3", "yd"};
       },
       "swath_width: 'yd' is not a unit"},
      {"swath longer",
       [](Plan& p) {
         p.swath_length = {"20.01", "ft"};
       },
       "swath_length is larger than plot_length"},
      {"swath wider, other unit",
       [](Plan& p) {
         p.swath_width = {"1.53", "m"};
       },
       "swath_width is larger than plot_width"},
      {"swath empty", [](Plan& p) { p.swath_length = {}; },
       "swath_length is empty, but a harvest is planned"},
      {"tare unit",
       [](Plan& p) {
         p.bag_tare = {"12", "stone"};
       },
       "bag_tare: 'stone' is not a unit"},
      {"tare zero",
       [](Plan& p) {
         p.bag_tare = {"0", "g"};
       },
       "bag_tare is not above zero"},
      {"tare missing", [](Plan& p) { p.bag_tare = {}; },
       "occasion 2025-cut-1: samples are weighed, but the weight of an empty bag is nowhere"},
      {"revision without reason", [](Plan& p) { p.parent = std::string(64, 'a'); },
       "a revision needs a reason"},
      {"reason without revision", [](Plan& p) { p.reason = "typing error"; },
       "a reason is given, but no plan"},
      {"entry code",
       [](Plan& p) {
         p.entries[2].code = "C!";
         for (auto& x : p.plots)
           if (x.entry == "C") x.entry = "C!";
       },
       "entry C!: 'C!' cannot be the code of an entry"},
      {"same label",
       [](Plan& p) {
         p.entries[1].endophyte = Endophyte::kNovel;
         p.entries[1].strain = "AX1";
       },
       "entry B: 'Alder Brook (novel AX1)' is entry A already"},
      {"species", [](Plan& p) { p.entries[0].species = "tall_fescu"; },
       "entry A: species 'tall_fescu' is not known"},
      {"endophyte of timothy", [](Plan& p) { p.entries[1].species = "timothy"; },
       "entry B: timothy has no endophyte status"},
      {"strain of nothing", [](Plan& p) { p.entries[1].strain = "AX1"; },
       "entry B: a strain is stated, but no endophyte"},
      {"plot code", [](Plan& p) { p.plots[0].number = "1/2"; },
       "'1/2' cannot be the code of a plot"},
      {"path from 0", [](Plan& p) { p.plots[0].path = 0; },
       "plot 101: block, row, column and path count"},
      {"plot twice", [](Plan& p) { p.plots[1].number = "101"; },
       "plot 101 stands twice (first at plot 101"},
      {"one place", [](Plan& p) { p.plots[1].column = 1; },
       "plot 102: plot 102 lies at row 1, column 1 like plot 101"},
      {"one step", [](Plan& p) { p.plots[1].path = 1; },
       "plot 102: plot 102 is step 1 of the path like plot 101"},
      {"unplanted entry",
       [](Plan& p) {
         p.entries.push_back(
             {"D", "tall_fescue", "Dell", Endophyte::kFree, "", EntryRole::kTest, ""});
       },
       "entry D: entry D stands in no plot"},
      {"block misses an entry", [](Plan& p) { p.plots[0].block = 3; },
       "entry C: entry C is missing from block 1"},
      {"occasion twice", [](Plan& p) { p.occasions[3].code = "2025-spring-stand"; },
       "occasion 2025-spring-stand stands twice"},
      {"occasion code", [](Plan& p) { p.occasions[3].code = "spring stand"; },
       "'spring stand' cannot be the code of an occasion"},
      {"harvest without cutting", [](Plan& p) { p.occasions[2].cutting = 0; },
       "occasion 2025-cut-2: a harvest needs the number of its cutting"},
      {"rating with cutting", [](Plan& p) { p.occasions[0].cutting = 1; },
       "a rating has no cutting"},
      {"cutting twice", [](Plan& p) { p.occasions[2].cutting = 1; },
       "occasion 2025-cut-2: cutting 1 of 2025 stands twice"},
      {"cutting skipped", [](Plan& p) { p.occasions[2].cutting = 3; },
       "cutting 3 of 2025 stands without cutting 2"},
      {"first cutting missing", [](Plan& p) { p.occasions[2].year = 2026; },
       "cutting 2 of 2026 stands without cutting 1"},
      {"nothing recorded", [](Plan& p) { p.occasions[3].measures.clear(); },
       "occasion 2024-vigor: nothing is to be recorded"},
      {"measure twice",
       [](Plan& p) {
         p.occasions[3].measures = {"note", "note"};
       },
       "measure note stands twice"},
      {"measure unknown", [](Plan& p) { p.occasions[3].measures = {"smell"}; },
       "measure 'smell' is not known"},
      {"harvest without weight", [](Plan& p) { p.occasions[2].measures = {"note"}; },
       "a harvest without gross_weight gives no yield"},
      {"year before sowing", [](Plan& p) { p.occasions[3].year = 2023; }, "its year lies before"},
      {"due before sowing", [](Plan& p) { p.occasions[3].due = date::year{2024} / 9 / 2; },
       "it is due on 2024-09-02, before the trial was sown on 2024-09-03"},
  };
  for (const auto& c : cases) {
    plan_ = sample_plan();
    c.spoil(plan_);
    const auto found = faults();
    EXPECT_THAT(found, ElementsAre(HasSubstr(c.wanted))) << c.name;
  }
}

TEST_F(CheckPlan, AnUnknownEntryOfAPlotAlsoLeavesItsBlockIncomplete) {
  plan_.plots[0].entry = "Z";  // held C
  EXPECT_THAT(faults(), ElementsAre(HasSubstr("plot 101: entry 'Z' of plot 101 is not known"),
                                    HasSubstr("entry C: entry C is missing from block 1")));
}

TEST_F(CheckPlan, AnEntryTwiceInABlockIsAFaultUnlessItIsACheckOrFiller) {
  plan_.plots.push_back({"104", 1, "A", 1, 4, 10});
  EXPECT_THAT(faults(), ElementsAre(HasSubstr("plot 104: entry A stands twice in block 1")));
  plan_.plots.back().entry = "C";
  EXPECT_THAT(faults(), IsEmpty()) << "C is the check";
  plan_.entries.push_back(
      {"F", "tall_fescue", "fill", Endophyte::kNotStated, "", EntryRole::kFiller, ""});
  plan_.plots.back().entry = "F";
  plan_.plots.push_back({"105", 1, "F", 1, 5, 11});
  EXPECT_THAT(faults(), IsEmpty()) << "a filler needs no block and no place in results";
  EXPECT_THAT(notices(), IsEmpty());
}

TEST_F(CheckPlan, ACheckMissingFromABlockIsAFault) {
  std::erase_if(plan_.plots, [](const PlanPlot& p) { return p.entry == "C" && p.block == 2; });
  EXPECT_THAT(faults(), ElementsAre(HasSubstr("entry C is missing from block 2")));
}

TEST_F(CheckPlan, ACompletelyRandomisedTrialNeedsNoCompleteBlocks) {
  plan_.design = "crd";
  for (PlanPlot& plot : plan_.plots) plot.block = 1;
  EXPECT_THAT(faults(), IsEmpty());
  std::erase_if(plan_.plots, [](const PlanPlot& p) { return p.entry == "B"; });
  EXPECT_THAT(faults(), ElementsAre(HasSubstr("entry B stands in no plot")));
}

TEST_F(CheckPlan, AnEntryCodeTwiceIsToldOnce) {
  plan_.entries[1].code = "A";
  for (PlanPlot& plot : plan_.plots) {
    if (plot.entry == "B") plot.entry = "C";
  }
  EXPECT_THAT(faults(), ElementsAre(HasSubstr("entry A stands twice")));
}

TEST_F(CheckPlan, AnEmptyPlanIsFaulty) {
  plan_.entries.clear();
  plan_.plots.clear();
  EXPECT_THAT(faults(), ElementsAre(HasSubstr("trial TF24: the trial has no entries"),
                                    HasSubstr("trial TF24: the trial has no plots")));
}

TEST_F(CheckPlan, ASowingDateMustExist) {
  plan_.sown = date::year{2024} / 2 / 30;
  EXPECT_THAT(faults(), ElementsAre(HasSubstr("the sowing date does not exist")));
}

TEST_F(CheckPlan, AMeasureNeedsAScaleForEverySpeciesOfTheTrial) {
  Measure& maturity =
      *std::ranges::find(definitions_.measures, std::string("maturity"), &Measure::code);
  std::erase_if(maturity.scales,
                [](const MeasureScale& s) { return s.species_group == "cool_season_grass"; });
  EXPECT_THAT(faults(),
              ElementsAre(HasSubstr(
                  "occasion 2025-spring-stand: measure maturity has no scale for tall_fescue")));
}

TEST_F(CheckPlan, ATrialThatIsNeverHarvestedNeedsNoSwathAndNoTare) {
  plan_.occasions.resize(1);
  plan_.swath_length = plan_.swath_width = {};
  plan_.bag_tare = {};
  EXPECT_THAT(faults(), IsEmpty());
}

TEST_F(CheckPlan, NoticesTellWhatMayBeMeant) {
  plan_.entries[0].strain.clear();
  plan_.entries[1].endophyte = Endophyte::kNotStated;
  plan_.occasions[0].due = date::year{2026} / 1 / 10;
  EXPECT_THAT(faults(), IsEmpty());
  EXPECT_THAT(notices(), ElementsAre(HasSubstr("entry A: a novel endophyte without its strain"),
                                     HasSubstr("entry B: the endophyte status is not stated"),
                                     HasSubstr("it is due on 2026-01-10 but counts for 2025")));
}

TEST_F(CheckPlan, OneBlockAndNothingToDoAreNoticed) {
  std::erase_if(plan_.plots, [](const PlanPlot& p) { return p.block > 1; });
  plan_.occasions.clear();
  EXPECT_THAT(faults(), IsEmpty());
  EXPECT_THAT(notices(), ElementsAre(HasSubstr("there is one block only"),
                                     HasSubstr("no rating and no harvest is planned")));
}

TEST_F(CheckPlan, PlacesNameFileAndLine) {
  plan_.plots[1].path = 1;
  plan_.zone = "x";
  PlanPlaces places;
  places.trial = "trial.csv line 2";
  for (std::size_t i = 0; i < plan_.plots.size(); ++i)
    places.plots.push_back("plots.csv line " + std::to_string(i + 2));
  EXPECT_THAT(faults(places), ElementsAre(HasSubstr("trial.csv line 2: 'x' is not a time zone"),
                                          HasSubstr("plots.csv line 3: plot 102 is step 1")));
}

TEST_F(CheckPlan, AnIncompletePlanIsNotJudgedAsAWhole) {
  plan_.plots.pop_back();
  plan_.occasions[2].cutting = 5;
  ASSERT_EQ(faults().size(), 2U);
  PlanPlaces places;
  places.incomplete = true;
  EXPECT_THAT(faults(places), IsEmpty());
}

}  // namespace
}  // namespace ligule::files
