#include "sync/results/long_term.h"

#include <gtest/gtest.h>

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

}  // namespace
}  // namespace ligule::results
