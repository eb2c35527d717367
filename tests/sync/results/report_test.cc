#include "sync/results/report.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>

#include "sync/results/html.h"
#include "sync/results/table_files.h"

namespace ligule::results {
namespace {

using ::testing::HasSubstr;
using ::testing::Not;
using ::testing::StartsWith;

std::string report_of(const std::vector<PlotValue>& values, ReportText text = {}) {
  const std::vector<Analysis> analyses = analyse(values, {});
  return report_html(analyses, long_term(analyses, text.min_tests), text);
}

std::vector<PlotValue> trial(const std::vector<std::vector<double>>& table,
                             const std::vector<std::string>& entries) {
  std::vector<PlotValue> values;
  for (std::size_t i = 0; i < table.size(); ++i) {
    for (std::size_t j = 0; j < table[i].size(); ++j) {
      values.push_back({"T", "Hill", 2024, "1", std::to_string(j), entries[i], "", table[i][j]});
    }
  }
  return values;
}

// Far apart: F is significant.
std::vector<PlotValue> clear_trial() {
  return trial({{10, 11, 10}, {20, 21, 22}, {21, 21, 21}}, {"Low", "High", "Best"});
}

// Noise only: F is not significant.
std::vector<PlotValue> alike_trial() {
  return trial({{10, 14, 12}, {13, 11, 12}, {12, 11, 14}}, {"A", "B", "C"});
}

TEST(Report, IsRankedFromTheHighestMeanDown) {
  const std::string html = report_of(clear_trial());
  EXPECT_LT(html.find("row\">Best<"), html.find("row\">High<"));
  EXPECT_LT(html.find("row\">High<"), html.find("row\">Low<"));
}

TEST(Report, MarksTheTopGroupAndSaysThatItsOrderIsChance) {
  const std::string html = report_of(clear_trial());
  EXPECT_THAT(html, HasSubstr("<td class=\"top\">21.0<i>●</i></td>"));
  EXPECT_THAT(html, HasSubstr("<td>10.3</td>"));
  EXPECT_THAT(html, HasSubstr("Inside the marked group the order is chance"));
}

TEST(Report, EntriesThatDoNotDifferCarryNoMarkAndASentenceSaysSo) {
  const std::string html = report_of(alike_trial());
  EXPECT_THAT(html, Not(HasSubstr("class=\"top\"")));
  EXPECT_THAT(html, HasSubstr("<td>ns ("));
  EXPECT_THAT(html, HasSubstr("The entries are alike at the 5 % level"));
}

TEST(Report, WhatMustBeKnownOfACuttingStandsUnderIt) {
  ReportText text;
  text.footings = {{"T", 2024, 1, "2 plots count as zero: winterkill 2."},
                   {"T", 2024, 2, "of another cutting."},
                   {"T", 2023, 1, "of another year."},
                   {"Other", 2024, 1, "of another test."}};
  const std::string html = report_of(clear_trial(), text);
  EXPECT_THAT(html, HasSubstr("2 plots count as zero: winterkill 2."));
  EXPECT_THAT(html, Not(HasSubstr("of another")));
}

TEST(Report, FootHasMeanLsdAndCv) {
  const std::string html = report_of(clear_trial());
  for (const char* row : {">Mean<", ">LSD 0.05<", ">CV %<", ">Prob &gt; F<", ">Plots<"}) {
    EXPECT_THAT(html, HasSubstr(row));
  }
}

TEST(Report, LabelsCannotBecomeMarkup) {
  std::vector<PlotValue> values = clear_trial();
  values[0].entry = "<script>alert('x')</script>";
  values[0].site = "a & \"b\"";
  ReportText text;
  text.source = "<b>.csv";
  const std::string html = report_of(values, text);
  EXPECT_THAT(html, Not(HasSubstr("<script>")));
  EXPECT_THAT(html, HasSubstr("&lt;script&gt;alert(&#39;x&#39;)&lt;/script&gt;"));
  EXPECT_THAT(html, HasSubstr("a &amp; &quot;b&quot;"));
  EXPECT_THAT(html, HasSubstr("&lt;b&gt;.csv"));
  EXPECT_EQ(escaped("a\nb\x01"), "a b ");
}

TEST(Report, LongTermShowsTheAverageTheNumberOfTestsAndEach) {
  std::vector<PlotValue> values = clear_trial();
  for (PlotValue value : clear_trial()) {
    value.test = "U";
    values.push_back(value);
  }
  const std::string html = report_of(values);
  EXPECT_THAT(html,
              HasSubstr("<td>120.4</td><td>2</td><td>120.4 ± 0.0</td><td>120</td><td>120</td>"));
  EXPECT_THAT(html, HasSubstr("<li><b>U</b>, Hill, data of 2024; 100 is 17.4</li>"));
  EXPECT_THAT(report_of(clear_trial()), HasSubstr("<td>–</td><td>1</td><td>–</td><td>120</td>"));
}

TEST(Report, LongTermTellsWhenATestWasSownAndOverHowManyYears) {
  std::vector<PlotValue> values = clear_trial();
  for (PlotValue value : clear_trial()) {
    value.year = 2025;
    values.push_back(value);
  }
  ReportText text;
  text.sown = {{"T", 2023}};
  text.unit = "ton/acre";
  EXPECT_THAT(report_of(values, text),
              HasSubstr("<li><b>T</b>, Hill, sown 2023, data of 2024–2025, 2 years; 100 is 17.4 "
                        "ton/acre a year</li>"));
}

TEST(Report, LongTermSaysWhereEntriesCannotBeCompared) {
  std::vector<PlotValue> values = clear_trial();
  EXPECT_THAT(report_of(values), HasSubstr("Corrected for company</b> is what"));
  for (PlotValue value : alike_trial()) {
    value.test = "U";
    values.push_back(value);
  }
  EXPECT_THAT(report_of(values), HasSubstr("Each such group is corrected by itself"));
}

// The long-term table of 60 entries in so many tests.
std::string long_term_of(int tests) {
  std::vector<PlotValue> values;
  for (int test = 0; test < tests; ++test) {
    for (int entry = 0; entry < 60; ++entry) {
      values.push_back({"T" + std::to_string(100 + test), "Hill", 2024, "1", "",
                        "Entry " + std::to_string(100 + entry), "",
                        5.0 + 0.1 * ((7 * entry + 3 * test) % 17)});
    }
  }
  const std::string html = report_of(values);
  return html.substr(html.find("id=\"long-term\""));
}

std::ptrdiff_t how_often(const std::string& text, const std::string& part) {
  std::ptrdiff_t found = 0;
  for (auto at = text.find(part); at != std::string::npos; at = text.find(part, at + 1)) ++found;
  return found;
}

// No column is wider than its three digits, however long the names of tests; further tests stand in
// a table of their own below.
TEST(Report, LongTermPutsTwentyFiveTestsBesideEachOtherAndNoMore) {
  const std::string wide = long_term_of(25);
  EXPECT_EQ(how_often(wide, "<table>"), 1);
  EXPECT_EQ(how_often(wide, "<tr>"), 61);
  EXPECT_THAT(wide, HasSubstr("<th scope=\"col\">25</th></tr>"));
  EXPECT_EQ(how_often(wide, "<li><b>T1"), 25);
  const std::string wider = long_term_of(26);
  EXPECT_EQ(how_often(wider, "<table>"), 2);
  EXPECT_THAT(wider, HasSubstr("<th scope=\"col\">Entry</th><th scope=\"col\">26</th></tr>"));
}

TEST(Report, LongTermStandsBySpeciesWhereThatIsKnown) {
  std::vector<PlotValue> values = clear_trial();
  for (PlotValue value : clear_trial()) {
    value.test = "U";
    values.push_back(value);
  }
  ReportText text;
  text.varieties = {{.species = "alfalfa", .entry = "Low"},
                    {.species = "tall fescue", .entry = "Best"}};
  const std::string html = report_of(values, text);
  const std::string section = html.substr(html.find("id=\"long-term\""));
  EXPECT_LT(section.find("Alfalfa</th>"), section.find(">Low<"));
  EXPECT_LT(section.find(">Low<"), section.find("Tall fescue</th>"));
  EXPECT_LT(section.find("Tall fescue</th>"), section.find(">Best<"));
  EXPECT_LT(section.find(">Best<"), section.find(">High<")) << "of no known species: last";
}

TEST(Report, AHighCvIsFlaggedOfYieldsOnly) {
  const auto wide = trial({{10, 20, 15}, {30, 22, 41}, {21, 35, 28}}, {"A", "B", "C"});
  EXPECT_THAT(report_of(wide), HasSubstr("The CV is high"));
  ReportText ratings;
  ratings.cuttings = false;
  EXPECT_THAT(report_of(wide, ratings), Not(HasSubstr("The CV is high")));
  EXPECT_THAT(report_of(clear_trial()), Not(HasSubstr("The CV is high")));
}

TEST(Report, SaysWhereThereIsNoCv) {
  const char* const told = "Scores, stages and dates have none";
  EXPECT_THAT(report_of(clear_trial()), Not(HasSubstr(told)));
  ReportText scores;
  scores.cuttings = scores.percents = false;
  const std::string html = report_of(clear_trial(), scores);
  EXPECT_THAT(html, HasSubstr(told));
  EXPECT_THAT(html, HasSubstr("CV %</th><td>–</td>"));
}

// press.csv of a folder without a file of its own for each other table.
std::string press_of(const std::vector<Analysis>& analyses, const ReportText& text) {
  TableFolder folder{"", analyses, {}};
  folder.text = text;
  const auto files = folder_files(folder).tables;
  const auto press = std::ranges::find(files, "press.csv", &OutputFile::name);
  return press == files.end() ? std::string() : press->content;
}

TEST(Report, ThePressHasTheTablesAsTheyArePrinted) {
  const std::vector<Analysis> analyses = analyse(clear_trial(), {});
  const std::string csv = press_of(analyses, {});
  EXPECT_THAT(csv, StartsWith("test,table,row,column,printed,marked,group\n"));
  EXPECT_THAT(csv, HasSubstr("\nT,2024,Best,Cutting 1,21.0,1,\n"));
  EXPECT_THAT(csv, HasSubstr("\nT,2024,Low,Cutting 1,10.3,0,\n"));
  EXPECT_THAT(csv, HasSubstr("\nT,2024,Low,% of mean,59,0,\n"));
  EXPECT_THAT(csv, HasSubstr("\nT,2024,Plots,Cutting 1,9,0,\n"));
  ReportText grouped;
  grouped.standings = {{"T", "Best", 0, false, Market::kOnSale},
                       {"T", "Low", 1, false, Market::kExperimental}};
  const std::string groups = press_of(analyses, grouped);
  EXPECT_THAT(groups, HasSubstr("\nT,2024,Best,Cutting 1,21.0,1,On sale\n"));
  EXPECT_THAT(groups, HasSubstr("\nT,2024,Low,% of mean,59,0,\"Experimental, not on sale\"\n"));
  EXPECT_THAT(groups, HasSubstr("\nT,2024,High,Cutting 1,21.0,1,On sale or not: not stated\n"));
  EXPECT_THAT(groups, HasSubstr("\nT,2024,Plots,Cutting 1,9,0,\n"));
}

TEST(Report, TheLegendSaysWhatAMarkIsWhereTheBestIsNotShown) {
  ReportText text;
  EXPECT_THAT(report_of(clear_trial(), text), Not(HasSubstr("is not shown")));
  text.withheld = {{"T", 1}};
  const std::string html = report_of(clear_trial(), text);
  EXPECT_THAT(html, HasSubstr("Where the best entry of a column is not shown, only those"));
  EXPECT_THAT(html, HasSubstr("% of checks is of the checks shown."));
}

TEST(Report, NamesThatSomebodyLookedAtAreListedWithTheDecision) {
  ReportText text;
  text.apart = {{"Corrawen", "Corrowen", "MT", "both on sale"}};
  const std::string html = report_of(clear_trial(), text);
  EXPECT_THAT(html, HasSubstr("<a href=\"#names\">"));
  EXPECT_THAT(html, HasSubstr("Names that somebody looked at:"));
  EXPECT_THAT(html, HasSubstr("look alike and are two entries, decided by MT (both on sale)"));
}

TEST(Report, LongTermBeginsAtTheBetterEnd) {
  std::vector<PlotValue> values = clear_trial();
  for (PlotValue value : clear_trial()) {
    value.test = "U";
    values.push_back(value);
  }
  const auto order = [&](Best best) {
    ReportText text;
    text.best = best;
    const std::string html = report_of(values, text);
    const std::string section = html.substr(html.find("id=\"long-term\""));
    return section.find(">Best<") < section.find(">Low<");
  };
  EXPECT_TRUE(order(Best::kHighest));
  EXPECT_FALSE(order(Best::kLowest));
}

TEST(Report, SaysWhatCannotBeHad) {
  std::vector<PlotValue> one_rep = trial({{1}, {2}}, {"A", "B"});
  EXPECT_THAT(report_of(one_rep), HasSubstr("Too few plots to tell chance from difference"));
  for (PlotValue& value : one_rep) value.rep = "";
  EXPECT_THAT(report_of(one_rep), HasSubstr("Published means without single plots"));
  for (PlotValue& value : one_rep) value.value.reset();
  EXPECT_THAT(report_of(one_rep), HasSubstr("No plot has a complete value"));
  EXPECT_THAT(report_of(trial({{1, 2, 3}, {2, 3, 4}}, {"A", "B"})),
              HasSubstr("without any chance variation"));
  std::vector<PlotValue> apart = trial({{1, 2}, {3, 5}}, {"A", "B"});
  for (PlotValue& value : apart) {
    if (value.entry == "B") value.rep = value.rep.text() + "b";
  }
  EXPECT_THAT(report_of(apart), HasSubstr("no common means can be had"));
  std::vector<PlotValue> gap = clear_trial();
  gap.front().value.reset();
  EXPECT_THAT(report_of(gap), HasSubstr("1 of 9 plots is missing."));
}

TEST(Report, SaysWhyPercentsCannotBeHadOrTellLittle) {
  const std::string below = report_of(trial({{-3, -5, -4}, {-1, -2, -2}}, {"A", "B"}));
  EXPECT_THAT(below, HasSubstr("The mean is not above zero, so there are no percents of it"));
  EXPECT_THAT(below, HasSubstr("<b>T</b>: the mean of its entries is not above zero in cutting 1"));
  const std::string across = report_of(trial({{-1, -2, -1}, {6, 7, 9}}, {"A", "B"}));
  EXPECT_THAT(across, HasSubstr("Some means are below zero: percents of the mean tell little"));
  EXPECT_THAT(report_of(clear_trial()), Not(HasSubstr("zero")));
}

TEST(Report, ScoresHaveNoPercents) {
  ReportText text;
  text.cuttings = false;
  text.percents = false;
  const std::string html = report_of(clear_trial(), text);
  EXPECT_THAT(html, Not(HasSubstr("% of mean")));
  EXPECT_THAT(html, HasSubstr("no percent of a mean is told of them"));
  EXPECT_THAT(press_of(analyse(clear_trial(), {}), text), Not(HasSubstr("% of mean")));
  EXPECT_THAT(report_of(clear_trial()), HasSubstr("% of mean"));
}

TEST(Report, ATestThatFallsOutOfTheLongTermSummaryIsListedWithTheReason) {
  std::vector<PlotValue> values = clear_trial();
  const std::size_t whole = values.size();
  for (std::size_t i = 0; i < whole; ++i) {  // no plot has both cuttings
    PlotValue first = values[i], second = values[i];
    first.test = second.test = "Lost";
    second.cutting = "2";
    (i % 2 == 0 ? first : second).value.reset();
    values.push_back(first);
    values.push_back(second);
  }
  const std::string html = report_of(values);
  const std::string section = html.substr(html.find("id=\"long-term\""));
  EXPECT_THAT(section, HasSubstr("Tests that count in no average:"));
  EXPECT_THAT(section, HasSubstr("<b>Lost</b>: no plot has a complete value in 2024 total"));
  EXPECT_THAT(report_of(clear_trial()), Not(HasSubstr("count in no average")));
}

TEST(Report, SeveralYearsHaveASummaryTableFirst) {
  std::vector<PlotValue> values = clear_trial();
  for (const std::string cutting : {"1", "2"}) {
    for (PlotValue value : clear_trial()) {
      value.year = 2025;
      value.cutting = cutting;
      values.push_back(value);
    }
  }
  const std::string html = report_of(values);
  EXPECT_THAT(html, HasSubstr("<caption>All years</caption>"));
  EXPECT_THAT(html, HasSubstr("<caption>2025</caption>"));
  EXPECT_THAT(html, Not(HasSubstr("<caption>2024</caption>")));
}

TEST(Report, RatingsAreShownByTheirPassesAndWithoutSums) {
  std::vector<PlotValue> values = clear_trial();
  for (PlotValue value : clear_trial()) {
    value.year = 2025;
    values.push_back(value);
  }
  for (PlotValue& value : values) value.cutting = "spring-stand";
  AnalysisOptions options;
  options.totals = false;
  const std::vector<Analysis> analyses = analyse(values, options);
  ReportText text;
  text.cuttings = false;
  const std::string html = report_html(analyses, long_term(analyses, 2), text);
  EXPECT_THAT(html, HasSubstr(">spring-stand</th>"));
  EXPECT_THAT(html, HasSubstr("<caption>2024</caption>"));
  EXPECT_THAT(html, HasSubstr("<caption>2025</caption>"));
  EXPECT_THAT(html, Not(HasSubstr("All years")));
}

TEST(Report, DemonstrationIsSaidOnTop) {
  ReportText text;
  EXPECT_THAT(report_of(clear_trial(), text), Not(HasSubstr("Demonstration")));
  text.demonstration = true;
  EXPECT_THAT(report_of(clear_trial(), text),
              HasSubstr("Demonstration: these values are made up."));
}

TEST(Report, NoTestsStillMakeAWholePage) {
  const std::string html = report_of({});
  EXPECT_TRUE(html.starts_with("<!DOCTYPE html>"));
  EXPECT_TRUE(html.ends_with("</html>\n"));
}

}  // namespace
}  // namespace ligule::results
