#include "sync/print/planting_list.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <utility>

#include "tests/sync/print/planted.h"

namespace ligule::print {
namespace {

using testing::HasSubstr;
using testing::Not;

TEST(PlantingPage, TellsAreaSeedCautionsAndEveryPlot) {
  Plan plan = planted();
  plan.title = "Fescue & <others>";
  plan.alley = {"4", "ft"};
  plan.border = {"10", "ft"};
  const std::string page = planting_page(plan, sown(plan), {});
  EXPECT_THAT(page, HasSubstr("Planting list TF24: Fescue &amp; &lt;others&gt;"));
  EXPECT_THAT(page, HasSubstr("Plots 20 ft by 5 ft: 9.29 m², 100.0 square feet. Alley 4 ft."));
  EXPECT_THAT(page, HasSubstr("Border 10 ft around them all: its seed is not counted."));
  EXPECT_THAT(page, HasSubstr("drilled, in 3 passes"));
  EXPECT_THAT(page, HasSubstr("Treated seed: gloves"));
  EXPECT_THAT(page, HasSubstr("stop the engine and take the key"));
  for (const PlanPlot& plot : plan.plots)
    EXPECT_THAT(page, HasSubstr("<td class=\"big\">" + plot.number + "</td>"));
  EXPECT_THAT(page, HasSubstr("Pass 2: row 2, column 3 to 1, 3 plots"));
  // 16.431 g each: 49.29 g, and 54.2 g with a tenth on top.
  EXPECT_THAT(page, HasSubstr("<td class=\"number big\">16.43 g</td><td class=\"number\">49</td>"
                              "<td class=\"number\">54</td>"));
  EXPECT_THAT(page, HasSubstr("With 10 % spare, g"));
  EXPECT_THAT(page, HasSubstr("79/sq ft"));
}

// Proves: a drill that goes along columns is told so, on the page as in the table.
TEST(PlantingPage, PassesGoTheWayOfThePath) {
  Plan plan = planted();
  for (PlanPlot& plot : plan.plots) std::swap(plot.row, plot.column);
  const std::string page = planting_page(plan, sown(plan), {});
  EXPECT_THAT(page, HasSubstr("drilled, in 3 passes"));
  EXPECT_THAT(page, HasSubstr("Pass 2: column 2, row 3 to 1, 3 plots"));
  const std::string table = planting_table(plan, sown(plan));
  EXPECT_THAT(table, HasSubstr("\n3,1,103,"));
  EXPECT_THAT(table, HasSubstr("\n4,2,203,"));
  EXPECT_THAT(table, HasSubstr("\n9,3,303,"));
}

TEST(PlantingPage, IsBlindUnlessAskedToBeOpen) {
  const Plan plan = planted();
  const std::string blind = planting_page(plan, sown(plan), {});
  for (const PlanEntry& entry : plan.entries) {
    EXPECT_THAT(blind, Not(HasSubstr(entry.variety)));
    EXPECT_THAT(planting_page(plan, sown(plan), {.names = Names::kOpen}), HasSubstr(entry.label()));
  }
  EXPECT_THAT(blind, Not(HasSubstr("novel")));
}

TEST(PlantingPage, SaysWhyAPacketHasNoWeight) {
  Plan plan = planted();
  plan.entries[0].germination = "";
  plan.entries[1].sowing_rate = plan.entries[1].sowing_rate_unit = "";
  const std::string page = planting_page(plan, sown(plan), {});
  EXPECT_THAT(page, HasSubstr("No weight: germination not stated"));
  EXPECT_THAT(page, HasSubstr("No weight: sowing rate not stated in the plan, usual rate of the "
                              "species: 12 to 14 lb/acre"));
  EXPECT_THAT(page, HasSubstr("No border is stated in the plan"));
  EXPECT_THAT(planting_page(plan, sown(plan, {.rate = StatedRate{"13", "lb/acre"}}), {}),
              HasSubstr("13 lb/acre *"));
}

TEST(PlantingPage, ABorderHasALineOfItsOwn) {
  Plan plan = planted();
  plan.border = {"5", "ft"};
  PlanEntry filler = plan.entries[2];
  filler.code = "F";
  filler.seed_lot = "LF";
  filler.role = EntryRole::kFiller;
  plan.entries.push_back(filler);
  // 850 square feet (sowing_test): 139.66 g, 153.6 with the spare.
  const std::string page = planting_page(plan, sown(plan), {});
  EXPECT_THAT(page, HasSubstr("around them all: 79 m², counted as sown with filler F."));
  EXPECT_THAT(page, HasSubstr("Border <small>F</small></th><td>LF</td>"));
  EXPECT_THAT(page, HasSubstr("<td class=\"number\">140</td><td class=\"number\">154</td>"));
  plan.entries[3].purity = "";
  EXPECT_THAT(planting_page(plan, sown(plan), {}), HasSubstr("No weight: see F"));
  EXPECT_THAT(planting_page(plan, sown(plan, {.border_sown = false}), {}),
              Not(HasSubstr("Border <small>")));
}

TEST(PlantingPage, SeedOnHandIsTold) {
  const Plan plan = planted();
  const Sowing sowing = sown(plan);
  EXPECT_THAT(planting_page(plan, sowing, {}), Not(HasSubstr("Seed on hand")));
  const std::string page = planting_page(
      plan, sowing, {.lots = lots_of(plan, sowing, {{"L1", convert<Kilograms>(Grams(40))}})});
  EXPECT_THAT(page, HasSubstr("<th scope=\"row\">L1</th><td>A</td><td class=\"number\">54</td>"
                              "<td class=\"number\">40</td><td class=\"number big\">14</td>"));
  EXPECT_EQ(store_text(convert<Kilograms>(Grams(1234.6))), "1235 g");
}

TEST(PlantingPage, FillersAreSownToo) {
  Plan plan = planted();
  plan.entries[1].role = EntryRole::kFiller;
  const std::string page = planting_page(plan, sown(plan), {});
  EXPECT_THAT(page, HasSubstr("B filler"));
  EXPECT_THAT(page, HasSubstr("B <small>filler</small>"));
}

TEST(PlantingTable, HasARowAPlotAlongThePath) {
  Plan plan = planted();
  plan.entries[2].purity = "";
  plan.entries[1].seed_lot = "L,2";
  const std::string table = planting_table(plan, sown(plan));
  EXPECT_THAT(table, testing::StartsWith(
                         "step,pass,plot,block,row,column,entry,role,seed_lot,rate,rate_unit,"
                         "pure_live_percent,packet_g,lacks\n1,1,101,1,1,1,C,check,,15,lb/acre,,,"
                         "purity not stated\n"));
  EXPECT_THAT(table, HasSubstr("\n4,2,203,2,2,3,C,"));
  EXPECT_THAT(table, HasSubstr(",B,test,\"L,2\",15,lb/acre,95.0"));
  EXPECT_EQ(std::ranges::count(table, '\n'), 10);
}

}  // namespace
}  // namespace ligule::print
