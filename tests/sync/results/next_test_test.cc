#include "sync/results/next_test.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

namespace ligule::results {
namespace {

using ::testing::ElementsAre;
using ::testing::HasSubstr;

Analysis analysed(const std::string& test, Span span, std::optional<int> year, double mse,
                  double df = 12.0, std::size_t entries = 5, double mean = 4.0) {
  Analysis analysis;
  analysis.test = test;
  analysis.span = span;
  analysis.year = year;
  if (span == Span::kCutting) analysis.cutting = "1";
  analysis.entries = entries;
  analysis.values = 20;
  analysis.mean = mean;
  analysis.mse = mse;
  analysis.df_error = df;
  return analysis;
}

TEST(WishedLsd, ANumberOrAPercent) {
  EXPECT_EQ(wished_lsd_of("0.5")->size, 0.5);
  EXPECT_FALSE(wished_lsd_of("0.5")->percent_of_mean);
  EXPECT_EQ(wished_lsd_of("10%")->size, 10.0);
  EXPECT_TRUE(wished_lsd_of("10 %")->percent_of_mean);
  for (const char* bad : {"", "%", "0", "-1", "0%", "nan", "inf", "1,5", "10%%", "5 ton", " 5"})
    EXPECT_FALSE(wished_lsd_of(bad)) << bad;
}

// 5 entries: 3 blocks have 8 df and T 2.3060, 4 have 12 and 2.1788 (trade-facts 5.1).
TEST(NextTest, BlocksForAWishedLsdInTheUnit) {
  const std::vector<Analysis> analyses = {analysed("T", Span::kCutting, 2024, 0.5)};
  const NextTest next = next_test(analyses, {1.1, false}, 0.05);
  ASSERT_EQ(next.rows.size(), 1U);
  const NextTestRow& row = next.rows.front();
  EXPECT_TRUE(row.counts);
  EXPECT_EQ(row.blocks, 4U);
  EXPECT_NEAR(*row.lsd, 2.1788 * 0.5, 1e-4);
  ASSERT_EQ(row.listed.size(), 11U);
  EXPECT_NEAR(*row.listed[1], 2.3060 * std::sqrt(1.0 / 3.0), 1e-4);
  EXPECT_EQ(row.listed[2], row.lsd);
  EXPECT_GT(*row.chance, 0.5);
  EXPECT_LT(*row.chance, 0.56);
  EXPECT_GT(*row.blocks_to_find, *row.blocks);
  EXPECT_FALSE(next.pooled);
}

TEST(NextTest, APercentIsOfEachMean) {
  const std::vector<Analysis> analyses = {analysed("T", Span::kCutting, 2024, 0.5, 12, 5, 11.0)};
  const NextTest next = next_test(analyses, {10.0, true}, 0.05);
  EXPECT_NEAR(next.rows.at(0).wished, 1.1, 1e-12);
  EXPECT_EQ(next.rows.at(0).blocks, 4U);
}

TEST(NextTest, EachCuttingAndTheMostTotalOnly) {
  std::vector<Analysis> analyses = {
      analysed("T", Span::kCutting, 2024, 0.5), analysed("T", Span::kCutting, 2024, 0.6),
      analysed("T", Span::kYear, 2024, 1.0), analysed("T", Span::kCutting, 2025, 0.7),
      analysed("T", Span::kAllYears, std::nullopt, 2.0, 12, 5, 16.0)};
  analyses[1].cutting = "2";
  const NextTest next = next_test(analyses, {1.0, false}, 0.05);
  ASSERT_EQ(next.rows.size(), 4U);
  for (std::size_t i = 0; i < 3; ++i) EXPECT_FALSE(next.rows[i].counts);
  const NextTestRow& all = next.rows.back();
  EXPECT_TRUE(all.counts);
  EXPECT_EQ(all.year, "all");
  EXPECT_EQ(all.cutting, "total");
  // Of a year: the sum of two has twice its mean and four times the mean square of its mean.
  EXPECT_EQ(all.years, 2U);
  EXPECT_DOUBLE_EQ(all.mse, 0.5);
  EXPECT_DOUBLE_EQ(all.mean, 8.0);
}

TEST(NextTest, PooledByDfOverTheTests) {
  const std::vector<Analysis> analyses = {analysed("S", Span::kCutting, 2024, 0.2, 10, 4, 3.0),
                                          analysed("T", Span::kCutting, 2024, 0.5, 20, 7, 5.0)};
  const NextTest next = next_test(analyses, {25.0, true}, 0.05);
  ASSERT_TRUE(next.pooled);
  EXPECT_NEAR(next.pooled->mse, 0.4, 1e-12);
  EXPECT_EQ(next.pooled->df_error, 30.0);
  EXPECT_EQ(next.pooled->entries, 6U);  // 5.5, rounded up
  EXPECT_EQ(next.pooled->mean, 4.0);
  EXPECT_EQ(next.pooled->wished, 1.0);
  EXPECT_DOUBLE_EQ(next.mse_ratio, 2.5);
  const auto lines = next_test_lines(next, "t/ha");
  ASSERT_EQ(lines.size(), 4U);
  EXPECT_THAT(lines[0], HasSubstr("next test, from S 2024 cutting 1 (MSE 0.200 on 10 df, 4 "));
  EXPECT_THAT(lines[2], HasSubstr("from all 2 tests pooled (MSE 0.400 on 30 df, 6 entries): "));
  EXPECT_THAT(lines[2], HasSubstr(" blocks for an LSD of 25 % of the mean, 1.00 t/ha (expected "));
  EXPECT_THAT(lines[3], HasSubstr("found in only about half of such tests"));
}

TEST(NextTest, ErrorsFarApartAreDoubtfulTogether) {
  const std::vector<Analysis> analyses = {analysed("S", Span::kCutting, 2024, 0.1),
                                          analysed("T", Span::kCutting, 2024, 0.5)};
  const auto lines = next_test_lines(next_test(analyses, {0.5, false}, 0.05), "");
  EXPECT_THAT(lines.at(2), HasSubstr("doubtful, their largest MSE being 5.0 times the smallest: "));
  EXPECT_THAT(lines.at(2), HasSubstr(" blocks for an LSD of 0.500 (expected "));
}

TEST(NextTest, WithoutAnErrorThereIsNothingToPlanBy) {
  std::vector<Analysis> analyses = {
      analysed("A", Span::kCutting, 2024, 0.0), analysed("B", Span::kCutting, 2024, 0.5, 12, 1),
      analysed("C", Span::kCutting, 2024, 0.5), analysed("D", Span::kCutting, 2024, 0.5),
      analysed("E", Span::kCutting, 2024, 0.5, 12, 5, -1.0)};
  analyses[2].mse.reset();
  analyses[3].mean.reset();
  const NextTest next = next_test(analyses, {10.0, true}, 0.05);
  EXPECT_TRUE(next.rows.empty());
  EXPECT_FALSE(next.pooled);
  EXPECT_THAT(next.without, ElementsAre("A", "B", "C", "D", "E"));
  const auto lines = next_test_lines(next, "");
  ASSERT_EQ(lines.size(), 5U);
  EXPECT_THAT(lines[0], HasSubstr("next test: A tells nothing of it"));
  EXPECT_TRUE(next_test({}, {10.0, true}, 0.05).rows.empty());
  // In the unit no mean above 0 is needed.
  EXPECT_EQ(next_test(analyses, {1.0, false}, 0.05).rows.size(), 1U);
}

TEST(NextTest, AWishOutOfReachIsSaidSo) {
  const std::vector<Analysis> analyses = {analysed("T", Span::kCutting, 2024, 0.5)};
  const NextTest next = next_test(analyses, {0.001, false}, 0.05);
  EXPECT_FALSE(next.rows.at(0).blocks);
  EXPECT_FALSE(next.rows.at(0).lsd);
  EXPECT_FALSE(next.rows.at(0).blocks_to_find);
  EXPECT_THAT(
      next_test_lines(next, "").at(0),
      HasSubstr("more than 200 blocks for an LSD of 0.00100, more than 200 blocks to find"));
}

TEST(NextTest, CsvListsEveryRowAndThePooledOneLast) {
  const std::vector<Analysis> analyses = {analysed("S", Span::kCutting, 2024, 0.5),
                                          analysed("T", Span::kCutting, 2024, 0.5)};
  const std::string text = next_test_csv(next_test(analyses, {1.1, false}, 0.05));
  EXPECT_THAT(text, ::testing::StartsWith(
                        "test,year,cutting,years,mse,df_error,entries,mean,wished_lsd,blocks,lsd,"
                        "chance_percent,blocks_for_80,lsd_2,lsd_3,lsd_4,lsd_5,lsd_6,lsd_7,lsd_8,"
                        "lsd_9,lsd_10,lsd_11,lsd_12\nS,2024,1,1,0.5,12,5,4,1.1,4,1.089"));
  EXPECT_THAT(text, HasSubstr("\n,,total,1,0.5,24,5,4,1.1,4,1.089"));
  EXPECT_EQ(std::ranges::count(text, '\n'), 4);
  const std::string beyond = next_test_csv(next_test(analyses, {0.001, false}, 0.05));
  EXPECT_THAT(beyond, HasSubstr("S,2024,1,1,0.5,12,5,4,0.001,,,,,"));
}

}  // namespace
}  // namespace ligule::results
