#include "sync/print/plot_sheet.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "storage/files/assets.h"
#include "storage/files/definitions.h"
#include "tests/storage/trial/sample_plan.h"

namespace ligule::print {
namespace {

using testing::AllOf;
using testing::HasSubstr;
using testing::Not;

const Definitions& everybodys() {
  static const Definitions definitions = [] {
    const auto files = files::real_file_system();
    return files::load_definitions(*files, files::find_assets(*files).value()).value();
  }();
  return definitions;
}

std::size_t count(const std::string& text, std::string_view part) {
  std::size_t found = 0;
  for (std::size_t at = text.find(part); at != std::string::npos; at = text.find(part, at + 1))
    ++found;
  return found;
}

// Text between two others, the first time they stand so.
std::string between(const std::string& text, const std::string& from, const std::string& to) {
  const std::size_t begin = text.find(from);
  if (begin == std::string::npos) return {};
  return text.substr(begin, text.find(to, begin) - begin);
}

class PlotSheet : public testing::Test {
 protected:
  PlotSheet() : plan_(sample_plan()) {
    wish_ = {.plan = &plan_, .occasion = &plan_.occasions[0], .definitions = &everybodys()};
  }
  std::string html() { return plot_sheets(wish_).html; }
  std::string row(const std::string& plot) {
    return between(html(), "class=\"stake\">" + plot + "<", "</tr>");
  }
  results::PlotMeasure of(const char* plot, const char* measure) const {
    return {plan_.plot(*plan_.find_plot(plot)).uuid, measure};
  }

  Plan plan_;
  PlotSheets wish_;
};

TEST_F(PlotSheet, IsARowAPlotAlongThePathWithABoxAMeasure) {
  const std::string text = html();
  EXPECT_THAT(text, AllOf(HasSubstr("TF24 \u00b7 2025-spring-stand"), HasSubstr("sheet 1 of 1"),
                          HasSubstr("North farm, &quot;the long field&quot;, field 7"),
                          HasSubstr("due 2025-04-10"), HasSubstr("Rater, initials")));
  EXPECT_EQ(count(text, "<tr class=\"plot\">"), 9U);
  // 1 2 3 / 3 2 1 / 1 2 3
  const std::size_t at[] = {text.find(">103<"), text.find(">203<"), text.find(">201<"),
                            text.find(">301<")};
  EXPECT_TRUE(at[0] < at[1] && at[1] < at[2] && at[2] < at[3]);
  EXPECT_EQ(count(row("101"), "class=\"box\""), 3U);
  EXPECT_THAT(row("203"), HasSubstr("block 2<br>row 2, col 3"));
}

TEST_F(PlotSheet, TheWayIsSeenWhereThePathTurns) {
  const std::string text = html();
  EXPECT_EQ(count(text, "<tr class=\"band\">"), 3U);
  EXPECT_THAT(text, HasSubstr("Begin here<span class=\"way\">\u2192</span>block 1, row 1"));
  EXPECT_THAT(text, HasSubstr("Turn<span class=\"way\">\u2190</span>block 2, row 2"));
  EXPECT_THAT(text, HasSubstr("Turn<span class=\"way\">\u2192</span>block 3, row 3"));
}

TEST_F(PlotSheet, TheWayAlongColumnsIsSeenToo) {
  for (PlanPlot& plot : plan_.plots) std::swap(plot.row, plot.column);
  const std::string text = html();
  EXPECT_EQ(count(text, "<tr class=\"band\">"), 3U);
  EXPECT_THAT(text, HasSubstr("Begin here<span class=\"way\">\u2191</span>block 1, column 1"));
  EXPECT_THAT(text, HasSubstr("Turn<span class=\"way\">\u2193</span>block 2, column 2"));
}

TEST_F(PlotSheet, ABlockThatBeginsInALaneHasItsLineToo) {
  for (PlanPlot& plot : plan_.plots) {
    plot.row = 1;
    plot.column = plot.block * 3 + plot.column;
    plot.path = plot.column;
  }
  EXPECT_THAT(html(),
              HasSubstr("<td colspan=\"5\"><span class=\"way\">\u2192</span>block 2, row 1"));
}

TEST_F(PlotSheet, EachMeasureSaysItsScaleAndDirection) {
  const std::string heads = between(html(), "<thead>", "</thead>");
  EXPECT_THAT(heads, HasSubstr("<b>Percent stand</b>0 to 100 %<br>high is best"));
  EXPECT_THAT(heads, HasSubstr("<b>Maturity</b>a code of the key, V to S5</th>"));
  EXPECT_THAT(heads, HasSubstr("<b>Note</b>words</th>"));
  EXPECT_THAT(html(), AllOf(HasSubstr("<b>Maturity</b>: V vegetative, E-early early elongation, "),
                            HasSubstr("<b>Percent stand</b>: Share of the plot")));
  plan_.occasions[0].measures = {"lodging",      "winter_injury",  "plant_height_canopy",
                                 "ground_cover", "frequency_grid", "stage_counts",
                                 "heading_date"};
  const std::string others = between(html(), "<thead>", "</thead>");
  EXPECT_THAT(others, HasSubstr("1 erect to 9 flat<br>low is best"));
  EXPECT_THAT(others, HasSubstr("1 no injury to 5 dead<br>low is best"));
  EXPECT_THAT(others, HasSubstr("colspan=\"3\"><b>Plant height canopy</b>3 readings, in"));
  EXPECT_THAT(others, HasSubstr("sown + weeds + bare = 100 %<br>high is best"));
  EXPECT_THAT(others,
              HasSubstr("colspan=\"4\"><b>Frequency grid</b>cells that hold a plant, of 25"));
  EXPECT_THAT(others, HasSubstr("each stage and how many of it"));
  EXPECT_THAT(others, HasSubstr("x reached, o not yet"));
  wish_.unit = "cm";
  EXPECT_THAT(html(), HasSubstr("3 readings, cm"));
}

TEST_F(PlotSheet, NothingNamesAnEntryUnlessItIsOpen) {
  EXPECT_THAT(html(), AllOf(Not(HasSubstr("Alder")), Not(HasSubstr("Old Mill")),
                            HasSubstr("No entry is named")));
  wish_.names = true;
  EXPECT_THAT(html(), AllOf(HasSubstr("<div>Alder Brook (novel AX1)</div>"),
                            HasSubstr("--names open"), Not(HasSubstr("No entry is named"))));
}

TEST_F(PlotSheet, WhatAPlotHadLastStandsBesideItsBox) {
  results::Seen seen;
  using date::year;
  seen.last[of("101", "percent_stand")] = {"85", "%", year{2025} / 3 / 1};
  seen.last[of("102", "percent_stand")] = {"70", "%", year{2024} / 11 / 12};
  wish_.seen = &seen;
  EXPECT_THAT(row("101"),
              HasSubstr("<td class=\"last\">85<br><i>1 Mar</i></td><td class=\"box\">"));
  EXPECT_THAT(row("102"), HasSubstr("70<br><i>12 Nov 2024</i>"));
  EXPECT_THAT(row("103"), HasSubstr("<td class=\"last\"></td><td class=\"box\">"));
  EXPECT_EQ(count(row("101"), "class=\"last\""), 1U) << "no column where nothing is known";
  EXPECT_THAT(html(), HasSubstr("Small figures: what the plot had last, and when."));
}

TEST_F(PlotSheet, WhatIsGivenInThisRatingIsTickedAndNotTold) {
  results::Seen seen;
  seen.given.insert(of("101", "percent_stand"));
  wish_.seen = &seen;
  EXPECT_THAT(row("101"), HasSubstr("<td class=\"kept\" colspan=\"1\">\u2713 kept</td>"));
  EXPECT_EQ(count(html(), "\u2713 kept"), 1U);
  EXPECT_THAT(html(), HasSubstr("Kept: a tablet has it already."));
}

TEST_F(PlotSheet, APlotThatIsNotRatedIsPassedBy) {
  plan_.occasions[0].entries = {"A", "B"};
  const std::string text = html();
  EXPECT_EQ(count(text, "pass by: not in this rating"), 3U);
  EXPECT_EQ(count(plot_sheets_csv(wish_), "\r\n"), 7U) << "a heading, and six plots";
}

TEST_F(PlotSheet, ACuttingHasItsWeightsInTheWishedUnit) {
  plan_.occasions[1].measures = {"gross_weight", "bag_number", "sample_fresh", "part_bag"};
  wish_.occasion = &plan_.occasions[1];
  wish_.unit = "lb";
  EXPECT_THAT(html(), AllOf(HasSubstr("cutting 1 of 2025"), HasSubstr("<b>Gross weight</b>lb"),
                            HasSubstr("<b>Bag number</b>as on the bag"),
                            HasSubstr("Typed in by: ligule-desk take-in --on-paper"),
                            HasSubstr("Not on paper")));
  EXPECT_THAT(plot_sheets_csv(wish_),
              testing::StartsWith("plot,gross_weight,bag_number,sample_fresh\r\n"));
}

TEST_F(PlotSheet, TheTableHasTheOrderOfThePathAndNothingFilledIn) {
  EXPECT_EQ(plot_sheets_csv(wish_),
            "plot,percent_stand,maturity,note\r\n101,,,\r\n102,,,\r\n103,,,\r\n203,,,\r\n"
            "202,,,\r\n201,,,\r\n301,,,\r\n302,,,\r\n303,,,\r\n");
}

TEST_F(PlotSheet, ManyPlotsAreSplitIntoCountedSheetsThatEachHaveTheirHead) {
  plan_.plots.clear();
  for (int row = 1; row <= 6; ++row)
    for (int column = 1; column <= 16; ++column)
      plan_.plots.push_back({std::to_string(100 * row + column), row, "A", row, column, 0});
  walk_serpentine(plan_.plots);
  const PrintedSheets sheets = plot_sheets(wish_);
  EXPECT_GT(sheets.sheets, 3U);
  EXPECT_LT(sheets.sheets, 8U);
  EXPECT_EQ(count(sheets.html, "<section class=\"sheet\""), sheets.sheets);
  EXPECT_EQ(count(sheets.html, "<thead>"), sheets.sheets);
  EXPECT_EQ(count(sheets.html, "<tr class=\"plot\">"), 96U);
  const std::string all = std::to_string(sheets.sheets);
  EXPECT_THAT(sheets.html, HasSubstr("sheet " + all + " of " + all));
  wish_.paper = Paper::kA4;
  EXPECT_THAT(plot_sheets(wish_).html, HasSubstr("size: 210mm 297mm"));
}

TEST_F(PlotSheet, ManyMeasuresLieAcrossThePaper) {
  plan_.occasions[0].measures = {"percent_stand",  "plant_height_canopy", "ground_cover",
                                 "frequency_grid", "stage_counts",        "note"};
  EXPECT_THAT(html(), HasSubstr("@page { size: 279.4mm 215."));
}

}  // namespace
}  // namespace ligule::print
