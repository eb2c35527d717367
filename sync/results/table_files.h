// All result files of one measure: tests.csv, means.csv, long_term.csv,
// long_term_tests.csv and report.html.
#pragma once

#include <span>
#include <vector>

#include "sync/results/analysis.h"
#include "sync/results/output.h"
#include "sync/results/report.h"

namespace ligule::results {

// `analyses` in the order of analyse(), by label; text.min_tests decides who has a long-term
// average, text.known how entries are printed and which are withheld: these stand in no file,
// though they count in every figure.
[[nodiscard]] std::vector<OutputFile> table_files(std::span<const Analysis> analyses,
                                                  const ReportText& text);

}  // namespace ligule::results
