#include "sync/results/field_trend.h"

#include <algorithm>
#include <array>
#include <map>
#include <set>
#include <utility>

#include "sync/results/crossed_plots.h"
#include "sync/results/labels.h"
#include "sync/results/test_table.h"
#include "sync/statistics/crossed_fit.h"

namespace ligule::results {
namespace {

using statistics::CrossedData;
using statistics::CrossedFit;
using statistics::Term;

constexpr const char* kNoDf = "no degrees of freedom are left for the error";
constexpr const char* kApart = "sets of entries are left that do not compare";
constexpr const char* kAbsorbed = "neighbours tell nothing that entry and block do not";
constexpr const char* kNoError = "the plain analysis leaves no error to explain";

PlotPlace spot_of(const TestTable& table, std::size_t plot) {
  return table.plots[plot].place.value_or(PlotPlace{});
}

// A position and its square, both from the middle of the field so that they tell apart.
Term position_term(const std::vector<int>& positions) {
  const auto [least, most] = std::ranges::minmax(positions);
  const double middle = (least + most) / 2.0;
  Term term;
  term.covariates.resize(2);
  for (const int position : positions) {
    const double from_middle = position - middle;
    term.covariates[0].push_back(from_middle);
    term.covariates[1].push_back(from_middle * from_middle);
  }
  return term;
}

TrendTest test_of(const statistics::TermLine& line) {
  return {line.adjusted.df, line.adjusted.f, line.adjusted.p};
}

// Mean residual of the plots beside each plot; empty where one has no plot beside it.
std::optional<std::vector<double>> beside(const TestTable& table, const Selected& selected,
                                          const std::vector<double>& residuals,
                                          std::string& alone) {
  std::map<PlotPlace, std::pair<double, double>> at;  // sum and count
  for (std::size_t i = 0; i < selected.plots.size(); ++i) {
    auto& [sum, count] = at[spot_of(table, selected.plots[i])];
    sum += residuals[i];
    count += 1.0;
  }
  constexpr std::array<PlotPlace, 4> kSides = {{{-1, 0}, {1, 0}, {0, -1}, {0, 1}}};
  std::vector<double> covariate;
  for (const std::size_t plot : selected.plots) {
    const PlotPlace place = spot_of(table, plot);
    double sum = 0.0;
    double count = 0.0;
    for (const PlotPlace& side : kSides) {
      const auto next = at.find({place.row + side.row, place.column + side.column});
      if (next == at.end()) continue;
      sum += next->second.first;
      count += next->second.second;
    }
    if (count == 0.0) {
      alone = table.plots[plot].label;
      return std::nullopt;
    }
    covariate.push_back(sum / count);
  }
  return covariate;
}

class Trend {
 public:
  Trend(const TestTable& table, Range range, const AnalysisOptions& options)
      : table_(table), range_(range), design_(options.design), selected_(select(table, range)) {}

  [[nodiscard]] bool can_be_had() const {
    const bool in_blocks =
        design_ != Design::kIncompleteBlocks || selected_.all_in_incomplete_blocks;
    return selected_.any_rep && selected_.all_placed && in_blocks && !selected_.plots.empty();
  }

  FieldTrend run() {
    out_.test = table_.test;
    out_.span = range_.span;
    if (range_.span != Span::kAllYears) out_.year = table_.cuttings[range_.first].year;
    if (range_.span == Span::kCutting) out_.cutting = table_.cuttings[range_.first].label;
    out_.design = design_;
    const CrossedData data = crossed_data(table_, selected_, design_);
    const CrossedFit plain = statistics::fit_crossed(data);
    out_.mse = plain.fit.error_mean_square;
    out_.df_error = plain.fit.df_error;
    for (std::size_t entry = 0; entry < table_.entries.size(); ++entry) {
      if (!selected_.listed[entry]) continue;
      entries_.push_back(entry);
      AdjustedMean& mean = out_.means.emplace_back();
      mean.entry = table_.entries[entry];
      mean.mean = plain.fit.treatments[entry].mean;
    }
    set_residuals(plain);
    set_tests(data);
    adjust_by_rows_and_columns();
    adjust_by_neighbours(data, plain);
    return std::move(out_);
  }

 private:
  void set_residuals(const CrossedFit& plain) {
    std::set<int> rows, columns;
    for (std::size_t i = 0; i < selected_.plots.size(); ++i) {
      const TablePlot& plot = table_.plots[selected_.plots[i]];
      const PlotPlace place = spot_of(table_, selected_.plots[i]);
      rows.insert(place.row);
      columns.insert(place.column);
      out_.residuals.push_back({plot.label, table_.reps[plot.rep], table_.entries[plot.entry],
                                place, selected_.values[i], plain.residuals[i]});
    }
    std::ranges::stable_sort(out_.residuals, {}, &PlacedResidual::place);
    out_.rows = rows.size();
    out_.columns = columns.size();
  }

  void set_tests(CrossedData data) {
    std::vector<int> rows, columns;
    for (const std::size_t plot : selected_.plots) {
      rows.push_back(spot_of(table_, plot).row);
      columns.push_back(spot_of(table_, plot).column);
    }
    data.terms.push_back(position_term(rows));
    data.terms.push_back(position_term(columns));
    const CrossedFit fit = statistics::fit_crossed(data);
    out_.by_row = test_of(fit.terms[fit.terms.size() - 2]);
    out_.by_column = test_of(fit.terms[fit.terms.size() - 1]);
    out_.df_trend = fit.fit.df_error;
  }

  using Means = std::optional<double> AdjustedMean::*;

  // What came of a fit; its means only where all of the error terms can be had too.
  void take(const CrossedFit& fit, Adjustment& adjustment, Means mean, Means error) {
    adjustment.df_error = fit.fit.df_error;
    adjustment.mse = fit.fit.error_mean_square;
    if (fit.fit.df_error <= 0.0) {
      adjustment.why = kNoDf;
      return;
    }
    bool any = false;
    for (std::size_t i = 0; i < entries_.size(); ++i) {
      const statistics::TreatmentEstimate& estimate = fit.fit.treatments[entries_[i]];
      out_.means[i].*mean = estimate.mean;
      out_.means[i].*error = estimate.standard_error;
      any = any || estimate.mean;
    }
    if (!any) adjustment.why = kApart;
  }

  void adjust_by_rows_and_columns() {
    const CrossedFit fit =
        statistics::fit_crossed(crossed_data(table_, selected_, Design::kLatinSquare));
    take(fit, out_.rows_columns, &AdjustedMean::rows_columns, &AdjustedMean::rows_columns_error);
  }

  void adjust_by_neighbours(CrossedData data, const CrossedFit& plain) {
    if (!out_.mse || *out_.mse <= 0.0) {
      out_.neighbours.why = out_.df_error <= 0.0 ? kNoDf : kNoError;
      return;
    }
    std::string alone;
    auto covariate = beside(table_, selected_, plain.residuals, alone);
    if (!covariate) {
      out_.neighbours.why = "no plot beside plot " + alone + " has a value";
      return;
    }
    Term term;
    term.covariates.push_back(*std::move(covariate));
    data.terms.push_back(std::move(term));
    const CrossedFit fit = statistics::fit_crossed(data);
    out_.neighbour_slope = fit.terms.back().slopes.front();
    if (!out_.neighbour_slope)
      out_.neighbours.why = kAbsorbed;
    else
      take(fit, out_.neighbours, &AdjustedMean::neighbours, &AdjustedMean::neighbours_error);
  }

  const TestTable& table_;
  Range range_;
  Design design_;
  Selected selected_;
  std::vector<std::size_t> entries_;  // of out_.means
  FieldTrend out_;
};

std::vector<std::string> beginning(const FieldTrend& trend) {
  return {trend.test, year_label(trend), cutting_label(trend)};
}

}  // namespace

std::vector<FieldTrend> field_trends(std::span<const PlotValue> values,
                                     const AnalysisOptions& options) {
  std::vector<FieldTrend> trends;
  for (const TestTable& table : test_tables(values)) {
    for (const Range range : ranges_of(table, options.totals)) {
      Trend trend(table, range, options);
      if (trend.can_be_had()) trends.push_back(trend.run());
    }
  }
  return trends;
}

std::string year_label(const FieldTrend& trend) {
  return year_label(trend.span, trend.year);
}

std::string cutting_label(const FieldTrend& trend) {
  return cutting_label(trend.span, trend.cutting);
}

std::string field_trend_csv(std::span<const FieldTrend> trends) {
  if (trends.empty()) return {};
  std::string text =
      "test,year,cutting,rows,columns,f_rows,p_rows,f_columns,p_columns,df_rows,df_columns,"
      "df_trend_error,mse,df_error,rows_columns_mse,rows_columns_df_error,"
      "without_rows_columns_because,neighbours_mse,neighbours_df_error,neighbours_slope,"
      "without_neighbours_because\n";
  for (const FieldTrend& t : trends) {
    std::vector<std::string> fields = beginning(t);
    fields.insert(
        fields.end(),
        {std::to_string(t.rows), std::to_string(t.columns), exact_or_empty(t.by_row.f),
         exact_or_empty(t.by_row.p), exact_or_empty(t.by_column.f), exact_or_empty(t.by_column.p),
         exact(t.by_row.df), exact(t.by_column.df), exact(t.df_trend), exact_or_empty(t.mse),
         exact(t.df_error), exact_or_empty(t.rows_columns.mse),
         exact_or_empty(t.rows_columns.df_error), t.rows_columns.why,
         exact_or_empty(t.neighbours.mse), exact_or_empty(t.neighbours.df_error),
         exact_or_empty(t.neighbour_slope), t.neighbours.why});
    text += csv_line(fields);
  }
  return text;
}

std::string residuals_csv(std::span<const FieldTrend> trends) {
  if (trends.empty()) return {};
  std::string text = "test,year,cutting,plot,row,column,block,entry,value,residual\n";
  for (const FieldTrend& trend : trends) {
    for (const PlacedResidual& r : trend.residuals) {
      std::vector<std::string> fields = beginning(trend);
      fields.insert(fields.end(),
                    {r.plot, std::to_string(r.place.row), std::to_string(r.place.column), r.rep,
                     r.entry, exact(r.value), exact(r.residual)});
      text += csv_line(fields);
    }
  }
  return text;
}

std::string adjusted_means_csv(std::span<const FieldTrend> trends) {
  if (trends.empty()) return {};
  std::string text =
      "test,year,cutting,entry,mean,rows_columns_mean,rows_columns_se,neighbours_mean,"
      "neighbours_se\n";
  for (const FieldTrend& trend : trends) {
    for (const AdjustedMean& m : trend.means) {
      std::vector<std::string> fields = beginning(trend);
      fields.insert(fields.end(),
                    {m.entry, exact_or_empty(m.mean), exact_or_empty(m.rows_columns),
                     exact_or_empty(m.rows_columns_error), exact_or_empty(m.neighbours),
                     exact_or_empty(m.neighbours_error)});
      text += csv_line(fields);
    }
  }
  return text;
}

}  // namespace ligule::results
