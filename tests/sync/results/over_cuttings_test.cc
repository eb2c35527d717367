#include "sync/results/over_cuttings.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>

namespace ligule::results {
namespace {

using ::testing::HasSubstr;

// Made up: entry B leads in the first cutting and falls back in the second.
PlotValue cut(const std::string& cutting, const std::string& rep, const std::string& entry,
              double value, int year = 2024) {
  return {"T", "", year, cutting, rep, entry, "", value};
}

std::vector<PlotValue> two_cuttings(int year = 2024) {
  return {cut("1", "1", "A", 10, year), cut("1", "1", "B", 15, year), cut("1", "2", "A", 12, year),
          cut("1", "2", "B", 16, year), cut("2", "1", "A", 9, year),  cut("2", "1", "B", 4, year),
          cut("2", "2", "A", 8, year),  cut("2", "2", "B", 4, year)};
}

std::vector<PlotValue> two_years() {
  std::vector<PlotValue> values = two_cuttings();
  std::ranges::copy(two_cuttings(2025), std::back_inserter(values));
  // Sums that are the same in both years would leave no year effect to look at.
  for (PlotValue& value : values) {
    if (value.year == 2025 && value.entry == "A") value.value = *value.value + 1;
    if (value.year == 2025 && value.rep == "2" && value.cutting == "1")
      value.value = *value.value + 2;
  }
  return values;
}

std::vector<OverCuttings> over(const std::vector<PlotValue>& values,
                               Design design = Design::kRandomisedBlocks) {
  return over_cuttings(values, {.design = design});
}

TEST(OverCuttings, OneCuttingHasNothingToBeLookedAtOver) {
  std::vector<PlotValue> values = two_cuttings();
  values.resize(4);
  EXPECT_TRUE(over(values).empty());
  EXPECT_TRUE(over({}).empty());
}

TEST(OverCuttings, RatingsHaveNoTotalsAndNothingOverThem) {
  const std::vector<PlotValue> values = two_cuttings();
  AnalysisOptions ratings;
  ratings.totals = false;
  EXPECT_TRUE(over_cuttings(values, ratings).empty());
}

// By hand, from the mean of 9.75: entries 0 apart; times 13.25 and 6.25; interaction +-2.25.
TEST(OverCuttings, ATableOfTheYearsCuttings) {
  const auto tables = over(two_cuttings());
  ASSERT_EQ(tables.size(), 1U);
  const OverCuttings& table = tables.front();
  EXPECT_EQ(table.test, "T");
  EXPECT_EQ(table.over, Over::kCuttings);
  EXPECT_EQ(table.year, 2024);
  EXPECT_THAT(table.parts, ::testing::ElementsAre("1", "2"));
  EXPECT_EQ(table.why_not, "");
  ASSERT_EQ(table.sources.size(), 8U);
  EXPECT_EQ(table.sources[0].source, "rep");
  EXPECT_EQ(table.sources[3].source, "cutting");
  EXPECT_NEAR(table.sources[3].sum_of_squares, 98.0, 1e-9);
  ASSERT_EQ(table.interaction(), &table.sources[5]);
  EXPECT_EQ(table.interaction()->source, "entry x cutting");
  EXPECT_NEAR(table.interaction()->sum_of_squares, 40.5, 1e-9);
  EXPECT_TRUE(table.interaction()->p_greenhouse_geisser);
  EXPECT_FALSE(table.sources[3].p_greenhouse_geisser);
  EXPECT_EQ(table.sources[7].source, "total");
  EXPECT_FALSE(table.sources[7].mean_square);
}

TEST(OverCuttings, YearsAreComparedByTheirTotals) {
  const std::vector<PlotValue> values = two_years();
  const auto tables = over(values);
  ASSERT_EQ(tables.size(), 3U);
  EXPECT_EQ(tables[0].year, 2024);
  EXPECT_EQ(tables[1].year, 2025);
  const OverCuttings& years = tables[2];
  EXPECT_EQ(years.over, Over::kYears);
  EXPECT_FALSE(years.year);
  EXPECT_THAT(years.parts, ::testing::ElementsAre("2024", "2025"));
  // The same as cuttings of one year with those sums.
  std::vector<PlotValue> sums;
  for (const auto& [rep, entry] : {std::pair("1", "A"), {"1", "B"}, {"2", "A"}, {"2", "B"}}) {
    for (const int year : {2024, 2025}) {
      double sum = 0.0;
      for (const PlotValue& value : values) {
        if (value.rep == rep && value.entry == entry && value.year == year) sum += *value.value;
      }
      sums.push_back(cut(std::to_string(year), rep, entry, sum));
    }
  }
  const auto as_cuttings = over(sums);
  ASSERT_EQ(as_cuttings.size(), 1U);
  for (std::size_t i = 0; i < 8; ++i) {
    EXPECT_EQ(years.sources[i].sum_of_squares, as_cuttings[0].sources[i].sum_of_squares) << i;
    EXPECT_EQ(years.sources[i].p, as_cuttings[0].sources[i].p) << i;
  }
  EXPECT_EQ(years.sources[3].source, "year");
}

TEST(OverCuttings, EachTestByItself) {
  std::vector<PlotValue> values = two_cuttings();
  for (PlotValue value : two_cuttings(2025)) {
    value.test = "S";
    values.push_back(value);
  }
  const auto tables = over(values);
  ASSERT_EQ(tables.size(), 2U);
  EXPECT_EQ(tables[0].test, "S");
  EXPECT_EQ(tables[0].year, 2025);
  EXPECT_EQ(tables[1].test, "T");
  for (std::size_t i = 0; i < 8; ++i)
    EXPECT_EQ(tables[0].sources[i].sum_of_squares, tables[1].sources[i].sum_of_squares);
}

void expect_reason(const std::vector<PlotValue>& values, const std::string& reason,
                   Design design = Design::kRandomisedBlocks) {
  const auto tables = over(values, design);
  ASSERT_EQ(tables.size(), 1U);
  EXPECT_EQ(tables[0].why_not, reason);
  EXPECT_TRUE(tables[0].sources.empty());
  EXPECT_EQ(tables[0].interaction(), nullptr);
  EXPECT_EQ(interaction_words(tables[0], 0.05), "No analysis over cuttings: " + reason + ".");
}

TEST(OverCuttings, WithoutATableThereIsAReason) {
  std::vector<PlotValue> values = two_cuttings();
  expect_reason(values, "the plots stand in no blocks", Design::kCompletelyRandomised);
  expect_reason(values, "it is made of blocks, and the plots stand in rows and columns",
                Design::kLatinSquare);
  values[6].value.reset();
  expect_reason(values, "1 of 8 values is missing");
  values.erase(values.begin() + 6);
  expect_reason(values, "1 of 8 values is missing");
  values = two_cuttings();
  std::erase_if(values, [](const auto& v) { return v.entry == "B" && v.cutting == "2"; });
  expect_reason(values, "an entry has no plot in cutting 2");
  values = two_cuttings();
  for (PlotValue& value : values) value.rep = "1";
  for (std::size_t i : {2U, 3U, 6U, 7U}) values[i].plot = "2";
  expect_reason(values, "an entry has several plots in a block");
  values = two_cuttings();
  std::erase_if(values, [](const auto& v) { return v.rep == "2"; });
  expect_reason(values, "it needs two entries and two blocks");
  for (PlotValue& value : values) value.rep = "";
  expect_reason(values, "these are published means without single plots");
  values = two_cuttings();
  for (PlotValue& value : values) value.value = *value.value * 1e200;
  expect_reason(values, "the values are too large to be squared");
}

// A plot label that stays the same over the cuttings is no second plot.
TEST(OverCuttings, NumberedPlotsAreOnePlotEach) {
  std::vector<PlotValue> values = two_cuttings();
  for (PlotValue& value : values) value.plot = value.rep.text() + value.entry.text();
  EXPECT_EQ(over(values)[0].why_not, "");
}

// As in a total by the contract: an entry that was not to be cut has its year all the same.
TEST(OverCuttings, AYearWithACuttingThatAnEntryWasNotScheduledFor) {
  std::vector<PlotValue> values = two_years();
  std::erase_if(values,
                [](const auto& v) { return v.entry == "B" && v.cutting == "2" && v.year == 2025; });
  const auto tables = over(values);
  ASSERT_EQ(tables.size(), 3U);
  EXPECT_EQ(tables[1].why_not, "an entry has no plot in cutting 2");
  EXPECT_EQ(tables[2].why_not, "");
  std::erase_if(values, [](const auto& v) { return v.entry == "B" && v.year == 2025; });
  EXPECT_EQ(over(values)[2].why_not, "an entry has no plot in year 2025");
  values = two_years();
  values.back().value.reset();
  EXPECT_EQ(over(values)[2].why_not, "1 of 8 yearly totals is missing");
}

TEST(OverCuttings, WordsFollowTheInteraction) {
  OverCuttings table = over(two_cuttings()).front();
  table.sources[5].p_greenhouse_geisser = 0.0123456;
  EXPECT_THAT(interaction_words(table, 0.05),
              AllOf(HasSubstr("change from cutting to cutting (entry x cutting, p = 0.0123"),
                    HasSubstr("Which is best may change too")));
  EXPECT_THAT(interaction_words(table, 0.01),
              HasSubstr("No sign that entries change places from cutting to cutting"));
  table.sources[5].p_greenhouse_geisser = 1e-9;
  EXPECT_THAT(interaction_words(table, 0.05), HasSubstr("p < 0.0001"));
  table.sources[5].p_greenhouse_geisser.reset();
  table.sources[5].p.reset();
  EXPECT_THAT(interaction_words(table, 0.05), HasSubstr("can't be told"));
}

TEST(OverCuttings, CsvHasALineASource) {
  const std::string text = over_cuttings_csv(over(two_years()));
  EXPECT_TRUE(
      text.starts_with("test,year,over,source,df,ss,ms,f,p,p_greenhouse_geisser\n"
                       "T,2024,cuttings,rep,1,"))
      << text;
  EXPECT_EQ(std::ranges::count(text, '\n'), 1 + 3 * 8);
  EXPECT_THAT(text, HasSubstr("\nT,all,years,entry x year,1,"));
  EXPECT_THAT(text, HasSubstr("\nT,2024,cuttings,total,7,"));
  std::vector<PlotValue> values = two_cuttings();
  values[0].value.reset();
  EXPECT_EQ(over_cuttings_csv(over(values)),
            "test,year,over,source,df,ss,ms,f,p,p_greenhouse_geisser\n");
}

}  // namespace
}  // namespace ligule::results
