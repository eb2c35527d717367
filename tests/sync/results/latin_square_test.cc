// Analyses of Latin squares, and what the design of an analysis gained. R's figures and those of
// books are in tests/published.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>

#include "sync/results/analysis.h"
#include "sync/results/design_gain.h"
#include "tests/sync/results/placed_plots.h"

namespace ligule::results {
namespace {

AnalysisOptions latin() {
  AnalysisOptions options;
  options.design = Design::kLatinSquare;
  return options;
}

TEST(LatinSquare, RowsAndColumnsAreTakenOutOfTheError) {
  auto values = square_plots(5, 2);
  const auto got = analyse(values, latin());
  ASSERT_EQ(got.size(), 1U);
  EXPECT_EQ(got[0].design, Design::kLatinSquare);
  EXPECT_EQ(*got[0].df_error, 12.0);
  EXPECT_EQ(*got[0].reps, 5U);
  EXPECT_TRUE(got[0].connected);
  EXPECT_TRUE(got[0].lsd);
  const double mse = *got[0].mse;
  // What a whole row or column has more or less, and which block it is said to be, takes no part.
  for (PlotValue& value : values) {
    value.rep = "7";
    *value.value += 3.0 * value.place->row * value.place->row - 8.0 * value.place->column;
  }
  const auto shifted = analyse(values, latin());
  EXPECT_NEAR(*shifted[0].mse, mse, 1e-10 * mse);
  EXPECT_EQ(*shifted[0].reps, 5U) << "rows, not blocks";
  EXPECT_NE(*analyse(values, {})[0].df_error, 12.0);
}

TEST(LatinSquare, MissingPlotsCostADegreeOfFreedomEach) {
  auto values = square_plots(5, 2);
  values[3].value.reset();
  values[19].value.reset();
  const auto got = analyse(values, latin());
  EXPECT_EQ(*got[0].df_error, 10.0);
  EXPECT_EQ(got[0].values, 23U);
  EXPECT_TRUE(got[0].means[0].mean);
  EXPECT_EQ(got[0].means[0].plots, 4U);
  EXPECT_GT(*got[0].means[0].standard_error, *got[0].means[1].standard_error);
}

TEST(LatinSquare, TotalsOverCuttingsLieWhereTheirPlotsDo) {
  auto values = square_plots(4, 2);
  for (PlotValue value : square_plots(4, 9)) {
    value.cutting = "2";
    values.push_back(value);
  }
  for (PlotValue value : square_plots(4, 10)) {
    value.year = 2027;
    values.push_back(value);
  }
  const auto got = analyse(values, latin());
  ASSERT_EQ(got.size(), 5U);
  for (const Analysis& analysis : got)
    EXPECT_EQ(*analysis.df_error, 6.0) << cutting_label(analysis);
  EXPECT_EQ(year_label(got[4]), "all");
  double plain = 0.0;
  for (const PlotValue& value : values) plain += value.value.value_or(0.0);
  EXPECT_NEAR(*got[4].mean, plain / 16.0, 1e-12);
}

TEST(LatinSquare, WithoutAPlaceNothingElseIsPutInItsPlace) {
  auto values = square_plots(4, 2);
  for (PlotValue value : square_plots(4, 5)) {
    value.cutting = "2";
    values.push_back(value);
  }
  for (PlotValue& value : values) {
    if (value.plot == "203") value.place.reset();
  }
  const auto got = analyse(values, latin());
  ASSERT_EQ(got.size(), 3U);
  for (const Analysis& analysis : got) {
    EXPECT_TRUE(analysis.places_missing);
    EXPECT_EQ(analysis.values, 16U);
    EXPECT_TRUE(analysis.mean);
    EXPECT_FALSE(analysis.mse);
    EXPECT_FALSE(analysis.df_error);
    EXPECT_FALSE(analysis.f);
    EXPECT_FALSE(analysis.lsd);
    for (const EntryMean& entry : analysis.means) {
      EXPECT_EQ(entry.plots, 4U);
      EXPECT_FALSE(entry.mean);
      EXPECT_FALSE(entry.percent_of_mean);
      EXPECT_FALSE(entry.in_top_group);
      EXPECT_FALSE(entry.rank);
    }
  }
  const std::vector<Error> notices = design_notices(got);
  ASSERT_EQ(notices.size(), 1U) << "one for the test, not one an analysis";
  EXPECT_EQ(notices[0].where, "T");
  EXPECT_THAT(notices[0].what, testing::HasSubstr("row and column of a plot are not known"));
  EXPECT_FALSE(notices[0].mend.empty());
  EXPECT_TRUE(design_notices(analyse(square_plots(4, 2), latin())).empty());
}

TEST(LatinSquare, OnlyWhatHasAValueNeedsAPlace) {
  auto values = square_plots(4, 2);
  values[5].place.reset();
  values[5].value.reset();
  const auto got = analyse(values, latin());
  EXPECT_FALSE(got[0].places_missing);
  EXPECT_EQ(*got[0].df_error, 5.0);
}

TEST(LatinSquare, ASquareWithoutAnyValue) {
  auto values = square_plots(3, 2);
  for (PlotValue& value : values) value.value.reset();
  const auto got = analyse(values, latin());
  EXPECT_EQ(got[0].values, 0U);
  EXPECT_FALSE(got[0].mean);
  EXPECT_FALSE(got[0].places_missing);
  EXPECT_EQ(got[0].means.size(), 3U);
}

// Two corners of a larger square that share no row and no column.
TEST(LatinSquare, CornersThatDoNotHangTogetherHaveNoMeans) {
  auto values = square_plots(6, 2);
  for (PlotValue& value : values) {
    const bool low = value.place->row <= 3;
    if (low != (value.place->column <= 2)) value.value.reset();
  }
  const auto got = analyse(values, latin());
  EXPECT_EQ(got[0].values, 18U);
  EXPECT_FALSE(got[0].connected);
  EXPECT_FALSE(got[0].means[0].mean);
  EXPECT_FALSE(got[0].lsd);
}

TEST(Designs, AreNamedAsPlansNameThem) {
  for (const Design design :
       {Design::kRandomisedBlocks, Design::kCompletelyRandomised, Design::kLatinSquare})
    EXPECT_EQ(design_named(name_of(design)), design);
  EXPECT_EQ(name_of(Design::kLatinSquare), "latin");
  EXPECT_EQ(design_named("crd"), Design::kCompletelyRandomised);
}

TEST(DesignGains, OneForEachAnalysisOfPlots) {
  auto values = square_plots(4, 2);
  for (PlotValue value : square_plots(4, 9)) {
    value.cutting = "2";
    values.push_back(value);
  }
  auto published = square_plots(4, 3);
  published.resize(4);
  for (PlotValue& value : published) {
    value.test = "U";
    value.rep = "";
  }
  values.insert(values.end(), published.begin(), published.end());
  const auto gains = design_gains(values, latin());
  ASSERT_EQ(gains.size(), 3U);
  EXPECT_EQ(gains[2].span, Span::kYear);
  for (const DesignGain& gain : gains) {
    EXPECT_TRUE(gain.over_none);
    EXPECT_TRUE(gain.over_rows);
    EXPECT_TRUE(gain.over_columns);
    EXPECT_LT(gain.over_none->corrected, gain.over_none->plain);
  }
  const auto blocks = design_gains(values, {});
  EXPECT_TRUE(blocks[0].over_none);
  EXPECT_FALSE(blocks[0].over_rows);
  AnalysisOptions none;
  none.design = Design::kCompletelyRandomised;
  EXPECT_FALSE(design_gains(values, none)[0].over_none);
  EXPECT_EQ(*design_gains(values, none)[0].df_error, 12.0);
}

// Rows that are worth much and columns that are worth nothing.
TEST(DesignGains, SayWhichSideWasWorthIt) {
  auto values = square_plots(6, 4, 0.5);
  for (PlotValue& value : values) *value.value += 2.0 * (value.place->row % 3);
  const auto gains = design_gains(values, latin());
  EXPECT_GT(gains[0].over_columns->plain, 3.0) << "columns as blocks would have left the rows in";
  EXPECT_LT(gains[0].over_rows->plain, gains[0].over_columns->plain / 3.0);
}

TEST(DesignGains, ASquareWithoutPlacesHasNoFigures) {
  auto values = square_plots(4, 2);
  values[0].place.reset();
  const auto gains = design_gains(values, latin());
  ASSERT_EQ(gains.size(), 1U);
  EXPECT_FALSE(gains[0].df_error);
  EXPECT_FALSE(gains[0].over_none);
  EXPECT_EQ(designs_csv(gains),
            "test,year,cutting,design,df_error,over_no_blocking,over_no_blocking_corrected,"
            "over_rows,over_rows_corrected,over_columns,over_columns_corrected,"
            "over_complete_blocks,over_complete_blocks_corrected\n"
            "T,2026,1,latin,,,,,,,,,\n");
  EXPECT_EQ(designs_csv({}), "");
}

TEST(DesignGains, FilesHoldTheRatios) {
  DesignGain gain;
  gain.test = "T";
  gain.span = Span::kYear;
  gain.year = 2026;
  gain.df_error = 6;
  gain.over_none = {1.5, 1.25};
  EXPECT_THAT(designs_csv(std::vector<DesignGain>{gain}),
              testing::EndsWith("T,2026,total,rcb,6,1.5,1.25,,,,,,\n"));
}

}  // namespace
}  // namespace ligule::results
