// Worked examples of text books and manuals through `ligule-desk tables`. "Printed" figures are
// compared at the decimals of the page; "recomputed" ones were computed from the same plots in R
// 4.2 and are compared to the digits given there. data/SOURCES.md names every source.
#include <gtest/gtest.h>

#include "tests/published/desk_tables.h"

namespace ligule::published {
namespace {

// Recomputed figures are given to 4 to 9 significant digits.
constexpr double kFourDigits = 1e-4;
constexpr double kSixDigits = 1e-6;

// Clewer & Scarisbrick (2001), example 10.1: 4 varieties in 3 blocks, t/ha.
TEST(TextbookTables, WheatInThreeBlocks) {
  const Tables tables = tables_of(data_file("s1_wheat.csv"));
  const Row test = tables.test("S1", "", "");
  expect_printed(test, "f_entry", 5.52, 2);
  expect_printed(test, "mse", 0.40, 2);
  expect_printed(test, "mean", 7.25, 2);
  EXPECT_EQ(test.at("df_error"), "6");
  EXPECT_EQ(test.at("reps"), "3");
  expect_figure(test, "f_entry", 5.525, kFourDigits);
  expect_printed(test, "p_entry", 0.0367, 4);
  expect_printed(test, "lsd_05", 1.2636, 4);
  expect_printed(test, "cv_percent", 8.7235, 4);
  const std::vector<double> printed_means = {6.5, 7.6, 6.6, 8.3};
  for (int i = 0; i < 4; ++i) {
    expect_printed(tables.mean("S1", "", "", "V" + std::to_string(i + 1)), "mean",
                   printed_means[static_cast<std::size_t>(i)], 1);
  }
  EXPECT_EQ(tables.mean("S1", "", "", "V4").at("in_top_group"), "1");
  EXPECT_EQ(tables.mean("S1", "", "", "V2").at("in_top_group"), "1");
  EXPECT_EQ(tables.mean("S1", "", "", "V1").at("in_top_group"), "0");
  EXPECT_EQ(tables.mean("S1", "", "", "V3").at("in_top_group"), "0");
}

// The same plots analysed as if they had not stood in blocks; the book gives F 1.45.
TEST(TextbookTables, WheatWithoutBlocks) {
  const Tables tables = tables_of(data_file("s1_wheat.csv"), {"--design", "crd"});
  const Row test = tables.test("S1", "", "");
  expect_printed(test, "f_entry", 1.45, 2);
  expect_figure(test, "f_entry", 1.4517, kFourDigits);
  EXPECT_EQ(test.at("df_error"), "8");
}

// Gomez & Gomez (1984) p. 26: 6 seed rates in 4 blocks, kg/ha. Printed figures from memory.
TEST(TextbookTables, RiceSeedRates) {
  const Tables tables = tables_of(data_file("s2_seedrate.csv"));
  const Row test = tables.test("S2", "", "");
  expect_printed(test, "f_entry", 2.17, 2);
  expect_printed(test, "cv_percent", 6.7, 1);
  expect_figure(test, "mse", 110558.411, 1e-8);
  expect_figure(test, "mean", 4959.583, kSixDigits);
  expect_printed(test, "f_entry", 2.16778, 5);
  expect_printed(test, "p_entry", 0.1128, 4);
  expect_printed(test, "lsd_05", 501.136, 3);
}

// A training manual, nitrogen on rice, 5 x 4, t/ha. Printed: error mean square 0.163, LSD 0.621.
// One printed entry mean (4.83) does not follow from the printed plots (4.775); the plots count.
TEST(TextbookTables, NitrogenOnRice) {
  const Tables tables = tables_of(data_file("s3_nitrogen.csv"));
  const Row test = tables.test("S3", "", "");
  expect_printed(test, "mse", 0.163, 3);
  expect_printed(test, "lsd_05", 0.621, 3);
  expect_printed(test, "f_entry", 27.805, 3);
  expect_printed(test, "cv_percent", 9.7656, 4);
  expect_printed(test, "mean", 4.13, 2);
  EXPECT_EQ(test.at("df_error"), "12");
  expect_printed(tables.mean("S3", "", "", "60"), "mean", 4.775, 3);
}

// Gomez & Gomez (1984) table 7.28: 35 entries in 3 blocks, with the correction of entry 17.
TEST(TextbookTables, ThirtyFiveEntries) {
  const Tables tables = tables_of(data_file("s8_thirty_five.csv"));
  const Row test = tables.test("S8", "", "");
  expect_printed(test, "f_entry", 3.9992, 4);
  expect_figure(test, "mse", 20.014 / 68.0, kFourDigits);
  EXPECT_EQ(test.at("df_error"), "68");
  EXPECT_EQ(test.at("entries"), "35");
  expect_printed(test, "mean", 7.57419, 5);
  expect_printed(test, "cv_percent", 7.1627, 4);
  expect_printed(test, "lsd_05", 0.88392, 5);
}

// UF 00080557 p. 36: 3 x 3 with one plot missing. The printed table still shows 4 error degrees of
// freedom; its text says 3.
TEST(TextbookTables, OneMissingPlotOfNine) {
  const Tables tables = tables_of(data_file("s5_s6_s7_missing.csv"));
  const Row test = tables.test("S5", "", "");
  EXPECT_EQ(test.at("df_error"), "3");
  EXPECT_EQ(test.at("n"), "8");
  expect_printed(test, "mse", 3.5556, 4);
  expect_printed(test, "f_entry", 27.5625, 4);
  expect_printed(test, "p_entry", 0.0117, 4);
  // The book's estimate of the missing plot is 32: D's mean is (30 + 26 + 32) / 3.
  expect_figure(tables.mean("S5", "", "", "D"), "mean", 88.0 / 3.0, 1e-12);
  // LSD of each pair: 4.8997 and twice 5.7454; the table foot shows their average.
  expect_printed(test, "lsd_05", (4.8997 + 5.7454 + 5.7454) / 3.0, 3);
}

// HAMROCSIT lesson 4523: 4 x 4 with one plot missing, estimate 39/9.
TEST(TextbookTables, OneMissingPlotOfSixteen) {
  const Tables tables = tables_of(data_file("s5_s6_s7_missing.csv"));
  const Row test = tables.test("S6", "", "");
  EXPECT_EQ(test.at("df_error"), "8");
  expect_printed(test, "f_entry", 8.881, 3);
  expect_figure(test, "mse", 109.5 / 8.0, 1e-10);
  expect_figure(tables.mean("S6", "", "", "A"), "mean", (25.0 + 39.0 / 9.0) / 4.0, 1e-12);
}

// Yates (1933): 8 treatments in 10 blocks, 9 plots missing. Recomputed: residual 17.6899 on 54.
TEST(TextbookTables, NineMissingPlots) {
  const Tables tables = tables_of(data_file("s5_s6_s7_missing.csv"));
  const Row test = tables.test("S7", "", "");
  EXPECT_EQ(test.at("df_error"), "54");
  EXPECT_EQ(test.at("n"), "71");
  expect_printed(test, "mse", 0.32759, 5);
  // Means with the estimates of the missing plots put in: nk lacks block 1, n lacks block 7.
  const double nk = 3.07 + 3.49 + 1.07 + 3.99 + 3.48 + 3.80 + 3.68 + 3.24 + 2.70;
  expect_figure(tables.mean("S7", "", "", "nk"), "mean", (nk + 2.8839) / 10.0, 1e-5);
  const double n = 2.30 + 4.03 + 2.54 + 2.82 + 3.29 + 2.93 + 2.55 + 2.20 + 2.30;
  expect_figure(tables.mean("S7", "", "", "n"), "mean", (n + 3.3143) / 10.0, 1e-5);
}

// Onofri & Ciriciofolo (2007), winter wheat, 8 entries in 3 blocks over 7 years; names replaced.
// Recomputed per year: error mean square, LSD, CV; and the average of the yearly percents.
TEST(TextbookTables, SevenYearsAndTheirAveragePercent) {
  struct Year {
    const char* year;
    double mse, lsd, cv;
  };
  const Tables tables = tables_of(data_file("s9_seven_years.csv"));
  for (const Year& expected :
       {Year{"1996", 0.16178, 0.704, 6.87}, Year{"1997", 0.20184, 0.787, 6.48},
        Year{"1998", 0.07198, 0.470, 4.10}, Year{"1999", 0.10117, 0.557, 4.37},
        Year{"2000", 0.12621, 0.622, 6.39}, Year{"2001", 0.27506, 0.918, 7.21},
        Year{"2002", 0.10359, 0.564, 7.27}}) {
    const Row test = tables.test(std::string("Y") + expected.year, expected.year, "");
    expect_printed(test, "mse", expected.mse, 5);
    expect_printed(test, "lsd_05", expected.lsd, 3);
    expect_printed(test, "cv_percent", expected.cv, 2);
  }
  expect_printed(tables.test("Y2001", "2001", ""), "p_entry", 0.0504, 4);
  const std::vector<double> percents = {103.37, 95.88, 104.15, 97.01, 107.00, 99.50, 93.14, 99.97};
  for (std::size_t i = 0; i < percents.size(); ++i) {
    const Row row = tables.summary("E" + std::to_string(i + 1));
    EXPECT_EQ(row.at("tests"), "7");
    expect_printed(row, "percent_of_mean", percents[i], 2);
  }
}

}  // namespace
}  // namespace ligule::published
