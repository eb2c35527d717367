#include "sync/results/analysis.h"

#include <algorithm>
#include <cmath>

#include "sync/results/crossed_plots.h"
#include "sync/results/in_parts.h"
#include "sync/results/numbered_labels.h"
#include "sync/results/one_test.h"
#include "sync/results/test_table.h"
#include "sync/statistics/distributions.h"
#include "sync/statistics/fit.h"

namespace ligule::results {
namespace {

// Of a Latin square its rows.
std::size_t count_reps(const TestTable& table, const Selected& selected, Design design) {
  std::vector<std::size_t> reps;
  reps.reserve(selected.plots.size());
  for (const std::size_t plot : selected.plots) {
    const TablePlot& of = table.plots[plot];
    const bool by_row = design == Design::kLatinSquare && of.place;
    reps.push_back(by_row ? static_cast<std::size_t>(of.place->row) : of.rep);
  }
  std::ranges::sort(reps);
  return static_cast<std::size_t>(std::ranges::unique(reps).begin() - reps.begin());
}

// What the design is made of is not known of every plot.
bool lacks_places(const Selected& selected, Design design) {
  return (design == Design::kLatinSquare && !selected.all_placed) ||
         (design == Design::kIncompleteBlocks && !selected.all_in_incomplete_blocks);
}

// A design without its places is fitted as none at all, for counts and the plain mean only.
statistics::Fit fit_of(const TestTable& table, const Selected& selected, Design design) {
  if (lacks_places(selected, design)) design = Design::kCompletelyRandomised;
  switch (design) {
    case Design::kLatinSquare:
      return statistics::fit_crossed(crossed_data(table, selected, design)).fit;
    case Design::kRandomisedBlocks:
      return fit_in_blocks(table, selected, complete_blocks(table, selected));
    case Design::kIncompleteBlocks:
      return fit_in_blocks(table, selected, incomplete_blocks(table, selected));
    case Design::kCompletelyRandomised:
      break;
  }
  return fit_without_blocks(table, selected);
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
  if (std::isfinite(hundred)) analysis.mean_of_entries = hundred;
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
  order.reserve(analysis.means.size());
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

}  // namespace

FittedRange fitted_range(const TestTable& table, Range range, Design design) {
  FittedRange fitted{range, select(table, range), {}};
  fitted.fit = fit_of(table, fitted.selected,
                      fitted.selected.any_rep ? design : Design::kCompletelyRandomised);
  return fitted;
}

Analysis analysis_of(const TestTable& table, const FittedRange& fitted,
                     const AnalysisOptions& options) {
  const auto& [range, selected, fit] = fitted;
  Analysis analysis;
  analysis.test = table.test;
  analysis.sites = table.sites;
  analysis.span = range.span;
  if (range.span != Span::kAllYears) analysis.year = table.cuttings[range.first].year;
  if (range.span == Span::kCutting) analysis.cutting = table.cuttings[range.first].label;

  analysis.basis = selected.any_rep ? Basis::kPlots : Basis::kPublishedMeans;
  const bool plots = analysis.basis == Basis::kPlots;
  analysis.design = options.design;
  analysis.places_missing = plots && lacks_places(selected, options.design);
  analysis.values = fit.observations;
  analysis.mean = fit.mean;
  analysis.entries = fit.treatments_present;
  const bool has_fit = !analysis.places_missing;
  if (plots) analysis.reps = count_reps(table, selected, options.design);
  if (plots && has_fit) set_error_terms(analysis, fit, options.alpha);

  std::vector<std::size_t> indices;
  indices.reserve(table.entries.size());
  analysis.means.reserve(table.entries.size());
  for (std::size_t i = 0; i < table.entries.size(); ++i) {
    if (!selected.listed[i]) continue;
    indices.push_back(i);
    EntryMean entry;
    entry.entry = table.entries[i];
    entry.plots = fit.treatments[i].count;
    if (has_fit) entry.mean = fit.treatments[i].mean;
    if (plots && has_fit) entry.standard_error = fit.treatments[i].standard_error;
    analysis.means.push_back(std::move(entry));
  }
  // The rows and columns of a broken square may hang apart where its entries do not.
  const bool any_mean =
      std::ranges::any_of(analysis.means, [](const EntryMean& e) { return e.mean.has_value(); });
  if (options.design == Design::kLatinSquare && has_fit && analysis.values > 0 && !any_mean)
    analysis.connected = false;
  set_percents(analysis, selected.largest);
  set_ranks(analysis, options.best);
  if (has_fit) set_marks(analysis, fit, indices, options);
  return analysis;
}

std::string year_label(Span span, std::optional<int> year) {
  if (span == Span::kAllYears) return "all";
  return year ? std::to_string(*year) : std::string();
}

std::string cutting_label(Span span, const std::string& cutting) {
  return span == Span::kCutting ? cutting : std::string("total");
}

std::string year_label(const Analysis& analysis) {
  return year_label(analysis.span, analysis.year);
}

std::string cutting_label(const Analysis& analysis) {
  return cutting_label(analysis.span, analysis.cutting);
}

std::vector<Analysis> analyse(std::span<const PlotValue> values, const AnalysisOptions& options) {
  const auto by_test = rows_by_test(values);
  const std::vector<std::pair<std::string_view, RowsOfTest>> tests(by_test.begin(), by_test.end());
  return in_parts<Analysis>(tests.size(), values.size(), [&](std::size_t first, std::size_t last) {
    std::vector<Analysis> analyses;
    for (std::size_t i = first; i < last; ++i) {
      const TestTable table = test_table(std::string(tests[i].first), tests[i].second);
      for (const Range range : ranges_of(table, options.totals))
        analyses.push_back(analysis_of(table, fitted_range(table, range, options.design), options));
    }
    return analyses;
  });
}

Best best_of(Direction direction) {
  switch (direction) {
    case Direction::kHighIsBest:
      return Best::kHighest;
    case Direction::kLowIsBest:
      return Best::kLowest;
    case Direction::kNone:
      break;
  }
  return Best::kNone;
}

Design design_named(std::string_view code) {
  if (code == "crd") return Design::kCompletelyRandomised;
  if (code == "alpha") return Design::kIncompleteBlocks;
  return code == "latin" ? Design::kLatinSquare : Design::kRandomisedBlocks;
}

std::string_view name_of(Design design) {
  switch (design) {
    case Design::kCompletelyRandomised:
      return "crd";
    case Design::kLatinSquare:
      return "latin";
    case Design::kIncompleteBlocks:
      return "alpha";
    case Design::kRandomisedBlocks:
      break;
  }
  return "rcb";
}

std::vector<Error> design_notices(std::span<const Analysis> analyses) {
  std::vector<Error> notices;
  for (const Analysis& analysis : analyses) {
    if (!analysis.places_missing) continue;
    if (!notices.empty() && notices.back().where == analysis.test) continue;
    if (analysis.design == Design::kIncompleteBlocks) {
      notices.push_back({ErrorKind::kRefused,
                         "a design of incomplete blocks, but that of a plot is not known: no means "
                         "and no error terms",
                         analysis.test, "state the incomplete block of every plot, or design rcb"});
      continue;
    }
    notices.push_back({ErrorKind::kRefused,
                       "a Latin square, but row and column of a plot are not known: no means and "
                       "no error terms",
                       analysis.test, "state row and column of every plot, or another design"});
  }
  return notices;
}

}  // namespace ligule::results
