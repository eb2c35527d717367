#include "sync/results/report_table.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

namespace ligule::results {
namespace {

using ::testing::ElementsAre;
using ::testing::HasSubstr;
using ::testing::Not;

// Cedar best, then Birch, Amber, Dogwood; one rep a column of the table.
std::vector<Analysis> four_entries(double dogwood = 8) {
  std::vector<PlotValue> values;
  const std::vector<std::pair<std::string, double>> entries{
      {"Amber", 10}, {"Birch", 20}, {"Cedar", 22}, {"Dogwood", dogwood}};
  for (int rep = 1; rep <= 3; ++rep) {
    for (const auto& [entry, mean] : entries) {
      const double chance = 0.3 * ((7 * rep + static_cast<int>(mean)) % 3 - 1);
      values.push_back(
          {"T", "Hill", 2025, "1", std::to_string(rep), entry, "", mean + rep * 0.5 + chance});
    }
  }
  return analyse(values, {});
}

std::vector<EntryStanding> standings() {
  return {{"T", "Amber", 3, true, Market::kExperimental},
          {"T", "Birch", 2, true, Market::kOnSale},
          {"T", "Cedar", 1, false, Market::kExperimental},
          {"T", "Dogwood", 0, false, Market::kNotStated}};
}

std::string table_of(const TableStyle& style, const std::vector<Analysis>& analyses) {
  return entry_table({{.analysis = &analyses.front(), .heading = "Cutting 1"}}, "2025", style);
}

TEST(EntryTable, StandsByRankOrAsThePlanHasIt) {
  const std::vector<Analysis> analyses = four_entries();
  const Columns columns{{.analysis = &analyses.front()}};
  EXPECT_THAT(ordered_entries(columns, {}), ElementsAre("Cedar", "Birch", "Amber", "Dogwood"));
  std::vector<EntryStanding> plan = standings();
  for (EntryStanding& standing : plan) standing.market = Market::kNotStated;
  TableStyle style{.order = EntryOrder::kPlan, .standings = plan};
  EXPECT_THAT(ordered_entries(columns, style), ElementsAre("Dogwood", "Cedar", "Birch", "Amber"));
}

TEST(EntryTable, EntriesOnSaleStandAboveExperimentalOnes) {
  const std::vector<Analysis> analyses = four_entries();
  const std::vector<EntryStanding> all = standings();
  const TableStyle style{.standings = all};
  EXPECT_THAT(ordered_entries({{.analysis = &analyses.front()}}, style),
              ElementsAre("Birch", "Dogwood", "Cedar", "Amber"));
  const std::string html = table_of(style, analyses);
  EXPECT_LT(html.find("On sale</th>"), html.find("Birch"));
  EXPECT_LT(html.find("Birch"), html.find("On sale or not: not stated</th>"));
  EXPECT_LT(html.find("Dogwood"), html.find("Experimental, not on sale</th>"));
  EXPECT_THAT(table_of({}, analyses), Not(HasSubstr("rowgroup")));
}

// (20 + 10) / 2 of the checks, by hand; reps and chance cancel but for what is printed here.
TEST(EntryTable, ChecksAreNamedAndAreHundred) {
  const std::vector<Analysis> analyses = four_entries();
  const std::vector<EntryStanding> all = standings();
  const std::string html = table_of({.standings = all}, analyses);
  EXPECT_THAT(html, HasSubstr("Birch <small>check</small>"));
  EXPECT_THAT(html, Not(HasSubstr("Cedar <small>")));
  EXPECT_THAT(html, HasSubstr("% of checks"));
  const double birch = *find_entry(analyses.front(), "Birch")->mean;
  const double amber = *find_entry(analyses.front(), "Amber")->mean;
  const double cedar = *find_entry(analyses.front(), "Cedar")->mean;
  const long percent = std::lround(100.0 * cedar / ((birch + amber) / 2.0));
  EXPECT_THAT(html.substr(html.find("Cedar")),
              HasSubstr("<td>" + std::to_string(percent) + "</td></tr>"));
  EXPECT_THAT(table_of({}, analyses), Not(HasSubstr("of checks")));
}

TEST(EntryTable, ChecksThatComeToNothingAreNoHundred) {
  std::vector<EntryStanding> all = standings();
  for (EntryStanding& standing : all) standing.check = standing.entry == "Dogwood";
  std::vector<PlotValue> values;
  for (const char* const rep : {"1", "2", "3"}) {
    values.push_back({"T", "", 2025, "1", rep, "Dogwood", "", 0.0});
    values.push_back(
        {"T", "", 2025, "1", rep, "Cedar", "", 5.0 + static_cast<double>(values.size())});
  }
  EXPECT_THAT(table_of({.standings = all}, analyse(values, {})), Not(HasSubstr("of checks")));
}

TEST(EntryTable, AnLsdIsWithheldOnlyWhereEntriesAreAlike) {
  const std::vector<Analysis> differ = four_entries();
  const TableStyle withhold{.withhold_lsd = true};
  EXPECT_THAT(table_of(withhold, differ), Not(HasSubstr("<td>ns")));
  std::vector<PlotValue> values;
  const double noise[3][3] = {{10, 14, 12}, {13, 11, 12}, {12, 11, 14}};
  for (int entry = 0; entry < 3; ++entry)
    for (int rep = 0; rep < 3; ++rep)
      values.push_back({"T", "", 2025, "1", std::to_string(rep),
                        std::string(1, static_cast<char>('A' + entry)), "", noise[entry][rep]});
  const std::vector<Analysis> alike = analyse(values, {});
  EXPECT_THAT(table_of(withhold, alike), HasSubstr("<td>ns</td>"));
  EXPECT_THAT(table_of({}, alike), HasSubstr("<td>ns ("));
}

TEST(EntryTable, TheLevelIsNamedAndDecides) {
  std::vector<Analysis> analyses = four_entries();
  analyses.front().p = 0.07;
  EXPECT_THAT(table_of({.alpha = 0.05}, analyses), HasSubstr("LSD 0.05"));
  EXPECT_THAT(table_of({.alpha = 0.05}, analyses), Not(HasSubstr("class=\"top\"")));
  EXPECT_THAT(table_of({.alpha = 0.10}, analyses), HasSubstr("LSD 0.10"));
  EXPECT_THAT(table_of({.alpha = 0.10}, analyses), HasSubstr("class=\"top\""));
}

// Day 135 of 2025 is 15 May, of a leap year 14 May.
TEST(EntryTable, DaysOfTheYearAreDates) {
  std::vector<PlotValue> values;
  for (const char* const rep : {"1", "2"}) {
    values.push_back({"T", "", 2025, "heads", rep, "Amber", "", 135});
    values.push_back({"T", "", 2025, "heads", rep, "Birch", "", 140.4});
  }
  std::vector<Analysis> analyses = analyse(values, {.best = Best::kNone, .totals = false});
  const auto html = [&] {
    return entry_table({{.analysis = &analyses.front(), .heading = "Heading", .is_date = true}},
                       "2025", {.percents = false});
  };
  EXPECT_THAT(html(), HasSubstr("<td>15 May</td>"));
  EXPECT_THAT(html(), HasSubstr("<td>20 May</td>"));
  EXPECT_THAT(html(), Not(HasSubstr("% of mean")));
  analyses.front().year = 2024;
  EXPECT_THAT(html(), HasSubstr("<td>14 May</td>"));
}

// A score's zero is where whoever made the scale put it: the same plots scored from 0 to 8 in place
// of 1 to 9 would have another CV. Gomez & Gomez (1984) give the CV for measurements.
TEST(EntryTable, ACvIsOfWhatHasANaturalZero) {
  const std::vector<Analysis> analyses = four_entries();
  const auto html = [&](bool ratio) {
    return entry_table({{.analysis = &analyses.front(), .heading = "Disease", .is_ratio = ratio}},
                       "2025", {.percents = false});
  };
  ASSERT_TRUE(analyses.front().cv_percent);
  EXPECT_THAT(html(true), HasSubstr("CV %</th><td>" + rounded(*analyses.front().cv_percent, 1)));
  EXPECT_THAT(html(false), HasSubstr("CV %</th><td>–</td>"));
  EXPECT_THAT(html(false), HasSubstr("LSD 0.05</th><td>" + rounded(*analyses.front().lsd, 1)));
}

TEST(EntryTable, ASecondLineOfAHeadingIsText) {
  const std::vector<Analysis> analyses = four_entries();
  const std::string html = entry_table(
      {{.analysis = &analyses.front(), .heading = "Stand", .below = "2 Apr, <%>"}}, "2025", {});
  EXPECT_THAT(html, HasSubstr("Stand<br><small>2 Apr, &lt;%&gt;</small>"));
}

}  // namespace
}  // namespace ligule::results
