#include "sync/results/numbered_labels.h"

#include <algorithm>
#include <numeric>

namespace ligule::results {

std::map<std::string_view, RowsOfTest> rows_by_test(std::span<const PlotValue> values) {
  std::map<std::string_view, RowsOfTest> tests;
  Label test;
  RowsOfTest* rows = nullptr;
  for (const PlotValue& value : values) {
    // Neighbouring rows are mostly of one test.
    if (rows == nullptr || test != value.test) {
      test = value.test;
      rows = &tests[test];
    }
    rows->push_back(&value);
  }
  return tests;
}

NumberedLabels number_labels(const RowsOfTest& rows, Label PlotValue::*label) {
  Numbering<Label> found;
  NumberedLabels out;
  out.of_row.reserve(rows.size());
  for (const PlotValue* row : rows) out.of_row.push_back(found.of(row->*label));
  std::vector<std::size_t> sorted(found.keys().size());
  std::iota(sorted.begin(), sorted.end(), std::size_t{0});
  std::ranges::sort(sorted, {}, [&](std::size_t place) { return found.keys()[place]; });
  std::vector<std::size_t> rank(sorted.size());
  out.labels.reserve(sorted.size());
  for (std::size_t i = 0; i < sorted.size(); ++i) {
    rank[sorted[i]] = i;
    out.labels.push_back(found.keys()[sorted[i]]);
  }
  if (rank.size() == 1) return out;
  for (std::size_t& place : out.of_row) place = rank[place];
  return out;
}

}  // namespace ligule::results
