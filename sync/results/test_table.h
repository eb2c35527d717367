// The plot values of one test as a table of plots by cuttings, and what an analysis takes from it.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "sync/results/analysis.h"
#include "sync/results/numbered_labels.h"
#include "sync/results/plot_value.h"

namespace ligule::results {

struct TableCutting {
  std::optional<int> year;
  std::string label;
};

struct TableCell {
  bool row = false;  // somebody listed this plot at this cutting, with or without a value
  std::optional<double> value;
};

struct TablePlot {
  std::size_t entry = 0;  // of TestTable::entries
  std::size_t rep = 0;    // of TestTable::reps
  std::string label;      // may be empty
  std::optional<PlotPlace> place;
  int incomplete_block = 0;
};

// All that is known of one test.
struct TestTable {
  std::string test;
  std::vector<std::string> sites, entries, reps;  // in byte order
  std::vector<TableCutting> cuttings;             // in the order of the analyses
  std::vector<TablePlot> plots;
  std::vector<TableCell> cells;         // plots x cuttings
  std::vector<bool> scheduled;          // entries x cuttings: has a row in any rep
  std::vector<std::size_t> first_rows;  // of entries: the first of the test's rows with them

  [[nodiscard]] const TableCell& cell(std::size_t plot, std::size_t cutting) const {
    return cells[plot * cuttings.size() + cutting];
  }
  [[nodiscard]] bool is_scheduled(std::size_t entry, std::size_t cutting) const {
    return scheduled[entry * cuttings.size() + cutting];
  }
};

// `rows` are all those of the test.
[[nodiscard]] TestTable test_table(std::string test, const RowsOfTest& rows);

// One table a test, in byte order; the order of `values` does not matter. A repeated row of one
// plot and cutting would be summed nowhere: readers refuse it before.
[[nodiscard]] std::vector<TestTable> test_tables(std::span<const PlotValue> values);

// What one analysis covers: the cuttings first..last-1 of a table.
struct Range {
  std::size_t first = 0, last = 0;
  Span span = Span::kCutting;
};
// Each cutting of each year, the year's total, all years.
[[nodiscard]] std::vector<Range> ranges_of(const TestTable& table, bool totals);

struct Selected {
  std::vector<std::size_t> plots;        // of TestTable::plots, those with a value
  std::vector<double> values;            // of each, the sum over the range
  std::vector<bool> listed;              // entries with a row in the range
  bool any_rep = false;                  // a listed plot names a rep
  bool all_placed = true;                // row and column of every plot with a value are known
  bool all_in_incomplete_blocks = true;  // and which part of its rep each lies in
  double largest = 0.0;                  // |value|
};
[[nodiscard]] Selected select(const TestTable& table, Range range);

// The blocks of selected plots, as numbers below a count.
struct Blocks {
  std::vector<std::size_t> of_plot;  // in the order of Selected::plots
  std::size_t count = 0;
};
// The reps.
[[nodiscard]] Blocks complete_blocks(const TestTable& table, const Selected& selected);
// The incomplete blocks of each rep, Selected::all_in_incomplete_blocks.
[[nodiscard]] Blocks incomplete_blocks(const TestTable& table, const Selected& selected);

}  // namespace ligule::results
