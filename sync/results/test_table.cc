#include "sync/results/test_table.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <numeric>
#include <string_view>
#include <utility>

#include "sync/results/labels.h"

namespace ligule::results {
namespace {

std::vector<TableCutting> cuttings_of(const RowsOfTest& rows) {
  std::map<std::optional<int>, std::vector<Label>> per_year;
  const PlotValue* before = nullptr;
  for (const PlotValue* row : rows) {
    if (before && before->year == row->year && before->cutting == row->cutting) continue;
    before = row;
    auto& labels = per_year[row->year];
    if (std::ranges::find(labels, row->cutting) == labels.end()) labels.push_back(row->cutting);
  }
  std::vector<TableCutting> cuttings;
  for (auto& [year, labels] : per_year) {
    std::vector<std::string> texts(labels.begin(), labels.end());
    sort_cuttings(texts);
    for (std::string& text : texts) cuttings.push_back({year, std::move(text)});
  }
  return cuttings;
}

// Each row's place among the cuttings.
std::vector<std::size_t> place_cuttings(const RowsOfTest& rows,
                                        const std::vector<TableCutting>& cuttings) {
  std::vector<std::size_t> places;
  places.reserve(rows.size());
  const PlotValue* before = nullptr;
  for (const PlotValue* row : rows) {
    const bool as_before =
        before != nullptr && before->year == row->year && before->cutting == row->cutting;
    before = row;
    if (as_before) {
      places.push_back(places.back());
      continue;
    }
    const auto place = std::ranges::find_if(cuttings, [row](const TableCutting& cutting) {
      return cutting.year == row->year && cutting.label == row->cutting;
    });
    places.push_back(static_cast<std::size_t>(place - cuttings.begin()));
  }
  return places;
}

// Puts rows into the order of their labels, keeping that of rows with one label.
void sort_by(const NumberedLabels& labels, std::vector<std::size_t>& rows) {
  if (labels.labels.size() < 2) return;
  std::vector<std::size_t> next(labels.labels.size() + 1, 0);
  for (const std::size_t place : labels.of_row) ++next[place + 1];
  std::partial_sum(next.begin(), next.end(), next.begin());
  std::vector<std::size_t> sorted(rows.size());
  for (const std::size_t row : rows) sorted[next[labels.of_row[row]]++] = row;
  rows = std::move(sorted);
}

// The plot's sum over the cuttings of the range it was scheduled for; empty where one is missing.
std::optional<double> total_of(const TestTable& table, std::size_t plot, Range range) {
  double sum = 0.0;
  for (std::size_t c = range.first; c < range.last; ++c) {
    if (!table.is_scheduled(table.plots[plot].entry, c)) continue;
    const std::optional<double>& value = table.cell(plot, c).value;
    if (!value) return std::nullopt;
    sum += *value;
  }
  if (!std::isfinite(sum)) return std::nullopt;
  return sum;
}

}  // namespace

TestTable test_table(std::string test, const RowsOfTest& rows) {
  TestTable table;
  table.test = std::move(test);
  table.sites = number_labels(rows, &PlotValue::site).labels;
  NumberedLabels entries = number_labels(rows, &PlotValue::entry);
  NumberedLabels reps = number_labels(rows, &PlotValue::rep);
  const NumberedLabels plots = number_labels(rows, &PlotValue::plot);
  table.entries = entries.labels;
  table.reps = reps.labels;
  table.cuttings = cuttings_of(rows);
  const std::vector<std::size_t> cuttings = place_cuttings(rows, table.cuttings);

  // Rows by entry, rep and plot: by the last of these first, each time keeping the order.
  std::vector<std::size_t> order(rows.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  sort_by(plots, order);
  sort_by(reps, order);
  sort_by(entries, order);
  const auto same_plot = [&](std::size_t a, std::size_t b) {
    return entries.of_row[a] == entries.of_row[b] && reps.of_row[a] == reps.of_row[b] &&
           plots.of_row[a] == plots.of_row[b];
  };
  const std::size_t width = table.cuttings.size();
  table.scheduled.resize(table.entries.size() * width, false);
  table.first_rows.resize(table.entries.size(), rows.size());
  for (std::size_t row = 0; row < rows.size(); ++row) {
    std::size_t& first = table.first_rows[entries.of_row[row]];
    first = std::min(first, row);
  }
  const std::size_t whole = rows.size() / std::max<std::size_t>(width, 1) + 1;
  table.plots.reserve(whole);
  table.cells.reserve(whole * width);
  for (std::size_t i = 0; i < order.size(); ++i) {
    const std::size_t row = order[i];
    if (i == 0 || !same_plot(order[i - 1], row)) {
      table.plots.push_back({entries.of_row[row], reps.of_row[row], rows[row]->plot,
                             rows[row]->place, rows[row]->incomplete_block});
      table.cells.resize(table.plots.size() * width);
    }
    table.cells[(table.plots.size() - 1) * width + cuttings[row]] = {true, rows[row]->value};
    table.scheduled[entries.of_row[row] * width + cuttings[row]] = true;
  }
  return table;
}

std::vector<TestTable> test_tables(std::span<const PlotValue> values) {
  std::vector<TestTable> tables;
  for (const auto& [test, rows] : rows_by_test(values))
    tables.push_back(test_table(std::string(test), rows));
  return tables;
}

std::vector<Range> ranges_of(const TestTable& table, bool totals) {
  std::vector<Range> ranges;
  std::size_t years = 0;
  for (std::size_t first = 0; first < table.cuttings.size();) {
    std::size_t last = first;
    while (last < table.cuttings.size() &&
           table.cuttings[last].year == table.cuttings[first].year) {
      ranges.push_back({last, last + 1, Span::kCutting});
      ++last;
    }
    if (totals && last - first > 1) ranges.push_back({first, last, Span::kYear});
    ++years;
    first = last;
  }
  if (totals && years > 1) ranges.push_back({0, table.cuttings.size(), Span::kAllYears});
  return ranges;
}

Selected select(const TestTable& table, Range range) {
  Selected out;
  out.listed.resize(table.entries.size(), false);
  for (std::size_t plot = 0; plot < table.plots.size(); ++plot) {
    bool row = false;
    for (std::size_t c = range.first; c < range.last; ++c) row = row || table.cell(plot, c).row;
    if (!row) continue;
    const TablePlot& of = table.plots[plot];
    out.listed[of.entry] = true;
    out.any_rep = out.any_rep || !table.reps[of.rep].empty();
    const std::optional<double> value = total_of(table, plot, range);
    if (!value) continue;
    out.plots.push_back(plot);
    out.values.push_back(*value);
    out.all_placed = out.all_placed && of.place;
    out.all_in_incomplete_blocks = out.all_in_incomplete_blocks && of.incomplete_block > 0;
    out.largest = std::max(out.largest, std::fabs(*value));
  }
  return out;
}

Blocks complete_blocks(const TestTable& table, const Selected& selected) {
  Blocks blocks{.of_plot = {}, .count = table.reps.size()};
  blocks.of_plot.reserve(selected.plots.size());
  for (const std::size_t plot : selected.plots) blocks.of_plot.push_back(table.plots[plot].rep);
  return blocks;
}

Blocks incomplete_blocks(const TestTable& table, const Selected& selected) {
  std::map<std::pair<std::size_t, int>, std::size_t> numbers;
  Blocks blocks;
  blocks.of_plot.reserve(selected.plots.size());
  for (const std::size_t plot : selected.plots) {
    const TablePlot& of = table.plots[plot];
    blocks.of_plot.push_back(
        numbers.emplace(std::pair(of.rep, of.incomplete_block), numbers.size()).first->second);
  }
  blocks.count = numbers.size();
  return blocks;
}

}  // namespace ligule::results
