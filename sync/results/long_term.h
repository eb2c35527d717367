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

  // Corrected for the company it kept: what its average were, had every entry stood in every test,
  // by least squares of entry + test (fit_in_blocks) within its company, each test counting once.
  // Of the percents in tests: 100 is the average of its company, and where all stood in all tests
  // this is the plain average. The error is that of its distance from 100. Empty below the minimum
  // of tests.
  std::optional<double> corrected_percent;
  std::optional<double> corrected_percent_error;
  std::optional<double> corrected_mean;   // the same of the means of a year
  std::optional<double> corrected_error;  // standard error of it

  // Drawn towards its company's mean, the more the fewer its tests (random_model): for entries of
  // few and of many tests alike, so whatever the minimum. The interval is for comparing entries of
  // a company: how far an entry lies from the company's average lies inside it in 95 of 100 (by
  // comparison_error and Student's t on the error df of the fit above), while how much all of them
  // would give in other tests is no part of it. Empty where entries are not found to differ.
  std::optional<double> shrunken_mean;
  std::optional<Interval> shrunken_interval;
  // Average of its company's shrunken means; empty where that can't be divided by.
  std::optional<double> company_mean;

  // How evenly it did (statistics::Stability). Empty below the minimum of tests.
  std::optional<double> slope;
  std::optional<double> slope_error;
  std::optional<double> stability_variance;

  std::size_t company = 0;  // from 1, as companies() has them; 0: it stood in no test
};

// One row per entry, in byte order. Each test counts once, with the entry's percent and mean in the
// test's last-listed analysis (the most total one). `analyses` in the order of analyse();
// `min_tests` >= 1.
[[nodiscard]] std::vector<LongTermRow> long_term(std::span<const Analysis> analyses,
                                                 std::size_t min_tests);

// Entries that stood in tests together, directly or through others, by their place among the rows,
// ascending: only they can be compared. Entries of two species have companies of their own.
using Company = std::vector<std::size_t>;
// Of rows of long_term(), by their first entry; entries without a test are in none.
[[nodiscard]] std::vector<Company> companies(std::span<const LongTermRow> rows);

}  // namespace ligule::results
