#include "storage/files/plan_check.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "storage/files/definitions.h"
#include "storage/files/file_system.h"
#include "tests/storage/files/faulty_plans.h"
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
  for (const SpoiltPlan& c : spoilt_plans()) {
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
