// Whether the ground shows through: residuals by place, a test for a trend along rows and along
// columns, and two adjustments beside the plain analysis, never instead of it.
//
// All start from the analysis as printed (analysis.h), entry + block, fitted by least squares to
// the same values. There is one of each analysis of plots whose every value has a place.
#pragma once

#include <cstddef>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "sync/results/analysis.h"
#include "sync/results/plot_value.h"

namespace ligule::results {

struct PlacedResidual {
  std::string plot, rep, entry;
  PlotPlace place;
  double value = 0.0;
  double residual = 0.0;  // value less what entry and block account for
};

// Of the linear and quadratic terms of a position (row or column number) added to entry + block and
// to the terms of the other position: F of the two together, over the error they leave.
struct TrendTest {
  double df = 0.0;          // below 2 where blocks take up a part of them; 0: nothing to test
  std::optional<double> f;  // empty without df, and without an error mean square above zero
  std::optional<double> p;
};

struct Adjustment {
  std::optional<double> mse;
  std::optional<double> df_error;  // empty where nothing was fitted
  std::string why;                 // there are no adjusted means; empty: there are
};

struct AdjustedMean {
  std::string entry;
  std::optional<double> mean;  // as printed, beside which the others stand
  std::optional<double> rows_columns, rows_columns_error;
  std::optional<double> neighbours, neighbours_error;
};

struct FieldTrend {
  std::string test;
  Span span = Span::kCutting;
  std::optional<int> year;  // as of Analysis
  std::string cutting;
  Design design = Design::kRandomisedBlocks;

  std::size_t rows = 0, columns = 0;  // with a value
  std::optional<double> mse;          // of the analysis as printed
  double df_error = 0.0;
  TrendTest by_row;       // from row to row
  TrendTest by_column;    // from column to column
  double df_trend = 0.0;  // error df of both tests

  // value = entry + row + column: every row and column may lie as it will.
  Adjustment rows_columns;
  // value = entry + block + slope x covariate, the covariate of a plot being the mean of the plain
  // residuals of the plots beside it: the next in its row on either side and the next in its column
  // on either side, those of them that have a value (Papadakis 1937, from memory, who took
  // deviations from entry means; here blocks are taken off too). One pass; df and F take the
  // covariate for known, which makes them somewhat too good.
  Adjustment neighbours;
  std::optional<double> neighbour_slope;  // near 0: neighbours tell nothing

  std::vector<PlacedResidual> residuals;  // by row, then column
  std::vector<AdjustedMean> means;        // one per entry with a row, as in Analysis::means
};

// In the order of analyse(), with the same options. An analysis with a value whose place is not
// known, of published means, or without values has none.
[[nodiscard]] std::vector<FieldTrend> field_trends(std::span<const PlotValue> values,
                                                   const AnalysisOptions& options);

[[nodiscard]] std::string year_label(const FieldTrend& trend);
[[nodiscard]] std::string cutting_label(const FieldTrend& trend);

// field_trend.csv, residuals.csv and adjusted_means.csv; empty texts without any trend.
[[nodiscard]] std::string field_trend_csv(std::span<const FieldTrend> trends);
[[nodiscard]] std::string residuals_csv(std::span<const FieldTrend> trends);
[[nodiscard]] std::string adjusted_means_csv(std::span<const FieldTrend> trends);

}  // namespace ligule::results
