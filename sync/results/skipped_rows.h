// A values file with bad rows, analysed without them because somebody says so.
//
// A row whose plot and cutting could be read counts as a missing plot, as if its value were empty:
// else a bad value would make an entry one that was not scheduled for the cutting, and its season
// total whole. Rows that name one plot and cutting contradict each other unless their values are
// the same; then none of them counts, and the plot is missing.
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "storage/trial/error.h"
#include "sync/results/values_file.h"

namespace ligule::results {

struct SkippedRows {
  std::vector<PlotValue>
      values;                  // the good rows, and a missing plot for those that could be placed
  std::size_t rows = 0;        // left out
  std::size_t missing = 0;     // plots that are missing by it
  std::size_t nowhere = 0;     // rows that not even a missing plot could be made of
  std::vector<Error> notices;  // good rows that are left out too; entries left without a row
};

// file.rows_read must hold. `name` as in parse_values().
[[nodiscard]] SkippedRows without_bad_rows(const ValuesFile& file, const std::string& name);

// "3 bad rows left out (2 plots count as missing)": what a report says of its source.
[[nodiscard]] std::string left_out_words(const SkippedRows& skipped);

}  // namespace ligule::results
