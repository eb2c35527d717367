// Plots in rows and columns against R's lm and the textbook formulas (data/rows_columns.R): Latin
// squares, whole and with plots missing, entries adjusted for rows and columns, the test of a trend
// and the adjustment by neighbours. Tolerance 1e-8 of the figure or, for a sum of squares or a
// residual, of the error it stands beside; with an offset of 10,000 R's own have lost that many
// digits.
#include <gtest/gtest.h>

#include <cmath>
#include <fstream>
#include <map>
#include <nlohmann/json.hpp>

#include "sync/results/design_gain.h"
#include "sync/results/field_trend.h"
#include "sync/statistics/crossed_fit.h"
#include "sync/statistics/fit.h"

namespace ligule::published {
namespace {

using nlohmann::json;
using results::Design;
using results::FieldTrend;
using results::PlotValue;
using statistics::Fit;

constexpr double kTight = 1e-8;

json sets() {
  std::ifstream file(std::string(LIGULE_TEST_DATA) + "/published/data/rows_columns.expected.json");
  json all = json::parse(file)["sets"];
  EXPECT_EQ(all.size(), 5U);
  return all;
}

json set_named(const std::string& name) {
  for (json& set : sets()) {
    if (set["name"] == name) return set;
  }
  ADD_FAILURE() << name;
  return {};
}

// In the order of the set; entries are named so that byte order is that of R's levels.
std::vector<PlotValue> plots_of(const json& set) {
  std::vector<PlotValue> values;
  for (const json& plot : set["plots"]) {
    const int entry = plot["entry"].get<int>();
    PlotValue value;
    value.test = "T";
    value.year = 2026;
    value.cutting = "1";
    value.rep = std::to_string(plot["block"].get<int>());
    value.entry = std::string(1, static_cast<char>('A' + entry));
    value.place = {plot["row"].get<int>(), plot["column"].get<int>()};
    value.plot = std::to_string(100 * value.place->row + value.place->column);
    value.value = plot["value"].get<double>();
    values.push_back(std::move(value));
  }
  return values;
}

void expect_near(const std::optional<double>& got, const json& wanted, const char* what) {
  ASSERT_TRUE(got) << what;
  EXPECT_NEAR(*got, wanted.get<double>(), kTight * std::fabs(wanted.get<double>())) << what;
}

// A line of an analysis of variance beside an error mean square.
void expect_line(const statistics::AnovaRow& got, const json& wanted, double mse) {
  EXPECT_EQ(got.df, wanted["df"].get<double>());
  EXPECT_NEAR(got.sum_of_squares, wanted["ss"].get<double>(), kTight * mse);
  expect_near(got.f, wanted["f"], "F");
  expect_near(got.p, wanted["p"], "p");
}

statistics::CrossedFit placed_fit(const json& set) {
  std::vector<statistics::PlacedObservation> plots;
  for (const json& plot : set["plots"])
    plots.push_back({plot["entry"].get<std::size_t>(), plot["row"].get<std::size_t>(),
                     plot["column"].get<std::size_t>(), plot["value"].get<double>()});
  return statistics::fit_in_rows_and_columns(plots, set["entries"].get<std::size_t>());
}

FieldTrend trend_of(const json& set, Design design) {
  results::AnalysisOptions options;
  options.design = design;
  std::vector<FieldTrend> trends = results::field_trends(plots_of(set), options);
  EXPECT_EQ(trends.size(), 1U);
  return trends.front();
}

TEST(RowsColumnsInR, EntriesAdjustedForRowsAndColumns) {
  for (const json& set : sets()) {
    SCOPED_TRACE(set["name"]);
    const json& wanted = set["placed"];
    const statistics::CrossedFit got = placed_fit(set);
    const double mse = wanted["mse"].get<double>();
    EXPECT_EQ(got.fit.df_error, wanted["df_error"].get<double>());
    expect_near(got.fit.error_mean_square, wanted["mse"], "MSE");
    EXPECT_NEAR(got.terms[0].in_order.sum_of_squares, wanted["row_ss"].get<double>(), kTight * mse);
    EXPECT_NEAR(got.terms[1].in_order.sum_of_squares, wanted["column_ss"].get<double>(),
                kTight * mse);
    expect_line(got.fit.treatment, wanted["entry"], mse);
    expect_line(got.terms[0].adjusted, wanted["row"], mse);
    expect_line(got.terms[1].adjusted, wanted["column"], mse);
    for (std::size_t i = 0; i < got.residuals.size(); ++i)
      EXPECT_NEAR(got.residuals[i], wanted["residuals"][i].get<double>(), kTight * std::sqrt(mse));
    std::size_t pair = 0;
    for (std::size_t i = 0; i < got.fit.treatments.size(); ++i) {
      expect_near(got.fit.treatments[i].mean, wanted["mean"][i], "mean");
      expect_near(got.fit.treatments[i].standard_error, wanted["se"][i], "SE");
      for (std::size_t k = i + 1; k < got.fit.treatments.size(); ++k)
        expect_near(statistics::difference_error(got.fit, i, k), wanted["sed"][pair++], "SED");
    }
    EXPECT_EQ(pair, wanted["sed"].size());
  }
}

// The whole way of plot values through an analysis of that design.
TEST(RowsColumnsInR, ALatinSquareIsAnalysedSo) {
  for (const char* name : {"maize", "square_with_gaps"}) {
    SCOPED_TRACE(name);
    const json set = set_named(name);
    const json& wanted = set["placed"];
    results::AnalysisOptions options;
    options.design = Design::kLatinSquare;
    const auto got = results::analyse(plots_of(set), options);
    ASSERT_EQ(got.size(), 1U);
    EXPECT_EQ(got[0].df_error, wanted["df_error"].get<double>());
    EXPECT_EQ(got[0].reps, set["entries"].get<std::size_t>());
    expect_near(got[0].mse, wanted["mse"], "MSE");
    expect_near(got[0].f, wanted["entry"]["f"], "F");
    expect_near(got[0].p, wanted["entry"]["p"], "p");
    for (std::size_t i = 0; i < got[0].means.size(); ++i) {
      expect_near(got[0].means[i].mean, wanted["mean"][i], "mean");
      expect_near(got[0].means[i].standard_error, wanted["se"][i], "SE");
    }
  }
}

// Gomez & Gomez (1984), the Latin square of four maize hybrids in their chapter 2, figures and
// plots from memory; R's table of these plots is that of the book to the last digit it prints.
TEST(Maize, MeetsTheBooksTableAndEfficiencies) {
  const json set = set_named("maize");
  const statistics::CrossedFit got = placed_fit(set);
  EXPECT_NEAR(got.terms[0].in_order.sum_of_squares, 0.030154, 1e-6);
  EXPECT_NEAR(got.terms[1].in_order.sum_of_squares, 0.827342, 1e-6);
  EXPECT_NEAR(got.fit.treatment.sum_of_squares, 0.426842, 1e-6);
  EXPECT_NEAR(got.fit.error.sum_of_squares, 0.129585, 1e-6);
  EXPECT_NEAR(*got.fit.treatment.f, 6.59, 0.005);
  EXPECT_NEAR(*got.fit.cv_percent, 11.0, 0.05);

  results::AnalysisOptions options;
  options.design = Design::kLatinSquare;
  const auto gains = results::design_gains(plots_of(set), options);
  ASSERT_EQ(gains.size(), 1U);
  EXPECT_NEAR(gains[0].over_none->plain, 3.25, 0.005);
  EXPECT_NEAR(gains[0].over_columns->plain, 0.87, 0.005);
  EXPECT_NEAR(gains[0].over_rows->plain, 3.94, 0.005);
  EXPECT_NEAR(gains[0].over_rows->corrected / gains[0].over_rows->plain, 0.93, 0.005);
}

// The rice seed rates of Gomez & Gomez (1984) p. 26 (data/s2_seedrate.csv): 1.63, with the
// correction 0.982 1.60, from memory; by hand of the printed mean squares
// (3 x 648 120.278 + 20 x 110 558.411) / (23 x 110 558.411) = 1.634206.
TEST(SeedRates, MeetTheBooksEfficiency) {
  const std::vector<std::vector<double>> rates = {
      {5113, 5398, 5307, 4678}, {5346, 5952, 4719, 4264}, {5272, 5713, 5483, 4749},
      {5164, 4831, 4986, 4410}, {4804, 4848, 4432, 4748}, {5254, 4542, 4919, 4098}};
  std::vector<PlotValue> values;
  for (std::size_t rate = 0; rate < rates.size(); ++rate) {
    for (std::size_t rep = 0; rep < 4; ++rep)
      values.push_back(
          {"T", "", 1984, "1", std::to_string(rep), std::to_string(rate), "", rates[rate][rep]});
  }
  const auto gains = results::design_gains(values, {});
  ASSERT_EQ(gains.size(), 1U);
  EXPECT_NEAR(gains[0].over_none->plain, 1.634206, 1e-6);
  EXPECT_NEAR(gains[0].over_none->corrected, 1.60, 0.006);
  EXPECT_FALSE(gains[0].over_rows);
}

TEST(RowsColumnsInR, TrendsBesideEntriesAndBlocks) {
  int seen = 0;
  for (const json& set : sets()) {
    if (!set.contains("rows")) continue;
    ++seen;
    SCOPED_TRACE(set["name"]);
    const FieldTrend got = trend_of(set, Design::kRandomisedBlocks);
    EXPECT_EQ(got.df_error, set["plain"]["df_error"].get<double>());
    expect_near(got.mse, set["plain"]["mse"], "MSE");
    EXPECT_EQ(got.df_trend, set["df_both"].get<double>());
    for (const auto& [test, key] :
         {std::pair(got.by_row, "rows"), std::pair(got.by_column, "columns")}) {
      EXPECT_EQ(test.df, set[key]["df"].get<double>());
      expect_near(test.f, set[key]["f"], key);
      expect_near(test.p, set[key]["p"], key);
    }
  }
  EXPECT_EQ(seen, 3);
}

TEST(RowsColumnsInR, ResidualsAndAdjustedMeans) {
  for (const json& set : sets()) {
    if (!set.contains("rows")) continue;
    SCOPED_TRACE(set["name"]);
    const FieldTrend got = trend_of(set, Design::kRandomisedBlocks);
    const double sd = std::sqrt(set["plain"]["mse"].get<double>());
    std::map<results::PlotPlace, double> residuals;
    for (std::size_t i = 0; i < set["plots"].size(); ++i) {
      const json& plot = set["plots"][i];
      residuals[{plot["row"].get<int>(), plot["column"].get<int>()}] =
          set["plain"]["residuals"][i].get<double>();
    }
    ASSERT_EQ(got.residuals.size(), residuals.size());
    for (const results::PlacedResidual& r : got.residuals)
      EXPECT_NEAR(r.residual, residuals.at(r.place), kTight * sd);

    const json& placed = set["placed"];
    const json& near = set["neighbours"];
    expect_near(got.rows_columns.mse, placed["mse"], "rows and columns");
    EXPECT_EQ(got.rows_columns.df_error, placed["df_error"].get<double>());
    expect_near(got.neighbours.mse, near["mse"], "neighbours");
    EXPECT_EQ(got.neighbours.df_error, near["df_error"].get<double>());
    // A slope may be near 0, where a part of it says nothing.
    EXPECT_NEAR(got.neighbour_slope.value_or(99.0), near["slope"].get<double>(), kTight);
    for (std::size_t i = 0; i < got.means.size(); ++i) {
      expect_near(got.means[i].mean, set["plain"]["mean"][i], "plain");
      expect_near(got.means[i].rows_columns, placed["mean"][i], "rows and columns");
      expect_near(got.means[i].rows_columns_error, placed["se"][i], "its error");
      expect_near(got.means[i].neighbours, near["mean"][i], "neighbours");
      expect_near(got.means[i].neighbours_error, near["se"][i], "its error");
    }
  }
}

}  // namespace
}  // namespace ligule::published
