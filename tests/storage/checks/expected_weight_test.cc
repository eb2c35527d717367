#include "storage/checks/expected_weight.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numeric>

#include "tests/storage/checks/weighed_cutting.h"

namespace ligule::checks {
namespace {

// Rows are entries, columns blocks.
std::vector<WeighedPlot> table(const std::vector<std::vector<double>>& rows) {
  std::vector<WeighedPlot> plots;
  for (std::size_t entry = 0; entry < rows.size(); ++entry)
    for (std::size_t block = 0; block < rows[entry].size(); ++block)
      plots.push_back({static_cast<int>(block) + 1, std::string(1, static_cast<char>('A' + entry)),
                       rows[entry][block]});
  return plots;
}

// Tukey, Exploratory Data Analysis (1977), deaths by age in three weeks, as R's medpolish() shows
// it: overall 8, sum of absolute residuals 19 (both figures from memory; worked again by hand).
TEST(FitByMedians, AgreesWithTukeysExample) {
  const auto plots = table({{14, 15, 14}, {7, 4, 7}, {8, 2, 10}, {15, 9, 10}, {0, 2, 0}});
  const AdditiveFit fit = fit_by_medians(plots);
  EXPECT_DOUBLE_EQ(fit.overall, 8);
  const std::map<std::string, double> entries{{"A", 6}, {"B", -1}, {"C", 0}, {"D", 2}, {"E", -8}};
  const std::map<int, double> blocks{{1, 0}, {2, -1}, {3, 0}};
  EXPECT_EQ(fit.entries, entries);
  EXPECT_EQ(fit.blocks, blocks);
  const double sum = std::accumulate(fit.residuals.begin(), fit.residuals.end(), 0.0,
                                     [](double all, double each) { return all + std::fabs(each); });
  EXPECT_DOUBLE_EQ(sum, 19);
}

TEST(FitByMedians, OfNothingIsNothing) {
  const AdditiveFit fit = fit_by_medians({});
  EXPECT_EQ(fit.overall, 0);
  EXPECT_TRUE(fit.entries.empty());
}

TEST(ExpectedWeight, IsExactWhereTheOthersAddUp) {
  // 10 + entry (0, 2, 4) + block (0, 1, 3); the plot of entry C in block 3 is to come.
  auto plots = table({{10, 11, 13}, {12, 13, 15}, {14, 15}});
  const auto expected = expected_weight(plots, {3, "C", 0});
  ASSERT_TRUE(expected);
  EXPECT_NEAR(expected->middle, 17, 1e-6);
  EXPECT_NEAR(expected->lowest, 15.3, 1e-6) << "at least a tenth to either side";
  EXPECT_NEAR(expected->highest, 18.7, 1e-6);
}

TEST(ExpectedWeight, OneBadWeightDoesNotShiftIt) {
  auto plots = table({{10, 11, 13}, {12, 13, 15}, {14, 15}, {11, 12, 14}});
  plots[1].net = 110;  // the point in the wrong place
  const auto expected = expected_weight(plots, {3, "C", 0});
  ASSERT_TRUE(expected);
  EXPECT_NEAR(expected->middle, 17, 1e-6);  // sweeping ends at a billionth of the largest weight
}

TEST(ExpectedWeight, InTheFirstBlockThereIsNothingToCompare) {
  const auto plots = table({{10}, {12}});
  EXPECT_FALSE(expected_weight(plots, {1, "C", 0}));
  EXPECT_FALSE(expected_weight({}, {1, "A", 0}));
}

TEST(ExpectedWeight, TheFirstPlotOfABlockHasNothingBesideIt) {
  const auto plots = table({{10}, {12}});
  EXPECT_FALSE(expected_weight(plots, {2, "A", 0}));
}

TEST(ExpectedWeight, AThinStandLowersIt) {
  auto plots = table({{10, 11, 13}, {12, 13, 15}, {14, 15}});
  for (WeighedPlot& plot : plots) plot.stand = 90;
  EXPECT_NEAR(expected_weight(plots, {3, "C", 0, 45})->middle, 8.5, 1e-6);
  EXPECT_NEAR(expected_weight(plots, {3, "C", 0, 100})->middle, 17, 1e-6) << "never raises it";
  EXPECT_NEAR(expected_weight(plots, {3, "C", 0})->middle, 17, 1e-6);
}

// Two plots of each entry: halves of their difference are what the polish leaves of both.
TEST(FitByMedians, TheSpreadIsThatOfPlotsNotOfWhatThePolishLeaves) {
  const auto plots = table({{10, 12}, {14, 14}, {20, 18}, {17, 21}, {8, 4}});
  const AdditiveFit fit = fit_by_medians(plots);
  // Differences of the two blocks: 2 0 -2 4 -4, their median 0; 1.4826 x median |d| / root of 2.
  EXPECT_NEAR(fit.spread, 1.4826 * 2 / std::sqrt(2.0), 1e-9);
  EXPECT_EQ(fit.freedom, 4) << "five differences, one for the second block";
}

TEST(ExpectedWeight, OfAFewPlotsNothingIsSaid) {
  EXPECT_FALSE(expected_weight(table({{10, 11}, {12, 13}, {14, 15}, {11}}), {2, "D", 0}))
      << "three differences, of which the block takes one";
  EXPECT_TRUE(expected_weight(table({{10, 11}, {12, 13}, {14, 15}, {16, 17}, {11}}), {2, "E", 0}));
}

// Proves: the rate the header states, over the cutting as it goes on from the second block.
TEST(ExpectedWeight, OneInAHundredHonestWeightsLiesOutside) {
  std::mt19937 random(11);
  for (const tests::Chance& chance :
       {tests::Chance{24, 4, 0.06}, tests::Chance{24, 4, 0.1}, tests::Chance{16, 3, 0.15}}) {
    int outside = 0;
    int told = 0;
    for (int cutting = 0; cutting < 40; ++cutting) {
      std::vector<WeighedPlot> so_far;
      for (const auto& plot : tests::weighed_cutting(chance, random)) {
        if (const auto expected = expected_weight(so_far, *plot)) {
          ++told;
          outside += plot->net < expected->lowest || plot->net > expected->highest ? 1 : 0;
        }
        so_far.push_back(*plot);
      }
    }
    EXPECT_LE(outside, told / 66) << chance.cv;
    EXPECT_GE(outside, 1) << chance.cv;
  }
}

TEST(ExpectedWeight, IsNeverBelowZero) {
  const auto plots = table({{1, 20}, {2, 21}, {3, 23}, {5, 24}, {0.1, 19}, {0.2}});
  const auto expected = expected_weight(plots, {2, "F", 0});
  ASSERT_TRUE(expected);
  EXPECT_GE(expected->lowest, 0);
}

}  // namespace
}  // namespace ligule::checks
