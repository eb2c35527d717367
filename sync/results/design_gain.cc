#include "sync/results/design_gain.h"

#include "sync/results/crossed_plots.h"
#include "sync/results/labels.h"
#include "sync/results/one_test.h"
#include "sync/results/test_table.h"

namespace ligule::results {
namespace {

// Entries of incomplete blocks are compared within them, which costs something as well: so it is
// the differences that are held against each other, not the errors of a plot.
void set_gains_of_incomplete(const TestTable& table, const FittedRange& fitted, DesignGain& gain) {
  const Selected& selected = fitted.selected;
  if (!selected.all_in_incomplete_blocks) return;
  gain.df_error = fitted.fit.df_error;
  gain.over_none = statistics::efficiency_beside(fitted.fit, fit_without_blocks(table, selected));
  gain.over_blocks = statistics::efficiency_beside(
      fitted.fit, fit_in_blocks(table, selected, complete_blocks(table, selected)));
}

void set_gains(const TestTable& table, const FittedRange& fitted, DesignGain& gain) {
  const Selected& selected = fitted.selected;
  if (gain.design == Design::kLatinSquare && !selected.all_placed) return;
  if (gain.design == Design::kIncompleteBlocks) return set_gains_of_incomplete(table, fitted, gain);
  if (gain.design == Design::kRandomisedBlocks) {
    gain.df_error = fitted.fit.df_error;
    gain.over_none = statistics::efficiency_of_complete_blocks(fitted.fit);
    if (gain.over_none) return;
  }
  const statistics::CrossedData data = crossed_data(table, selected, gain.design);
  const statistics::CrossedFit fit = statistics::fit_crossed(data);
  gain.df_error = fit.fit.df_error;
  if (data.terms.empty()) return;
  gain.over_none =
      statistics::efficiency_over(data, fit, std::vector<bool>(data.terms.size(), true));
  if (gain.design != Design::kLatinSquare) return;
  gain.over_rows = statistics::efficiency_over(data, fit, {false, true});
  gain.over_columns = statistics::efficiency_over(data, fit, {true, false});
}

void add_ratios(std::vector<std::string>& fields,
                const std::optional<statistics::Efficiency>& gain) {
  fields.push_back(gain ? exact(gain->plain) : std::string());
  fields.push_back(gain ? exact(gain->corrected) : std::string());
}

}  // namespace

std::optional<DesignGain> gain_of(const TestTable& table, const FittedRange& fitted,
                                  Design design) {
  const Range range = fitted.range;
  if (!fitted.selected.any_rep || fitted.selected.plots.empty()) return std::nullopt;
  DesignGain gain;
  gain.test = table.test;
  gain.span = range.span;
  if (range.span != Span::kAllYears) gain.year = table.cuttings[range.first].year;
  if (range.span == Span::kCutting) gain.cutting = table.cuttings[range.first].label;
  gain.design = design;
  set_gains(table, fitted, gain);
  return gain;
}

std::vector<DesignGain> design_gains(std::span<const PlotValue> values,
                                     const AnalysisOptions& options) {
  std::vector<DesignGain> gains;
  for (const TestTable& table : test_tables(values)) {
    for (const Range range : ranges_of(table, options.totals)) {
      auto gain = gain_of(table, fitted_range(table, range, options.design), options.design);
      if (gain) gains.push_back(*std::move(gain));
    }
  }
  return gains;
}

std::string designs_csv(std::span<const DesignGain> gains) {
  if (gains.empty()) return {};
  std::string text =
      "test,year,cutting,design,df_error,over_no_blocking,over_no_blocking_corrected,over_rows,"
      "over_rows_corrected,over_columns,over_columns_corrected,over_complete_blocks,"
      "over_complete_blocks_corrected\n";
  for (const DesignGain& gain : gains) {
    std::vector<std::string> fields = {
        gain.test, year_label(gain.span, gain.year), cutting_label(gain.span, gain.cutting),
        std::string(name_of(gain.design)), exact_or_empty(gain.df_error)};
    for (const auto& over : {gain.over_none, gain.over_rows, gain.over_columns, gain.over_blocks})
      add_ratios(fields, over);
    text += csv_line(fields);
  }
  return text;
}

}  // namespace ligule::results
