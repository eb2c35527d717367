// The split plot and the split plot in time against R (lm, anova and aov with Error strata), on the
// published Alfalfa data (data/SOURCES.md). Tolerances, relative: squares, differences, CV 1e-10,
// F 1e-9, p 1e-8, quantiles 1e-12 (times what their df lost).
#include "sync/statistics/split_in_time.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>
#include <sstream>

#include "tests/published/desk_tables.h"

namespace ligule::published {
namespace {

using nlohmann::json;
using statistics::AnovaRow;
using statistics::SplitDifference;

json expected_split() {
  return json::parse(text_of(data_file("alfalfa.expected.json")))["split_plot"];
}

std::size_t place_in(std::vector<std::string>& labels, const std::string& label) {
  const auto found = std::ranges::find(labels, label);
  if (found != labels.end()) return static_cast<std::size_t>(found - labels.begin());
  labels.push_back(label);
  return labels.size() - 1;
}

statistics::TimesOfPlots alfalfa() {
  std::vector<std::string> entries, reps, cuttings;
  std::vector<statistics::TimedObservation> cells;
  std::istringstream lines(text_of(data_file("alfalfa.csv")));
  std::string line;
  std::getline(lines, line);
  while (std::getline(lines, line)) {
    std::vector<std::string> fields;
    std::istringstream cut(line);
    for (std::string field; std::getline(cut, field, ',');) fields.push_back(field);
    cells.push_back({place_in(entries, fields.at(5)), place_in(reps, fields.at(4)),
                     place_in(cuttings, fields.at(3)), std::stod(fields.at(6))});
  }
  EXPECT_EQ(cells.size(), 72U);
  return statistics::split_in_time(cells, entries.size(), reps.size(), cuttings.size()).value();
}

void expect_near(double got, const json& expected, double tolerance) {
  EXPECT_NEAR(got, expected.get<double>(), tolerance * std::fabs(expected.get<double>()));
}

void expect_source(const AnovaRow& row, const json& table, const std::string& source) {
  SCOPED_TRACE(source);
  const auto expected = std::ranges::find_if(
      table, [&](const json& one) { return one["source"].get<std::string>() == source; });
  ASSERT_NE(expected, table.end());
  EXPECT_EQ(row.df, (*expected)["df"].get<double>());
  expect_near(row.sum_of_squares, (*expected)["ss"], 1e-10);
  if (expected->contains("ms")) expect_near(*row.mean_square, (*expected)["ms"], 1e-10);
  ASSERT_EQ(row.f.has_value(), expected->contains("f"));
  if (!row.f) return;
  expect_near(*row.f, (*expected)["f"], 1e-9);
  expect_near(*row.p, (*expected)["p"], 1e-8);
}

void expect_difference(const SplitDifference& got, const json& expected) {
  expect_near(got.standard_error, expected["sed"], 1e-10);
  expect_near(*got.df, expected["df"], 1e-10);
  expect_near(*got.t, expected["t"], 1e-10);
  expect_near(*got.t * got.standard_error, expected["lsd"], 1e-10);
}

void expect_mixed(const SplitDifference& got, const json& table, const std::string& name) {
  SCOPED_TRACE(name);
  expect_difference(got, table[name + "_satterthwaite"]);
  const json& weighted = table[name + "_weighted_t"];
  expect_near(*got.weighted_t, weighted["t"], 1e-10);
  expect_near(*got.weighted_t * got.standard_error, weighted["lsd"], 1e-10);
}

TEST(SplitInTimeInR, SplitPlotOfAlfalfa) {
  const json expected = expected_split();
  const json& table = expected["anova_split_plot"];
  const auto times = alfalfa();
  const statistics::SplitPlot& got = times.split_plot;
  expect_near(times.mean, expected["grand_mean"], 1e-10);
  expect_source(got.block, table, "rep");
  expect_source(got.treatment, table, "entry");
  expect_source(got.error_a, table, "error_a (rep x entry)");
  expect_source(got.time, table, "cutting");
  expect_source(got.treatment_time, table, "entry x cutting");
  expect_source(got.error_b, table, "error_b");
  expect_source(got.total, table, "total");
  expect_near(*got.cv_a_percent, expected["cv_a_pct"], 1e-10);
  expect_near(*got.cv_b_percent, expected["cv_b_pct"], 1e-10);
  const json& lsds = expected["lsd_split_plot"];
  const auto differences = statistics::differences(got, 0.05);
  expect_difference(differences.treatments, lsds["entry_mean_over_cuttings"]);
  expect_difference(differences.times, lsds["cutting_mean"]);
  expect_difference(differences.times_of_treatment, lsds["cutting_within_entry"]);
  expect_mixed(differences.treatments_at_time, lsds, "entry_within_cutting");
}

TEST(SplitInTimeInR, SplitPlotInTimeOfAlfalfa) {
  const json expected = expected_split();
  const json& table = expected["anova_split_plot_in_time"];
  const auto times = alfalfa();
  const statistics::SplitPlotInTime& got = times.in_time;
  expect_source(got.block, table, "rep");
  expect_source(got.treatment, table, "entry");
  expect_source(got.error_a, table, "error_a (rep x entry)");
  expect_source(got.time, table, "cutting");
  expect_source(got.error_b, table, "error_b (rep x cutting)");
  expect_source(got.treatment_time, table, "entry x cutting");
  expect_source(got.error_c, table, "error_c (rep x entry x cutting)");
  expect_source(got.total, table, "total");
  expect_near(*got.cv_a_percent, expected["cv_a_pct"], 1e-10);
  expect_near(*got.cv_b_percent, expected["cv_time_rep_cutting_pct"], 1e-10);
  expect_near(*got.cv_c_percent, expected["cv_time_error_c_pct"], 1e-10);
  const json& lsds = expected["lsd_split_plot_in_time"];
  const auto differences = statistics::differences(got, 0.05);
  expect_difference(differences.treatments, lsds["entry_mean_over_cuttings"]);
  expect_difference(differences.times, lsds["cutting_mean"]);
  expect_mixed(differences.times_of_treatment, lsds, "cutting_within_entry");
  expect_mixed(differences.treatments_at_time, lsds, "entry_within_cutting");
}

void expect_cautious(const statistics::CautiousTest& got, const json& expected) {
  expect_near(got.epsilon, expected["epsilon"], 1e-10);
  expect_near(got.df, expected["df1"], 1e-10);
  expect_near(got.df_error, expected["df2"], 1e-10);
  expect_near(*got.p, expected["p"], 1e-8);
}

TEST(SplitInTimeInR, SphericityOfAlfalfa) {
  const json expected = expected_split()["sphericity"];
  const auto times = alfalfa();
  ASSERT_TRUE(times.greenhouse_geisser);
  expect_cautious(*times.greenhouse_geisser, expected["greenhouse_geisser"]);
  expect_cautious(times.lower_bound, expected["lower_bound"]);
}

// What the program writes of the same file.
TEST(SplitInTimeInR, OverCuttingsAsTheDeskWritesThem) {
  const json expected = expected_split();
  const Tables tables = tables_of(data_file("alfalfa.csv"));
  ASSERT_EQ(tables.exit, 0) << tables.messages;
  const std::vector<Row>& rows = tables.over_cuttings;
  ASSERT_EQ(rows.size(), expected["anova_split_plot_in_time"].size());
  for (std::size_t i = 0; i < rows.size(); ++i) {
    const json& source = expected["anova_split_plot_in_time"][i];
    SCOPED_TRACE(rows[i].at("source"));
    EXPECT_EQ(rows[i].at("test"), "ALFALFA");
    EXPECT_EQ(rows[i].at("year"), "1944");
    EXPECT_EQ(rows[i].at("over"), "cuttings");
    expect_figure(rows[i], "df", source["df"].get<double>(), 0.0);
    expect_figure(rows[i], "ss", source["ss"].get<double>(), 1e-10);
    if (source.contains("ms")) expect_figure(rows[i], "ms", source["ms"].get<double>(), 1e-10);
    if (!source.contains("f")) continue;
    expect_figure(rows[i], "f", source["f"].get<double>(), 1e-9);
    expect_figure(rows[i], "p", source["p"].get<double>(), 1e-8);
  }
  EXPECT_EQ(rows[5].at("source"), "entry x cutting");
  expect_figure(rows[5], "p_greenhouse_geisser",
                expected["sphericity"]["greenhouse_geisser"]["p"].get<double>(), 1e-8);
}

// Eight winter wheats in 3 blocks over 7 years (S9): blocks were drawn anew each year, so the
// source has no split plot of them. As if they had lasted, its rows for entries, years and entry x
// year are the source's, and the errors together its "block in year" and residual.
TEST(SplitInTimeInR, SevenYearsOfWheatAsIfTheBlocksHadLasted) {
  std::istringstream lines(text_of(data_file("s9_seven_years.csv")));  // a test a year: Y1996
  std::string one_test;
  for (std::string line; std::getline(lines, line);) {
    one_test += (line.starts_with("Y") ? "WHEAT" + line.substr(5) : line) + "\n";
  }
  const Tables tables = tables_of_text(one_test);
  ASSERT_EQ(tables.exit, 0) << tables.messages;
  const std::vector<Row>& rows = tables.over_cuttings;
  ASSERT_EQ(rows.size(), 8U);
  EXPECT_EQ(rows[3].at("source"), "year");
  EXPECT_EQ(rows[3].at("over"), "years");
  EXPECT_EQ(rows[3].at("year"), "all");
  // Six decimals are printed.
  expect_printed(rows[1], "ss", 11.543695, 6);
  expect_printed(rows[3], "ss", 159.279407, 6);
  expect_printed(rows[5], "ss", 27.712726, 6);
  const auto squares = [&](std::size_t i) { return std::stod(rows[i].at("ss")); };
  EXPECT_NEAR(squares(0) + squares(4), 3.922008, 1e-6);
  EXPECT_NEAR(squares(2) + squares(6), 14.582792, 1e-6);
}

}  // namespace
}  // namespace ligule::published
