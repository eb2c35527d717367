// The result files as text: tests.csv, means.csv, long_term.csv. Columns, order and emptiness are a
// contract that other programs read by.
#pragma once

#include <span>
#include <string>

#include "sync/results/analysis.h"
#include "sync/results/long_term.h"

namespace ligule::results {

[[nodiscard]] std::string tests_csv(std::span<const Analysis> analyses);
[[nodiscard]] std::string means_csv(std::span<const Analysis> analyses);
[[nodiscard]] std::string long_term_csv(std::span<const LongTermRow> rows);

}  // namespace ligule::results
