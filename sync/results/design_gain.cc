#include "sync/results/design_gain.h"

#include "sync/results/crossed_plots.h"
#include "sync/results/labels.h"
#include "sync/results/test_table.h"
#include "sync/statistics/fit.h"

namespace ligule::results {
namespace {

statistics::Fit fit_of_blocks(const TestTable& table, const Selected& selected) {
  std::vector<statistics::Observation> plots;
  plots.reserve(selected.plots.size());
  for (std::size_t i = 0; i < selected.plots.size(); ++i) {
    const TablePlot& plot = table.plots[selected.plots[i]];
    plots.push_back({plot.entry, plot.rep, selected.values[i]});
  }
  return statistics::fit_in_blocks(plots, table.entries.size(), table.reps.size());
}

void set_gains(const TestTable& table, const Selected& selected, DesignGain& gain) {
  if (gain.design == Design::kLatinSquare && !selected.all_placed) return;
  if (gain.design == Design::kRandomisedBlocks) {
    const statistics::Fit fit = fit_of_blocks(table, selected);
    gain.df_error = fit.df_error;
    gain.over_none = statistics::efficiency_of_complete_blocks(fit);
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

std::vector<DesignGain> design_gains(std::span<const PlotValue> values,
                                     const AnalysisOptions& options) {
  std::vector<DesignGain> gains;
  for (const TestTable& table : test_tables(values)) {
    for (const Range range : ranges_of(table, options.totals)) {
      const Selected selected = select(table, range);
      if (!selected.any_rep || selected.plots.empty()) continue;
      DesignGain& gain = gains.emplace_back();
      gain.test = table.test;
      gain.span = range.span;
      if (range.span != Span::kAllYears) gain.year = table.cuttings[range.first].year;
      if (range.span == Span::kCutting) gain.cutting = table.cuttings[range.first].label;
      gain.design = options.design;
      set_gains(table, selected, gain);
    }
  }
  return gains;
}

std::string designs_csv(std::span<const DesignGain> gains) {
  if (gains.empty()) return {};
  std::string text =
      "test,year,cutting,design,df_error,over_no_blocking,over_no_blocking_corrected,over_rows,"
      "over_rows_corrected,over_columns,over_columns_corrected\n";
  for (const DesignGain& gain : gains) {
    std::vector<std::string> fields = {
        gain.test, year_label(gain.span, gain.year), cutting_label(gain.span, gain.cutting),
        std::string(name_of(gain.design)), exact_or_empty(gain.df_error)};
    for (const auto& over : {gain.over_none, gain.over_rows, gain.over_columns})
      add_ratios(fields, over);
    text += csv_line(fields);
  }
  return text;
}

}  // namespace ligule::results
