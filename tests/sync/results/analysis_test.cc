// Which analyses there are, which plots have a total, and what is empty. The figures themselves are
// checked in tests/published.
#include "sync/results/analysis.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <random>

namespace ligule::results {
namespace {

using std::nullopt;

PlotValue plot(std::optional<int> year, const std::string& cutting, const std::string& rep,
               const std::string& entry, std::optional<double> value) {
  return {"T", "Site", year, cutting, rep, entry, "", value};
}

std::vector<std::string> names(const std::vector<Analysis>& analyses) {
  std::vector<std::string> out;
  for (const Analysis& a : analyses) {
    out.push_back(a.test + "/" + year_label(a) + "/" + cutting_label(a));
  }
  return out;
}

const Analysis& find(const std::vector<Analysis>& analyses, const std::string& year,
                     const std::string& cutting) {
  const auto found = std::ranges::find_if(analyses, [&](const Analysis& a) {
    return year_label(a) == year && cutting_label(a) == cutting;
  });
  EXPECT_NE(found, analyses.end()) << year << " " << cutting;
  return *found;
}

const EntryMean& entry_of(const Analysis& analysis, const std::string& entry) {
  const auto found = std::ranges::find(analysis.means, entry, &EntryMean::entry);
  EXPECT_NE(found, analysis.means.end()) << entry;
  return *found;
}

// Two entries in two reps, three cuttings in 2023 and one in 2024.
std::vector<PlotValue> season() {
  std::vector<PlotValue> values;
  double step = 0.0;
  for (const std::string rep : {"1", "2"}) {
    for (const std::string entry : {"A", "B"}) {
      for (const std::string cutting : {"1", "2", "10"}) {
        values.push_back(plot(2023, cutting, rep, entry, 1.0 + step));
        step += 0.25;
      }
      values.push_back(plot(2024, "1", rep, entry, 5.0 + step * step));
    }
  }
  return values;
}

TEST(Analyse, EachCuttingThenTheYearsTotalThenAllYears) {
  EXPECT_EQ(names(analyse(season(), {})),
            (std::vector<std::string>{"T/2023/1", "T/2023/2", "T/2023/10", "T/2023/total",
                                      "T/2024/1", "T/all/total"}));
}

TEST(Analyse, TestsComeInByteOrderAndUnknownYearsFirst) {
  std::vector<PlotValue> values = {plot(2023, "1", "1", "A", 1.0), plot(nullopt, "1", "1", "A", 2)};
  values.push_back({"B", "", 2023, "1", "1", "A", "", 1.0});
  values.push_back({"a", "", 2023, "1", "1", "A", "", 1.0});
  EXPECT_EQ(names(analyse(values, {})),
            (std::vector<std::string>{"B/2023/1", "T//1", "T/2023/1", "T/all/total", "a/2023/1"}));
}

TEST(Analyse, OrderOfValuesChangesNothing) {
  std::vector<PlotValue> values = season();
  const std::vector<Analysis> first = analyse(values, {});
  std::mt19937 shuffle(3);
  for (int round = 0; round < 10; ++round) {
    std::ranges::shuffle(values, shuffle);
    const std::vector<Analysis> again = analyse(values, {});
    ASSERT_EQ(names(again), names(first));
    for (std::size_t i = 0; i < first.size(); ++i) {
      EXPECT_EQ(again[i].mse, first[i].mse);
      EXPECT_EQ(again[i].means.front().mean, first[i].means.front().mean);
    }
  }
}

TEST(Analyse, APlotThatLacksACuttingHasNoTotal) {
  std::vector<PlotValue> values = season();
  values[0].value.reset();  // A, rep 1, first cutting of 2023
  const std::vector<Analysis> analyses = analyse(values, {});
  EXPECT_EQ(find(analyses, "2023", "1").values, 3U);
  EXPECT_EQ(find(analyses, "2023", "total").values, 3U);
  EXPECT_EQ(find(analyses, "all", "total").values, 3U);
  EXPECT_EQ(find(analyses, "2024", "1").values, 4U);
}

TEST(Analyse, ARowThatIsNotThereCountsLikeAnEmptyOne) {
  std::vector<PlotValue> values = season();
  values.erase(values.begin());
  const std::vector<Analysis> analyses = analyse(values, {});
  EXPECT_EQ(find(analyses, "2023", "total").values, 3U);
  EXPECT_EQ(find(analyses, "all", "total").values, 3U);
}

TEST(Analyse, AnEntryNotScheduledForACuttingKeepsItsTotal) {
  std::vector<PlotValue> values = season();
  std::erase_if(values, [](const PlotValue& v) {
    return v.entry == "B" && v.year == 2023 && v.cutting == "10";
  });
  const std::vector<Analysis> analyses = analyse(values, {});
  EXPECT_EQ(find(analyses, "2023", "10").means.size(), 1U);
  EXPECT_EQ(find(analyses, "2023", "total").values, 4U);
  // B in rep 1: 1.75 + 2.00; in rep 2: 3.25 + 3.50.
  EXPECT_DOUBLE_EQ(*entry_of(find(analyses, "2023", "total"), "B").mean, (3.75 + 6.75) / 2.0);
}

TEST(Analyse, AnEmptyRowInOneRepMeansTheEntryWasScheduled) {
  std::vector<PlotValue> values = season();
  for (PlotValue& v : values) {
    if (v.entry == "B" && v.year == 2023 && v.cutting == "10") v.value.reset();
  }
  const std::vector<Analysis> analyses = analyse(values, {});
  EXPECT_FALSE(entry_of(find(analyses, "2023", "total"), "B").mean);
  EXPECT_EQ(find(analyses, "2023", "total").values, 2U);
}

TEST(Analyse, AnEntrySownOnlyInOneYearHasItsTotalOverAllYears) {
  std::vector<PlotValue> values = season();
  std::erase_if(values, [](const PlotValue& v) { return v.entry == "B" && v.year == 2024; });
  const std::vector<Analysis> analyses = analyse(values, {});
  EXPECT_EQ(find(analyses, "all", "total").values, 4U);
}

TEST(Analyse, RepeatedPlotsOfAnEntryKeepTheirOwnTotals) {
  std::vector<PlotValue> values;
  for (const std::string cutting : {"1", "2"}) {
    for (const std::string number : {"101", "107"}) {
      PlotValue v = plot(2023, cutting, "1", "A", number == "101" ? 1.0 : 3.0);
      v.plot = number;
      values.push_back(v);
    }
  }
  const Analysis total = analyse(values, {}).back();
  EXPECT_EQ(total.values, 2U);
  EXPECT_DOUBLE_EQ(*entry_of(total, "A").mean, 4.0);
}

// A check that stands twice in each rep: the plot that lacks a cutting has no total, the other one
// has, and a cutting that neither has a row of was not scheduled for either.
TEST(Analyse, ARepeatedPlotThatLacksACuttingIsMissingAlone) {
  std::vector<PlotValue> values;
  for (const std::string cutting : {"1", "2", "3"}) {
    for (const std::string number : {"101", "107"}) {
      if (cutting == "3" || (cutting == "2" && number == "107")) continue;
      PlotValue v = plot(2023, cutting, "1", "Check", number == "101" ? 1.0 : 3.0);
      v.plot = number;
      values.push_back(v);
    }
    values.push_back(plot(2023, cutting, "1", "A", 5.0));
  }
  const std::vector<Analysis> analyses = analyse(values, {});
  EXPECT_EQ(entry_of(find(analyses, "2023", "1"), "Check").plots, 2U);
  EXPECT_EQ(find(analyses, "2023", "3").means.size(), 1U);
  const Analysis& total = find(analyses, "2023", "total");
  EXPECT_EQ(total.values, 2U);
  EXPECT_EQ(entry_of(total, "Check").plots, 1U);
  EXPECT_DOUBLE_EQ(*entry_of(total, "Check").mean, 2.0);
  EXPECT_DOUBLE_EQ(*entry_of(total, "A").mean, 15.0);
}

TEST(Analyse, EmptyRepsArePublishedMeansWithoutErrorTerms) {
  const std::vector<PlotValue> values = {plot(2023, "1", "", "A", 90),
                                         plot(2023, "1", "", "B", 110)};
  const Analysis analysis = analyse(values, {}).front();
  EXPECT_EQ(analysis.basis, Basis::kPublishedMeans);
  EXPECT_EQ(*entry_of(analysis, "A").percent_of_mean, 90.0);
  EXPECT_FALSE(analysis.reps);
  EXPECT_FALSE(analysis.df_error);
  EXPECT_FALSE(analysis.mse);
  EXPECT_FALSE(entry_of(analysis, "B").standard_error);
  EXPECT_FALSE(entry_of(analysis, "B").in_top_group);
}

TEST(Analyse, PublishedMeansOfSeveralCuttingsAddUpToATotal) {
  const std::vector<PlotValue> values = {plot(2023, "1", "", "A", 1), plot(2023, "2", "", "A", 2),
                                         plot(2023, "1", "", "B", 3), plot(2023, "2", "", "B", 4)};
  const Analysis total = analyse(values, {}).back();
  EXPECT_EQ(total.basis, Basis::kPublishedMeans);
  EXPECT_DOUBLE_EQ(*entry_of(total, "B").mean, 7.0);
}

TEST(Analyse, WithoutAnyValueEverythingIsEmpty) {
  const std::vector<PlotValue> values = {plot(2023, "1", "1", "A", nullopt)};
  const Analysis analysis = analyse(values, {}).front();
  EXPECT_EQ(analysis.values, 0U);
  EXPECT_FALSE(analysis.mean);
  EXPECT_FALSE(analysis.df_error);
  EXPECT_EQ(analysis.means.size(), 1U);
  EXPECT_FALSE(analysis.means.front().rank);
}

TEST(Analyse, NoPercentOfAMeanThatIsZeroOrNegative) {
  const Analysis zero =
      analyse(std::vector<PlotValue>{plot(1, "", "", "A", 0.1), plot(1, "", "", "B", -0.1)}, {})
          .front();
  EXPECT_FALSE(zero.means[0].percent_of_mean);
  const Analysis negative =
      analyse(std::vector<PlotValue>{plot(1, "", "", "A", -3.0), plot(1, "", "", "B", 1.0)}, {})
          .front();
  EXPECT_FALSE(negative.means[1].percent_of_mean);
}

TEST(Analyse, TiesShareARankAndTheNextOneIsSkipped) {
  std::vector<PlotValue> values;
  const std::vector<std::vector<double>> table = {{10, 14, 12}, {12, 10, 14}, {9, 11, 10}};
  const std::vector<std::string> entries = {"zeta", "alpha", "mid"};
  for (std::size_t i = 0; i < 3; ++i) {
    for (std::size_t j = 0; j < 3; ++j) {
      values.push_back(plot(2001, "1", std::to_string(j), entries[i], table[i][j]));
    }
  }
  const Analysis analysis = analyse(values, {}).front();
  EXPECT_EQ(entry_of(analysis, "zeta").rank, 1U);
  EXPECT_EQ(entry_of(analysis, "alpha").rank, 1U);
  EXPECT_EQ(entry_of(analysis, "mid").rank, 3U);
}

// Proves: the mark uses each pair's own LSD, not the average in the table's foot. Made up: C stands
// on a single plot, so that its distance to A passes the average LSD but not its own.
TEST(Analyse, TheMarkUsesEachPairsOwnDifference) {
  std::vector<PlotValue> values;
  const auto add = [&values](const std::string& entry, std::vector<std::optional<double>> reps) {
    for (std::size_t j = 0; j < reps.size(); ++j) {
      values.push_back(plot(2001, "1", std::to_string(j), entry, reps[j]));
    }
  };
  add("A", {20.0, 21.0, 20.4, 21.2});
  add("B", {18.0, 18.6, 19.0, 18.2});
  add("C", {18.35, nullopt, nullopt, nullopt});
  const Analysis analysis = analyse(values, {}).front();
  const double best = *entry_of(analysis, "A").mean;
  const double below_b = best - *entry_of(analysis, "B").mean;
  const double below_c = best - *entry_of(analysis, "C").mean;
  ASSERT_GT(below_c, *analysis.lsd);
  EXPECT_TRUE(*entry_of(analysis, "C").in_top_group) << below_c << " " << *analysis.lsd;
  EXPECT_FALSE(*entry_of(analysis, "B").in_top_group) << below_b << " " << *analysis.lsd;
}

std::vector<PlotValue> clearly_apart() {
  std::vector<PlotValue> values;
  const std::vector<std::vector<double>> table = {{1, 2, 1}, {8, 9, 9}, {2, 1, 1}};
  const std::vector<std::string> entries = {"low", "high", "near"};
  for (std::size_t i = 0; i < 3; ++i) {
    for (std::size_t j = 0; j < 3; ++j) {
      values.push_back(plot(2001, "1", std::to_string(j), entries[i], table[i][j]));
    }
  }
  return values;
}

TEST(Analyse, WhereLowIsBestTheMarkBeginsAtTheLowest) {
  AnalysisOptions options;
  options.best = Best::kLowest;
  const Analysis analysis = analyse(clearly_apart(), options).front();
  EXPECT_EQ(entry_of(analysis, "low").rank, 1U);
  EXPECT_EQ(entry_of(analysis, "high").rank, 3U);
  EXPECT_TRUE(*entry_of(analysis, "low").in_top_group);
  EXPECT_TRUE(*entry_of(analysis, "near").in_top_group);
  EXPECT_FALSE(*entry_of(analysis, "high").in_top_group);
  EXPECT_TRUE(*entry_of(analyse(clearly_apart(), {}).front(), "high").in_top_group);
}

TEST(Analyse, WhereNoEndIsBestNothingIsMarked) {
  AnalysisOptions options;
  options.best = Best::kNone;
  const Analysis analysis = analyse(clearly_apart(), options).front();
  for (const EntryMean& entry : analysis.means) {
    EXPECT_FALSE(entry.in_top_group);
    EXPECT_TRUE(entry.rank);
  }
}

TEST(Analyse, RatingsHaveNoTotals) {
  AnalysisOptions options;
  options.totals = false;
  EXPECT_EQ(names(analyse(season(), options)),
            (std::vector<std::string>{"T/2023/1", "T/2023/2", "T/2023/10", "T/2024/1"}));
}

TEST(Analyse, CompletelyRandomisedDesignIgnoresTheReps) {
  AnalysisOptions options;
  options.design = Design::kCompletelyRandomised;
  std::vector<PlotValue> values = season();
  std::erase_if(values, [](const PlotValue& v) { return v.year != 2024; });
  EXPECT_EQ(*analyse(values, options).front().df_error, 2.0);
  EXPECT_EQ(*analyse(values, {}).front().df_error, 1.0);
  EXPECT_EQ(analyse(values, options).front().reps, 2U);
}

}  // namespace
}  // namespace ligule::results
