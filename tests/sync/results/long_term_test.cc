#include "sync/results/long_term.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "sync/results/tests_behind.h"

namespace ligule::results {
namespace {

PlotValue mean_of(const std::string& test, int year, const std::string& cutting,
                  const std::string& entry, std::optional<double> value) {
  return {test, "", year, cutting, "", entry, "", value};
}

const std::vector<PlotValue> kThreeTests = {
    mean_of("T1", 2021, "1", "A", 120), mean_of("T1", 2021, "1", "B", 80),
    mean_of("T1", 2021, "2", "A", 80),  mean_of("T1", 2021, "2", "B", 120),
    mean_of("T2", 2022, "1", "A", 150), mean_of("T2", 2022, "1", "B", 50),
    mean_of("T3", 2022, "1", "B", 110), mean_of("T3", 2022, "1", "C", 90),
};

std::vector<LongTermRow> summary(std::size_t min_tests) {
  return long_term(analyse(kThreeTests, {}), min_tests);
}

TEST(LongTerm, EachTestCountsOnceWithItsMostTotalAnalysis) {
  const std::vector<LongTermRow> rows = summary(1);
  ASSERT_EQ(rows.size(), 3U);
  EXPECT_EQ(rows[0].entry, "A");
  ASSERT_EQ(rows[0].tests.size(), 2U);
  EXPECT_DOUBLE_EQ(rows[0].tests[0].percent_of_mean, 100.0);  // the total of T1, not a cutting
  EXPECT_DOUBLE_EQ(*rows[0].percent_of_mean, 125.0);
  EXPECT_DOUBLE_EQ(*rows[1].percent_of_mean, (100.0 + 50.0 + 110.0) / 3.0);
}

TEST(LongTerm, NoAverageBelowTheMinimumOfTests) {
  const std::vector<LongTermRow> rows = summary(2);
  EXPECT_TRUE(rows[0].percent_of_mean);
  EXPECT_EQ(rows[2].entry, "C");
  EXPECT_EQ(rows[2].tests.size(), 1U);
  EXPECT_FALSE(rows[2].percent_of_mean);
}

TEST(LongTerm, AnEntryWithoutAPercentInTheLastAnalysisHasNotThisTest) {
  std::vector<PlotValue> values = kThreeTests;
  values[2].value.reset();  // A has no second cutting in T1, and so no total
  const std::vector<LongTermRow> rows = long_term(analyse(values, {}), 1);
  EXPECT_EQ(rows[0].tests.size(), 1U);
  EXPECT_DOUBLE_EQ(*rows[0].percent_of_mean, 150.0);
}

TEST(LongTerm, NothingGivesNothing) {
  EXPECT_TRUE(long_term({}, 2).empty());
}

// Tests of entries in rows: an empty value leaves the entry out.
struct CompanyTest {
  std::string test;
  std::vector<std::pair<std::string, double>> means;
};

std::vector<Analysis> analyses_of(const std::vector<CompanyTest>& tests) {
  std::vector<PlotValue> values;
  for (const CompanyTest& test : tests) {
    for (const auto& [entry, value] : test.means) {
      values.push_back(mean_of(test.test, 2024, "1", entry, value));
    }
  }
  return analyse(values, {});
}

const LongTermRow& row_of_entry(const std::vector<LongTermRow>& rows, const std::string& entry) {
  return *std::ranges::find(rows, entry, &LongTermRow::entry);
}

// Fern beats the poor entries of three tests, Moss falls short of the good ones of three others.
// Oak and Reed, which stood in all six, tell that Moss is the better one.
const std::vector<CompanyTest> kPoorAndGoodCompany = {
    {"T1", {{"Fern", 5.0}, {"Oak", 4.6}, {"Reed", 4.4}, {"Poor", 2.1}, {"Weak", 2.4}}},
    {"T2", {{"Fern", 5.3}, {"Oak", 4.7}, {"Reed", 4.8}, {"Poor", 2.5}, {"Weak", 2.3}}},
    {"T3", {{"Fern", 4.9}, {"Oak", 4.5}, {"Reed", 4.3}, {"Poor", 2.2}, {"Weak", 2.2}}},
    {"T4", {{"Moss", 5.9}, {"Oak", 4.8}, {"Reed", 4.7}, {"Good", 6.6}, {"Fine", 6.4}}},
    {"T5", {{"Moss", 5.7}, {"Oak", 4.4}, {"Reed", 4.6}, {"Good", 6.3}, {"Fine", 6.5}}},
    {"T6", {{"Moss", 6.0}, {"Oak", 4.9}, {"Reed", 4.8}, {"Good", 6.7}, {"Fine", 6.6}}}};

TEST(LongTerm, ThePlainAverageFlattersWhoKeptPoorCompanyTheCorrectedOneDoesNot) {
  const std::vector<LongTermRow> rows = long_term(analyses_of(kPoorAndGoodCompany), 2);
  const LongTermRow& fern = row_of_entry(rows, "Fern");
  const LongTermRow& moss = row_of_entry(rows, "Moss");
  EXPECT_GT(*fern.percent_of_mean, *moss.percent_of_mean + 20.0);
  EXPECT_LT(*fern.corrected_percent + 2.0 * *fern.corrected_percent_error, *moss.corrected_percent);
  EXPECT_LT(*fern.shrunken_mean, *moss.shrunken_mean);
}

TEST(LongTerm, WhereAllStoodInAllTestsTheCorrectedMeanIsThePlainMean) {
  const std::vector<LongTermRow> rows =
      long_term(analyses_of({{"T1", {{"A", 4}, {"B", 6}}}, {"T2", {{"A", 3}, {"B", 7}}}}), 2);
  EXPECT_DOUBLE_EQ(*rows[0].corrected_mean, 3.5);
  EXPECT_DOUBLE_EQ(*rows[1].corrected_percent, 130.0);
  // Departures are a half each, so the error mean square is 1 on one df, and a mean's is half of
  // it.
  EXPECT_DOUBLE_EQ(*rows[1].corrected_error, std::sqrt(0.5));
  // Percents are 120 and 140, twenty apart: their average's own standard error is 10.
  EXPECT_NEAR(*rows[1].corrected_percent_error, 10.0, 1e-12);
}

// Tests of high yields weigh as others do. The error is that of plain averages, pooled: of each
// entry the variance of its percents over the number of tests.
TEST(LongTerm, WhereAllStoodInAllTestsTheCorrectedPercentIsThePlainAverage) {
  const std::vector<LongTermRow> rows =
      long_term(analyses_of({{"Poor", {{"A", 1.0}, {"B", 1.4}, {"C", 0.9}}},
                             {"Rich", {{"A", 9.5}, {"B", 7.7}, {"C", 8.0}}},
                             {"Usual", {{"A", 4.2}, {"B", 4.4}, {"C", 3.7}}}}),
                2);
  double pooled = 0.0;
  for (const LongTermRow& row : rows) {
    EXPECT_NEAR(*row.corrected_percent, *row.percent_of_mean, 1e-10) << row.entry;
    for (const TestPercent& test : row.tests)
      pooled += std::pow(test.percent_of_mean - *row.percent_of_mean, 2) / 2.0 / 3.0 / 3.0;
  }
  for (const LongTermRow& row : rows)
    EXPECT_NEAR(*row.corrected_percent_error, std::sqrt(pooled), 1e-10);
}

// Two entries that never met, 20 percent above the same check: plain averages differ by company.
TEST(LongTerm, CorrectedPercentsTakeOutWhatCompanyDid) {
  const CompanyTest poor{"", {{"Check", 95}, {"Fern", 115}, {"Poor", 90}}};
  const CompanyTest good{"", {{"Check", 85}, {"Moss", 105}, {"Good", 110}}};
  const std::vector<LongTermRow> rows = long_term(
      analyses_of({{"T1", poor.means}, {"T2", poor.means}, {"T3", good.means}, {"T4", good.means}}),
      1);
  double sum = 0.0;
  for (const LongTermRow& row : rows) sum += *row.corrected_percent;
  EXPECT_NEAR(sum / static_cast<double>(rows.size()), 100.0, 1e-10);
  const LongTermRow& fern = row_of_entry(rows, "Fern");
  const LongTermRow& moss = row_of_entry(rows, "Moss");
  EXPECT_DOUBLE_EQ(*fern.percent_of_mean, 115.0);
  EXPECT_DOUBLE_EQ(*moss.percent_of_mean, 105.0);
  EXPECT_NEAR(*fern.corrected_percent, *moss.corrected_percent, 1e-10);
  EXPECT_NEAR(*fern.corrected_percent - *row_of_entry(rows, "Check").corrected_percent, 20.0,
              1e-10);
}

TEST(LongTerm, ACompanyOfOneEntryIsItsOwnHundredAndHasNoError) {
  const std::vector<LongTermRow> rows =
      long_term(analyses_of({{"T1", {{"A", 4}}}, {"T2", {{"A", 5}}}}), 2);
  EXPECT_DOUBLE_EQ(*rows[0].corrected_percent, 100.0);
  EXPECT_FALSE(rows[0].corrected_percent_error);
}

TEST(LongTerm, BelowTheMinimumOfTestsOnlyTheShrunkenMeanIsGiven) {
  std::vector<CompanyTest> tests = kPoorAndGoodCompany;
  tests[0].means.push_back({"New", 6.9});
  const std::vector<LongTermRow> rows = long_term(analyses_of(tests), 2);
  const LongTermRow& once = row_of_entry(rows, "New");
  EXPECT_FALSE(once.percent_of_mean || once.corrected_percent || once.corrected_mean ||
               once.slope || once.stability_variance);
  ASSERT_TRUE(once.shrunken_interval);
  const std::vector<LongTermRow> all = long_term(analyses_of(tests), 1);
  EXPECT_LT(*once.shrunken_mean, *row_of_entry(all, "New").corrected_mean);
  EXPECT_LT(once.shrunken_interval->low, *once.shrunken_mean);
  // One test says less than three.
  const LongTermRow& thrice = row_of_entry(rows, "Fern");
  EXPECT_GT(once.shrunken_interval->high - once.shrunken_interval->low,
            thrice.shrunken_interval->high - thrice.shrunken_interval->low);
}

// 100 in the chart: the average of what its lines are around, withheld entries too.
TEST(LongTerm, TheCompanysMeanIsTheAverageOfItsShrunkenMeans) {
  const std::vector<LongTermRow> rows = long_term(analyses_of(kPoorAndGoodCompany), 2);
  double sum = 0.0;
  for (const LongTermRow& row : rows) sum += row.shrunken_mean.value_or(0.0);
  for (const LongTermRow& row : rows) {
    ASSERT_TRUE(row.company_mean);
    EXPECT_NEAR(*row.company_mean, sum / static_cast<double>(rows.size()), 1e-12);
  }
}

// Entries that differ beyond doubt in few tests: the level of all is uncertain, since tests differ
// by far more, but their order is not, and no line may reach into the next.
TEST(LongTerm, TheIntervalIsForComparingEntriesOfACompany) {
  const std::vector<LongTermRow> rows =
      long_term(analyses_of({{"T1", {{"A", 2.0}, {"B", 3.02}, {"C", 4.0}, {"D", 5.01}}},
                             {"T2", {{"A", 7.0}, {"B", 8.0}, {"C", 9.03}, {"D", 10.0}}},
                             {"T3", {{"A", 4.01}, {"B", 5.0}, {"C", 6.0}, {"D", 6.98}}}}),
                2);
  ASSERT_EQ(rows.size(), 4U);
  for (std::size_t i = 0; i + 1 < rows.size(); ++i) {
    ASSERT_TRUE(rows[i].shrunken_interval && rows[i + 1].shrunken_interval);
    EXPECT_LT(rows[i].shrunken_interval->high, rows[i + 1].shrunken_interval->low) << i;
  }
}

// Two species are never in one test: each is corrected among its own, as if the other were not
// there.
TEST(LongTerm, EachCompanyIsCorrectedByItself) {
  std::vector<CompanyTest> tests = kPoorAndGoodCompany;
  for (CompanyTest& test : tests) {
    std::erase_if(test.means,
                  [](const auto& mean) { return mean.first == "Oak" || mean.first == "Reed"; });
  }
  const std::vector<LongTermRow> rows = long_term(analyses_of(tests), 1);
  ASSERT_EQ(companies(rows).size(), 2U);
  EXPECT_EQ(companies(long_term(analyses_of(kPoorAndGoodCompany), 1)).size(), 1U);
  std::size_t compared = 0;
  for (std::size_t n = 0; n < 2; ++n) {
    const auto stands_here = [&](const CompanyTest& test) {
      return std::ranges::any_of(test.means, [&](const auto& mean) {
        return row_of_entry(rows, mean.first).company == n + 1;
      });
    };
    std::vector<CompanyTest> own;
    std::ranges::copy_if(tests, std::back_inserter(own), stands_here);
    ASSERT_LT(own.size(), tests.size());
    for (const LongTermRow& alone : long_term(analyses_of(own), 1)) {
      const LongTermRow& row = row_of_entry(rows, alone.entry);
      EXPECT_EQ(row.company, n + 1);
      ASSERT_TRUE(row.corrected_percent && row.corrected_mean) << row.entry;
      EXPECT_DOUBLE_EQ(*row.corrected_percent, *alone.corrected_percent);
      EXPECT_DOUBLE_EQ(*row.corrected_mean, *alone.corrected_mean);
      EXPECT_EQ(row.corrected_error, alone.corrected_error);
      EXPECT_EQ(row.shrunken_mean, alone.shrunken_mean);
      EXPECT_EQ(row.slope, alone.slope);
      EXPECT_EQ(row.stability_variance, alone.stability_variance);
      ++compared;
    }
  }
  EXPECT_EQ(compared, rows.size());
}

// A chain of tests that share one entry each is one company, whatever the order of entries.
TEST(LongTerm, ACompanyIsMadeThroughOthersToo) {
  const std::vector<LongTermRow> rows =
      long_term(analyses_of({{"T1", {{"A", 4}, {"D", 6}}},
                             {"T2", {{"B", 4}, {"E", 6}}},
                             {"T3", {{"C", 4}, {"D", 5}, {"E", 6}}},
                             {"T4", {{"X", 4}, {"Y", 6}}}}),
                1);
  EXPECT_THAT(companies(rows), testing::ElementsAre(testing::ElementsAre(0, 1, 2, 3, 4),
                                                    testing::ElementsAre(5, 6)));
}

TEST(LongTerm, OneTestHasNothingToCorrectAndNoError) {
  const std::vector<LongTermRow> rows = long_term(analyses_of({{"T1", {{"A", 4}, {"B", 6}}}}), 1);
  EXPECT_DOUBLE_EQ(*rows[0].corrected_percent, 80.0);
  EXPECT_FALSE(rows[0].corrected_error || rows[0].shrunken_mean || rows[0].stability_variance);
}

// A sum over three years is divided by three, or such a test would weigh threefold.
TEST(LongTerm, MeansAreOfAYear) {
  std::vector<PlotValue> values;
  for (const int year : {2021, 2022, 2023}) {
    values.push_back(mean_of("Long", year, "1", "A", 4));
    values.push_back(mean_of("Long", year, "1", "B", 6));
  }
  values.push_back(mean_of("Short", 2023, "1", "A", 3));
  values.push_back(mean_of("Short", 2023, "1", "B", 7));
  const std::vector<Analysis> analyses = analyse(values, {});
  EXPECT_DOUBLE_EQ(*long_term(analyses, 2)[0].corrected_mean, 3.5);
  const std::vector<TestBehind> tests =
      tests_behind(analyses, std::vector<SownYear>{{"Long", 2020}});
  ASSERT_EQ(tests.size(), 2U);
  EXPECT_EQ(tests[0].sown_year, 2020);
  EXPECT_EQ(tests[0].years, (std::vector<int>{2021, 2022, 2023}));
  EXPECT_DOUBLE_EQ(*tests[0].mean, 5.0);
  EXPECT_FALSE(tests[1].sown_year);
  EXPECT_EQ(tests[1].count_of_years, 1U);
}

TEST(LongTerm, TestsThatFallOutAreNamedWithTheReason) {
  std::vector<PlotValue> values = kThreeTests;
  for (PlotValue& value : values)
    if (value.test == "T2") value.value.reset();
  values.push_back(mean_of("T4", 2023, "1", "A", -2));
  values.push_back(mean_of("T4", 2023, "1", "B", 1));
  values.push_back({"T5", "", 2023, "1", "1", "A", "", 4.0});
  values.push_back({"T5", "", 2023, "1", "2", "B", "", 5.0});
  values.push_back(mean_of("T6", 2022, "1", "A", std::nullopt));
  values.push_back(mean_of("T6", 2023, "1", "A", 3));
  const std::vector<Analysis> analyses = analyse(values, {});
  const std::vector<TestLeftOut> left_out = tests_left_out(analyses);
  ASSERT_EQ(left_out.size(), 4U);
  EXPECT_EQ(left_out[0].test, "T2");
  EXPECT_EQ(left_out[0].why, "no plot has a complete value in cutting 1 of 2022");
  EXPECT_EQ(left_out[1].why,
            "the mean of its entries is not above zero in cutting 1 of 2023, and nothing is a "
            "percent of that");
  EXPECT_EQ(left_out[2].why, "its entries share no block, so there are no common means");
  EXPECT_EQ(left_out[3].why, "no plot has a complete value in the sum of all years");
  EXPECT_EQ(tests_behind(analyses, {}).size(), 2U);
  const std::vector<Error> notices = left_out_notices(analyses);
  ASSERT_EQ(notices.size(), 4U);
  EXPECT_EQ(one_line(notices[0]),
            "T2: counts in no long-term average: no plot has a complete value in cutting 1 of 2022 "
            "(mend its values if they can be had; the report lists it)");
}

TEST(LongTerm, YearsAreToldAsRuns) {
  EXPECT_EQ(years_label({}, "-"), "");
  EXPECT_EQ(years_label({2024}, "-"), "2024");
  EXPECT_EQ(years_label({2020, 2022, 2023, 2024}, "-"), "2020, 2022-2024");
}

}  // namespace
}  // namespace ligule::results
