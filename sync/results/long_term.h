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

struct LongTermRow {
  std::string entry;
  std::vector<TestPercent> tests;         // where it has a percent, in the order of the analyses
  std::optional<double> percent_of_mean;  // plain average; empty below the minimum of tests
};

// One row per entry, in byte order. Each test counts once, with the entry's percent in the test's
// last-listed analysis (the most total one). `analyses` in the order of analyse(); `min_tests` >=
// 1.
[[nodiscard]] std::vector<LongTermRow> long_term(std::span<const Analysis> analyses,
                                                 std::size_t min_tests);

}  // namespace ligule::results
