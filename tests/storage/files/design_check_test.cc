#include "storage/files/design_check.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "tests/storage/trial/sample_plan.h"

namespace ligule::files {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;

// Six entries in two blocks of two incomplete ones, each block a row.
Plan six_in_parts(const char* design) {
  Plan plan = sample_plan();
  plan.design = design;
  plan.entries.clear();
  for (const char* code : {"A", "B", "C", "D", "E", "F"})
    plan.entries.push_back({code, "tall_fescue", std::string("Variety ") + code, Endophyte::kFree,
                            "", EntryRole::kTest, ""});
  plan.plots.clear();
  const std::vector<std::string> order{"ABCDEF", "CEADBF"};
  for (int block = 1; block <= 2; ++block)
    for (int column = 1; column <= 6; ++column)
      plan.plots.push_back(
          {std::to_string(100 * block + column), block,
           std::string(
               1, order[static_cast<std::size_t>(block - 1)][static_cast<std::size_t>(column - 1)]),
           block, column, 6 * (block - 1) + column, column <= 3 ? 1 : 2});
  return plan;
}

std::vector<std::string> one_lines(const Faults& faults) {
  std::vector<std::string> told;
  for (const Error& fault : faults) told.push_back(one_line(fault));
  return told;
}
std::vector<std::string> design_faults(const Plan& plan) {
  return one_lines(check_design(plan, {}).faults);
}
std::vector<std::string> design_notices(const Plan& plan) {
  return one_lines(check_design(plan, {}).notices);
}

TEST(IncompleteBlocks, ThatAreSoundDrawNothing) {
  EXPECT_THAT(design_faults(six_in_parts("alpha")), IsEmpty());
  EXPECT_THAT(design_notices(six_in_parts("alpha")), IsEmpty());
}

TEST(IncompleteBlocks, EveryPlotLiesInOne) {
  Plan plan = six_in_parts("alpha");
  plan.plots[4].incomplete_block = 0;
  EXPECT_THAT(design_faults(plan),
              ElementsAre(HasSubstr("plot 105: plot 105 lies in no incomplete block")));
  PlanPlaces places;
  places.incomplete = true;
  EXPECT_THAT(check_design(plan, places).faults, IsEmpty()) << "bad cells were told of";
}

TEST(IncompleteBlocks, AreNumberedWithoutAGapAndAlikeInSize) {
  Plan plan = six_in_parts("alpha");
  for (PlanPlot& plot : plan.plots)
    if (plot.block == 2 && plot.incomplete_block == 2) plot.incomplete_block = 3;
  EXPECT_THAT(design_faults(plan),
              ElementsAre(HasSubstr("incomplete block 2 of block 2 has no plot")));
  plan = six_in_parts("alpha");
  plan.plots[3].incomplete_block = 1;
  EXPECT_THAT(design_faults(plan), ElementsAre(HasSubstr("have 2 to 4 plots")));
  plan = six_in_parts("alpha");
  plan.plots.pop_back();
  EXPECT_THAT(design_faults(plan), IsEmpty()) << "one plot apart";
}

TEST(IncompleteBlocks, ThatHoldAnEntryTwiceAreToldOf) {
  Plan plan = six_in_parts("alpha");
  plan.plots[1].entry = plan.plots[2].entry = "A";
  EXPECT_THAT(design_notices(plan),
              ElementsAre(HasSubstr("entry A stands twice in incomplete block 1 of block 1")));
}

TEST(IncompleteBlocks, UnderAnotherDesignAreToldOf) {
  EXPECT_THAT(design_notices(six_in_parts("rcb")),
              ElementsAre(HasSubstr("incomplete blocks are numbered, but the design is rcb")));
}

TEST(IncompleteBlocks, DoNotCountFillers) {
  Plan plan = six_in_parts("alpha");
  plan.entries.push_back(
      {"X", "tall_fescue", "Filler", Endophyte::kFree, "", EntryRole::kFiller, ""});
  plan.plots.push_back({"107", 1, "X", 1, 7, 13});
  EXPECT_THAT(design_faults(plan), IsEmpty());
}

class RowsAndColumns : public testing::Test {
 protected:
  RowsAndColumns() {
    for (PlanPlot& plot : plan_.plots) plot.incomplete_block = 0;
  }
  void exchange(std::size_t a, std::size_t b) {
    std::swap(plan_.plots[a].entry, plan_.plots[b].entry);
  }

  Plan plan_ = six_in_parts("row_column");
};

TEST_F(RowsAndColumns, WhereNothingClustersDrawNothing) {
  exchange(9, 11);
  EXPECT_THAT(design_notices(plan_), IsEmpty());
  EXPECT_THAT(design_faults(plan_), IsEmpty());
}

TEST_F(RowsAndColumns, TellOfEntriesThatTouchOrShareAColumn) {
  EXPECT_THAT(design_notices(plan_),
              ElementsAre(HasSubstr("entry D stands in plots 104 and 204, which touch"),
                          HasSubstr("entry D stands in column 4 2 times")));
  plan_.design = "rcb";
  EXPECT_THAT(design_notices(plan_), IsEmpty()) << "chance may do so";
}

}  // namespace
}  // namespace ligule::files
