#include "sync/results/test_table.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <string_view>
#include <tuple>

#include "sync/results/labels.h"

namespace ligule::results {
namespace {

using Rows = std::vector<const PlotValue*>;

std::vector<std::string> distinct(const Rows& rows, std::string PlotValue::*label) {
  std::vector<std::string> labels;
  for (const PlotValue* row : rows) {
    if (labels.empty() || labels.back() != row->*label) labels.push_back(row->*label);
  }
  std::ranges::sort(labels);
  labels.erase(std::ranges::unique(labels).begin(), labels.end());
  return labels;
}

std::size_t index_of(const std::vector<std::string>& sorted, const std::string& label) {
  return static_cast<std::size_t>(std::ranges::lower_bound(sorted, label) - sorted.begin());
}

std::vector<TableCutting> cuttings_of(const Rows& rows) {
  std::map<std::optional<int>, std::vector<std::string>> per_year;
  for (const PlotValue* row : rows) {
    auto& labels = per_year[row->year];
    if (std::ranges::find(labels, row->cutting) == labels.end()) labels.push_back(row->cutting);
  }
  std::vector<TableCutting> cuttings;
  for (auto& [year, labels] : per_year) {
    sort_cuttings(labels);
    for (auto& label : labels) cuttings.push_back({year, std::move(label)});
  }
  return cuttings;
}

// `rows` are all those of one test.
TestTable table_of(std::string test, Rows rows) {
  TestTable table;
  table.test = std::move(test);
  table.sites = distinct(rows, &PlotValue::site);
  table.entries = distinct(rows, &PlotValue::entry);
  table.reps = distinct(rows, &PlotValue::rep);
  table.cuttings = cuttings_of(rows);

  const auto plot_key = [](const PlotValue* row) {
    return std::tie(row->entry, row->rep, row->plot);
  };
  std::ranges::sort(rows, {}, plot_key);
  const std::size_t width = table.cuttings.size();
  table.scheduled.resize(table.entries.size() * width, false);
  const PlotValue* previous = nullptr;
  for (const PlotValue* row : rows) {
    if (!previous || plot_key(previous) != plot_key(row)) {
      table.plots.push_back({index_of(table.entries, row->entry), index_of(table.reps, row->rep),
                             row->plot, row->place});
      table.cells.resize(table.cells.size() + width);
    }
    previous = row;
    const auto cutting = static_cast<std::size_t>(
        std::ranges::find_if(
            table.cuttings,
            [&](const TableCutting& c) { return c.year == row->year && c.label == row->cutting; }) -
        table.cuttings.begin());
    table.cells[(table.plots.size() - 1) * width + cutting] = {true, row->value};
    table.scheduled[table.plots.back().entry * width + cutting] = true;
  }
  return table;
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

std::vector<TestTable> test_tables(std::span<const PlotValue> values) {
  std::map<std::string_view, Rows> tests;
  for (const PlotValue& value : values) tests[value.test].push_back(&value);
  std::vector<TestTable> tables;
  for (auto& [test, rows] : tests) tables.push_back(table_of(std::string(test), std::move(rows)));
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
    out.largest = std::max(out.largest, std::fabs(*value));
  }
  return out;
}

}  // namespace ligule::results
