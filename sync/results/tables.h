// The result files as text: tests.csv, means.csv, long_term.csv, long_term_tests.csv. Columns,
// order and emptiness are a contract that other programs read by.
#pragma once

#include <span>
#include <string>
#include <string_view>

#include "sync/results/analysis.h"
#include "sync/results/labels.h"
#include "sync/results/long_term.h"
#include "sync/results/tests_behind.h"

namespace ligule::results {

// The last column is named by the level of its LSD: lsd_05.
[[nodiscard]] std::string tests_csv(std::span<const Analysis> analyses, double alpha = 0.05);
[[nodiscard]] std::string means_csv(std::span<const Analysis> analyses);
// The same in parts: the first line, and the lines of some analyses behind what stands there.
[[nodiscard]] std::string tests_header(double alpha);
inline constexpr std::string_view kMeansHeader =
    "test,year,cutting,entry,n,mean,se,percent_of_mean,in_top_group";
void add_tests(std::span<const Analysis> analyses, CsvText& text);
void add_means(std::span<const Analysis> analyses, CsvText& text);
[[nodiscard]] std::string long_term_csv(std::span<const LongTermRow> rows);
// One line for each entry and test behind its average; `tests` of the same analyses as `rows`.
[[nodiscard]] std::string long_term_tests_csv(std::span<const LongTermRow> rows,
                                              std::span<const TestBehind> tests);

}  // namespace ligule::results
