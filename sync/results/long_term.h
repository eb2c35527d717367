// The long-term summary: how an entry did over all the tests it stood in.
#pragma once

#include <cstddef>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "sync/results/analysis.h"

namespace ligule::results {

struct TestPercent {
  std::string test;
  double percent_of_mean = 0.0;
};

struct Interval {
  double low = 0.0;
  double high = 0.0;
};

// Means are of a year: a test's sum over its years is divided by their number, so that a test of
// four years does not weigh as four.
struct LongTermRow {
  std::string entry;
  std::vector<TestPercent> tests;         // where it has a percent, in the order of the analyses
  std::optional<double> percent_of_mean;  // plain average; empty below the minimum of tests

  // Corrected for the company it kept: what its mean were, had every entry stood in every test, by
  // least squares of entry + test (fit_in_blocks), each test counting once. Empty below the minimum
  // of tests, and where sets of entries share no test.
  std::optional<double> corrected_mean;
  std::optional<double> corrected_error;    // standard error of it
  std::optional<double> corrected_percent;  // 100 is the average of all entries' corrected means
  std::optional<double> corrected_percent_error;

  // Drawn towards the mean of all, the more the fewer its tests (random_model): for entries of few
  // and of many tests alike, so whatever the minimum. The interval holds 95 of 100, by Student's t
  // on the error df of the fit above; empty where entries are not found to differ.
  std::optional<double> shrunken_mean;
  std::optional<Interval> shrunken_interval;

  // How evenly it did (statistics::Stability). Empty below the minimum of tests.
  std::optional<double> slope;
  std::optional<double> slope_error;
  std::optional<double> stability_variance;
};

// One row per entry, in byte order. Each test counts once, with the entry's percent and mean in the
// test's last-listed analysis (the most total one). `analyses` in the order of analyse();
// `min_tests` >= 1.
[[nodiscard]] std::vector<LongTermRow> long_term(std::span<const Analysis> analyses,
                                                 std::size_t min_tests);

// Whether every two entries can be compared through tests they share with others; true for none.
[[nodiscard]] bool hangs_together(std::span<const LongTermRow> rows);

}  // namespace ligule::results
