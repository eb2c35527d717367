// `ligule-desk tables` against results computed in R (lm, anova, emmeans) from the same files, and
// compared with exact rational arithmetic when they were made; data/SOURCES.md says more.
// Tolerances, relative: means, squares, LSD, CV 1e-10; F 1e-9; p 1e-8. They are what sums of a few
// hundred doubles can lose, with a margin; the expected figures have 15 digits.
#include <gtest/gtest.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "sync/statistics/distributions.h"
#include "tests/published/desk_tables.h"

namespace ligule::published {
namespace {

using nlohmann::json;

constexpr double kTight = 1e-10;
constexpr double kF = 1e-9;
constexpr double kP = 1e-8;
constexpr double kLeastSquares = 1e-8;

json expected_of(const std::string& name) {
  return json::parse(text_of(data_file(name)));
}

// A figure, or an empty cell where the reference has none.
void expect_or_empty(const Row& row, const std::string& column, const json& from,
                     const std::string& key, double tolerance) {
  if (from.contains(key) && from[key].is_number()) {
    expect_figure(row, column, from[key].get<double>(), tolerance);
  } else {
    EXPECT_EQ(row.at(column), "") << column;
  }
}

void expect_test_row(const Row& row, const json& expected) {
  SCOPED_TRACE(row.at("test") + " " + row.at("cutting"));
  EXPECT_EQ(row.at("entries"), std::to_string(expected["n_entries"].get<int>()));
  EXPECT_EQ(row.at("reps"), std::to_string(expected["n_reps"].get<int>()));
  EXPECT_EQ(row.at("n"), std::to_string(expected["n_plots"].get<int>()));
  EXPECT_EQ(row.at("df_error"), std::to_string(expected["df_error"].get<int>()));
  const double mean = expected["trial_mean_raw"].get<double>();
  if (mean == 0.0) {
    EXPECT_EQ(row.at("mean"), "0");
  } else {
    expect_figure(row, "mean", mean, kTight);
  }
  expect_figure(row, "mse", expected["mse"].get<double>(), kTight);
  expect_or_empty(row, "cv_percent", expected, "cv_pct", kTight);
  expect_figure(row, "lsd_05", expected["lsd"]["average"].get<double>(), kTight);
  for (const json& source : expected["anova"]) {
    if (source["source"] != "entry") continue;
    expect_figure(row, "f_entry", source["f"].get<double>(), kF);
    expect_figure(row, "p_entry", source["p"].get<double>(), kP);
  }
}

void expect_means(const Tables& tables, const Row& test, const json& expected) {
  for (const json& entry : expected["entries"]) {
    const Row row = tables.mean(test.at("test"), test.at("year"), test.at("cutting"),
                                entry["entry"].get<std::string>());
    SCOPED_TRACE(test.at("test") + " " + entry["entry"].get<std::string>());
    EXPECT_EQ(row.at("n"), std::to_string(entry["n_plots"].get<int>()));
    expect_figure(row, "mean", entry["lsmean"].get<double>(), kTight);
    expect_figure(row, "se", entry["se"].get<double>(), kTight);
    expect_or_empty(row, "percent_of_mean", entry, "pct_of_trial_mean", kTight);
    EXPECT_EQ(row.at("in_top_group"), entry["top_group"].get<bool>() ? "1" : "0");
  }
  for (const json& entry : expected["entries_without_data"]) {
    const Row row =
        tables.mean(test.at("test"), test.at("year"), test.at("cutting"), entry.get<std::string>());
    EXPECT_EQ(row.at("n"), "0");
    EXPECT_EQ(row.at("mean"), "");
    EXPECT_EQ(row.at("in_top_group"), "");
  }
}

TEST(ReferenceTables, AlfalfaEachCuttingAndTheSeasonTotal) {
  const json expected = expected_of("alfalfa.expected.json");
  const Tables tables = tables_of(data_file("alfalfa.csv"));
  ASSERT_EQ(tables.exit, 0) << tables.messages;
  EXPECT_EQ(tables.tests.size(), 5U);
  for (const json& cutting : expected["per_cutting"]) {
    const Row test = tables.test("ALFALFA", "1944", cutting["cutting"].get<std::string>());
    expect_test_row(test, cutting);
    expect_means(tables, test, cutting);
  }
  const Row total = tables.test("ALFALFA", "1944", "total");
  expect_test_row(total, expected["season_total"]);
  expect_means(tables, total, expected["season_total"]);
}

TEST(ReferenceTables, MissingPlots) {
  const json expected = expected_of("missing_plots.expected.json");
  const Tables tables = tables_of(data_file("missing_plots.csv"));
  ASSERT_EQ(tables.exit, 0) << tables.messages;
  EXPECT_EQ(tables.tests.size(), expected["tests"].size());
  for (const Row& test : tables.tests) {
    expect_test_row(test, expected["tests"][test.at("test")]);
    expect_means(tables, test, expected["tests"][test.at("test")]);
  }
}

void expect_long_term(const Tables& tables, const json& expected, int min_tests) {
  EXPECT_EQ(tables.long_term.size(), expected["entries"].size());
  for (const json& entry : expected["entries"]) {
    const Row row = tables.summary(entry["entry"].get<std::string>());
    const int tests = entry["n_tests"].get<int>();
    EXPECT_EQ(row.at("tests"), std::to_string(tests));
    if (tests >= min_tests) {
      expect_figure(row, "percent_of_mean", entry["mean_of_pct"].get<double>(), kTight);
      expect_figure(row, "corrected_mean", entry["additive_lsmean"].get<double>(), kLeastSquares);
    } else {
      EXPECT_EQ(row.at("percent_of_mean"), "");
      EXPECT_EQ(row.at("corrected_percent"), "");
    }
  }
}

void expect_published_means(const Tables& tables, const json& expected) {
  EXPECT_EQ(tables.means.size(), expected["entry_by_test"].size());
  for (const json& cell : expected["entry_by_test"]) {
    const std::string test = cell["test"].get<std::string>();
    const Row row =
        tables.mean(test, test.substr(test.find('-') + 1), "", cell["entry"].get<std::string>());
    expect_figure(row, "mean", cell["mean"].get<double>(), kTight);
    expect_figure(row, "percent_of_mean", cell["pct_of_trial_mean"].get<double>(), kTight);
    EXPECT_EQ(row.at("se"), "");
    EXPECT_EQ(row.at("in_top_group"), "");
  }
  for (const Row& row : tables.tests) {
    for (const char* column : {"reps", "mse", "df_error", "f_entry", "p_entry", "cv_percent"}) {
      EXPECT_EQ(row.at(column), "") << column;
    }
  }
}

TEST(ReferenceTables, PublishedMeansOfTwelveBarleyTests) {
  const json expected = expected_of("immer.expected.json")["by_site_year"];
  const Tables tables = tables_of(data_file("immer.csv"));
  ASSERT_EQ(tables.exit, 0) << tables.messages;
  expect_published_means(tables, expected);
  expect_long_term(tables, expected, 2);
}

TEST(ReferenceTables, PublishedMeansWithEntriesMissingFromTests) {
  const json expected = expected_of("immer.expected.json")["incomplete"];
  const Tables tables = tables_of(data_file("immer_incomplete.csv"), {"--min-tests", "3"});
  ASSERT_EQ(tables.exit, 0) << tables.messages;
  expect_published_means(tables, expected);
  expect_long_term(tables, expected, 3);
}

TEST(ReferenceTables, SeveralTestsCompleteAndWithGaps) {
  const json expected = expected_of("met_small.expected.json");
  for (const std::string which : {"complete", "incomplete"}) {
    SCOPED_TRACE(which);
    const Tables tables = tables_of(data_file("met_" + which + ".csv"), {"--min-tests", "3"});
    ASSERT_EQ(tables.exit, 0) << tables.messages;
    for (const Row& test : tables.tests) {
      const json& one = expected[which]["per_test"][test.at("test")];
      expect_test_row(test, one);
      expect_means(tables, test, one);
    }
    expect_long_term(tables, expected[which], 3);
  }
}

// The other columns of the long-term summary, against lme4 and lm (data/several_tests.R). The
// predictions at our own ratios: these are within 1e-5 of lme4's.
TEST(ReferenceTables, ShrunkenMeansIntervalsAndStabilityOverSeveralTests) {
  const json all = expected_of("several_tests.expected.json")["tables"];
  for (const std::string name : {"immer", "immer_incomplete", "met_complete", "met_incomplete"}) {
    SCOPED_TRACE(name);
    const json& expected =
        *std::ranges::find_if(all, [&](const json& table) { return table["name"] == name; });
    const Tables tables = tables_of(data_file(name + ".csv"), {"--min-tests", "1"});
    ASSERT_EQ(tables.exit, 0) << tables.messages;
    const double mean = expected["mean"].get<double>();
    const double t =
        statistics::t_two_sided_quantile(0.05, expected["df_error"].get<double>()).value_or(0.0);
    for (const json& entry : expected["entries"]) {
      const Row row = tables.summary(entry["entry"].get<std::string>());
      SCOPED_TRACE(row.at("entry"));
      const double shrunken = mean + entry["effect"].get<double>();
      const double reach = t * entry["comparison_se"].get<double>();
      expect_figure(row, "corrected_se", entry["lsmean_se"].get<double>(), kLeastSquares);
      expect_figure(row, "corrected_percent", entry["percent"].get<double>(), kLeastSquares);
      expect_figure(row, "corrected_percent_se", entry["percent_se"].get<double>(), kLeastSquares);
      if (!name.ends_with("incomplete"))
        expect_figure(row, "percent_of_mean", entry["percent"].get<double>(), kLeastSquares);
      expect_figure(row, "shrunken_mean", shrunken, 1e-6);
      expect_figure(row, "shrunken_low", shrunken - reach, 1e-5);
      expect_figure(row, "shrunken_high", shrunken + reach, 1e-5);
      expect_or_empty(row, "slope", entry, "slope", kLeastSquares);
      expect_or_empty(row, "slope_se", entry, "slope_se", kLeastSquares);
      expect_or_empty(row, "stability_variance", entry, "shukla", 1e-7);
    }
  }
}

// Two plots of one check a rep are told apart by the eighth column.
std::string edge_with_plots() {
  std::string with_plots;
  std::istringstream lines(text_of(data_file("edge.csv")));
  int checks = 0;
  for (std::string line; std::getline(lines, line);) {
    if (with_plots.empty()) {
      line += ",plot";
    } else if (line.find(",Check,") != std::string::npos) {
      line += "," + std::to_string(1 + checks++ % 2);
    } else {
      line += ",";
    }
    with_plots += line + "\n";
  }
  return with_plots;
}

TEST(ReferenceTables, EdgeCasesWithEveryFigure) {
  const json expected = expected_of("edge.expected.json")["tests"];
  const Tables tables = tables_of_text(edge_with_plots());
  ASSERT_EQ(tables.exit, 0) << tables.messages;
  EXPECT_EQ(tables.tests.size(), 14U);
  int whole = 0;
  for (const Row& test : tables.tests) {
    const json& one = expected[test.at("test")];
    if (one["status"] != "ok" && one["status"] != "zero_mean") continue;
    expect_test_row(test, one);
    expect_means(tables, test, one);
    ++whole;
  }
  EXPECT_EQ(whole, 9);
}

void expect_empty(const Row& row, const std::vector<std::string>& columns) {
  for (const std::string& column : columns) {
    EXPECT_EQ(row.at(column), "") << row.at("test") << " " << column;
  }
}

TEST(ReferenceTables, EdgeCasesWithoutErrorTermsGiveMeansOnly) {
  const json expected = expected_of("edge.expected.json")["tests"];
  const Tables tables = tables_of_text(edge_with_plots());
  for (const std::string name : {"E2_ONE_REP", "E14_ONE_ENTRY"}) {
    const Row test = tables.test(name, "2001", "1");
    EXPECT_EQ(test.at("df_error"), "0");
    expect_figure(test, "mean", expected[name]["trial_mean_raw"].get<double>(), kTight);
    expect_empty(test, {"mse", "f_entry", "p_entry", "cv_percent", "lsd_05"});
    for (const json& entry : expected[name]["entries"]) {
      const Row row = tables.mean(name, "2001", "1", entry["entry"].get<std::string>());
      expect_figure(row, "mean", entry["raw_mean"].get<double>(), kTight);
      EXPECT_EQ(row.at("se"), "");
      EXPECT_EQ(row.at("in_top_group"), "");
    }
  }
}

TEST(ReferenceTables, EdgeCasesWithZeroErrorHaveNoF) {
  const Tables tables = tables_of_text(edge_with_plots());
  for (const std::string name : {"E4_CONSTANT", "E5_PERFECT_FIT"}) {
    const Row test = tables.test(name, "2001", "1");
    for (const char* column : {"mse", "cv_percent", "lsd_05"}) EXPECT_EQ(test.at(column), "0");
    EXPECT_EQ(test.at("df_error"), "4");
    expect_empty(test, {"f_entry", "p_entry"});
  }
  for (const std::string entry : {"A", "B", "C"}) {
    EXPECT_EQ(tables.mean("E4_CONSTANT", "2001", "1", entry).at("in_top_group"), "1");
    EXPECT_EQ(tables.mean("E5_PERFECT_FIT", "2001", "1", entry).at("in_top_group"),
              entry == "B" ? "1" : "0");
  }
}

TEST(ReferenceTables, DisconnectedSetsAreReportedNotGuessed) {
  const Tables tables = tables_of_text(edge_with_plots());
  const Row test = tables.test("E7_DISCONNECTED", "2001", "1");
  EXPECT_EQ(test.at("df_error"), "2");
  EXPECT_EQ(test.at("n"), "8");
  expect_figure(test, "mse", 1.25, kTight);
  expect_empty(test, {"f_entry", "p_entry", "lsd_05"});
  for (const std::string entry : {"A", "B", "C", "D"}) {
    const Row row = tables.mean("E7_DISCONNECTED", "2001", "1", entry);
    EXPECT_EQ(row.at("n"), "2");
    expect_empty(row, {"mean", "se", "percent_of_mean", "in_top_group"});
  }
}

// Without a plot column the repeated check is not guessed at.
TEST(ReferenceTables, RepeatedPlotsWithoutNumbersAreRefused) {
  const Tables tables = tables_of(data_file("edge.csv"));
  EXPECT_EQ(tables.exit, 1);
  EXPECT_NE(tables.messages.find("edge.csv line 122 column 6 (entry)"), std::string::npos)
      << tables.messages;
  EXPECT_NE(tables.messages.find("3 faults in "), std::string::npos) << tables.messages;
}

}  // namespace
}  // namespace ligule::published
