#include "sync/results/tables.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

namespace ligule::results {
namespace {

std::vector<PlotValue> two_by_two() {
  const auto plot = [](const std::string& rep, const std::string& entry, double value) {
    return PlotValue{"T, one", "", 2024, "1", rep, entry, "", value};
  };
  return {plot("1", "A", 10), plot("1", "B", 14), plot("2", "A", 12), plot("2", "B", 19)};
}

// Expected figures: the 2 x 2 case of the reference set, MSE 2.25 and F 121/9.
TEST(Tables, TestsHaveTheContractsColumnsAndFullPrecision) {
  EXPECT_THAT(
      tests_csv(analyse(two_by_two(), {})),
      ::testing::StartsWith(
          "test,year,cutting,entries,reps,n,mean,mse,df_error,f_entry,p_entry,cv_percent,lsd_05\n"
          "\"T, one\",2024,1,2,2,4,13.75,2.25,1,13.444444444444445,0.169501318922864"));
}

TEST(Tables, MeansHaveTheContractsColumns) {
  const std::string text = means_csv(analyse(two_by_two(), {}));
  EXPECT_TRUE(
      text.starts_with("test,year,cutting,entry,n,mean,se,percent_of_mean,in_top_group\n"
                       "\"T, one\",2024,1,A,2,11,1.0606601717798212,80,1\n"
                       "\"T, one\",2024,1,B,2,16.5,1.0606601717798212,120,1\n"))
      << text;
}

TEST(Tables, WhatCannotBeHadIsAnEmptyField) {
  std::vector<PlotValue> values = two_by_two();
  values.resize(2);
  values[1].value.reset();
  EXPECT_NE(tests_csv(analyse(values, {})).find("\"T, one\",2024,1,1,1,1,10,,0,,,,\n"),
            std::string::npos);
  EXPECT_NE(means_csv(analyse(values, {})).find("\"T, one\",2024,1,B,0,,,,\n"), std::string::npos);
}

TEST(Tables, NumbersBeyondAnyFieldNeverPrintAsInfinite) {
  std::vector<PlotValue> values = two_by_two();
  for (PlotValue& value : values) value.value = *value.value * 1e306;
  const auto analyses = analyse(values, {});
  for (const std::string& text :
       {tests_csv(analyses), means_csv(analyses), long_term_csv(long_term(analyses, 1))}) {
    EXPECT_EQ(text.find("inf"), std::string::npos) << text;
    EXPECT_EQ(text.find("nan"), std::string::npos) << text;
  }
  EXPECT_NE(means_csv(analyses).find(",A,2,1.1"), std::string::npos) << means_csv(analyses);
}

TEST(Tables, LongTermHasTheContractsColumns) {
  const std::vector<LongTermRow> rows = long_term(analyse(two_by_two(), {}), 2);
  EXPECT_EQ(long_term_csv(rows),
            "entry,tests,percent_of_mean,corrected_percent,corrected_percent_se,corrected_mean,"
            "corrected_se,shrunken_mean,shrunken_low,shrunken_high,slope,slope_se,"
            "stability_variance,company\nA,1,,,,,,,,,,,,1\nB,1,,,,,,,,,,,,1\n");
}

TEST(Tables, LongTermTestsNameSiteSownYearAndYears) {
  std::vector<PlotValue> values = two_by_two();
  for (PlotValue& value : values) value.site = "Hill";
  for (PlotValue value : two_by_two()) {
    value.year = 2025;
    values.push_back(value);
  }
  const std::vector<Analysis> analyses = analyse(values, {});
  const std::vector<SownYear> sown = {{"T, one", 2023}};
  EXPECT_EQ(long_term_tests_csv(long_term(analyses, 2), tests_behind(analyses, sown)),
            "entry,test,site,sown_year,years,years_of_data,percent_of_mean\n"
            "A,\"T, one\",Hill,2023,2024-2025,2,80\nB,\"T, one\",Hill,2023,2024-2025,2,120\n");
}

}  // namespace
}  // namespace ligule::results
