#include "sync/results/report_field.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "sync/results/printed_stands.h"
#include "tests/sync/results/placed_plots.h"

namespace ligule::results {
namespace {

using ::testing::HasSubstr;
using ::testing::IsEmpty;
using ::testing::Not;

ReportText text_of(const std::vector<PlotValue>& values) {
  ReportText text;
  text.trends = field_trends(values, {});
  text.gains = design_gains(values, {});
  return text;
}

std::string part_of(const ReportText& text) {
  ReportTest test;
  test.test = "T";
  return field_part(test, text);
}

std::size_t times(const std::string& text, const std::string& part) {
  std::size_t found = 0;
  for (auto at = text.find(part); at != std::string::npos; at = text.find(part, at + 1)) ++found;
  return found;
}

TEST(ReportField, HasACellForEachPlotWithItsNumber) {
  const std::string html = part_of(text_of(placed_plots(5, 0.5)));
  EXPECT_EQ(times(html, "<rect"), 48U);
  EXPECT_THAT(html, HasSubstr("<title>plot 101</title>"));
  EXPECT_THAT(html, HasSubstr("2026, cutting 1"));
}

TEST(ReportField, ATrendIsToldAndItsAdjustedMeansStandBesideThePlainOnes) {
  const auto slope = [](PlotPlace at) { return 0.6 * at.column; };
  const std::string html = part_of(text_of(placed_plots(5, 0.5, slope)));
  EXPECT_THAT(html, HasSubstr("There is a trend from column to column (p"));
  EXPECT_THAT(html, HasSubstr("As printed"));
  EXPECT_THAT(html, HasSubstr("By rows and columns"));
  EXPECT_THAT(html, HasSubstr("By neighbours"));
}

TEST(ReportField, WithoutATrendThereAreNoOtherMeans) {
  // A draw in which neither side is called a trend.
  for (unsigned seed = 1; seed < 20; ++seed) {
    const ReportText text = text_of(placed_plots(seed, 0.5));
    const FieldTrend& trend = text.trends.front();
    if (trend.by_row.p.value_or(1.0) < 0.05 || trend.by_column.p.value_or(1.0) < 0.05) continue;
    EXPECT_THAT(part_of(text), HasSubstr("No trend is found from column to column"));
    EXPECT_THAT(part_of(text), Not(HasSubstr("As printed")));
    return;
  }
  FAIL() << "every draw had a trend";
}

TEST(ReportField, PlotsWithoutAPlaceHaveNoMap) {
  std::vector<PlotValue> values = placed_plots(5, 0.5);
  for (PlotValue& value : values) value.place.reset();
  EXPECT_THAT(part_of(text_of(values)), IsEmpty());
}

TEST(ReportField, NamesAreThoseInPrint) {
  std::vector<FieldTrend> trends = field_trends(placed_plots(5, 0.5), {});
  FieldTrend& trend = trends.front();
  const std::size_t plots = trend.residuals.size();
  print_names(trend, [](const std::string& label) -> std::optional<std::string> {
    if (label == "A") return std::nullopt;
    return label == "B" ? "Zelkova" : label;
  });
  EXPECT_EQ(trend.residuals.size(), plots - 4);
  EXPECT_THAT(residuals_csv(trends), Not(HasSubstr(",A,")));
  EXPECT_THAT(adjusted_means_csv(trends), HasSubstr(",Zelkova,"));
  EXPECT_EQ(trend.means.back().entry, "Zelkova");
}

}  // namespace
}  // namespace ligule::results
