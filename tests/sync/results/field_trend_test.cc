// What the ground does: which analyses are looked at, trends found on the side they were planted
// on, what can't be had. R's figures are in tests/published.
#include "sync/results/field_trend.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "tests/sync/results/placed_plots.h"

namespace ligule::results {
namespace {

FieldTrend only(const std::vector<PlotValue>& values, Design design = Design::kRandomisedBlocks) {
  AnalysisOptions options;
  options.design = design;
  std::vector<FieldTrend> trends = field_trends(values, options);
  EXPECT_EQ(trends.size(), 1U);
  return trends.empty() ? FieldTrend{} : trends.front();
}

// Of 1000 draws, those with p below 0.05 by row and by column.
std::pair<int, int> found(const std::function<double(PlotPlace)>& ground, int draws) {
  std::pair<int, int> count{0, 0};
  for (int draw = 0; draw < draws; ++draw) {
    const FieldTrend trend = only(placed_plots(static_cast<unsigned>(draw), 0.5, ground));
    if (trend.by_row.p.value_or(1.0) < 0.05) ++count.first;
    if (trend.by_column.p.value_or(1.0) < 0.05) ++count.second;
  }
  return count;
}

TEST(FieldTrends, PureNoiseIsCalledATrendAsOftenAsTheLevelSays) {
  const auto [rows, columns] = found([](PlotPlace) { return 0.0; }, 1000);
  // 50 wanted; 7 is the standard deviation of the count.
  EXPECT_GT(rows, 25);
  EXPECT_LT(rows, 75);
  EXPECT_GT(columns, 25);
  EXPECT_LT(columns, 75);
}

TEST(FieldTrends, ASlopeAlongTheColumnsIsFoundThereAndNotByRow) {
  const auto [rows, columns] = found([](PlotPlace at) { return 0.3 * at.column; }, 200);
  EXPECT_GT(columns, 190);
  EXPECT_LT(rows, 22);
}

TEST(FieldTrends, AHollowAlongTheRowsIsFoundThereAndNotByColumn) {
  const auto hollow = [](PlotPlace at) { return 0.2 * (at.row - 4.5) * (at.row - 4.5); };
  const auto [rows, columns] = found(hollow, 200);
  EXPECT_GT(rows, 150) << "blocks take up a part of it";
  EXPECT_LT(columns, 22);
}

TEST(FieldTrends, BlocksThatAreTheRowsLeaveNoTrendByRow) {
  auto values = placed_plots(3, 0.5);
  for (PlotValue& value : values) value.rep = std::to_string(value.place->row);
  const FieldTrend trend = only(values);
  EXPECT_EQ(trend.by_row.df, 0.0);
  EXPECT_FALSE(trend.by_row.f);
  EXPECT_FALSE(trend.by_row.p);
  EXPECT_EQ(trend.by_column.df, 2.0);
  EXPECT_TRUE(trend.by_column.p);
}

TEST(FieldTrends, ItStandsOnTheAnalysisAsPrinted) {
  auto values = placed_plots(5, 0.5);
  values[7].value.reset();
  const FieldTrend trend = only(values);
  const std::vector<Analysis> printed = analyse(values, {});
  ASSERT_EQ(printed.size(), 1U);
  EXPECT_NEAR(*trend.mse, *printed[0].mse, 1e-12);
  EXPECT_EQ(trend.df_error, *printed[0].df_error);
  ASSERT_EQ(trend.means.size(), printed[0].means.size());
  for (std::size_t i = 0; i < trend.means.size(); ++i) {
    EXPECT_EQ(trend.means[i].entry, printed[0].means[i].entry);
    EXPECT_NEAR(*trend.means[i].mean, *printed[0].means[i].mean, 1e-12);
  }
  EXPECT_EQ(trend.rows, 8U);
  EXPECT_EQ(trend.columns, 6U);
  ASSERT_EQ(trend.residuals.size(), 47U) << "a missing plot has no residual";
  EXPECT_TRUE(std::ranges::is_sorted(trend.residuals, {}, &PlacedResidual::place));
  EXPECT_EQ(trend.residuals.front().plot, "101");
  EXPECT_EQ(trend.residuals.back().rep, "4");
  double squares = 0.0;
  for (const PlacedResidual& r : trend.residuals) squares += r.residual * r.residual;
  EXPECT_NEAR(squares, *trend.mse * trend.df_error, 1e-12);
}

TEST(FieldTrends, OneOfEachAnalysisThatHasPlacesWithTotals) {
  auto values = placed_plots(5, 0.5);
  auto second = placed_plots(6, 0.5);
  // The same plots a second time.
  for (std::size_t i = 0; i < second.size(); ++i) {
    const auto value = second[i].value;
    second[i] = values[i];
    second[i].cutting = "2";
    second[i].value = value;
  }
  values.insert(values.end(), second.begin(), second.end());
  auto elsewhere = placed_plots(7, 0.5);
  for (PlotValue& value : elsewhere) value.test = "Elsewhere";
  elsewhere[3].place.reset();
  values.insert(values.end(), elsewhere.begin(), elsewhere.end());
  const auto trends = field_trends(values, {});
  ASSERT_EQ(trends.size(), 3U) << "one unknown place: nothing of that test";
  EXPECT_EQ(cutting_label(trends[0]), "1");
  EXPECT_EQ(cutting_label(trends[1]), "2");
  EXPECT_EQ(cutting_label(trends[2]), "total");
  EXPECT_EQ(year_label(trends[2]), "2026");
  EXPECT_EQ(trends[2].residuals.size(), 48U) << "a total lies where its plot does";
  AnalysisOptions ratings;
  ratings.totals = false;
  EXPECT_EQ(field_trends(values, ratings).size(), 2U);
}

TEST(FieldTrends, APlaceThatIsNotKnownDoesNoHarmWithoutAValue) {
  auto values = placed_plots(5, 0.5);
  values[3].place.reset();
  values[3].value.reset();
  EXPECT_EQ(only(values).residuals.size(), 47U);
}

TEST(FieldTrends, PublishedMeansAndTestsWithoutValuesHaveNone) {
  auto values = placed_plots(5, 0.5);
  for (PlotValue& value : values) value.value.reset();
  EXPECT_TRUE(field_trends(values, {}).empty());
  values = placed_plots(5, 0.5);
  values.resize(12);
  for (PlotValue& value : values) value.rep = "";
  EXPECT_TRUE(field_trends(values, {}).empty());
  EXPECT_TRUE(field_trends({}, {}).empty());
}

// Ground that is worth two units in the last columns: the plain means of entries that lay there
// are too good, both adjustments bring them nearer to what was planted.
TEST(FieldTrends, BothAdjustmentsComeNearerToWhatWasPlanted) {
  const auto ground = [](PlotPlace at) { return at.column > 4 ? 2.0 : 0.0; };
  double plain = 0.0, placed = 0.0, near = 0.0;
  for (unsigned draw = 0; draw < 40; ++draw) {
    const FieldTrend trend = only(placed_plots(draw, 0.2, ground));
    const auto distance = [&](auto mean) {
      double sum = 0.0, centre = 0.0;
      for (std::size_t i = 0; i < 12; ++i)
        centre += *(trend.means[i].*mean) - 0.5 * static_cast<double>(i);
      for (std::size_t i = 0; i < 12; ++i) {
        const double off = *(trend.means[i].*mean) - 0.5 * static_cast<double>(i) - centre / 12.0;
        sum += off * off;
      }
      return sum;
    };
    plain += distance(&AdjustedMean::mean);
    placed += distance(&AdjustedMean::rows_columns);
    near += distance(&AdjustedMean::neighbours);
    EXPECT_GT(*trend.neighbour_slope, 0.0);
    EXPECT_LT(*trend.rows_columns.mse, *trend.mse);
  }
  EXPECT_LT(placed, 0.25 * plain);
  EXPECT_LT(near, 0.6 * plain);
}

// Plots in one long row: each is a column of its own.
TEST(FieldTrends, OneLongRowHasNoAdjustmentByColumns) {
  auto values = placed_plots(5, 0.5);
  int column = 0;
  for (PlotValue& value : values) value.place = PlotPlace{1, ++column};
  const FieldTrend trend = only(values);
  EXPECT_EQ(trend.rows_columns.why, "no degrees of freedom are left for the error");
  EXPECT_FALSE(trend.means[0].rows_columns);
  EXPECT_FALSE(trend.means[0].rows_columns_error);
  EXPECT_FALSE(trend.rows_columns.mse);
  EXPECT_EQ(trend.by_row.df, 0.0);
  EXPECT_TRUE(trend.by_column.p);
  EXPECT_TRUE(trend.means[0].neighbours) << "its neighbours in the row are there";
}

// Each entry in a row of its own: rows take all of it up.
TEST(FieldTrends, RowsThatHoldOneEntryEachLeaveNoMeans) {
  std::vector<PlotValue> values;
  for (int row = 1; row <= 3; ++row) {
    for (int column = 1; column <= 4; ++column)
      values.push_back({"T", "", 2026, "1", std::to_string(column),
                        std::string(1, static_cast<char>('A' + row)),
                        std::to_string(10 * row + column), row + 0.25 * ((row * column) % 5),
                        PlotPlace{row, column}});
  }
  const FieldTrend trend = only(values);
  EXPECT_EQ(trend.rows_columns.why, "sets of entries are left that do not compare");
  EXPECT_FALSE(trend.means[0].rows_columns);
  EXPECT_TRUE(trend.means[0].mean);
  EXPECT_EQ(trend.by_row.df, 0.0);
}

TEST(FieldTrends, APlotWithNothingBesideItStopsTheNeighbours) {
  auto values = placed_plots(5, 0.5);
  values[0].place = PlotPlace{30, 30};
  const FieldTrend trend = only(values);
  EXPECT_EQ(trend.neighbours.why, "no plot beside plot 101 has a value");
  EXPECT_FALSE(trend.neighbours.mse);
  EXPECT_FALSE(trend.neighbours.df_error);
  EXPECT_FALSE(trend.neighbour_slope);
  EXPECT_FALSE(trend.means[0].neighbours);
}

TEST(FieldTrends, WithoutErrorThereIsNothingToTestOrToExplain) {
  const FieldTrend trend = only(placed_plots(5, 0.0));
  EXPECT_EQ(*trend.mse, 0.0);
  EXPECT_FALSE(trend.by_row.f);
  EXPECT_FALSE(trend.by_column.p);
  EXPECT_EQ(trend.neighbours.why, "the plain analysis leaves no error to explain");
  auto two = placed_plots(5, 0.5);
  two.resize(12);
  const FieldTrend one_block = only(two);
  EXPECT_FALSE(one_block.mse);
  EXPECT_FALSE(one_block.by_column.f);
  EXPECT_EQ(one_block.neighbours.why, "no degrees of freedom are left for the error");
}

TEST(FieldTrends, AnOffsetOfABillionChangesNoFigureButTheMeans) {
  // Values in quarters, which stay exact beside the offset.
  auto values = placed_plots(5, 0.5, [](PlotPlace at) { return 0.2 * at.column; });
  for (PlotValue& value : values) value.value = std::round(4.0 * *value.value) / 4.0;
  const FieldTrend plain = only(values);
  for (PlotValue& value : values) *value.value += 1e9;
  const FieldTrend far = only(values);
  EXPECT_NEAR(*far.by_column.f, *plain.by_column.f, 1e-10 * *plain.by_column.f);
  EXPECT_NEAR(*far.neighbour_slope, *plain.neighbour_slope, 1e-10);
  EXPECT_NEAR(*far.neighbours.mse, *plain.neighbours.mse, 1e-10);
  EXPECT_NEAR(*far.means[4].rows_columns - 1e9, *plain.means[4].rows_columns, 1e-6);
}

TEST(FieldTrends, ALatinSquareTakesRowsAndColumnsUpItself) {
  const FieldTrend trend = only(square_plots(6, 3), Design::kLatinSquare);
  EXPECT_EQ(trend.by_row.df, 0.0);
  EXPECT_EQ(trend.by_column.df, 0.0);
  EXPECT_EQ(*trend.mse, *trend.rows_columns.mse);
  EXPECT_EQ(*trend.means[0].mean, *trend.means[0].rows_columns);
  EXPECT_TRUE(trend.means[0].neighbours);
}

TEST(FieldTrends, CompletelyRandomisedPlotsHaveNoBlocksInTheModel) {
  const FieldTrend trend = only(placed_plots(5, 0.5), Design::kCompletelyRandomised);
  EXPECT_EQ(trend.df_error, 36.0);
  EXPECT_EQ(trend.df_trend, 32.0);
  EXPECT_EQ(trend.by_row.df, 2.0);
}

TEST(FieldTrendFiles, SayWhatIsKnownAndNothingElse) {
  EXPECT_EQ(field_trend_csv({}), "");
  EXPECT_EQ(residuals_csv({}), "");
  EXPECT_EQ(adjusted_means_csv({}), "");
  FieldTrend trend;
  trend.test = "T,1";
  trend.year = 2026;
  trend.cutting = "2";
  trend.rows = 2;
  trend.columns = 3;
  trend.mse = 0.5;
  trend.df_error = 2;
  trend.by_row = {1, 2.5, 0.25};
  trend.df_trend = 1;
  trend.rows_columns = {{}, 0.0, "no df"};
  trend.neighbours = {0.25, 1.0, ""};
  trend.neighbour_slope = 0.125;
  trend.residuals = {{"101", "1", "A", {1, 2}, 3.5, -0.5}};
  trend.means = {{"A", 3.25, {}, {}, 3.5, 0.75}};
  const std::vector<FieldTrend> trends = {trend};
  EXPECT_EQ(field_trend_csv(trends),
            "test,year,cutting,rows,columns,f_rows,p_rows,f_columns,p_columns,df_rows,df_columns,"
            "df_trend_error,mse,df_error,rows_columns_mse,rows_columns_df_error,"
            "without_rows_columns_because,neighbours_mse,neighbours_df_error,neighbours_slope,"
            "without_neighbours_because\n"
            "\"T,1\",2026,2,2,3,2.5,0.25,,,1,0,1,0.5,2,,0,no df,0.25,1,0.125,\n");
  EXPECT_EQ(residuals_csv(trends),
            "test,year,cutting,plot,row,column,block,entry,value,residual\n"
            "\"T,1\",2026,2,101,1,2,1,A,3.5,-0.5\n");
  EXPECT_EQ(adjusted_means_csv(trends),
            "test,year,cutting,entry,mean,rows_columns_mean,rows_columns_se,neighbours_mean,"
            "neighbours_se\n"
            "\"T,1\",2026,2,A,3.25,,,3.5,0.75\n");
}

}  // namespace
}  // namespace ligule::results
