#include "sync/results/analysis.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <numeric>
#include <set>
#include <string_view>
#include <tuple>

#include "sync/results/in_parts.h"
#include "sync/results/labels.h"
#include "sync/results/numbered_labels.h"
#include "sync/statistics/distributions.h"
#include "sync/statistics/fit.h"

namespace ligule::results {
namespace {

struct Cutting {
  std::optional<int> year;
  std::string label;
};

struct Cell {
  bool row = false;  // somebody listed this plot at this cutting, with or without a value
  std::optional<double> value;
};

struct Plot {
  std::size_t entry = 0;
  std::size_t rep = 0;
};

// All that is known of one test, as a table of plots by cuttings.
struct TestTable {
  std::string test;
  std::vector<std::string> sites, entries, reps;  // in byte order
  std::vector<Cutting> cuttings;                  // in the order of the analyses
  std::vector<Plot> plots;
  std::vector<Cell> cells;      // plots x cuttings
  std::vector<bool> scheduled;  // entries x cuttings: has a row in any rep

  [[nodiscard]] const Cell& cell(std::size_t plot, std::size_t cutting) const {
    return cells[plot * cuttings.size() + cutting];
  }
  [[nodiscard]] bool is_scheduled(std::size_t entry, std::size_t cutting) const {
    return scheduled[entry * cuttings.size() + cutting];
  }
};

// The cuttings first..last-1 of a table: one, a year's, or all.
struct Range {
  std::size_t first, last;
};

std::vector<Cutting> cuttings_of(const RowsOfTest& rows) {
  std::map<std::optional<int>, std::vector<std::string>> per_year;
  const PlotValue* before = nullptr;
  for (const PlotValue* row : rows) {
    if (before && before->year == row->year && before->cutting == row->cutting) continue;
    before = row;
    auto& labels = per_year[row->year];
    if (std::ranges::find(labels, row->cutting) == labels.end()) labels.push_back(row->cutting);
  }
  std::vector<Cutting> cuttings;
  for (auto& [year, labels] : per_year) {
    sort_cuttings(labels);
    for (auto& label : labels) cuttings.push_back({year, std::move(label)});
  }
  return cuttings;
}

// Each row's place among the cuttings.
std::vector<std::size_t> place_cuttings(const RowsOfTest& rows,
                                        const std::vector<Cutting>& cuttings) {
  std::vector<std::size_t> places;
  places.reserve(rows.size());
  for (const PlotValue* row : rows) {
    const auto is_it = [row](const Cutting& cutting) {
      return cutting.year == row->year && cutting.label == row->cutting;
    };
    const bool as_before = !places.empty() && is_it(cuttings[places.back()]);
    places.push_back(as_before ? places.back()
                               : static_cast<std::size_t>(std::ranges::find_if(cuttings, is_it) -
                                                          cuttings.begin()));
  }
  return places;
}

// `rows` are all those of one test; a repeated row of one plot and cutting would be summed nowhere:
// readers refuse it before.
TestTable table_of(std::string test, const RowsOfTest& rows) {
  TestTable table;
  table.test = std::move(test);
  table.sites = number_labels(rows, &PlotValue::site).labels;
  NumberedLabels entries = number_labels(rows, &PlotValue::entry);
  NumberedLabels reps = number_labels(rows, &PlotValue::rep);
  const NumberedLabels plots = number_labels(rows, &PlotValue::plot);
  table.entries = std::move(entries.labels);
  table.reps = std::move(reps.labels);
  table.cuttings = cuttings_of(rows);
  const std::vector<std::size_t> cuttings = place_cuttings(rows, table.cuttings);

  const auto plot_key = [&](std::size_t row) {
    return std::tuple(entries.of_row[row], reps.of_row[row], plots.of_row[row]);
  };
  std::vector<std::size_t> order(rows.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::ranges::sort(order, {}, plot_key);
  const std::size_t width = table.cuttings.size();
  table.scheduled.resize(table.entries.size() * width, false);
  for (std::size_t i = 0; i < order.size(); ++i) {
    const std::size_t row = order[i];
    if (i == 0 || plot_key(order[i - 1]) != plot_key(row)) {
      table.plots.push_back({entries.of_row[row], reps.of_row[row]});
      table.cells.resize(table.cells.size() + width);
    }
    table.cells[(table.plots.size() - 1) * width + cuttings[row]] = {true, rows[row]->value};
    table.scheduled[entries.of_row[row] * width + cuttings[row]] = true;
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

struct Selected {
  std::vector<statistics::Observation> observations;
  std::vector<bool> listed;  // entries with a row in the range
  bool any_rep = false;      // a listed plot names a rep
  double largest = 0.0;      // |value|
};

Selected select(const TestTable& table, Range range) {
  Selected out;
  out.listed.resize(table.entries.size(), false);
  for (std::size_t plot = 0; plot < table.plots.size(); ++plot) {
    bool row = false;
    for (std::size_t c = range.first; c < range.last; ++c) row = row || table.cell(plot, c).row;
    if (!row) continue;
    const auto [entry, rep] = table.plots[plot];
    out.listed[entry] = true;
    out.any_rep = out.any_rep || !table.reps[rep].empty();
    const std::optional<double> value = total_of(table, plot, range);
    if (!value) continue;
    out.observations.push_back({entry, rep, *value});
    out.largest = std::max(out.largest, std::fabs(*value));
  }
  return out;
}

std::size_t count_reps(const std::vector<statistics::Observation>& observations) {
  std::set<std::size_t> reps;
  for (const auto& observation : observations) reps.insert(observation.block);
  return reps.size();
}

void set_percents(Analysis& analysis, double largest) {
  double sum = 0.0;
  double count = 0.0;
  for (const EntryMean& entry : analysis.means) {
    if (!entry.mean) continue;
    sum += *entry.mean;
    count += 1.0;
  }
  if (count == 0.0) return;
  const double hundred = sum / count;
  // Nothing can be a percent of zero, of rounding noise or of a negative mean.
  if (!(hundred > 0.0) || !std::isfinite(hundred)) return;
  if (statistics::zero_mean(hundred, largest)) return;
  for (EntryMean& entry : analysis.means) {
    if (!entry.mean) continue;
    const double percent = 100.0 * *entry.mean / hundred;
    if (std::isfinite(percent)) entry.percent_of_mean = percent;
  }
}

void set_ranks(Analysis& analysis, Best best) {
  std::vector<EntryMean*> order;
  for (EntryMean& entry : analysis.means) {
    if (entry.mean) order.push_back(&entry);
  }
  std::ranges::stable_sort(order, [best](const EntryMean* a, const EntryMean* b) {
    if (best == Best::kLowest) std::swap(a, b);
    return a->mean.value_or(0) > b->mean.value_or(0);
  });
  for (std::size_t i = 0; i < order.size(); ++i) {
    const bool shared =
        i > 0 && statistics::tied(order[i]->mean.value_or(0), order[i - 1]->mean.value_or(0));
    order[i]->rank = shared ? order[i - 1]->rank : i + 1;
  }
}

// Each entry against the best, with that pair's own least significant difference. Of entries
// tied for the best the first in byte order stands for them all. `indices` are those of
// analysis.means in the fit.
void set_marks(Analysis& analysis, const statistics::Fit& fit,
               const std::vector<std::size_t>& indices, const AnalysisOptions& options) {
  if (!analysis.lsd || options.best == Best::kNone) return;
  const auto t = statistics::t_two_sided_quantile(options.alpha, fit.df_error);
  const auto best = std::ranges::find_if(
      analysis.means, [](const EntryMean& entry) { return entry.rank == std::size_t{1}; });
  if (!t || best == analysis.means.end()) return;
  const double best_mean = best->mean.value_or(0.0);  // has one: it has a rank
  const auto best_row = static_cast<std::size_t>(best - analysis.means.begin());
  for (std::size_t row = 0; row < analysis.means.size(); ++row) {
    EntryMean& entry = analysis.means[row];
    if (!entry.mean) continue;
    if (entry.rank == std::size_t{1}) {
      entry.in_top_group = true;
      continue;
    }
    const auto error = statistics::difference_error(fit, indices[best_row], indices[row]);
    if (error) entry.in_top_group = std::fabs(best_mean - *entry.mean) <= *t * *error;
  }
}

void set_error_terms(Analysis& analysis, const statistics::Fit& fit, double alpha) {
  analysis.connected = fit.components <= 1;
  if (fit.observations == 0) return;
  analysis.df_error = fit.df_error;
  analysis.mse = fit.error_mean_square;
  analysis.f = fit.treatment.f;
  analysis.p = fit.treatment.p;
  analysis.cv_percent = fit.cv_percent;
  analysis.lsd = statistics::average_least_significant_difference(fit, alpha);
}

Analysis analyse_range(const TestTable& table, Range range, Span span,
                       const AnalysisOptions& options) {
  Analysis analysis;
  analysis.test = table.test;
  analysis.sites = table.sites;
  analysis.span = span;
  if (span != Span::kAllYears) analysis.year = table.cuttings[range.first].year;
  if (span == Span::kCutting) analysis.cutting = table.cuttings[range.first].label;

  const Selected selected = select(table, range);
  analysis.basis = selected.any_rep ? Basis::kPlots : Basis::kPublishedMeans;
  const bool blocks =
      analysis.basis == Basis::kPlots && options.design == Design::kRandomisedBlocks;
  const statistics::Fit fit =
      blocks ? statistics::fit_in_blocks(selected.observations, table.entries.size(),
                                         table.reps.size())
             : statistics::fit_one_way(selected.observations, table.entries.size());
  analysis.values = fit.observations;
  analysis.mean = fit.mean;
  analysis.entries = fit.treatments_present;
  if (analysis.basis == Basis::kPlots) {
    analysis.reps = count_reps(selected.observations);
    set_error_terms(analysis, fit, options.alpha);
  }

  std::vector<std::size_t> indices;
  for (std::size_t i = 0; i < table.entries.size(); ++i) {
    if (!selected.listed[i]) continue;
    indices.push_back(i);
    EntryMean entry;
    entry.entry = table.entries[i];
    entry.plots = fit.treatments[i].count;
    entry.mean = fit.treatments[i].mean;
    if (analysis.basis == Basis::kPlots) entry.standard_error = fit.treatments[i].standard_error;
    analysis.means.push_back(std::move(entry));
  }
  set_percents(analysis, selected.largest);
  set_ranks(analysis, options.best);
  set_marks(analysis, fit, indices, options);
  return analysis;
}

void analyse_test(const TestTable& table, const AnalysisOptions& options,
                  std::vector<Analysis>& out) {
  std::size_t years = 0;
  for (std::size_t first = 0; first < table.cuttings.size();) {
    std::size_t last = first;
    while (last < table.cuttings.size() &&
           table.cuttings[last].year == table.cuttings[first].year) {
      out.push_back(analyse_range(table, {last, last + 1}, Span::kCutting, options));
      ++last;
    }
    if (options.totals && last - first > 1) {
      out.push_back(analyse_range(table, {first, last}, Span::kYear, options));
    }
    ++years;
    first = last;
  }
  if (options.totals && years > 1) {
    out.push_back(analyse_range(table, {0, table.cuttings.size()}, Span::kAllYears, options));
  }
}

}  // namespace

std::string year_label(const Analysis& analysis) {
  if (analysis.span == Span::kAllYears) return "all";
  return analysis.year ? std::to_string(*analysis.year) : std::string();
}

std::string cutting_label(const Analysis& analysis) {
  return analysis.span == Span::kCutting ? analysis.cutting : std::string("total");
}

std::vector<Analysis> analyse(std::span<const PlotValue> values, const AnalysisOptions& options) {
  const auto by_test = rows_by_test(values);
  const std::vector<std::pair<std::string_view, RowsOfTest>> tests(by_test.begin(), by_test.end());
  return in_parts<Analysis>(tests.size(), values.size(), [&](std::size_t first, std::size_t last) {
    std::vector<Analysis> analyses;
    for (std::size_t i = first; i < last; ++i) {
      analyse_test(table_of(std::string(tests[i].first), tests[i].second), options, analyses);
    }
    return analyses;
  });
}

}  // namespace ligule::results
