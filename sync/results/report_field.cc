#include "sync/results/report_field.h"

#include <algorithm>
#include <cmath>

#include "sync/results/html.h"
#include "sync/results/labels.h"
#include "sync/results/svg.h"

namespace ligule::results {
namespace {

constexpr double kCellWidth = 46.0, kCellHeight = 24.0;
constexpr double kMargin = 28.0;  // for the numbers of rows and columns
constexpr std::string_view kNothing = "–";

// "above2": shades tell size, the sign of the figure inside tells direction.
std::string shade(double residual, double deviation) {
  if (!(deviation > 0.0)) return "even";
  const double size = std::fabs(residual) / deviation;
  if (size < 0.5) return "even";
  const char* const step = size < 1.0 ? "1" : size < 2.0 ? "2" : "3";
  return std::string(residual > 0.0 ? "above" : "below") + step;
}

std::string signed_text(double residual, int decimals) {
  std::string text = rounded(residual, decimals);
  if (text.starts_with('-')) return "−" + text.substr(1);
  return text.find_first_not_of("0.") == std::string::npos ? text : "+" + text;
}

double deviation_of(const FieldTrend& trend) {
  return trend.mse ? std::sqrt(*trend.mse) : 0.0;
}

// Rows across, the first at the foot, as one stands before the field.
std::string map_of(const FieldTrend& trend) {
  int first_row = 0, last_row = 0, first_column = 0, last_column = 0;
  bool any = false;
  for (const PlacedResidual& plot : trend.residuals) {
    const auto [row, column] = std::pair{plot.place.row, plot.place.column};
    first_row = any ? std::min(first_row, row) : row;
    last_row = any ? std::max(last_row, row) : row;
    first_column = any ? std::min(first_column, column) : column;
    last_column = any ? std::max(last_column, column) : column;
    any = true;
  }
  const double deviation = deviation_of(trend);
  // A digit less than a mean of that size has: what is left over is chance for the most part.
  const int decimals = deviation > 0.0 ? std::max(decimals_for(deviation, std::nullopt) - 1, 0) : 2;
  Svg svg(kMargin + kCellWidth * (last_column - first_column + 1) + 2.0,
          kMargin + kCellHeight * (last_row - first_row + 1) + 2.0);
  const auto x = [&](int column) { return kMargin + kCellWidth * (column - first_column); };
  const auto y = [&](int row) { return kCellHeight * (last_row - row) + 1.0; };
  for (const PlacedResidual& plot : trend.residuals) {
    const double left = x(plot.place.column), top = y(plot.place.row);
    svg.box(left, top, kCellWidth, kCellHeight, "cell " + shade(plot.residual, deviation),
            "plot " + plot.plot);
    svg.text(left + kCellWidth / 2.0, top + 16.0, signed_text(plot.residual, decimals),
             Anchor::kMiddle, "figure");
  }
  for (int row = first_row; row <= last_row; ++row)
    svg.text(kMargin - 6.0, y(row) + 16.0, std::to_string(row), Anchor::kEnd, "scale");
  for (int column = first_column; column <= last_column; ++column)
    svg.text(x(column) + kCellWidth / 2.0, y(first_row) + kCellHeight + 16.0,
             std::to_string(column), Anchor::kMiddle, "scale");
  return svg.element("Map of plots: what is left over of each");
}

bool found(const TrendTest& test, double alpha) {
  return test.p && *test.p <= alpha;
}

std::string p_told(const TrendTest& test) {
  const double p = test.p.value_or(1.0);
  return p < 0.0001 ? "p < 0.0001" : "p = " + rounded(p, 4);
}

std::string trend_told(const FieldTrend& trend, double alpha) {
  std::string told;
  for (const auto& [test, way] : {std::pair{&trend.by_row, "from row to row"},
                                  std::pair{&trend.by_column, "from column to column"}}) {
    if (!test->p) continue;
    told += (told.empty() ? "" : " ") +
            std::string(found(*test, alpha) ? "There is a trend " : "No trend is found ") + way +
            " (" + p_told(*test) + ").";
  }
  return told.empty() ? "Whether there is a trend can't be told here." : told;
}

std::string mean_cell(const std::optional<double>& mean, const std::optional<double>& error,
                      int decimals) {
  if (!mean) return element("td", kNothing);
  std::string text = rounded(*mean, decimals);
  if (error) text += " ± " + rounded(*error, decimals);
  return element("td", text);
}

std::string adjusted_table(const FieldTrend& trend) {
  std::vector<const AdjustedMean*> means;
  double largest = 0.0;
  for (const AdjustedMean& mean : trend.means) {
    if (mean.mean) largest = std::max(largest, std::fabs(*mean.mean));
    means.push_back(&mean);
  }
  std::ranges::stable_sort(means, [](const AdjustedMean* a, const AdjustedMean* b) {
    return a->mean.value_or(-HUGE_VAL) > b->mean.value_or(-HUGE_VAL);
  });
  const int decimals =
      largest > 0.0
          ? decimals_for(largest, trend.mse ? std::optional(std::sqrt(*trend.mse)) : std::nullopt)
          : 0;
  std::string rows;
  for (const AdjustedMean* const mean : means) {
    rows += element("tr", entry_head(mean->entry) + mean_cell(mean->mean, {}, decimals) +
                              mean_cell(mean->rows_columns, mean->rows_columns_error, decimals) +
                              mean_cell(mean->neighbours, mean->neighbours_error, decimals)) +
            "\n";
  }
  std::string head = element("th", "Entry", "scope=\"col\"");
  for (const char* const name : {"As printed", "By rows and columns", "By neighbours"})
    head += element("th", name, "scope=\"col\"");
  return element("div",
                 element("table",
                         "\n" +
                             element("caption",
                                     "Means adjusted for the field, ± standard error, beside those "
                                     "that are printed") +
                             "\n" + element("thead", element("tr", head)) + "\n" +
                             element("tbody", "\n" + rows) + "\n"),
                 "class=\"wide\"") +
         "\n";
}

// The last-listed of those that have a trend.
const FieldTrend* trend_of(const ReportTest& test, const ReportText& text) {
  const FieldTrend* last = nullptr;
  for (const FieldTrend& trend : text.trends)
    if (trend.test == test.test && !trend.residuals.empty()) last = &trend;
  return last;
}

std::string analysis_told(const FieldTrend& trend) {
  if (trend.span == Span::kAllYears) return "all years";
  if (trend.span == Span::kYear) return year_label(trend) + " total";
  const std::string year = year_label(trend);
  return year + (year.empty() ? "" : ", ") + "cutting " + cutting_label(trend);
}

}  // namespace

std::string field_part(const ReportTest& test, const ReportText& text) {
  const FieldTrend* const trend = trend_of(test, text);
  if (trend == nullptr) return {};
  const std::string unit = text.unit.empty() ? std::string() : ", " + text.unit;
  const std::string caption =
      element("b", "The field: " + escaped(analysis_told(*trend) + unit) + ".") +
      " What each plot gave above (+) or below (−) what its entry and block account for; rows "
      "upward, columns across. " +
      escaped(trend_told(*trend, text.alpha));
  std::string html = element("figure",
                             "\n" + element("figcaption", caption) + "\n" +
                                 element("div", "\n" + map_of(*trend), "class=\"wide\"") + "\n",
                             "class=\"map\"") +
                     "\n";
  if (found(trend->by_row, text.alpha) || found(trend->by_column, text.alpha))
    html += adjusted_table(*trend);
  return html;
}

}  // namespace ligule::results
