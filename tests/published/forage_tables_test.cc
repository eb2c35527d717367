// Printed tables of forage tests and pages of textbooks that give no plots, tied out as far as what
// they print goes, misprints too. Where a page gives means and an error only, plots are made that
// have exactly those (`plots_with`), and the program has to find the rest of the page.
// data/SOURCES.md names every source.
#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <map>
#include <set>
#include <string>
#include <vector>

#include "tests/published/desk_tables.h"

namespace ligule::published {
namespace {

using testing::HasSubstr;
using testing::Not;

const std::string values_header = "test,site,year,cutting,rep,entry,value\n";

// Four blocks whose entries E1, E2 ... have these means and leave this error mean square: what is
// added to a mean sums to nothing over each entry and over each block.
std::string plots_with(const std::vector<double>& means, double mean_square) {
  const std::vector<double> of_block = {-1, 1, 1, -1};
  const double middle = (static_cast<double>(means.size()) - 1) / 2;
  double squares = 0;
  for (std::size_t i = 0; i < means.size(); ++i)
    squares += 4 * std::pow(static_cast<double>(i) - middle, 2);
  const double df = 3 * (static_cast<double>(means.size()) - 1);
  const double size = std::sqrt(mean_square * df / squares);
  std::string csv = values_header;
  for (std::size_t i = 0; i < means.size(); ++i) {
    for (std::size_t block = 0; block < of_block.size(); ++block)
      csv += fmt::format("T,,2016,,{},E{},{:.15g}\n", block + 1, i + 1,
                         means[i] + size * (static_cast<double>(i) - middle) * of_block[block]);
  }
  return csv;
}

std::set<std::string> group_of(const Tables& tables) {
  std::set<std::string> group;
  for (const Row& row : tables.means)
    if (row.at("in_top_group") == "1") group.insert(row.at("entry"));
  return group;
}

// The LSD of a lesson on it: error 0.095 on 21 degrees of freedom, 4 reps: LSD 0.453; a difference
// of 0.365 is none, one of 0.480 is. 8 entries in 4 blocks leave 21.
TEST(ForageTables, TheLessonsLsdTellsTheLessonsDifferencesApart) {
  const Tables tables =
      tables_of_text(plots_with({5.0, 4.635, 4.52, 4.0, 4.0, 4.0, 4.0, 4.0}, 0.095));
  const Row test = tables.test("T", "2016", "");
  EXPECT_EQ(test.at("df_error"), "21");
  expect_printed(test, "lsd_05", 0.453, 3);
  expect_printed(test, "lsd_05", 0.45324, 5);
  EXPECT_EQ(group_of(tables), (std::set<std::string>{"E1", "E2"}));
}

// A state's alfalfa table of 2016 (its table 4): mean, CV and LSD of eight columns, 13 entries in 4
// reps. Plots are made from the printed mean and CV, which so come back whatever we do: only the
// LSD, which follows from them, is a check.
TEST(ForageTables, EightColumnsOfAnAlfalfaTableHaveTheirPrintedLsd) {
  struct Printed {
    double mean, cv, lsd;
  };
  for (const Printed& column :
       {Printed{2.21, 9.81, 0.31}, Printed{1.69, 12.86, 0.31}, Printed{1.46, 10.10, 0.21},
        Printed{1.27, 8.49, 0.15}, Printed{6.63, 7.58, 0.72}, Printed{6.86, 5.66, 0.56},
        Printed{1.48, 11.37, 0.24}, Printed{14.97, 5.61, 1.20}}) {
    const double error = std::pow(column.cv * column.mean / 100, 2);
    const Tables tables = tables_of_text(plots_with(std::vector<double>(13, column.mean), error));
    const Row test = tables.test("T", "2016", "");
    EXPECT_EQ(test.at("df_error"), "36");
    expect_printed(test, "mean", column.mean, 2);
    expect_printed(test, "cv_percent", column.cv, 2);
    expect_printed(test, "lsd_05", column.lsd, 2);
  }
}

// Its totals of 2016 in the order of the page. It prints Prob > F 0.11 and calls them alike (ns),
// with the LSD all the same; the page's rounded totals and CV give 0.12. Less than that LSD from
// the best are five; the one at 6.67 is out by 0.75. 6.63, the printed mean, is not that of the
// printed rows (6.656): the rows count.
TEST(ForageTables, AnAlfalfaTableWhoseEntriesAreAlikeIsNotMarked) {
  const std::vector<double> totals = {6.74, 6.79, 6.47, 6.52, 6.19, 6.38, 6.94,
                                      6.74, 6.67, 6.42, 7.42, 6.90, 6.35};
  const std::string plots = plots_with(totals, std::pow(7.58 * 6.63 / 100, 2));
  const Tables tables = tables_of_text(plots);
  const Row test = tables.test("T", "2016", "");
  expect_printed(test, "lsd_05", 0.72, 2);
  expect_printed(test, "mean", 6.656, 3);
  EXPECT_NEAR(std::stod(test.at("p_entry")), 0.11, 0.015);
  EXPECT_EQ(group_of(tables), (std::set<std::string>{"E1", "E2", "E7", "E8", "E11", "E12"}));
  EXPECT_THAT(tables.report, HasSubstr("<td>ns (0.72)</td>"));
  EXPECT_THAT(tables.report, HasSubstr("The entries are alike at the 5 % level (ns)"));
  EXPECT_THAT(tables.report, Not(HasSubstr("class=\"top\"")));
  // A program that withholds it, as a province's tables print NSD, sees no figure to misuse.
  const std::string withheld = tables_of_text(plots, {"--withhold-lsd"}).report;
  EXPECT_THAT(withheld, HasSubstr("<td>ns</td>"));
  EXPECT_THAT(withheld, Not(HasSubstr("ns (0.72)")));
}

// A province's tall fescue table of 2004, t/ha: five cuts, their total, percent of the check. One
// printed total (11.47) is not the sum of its printed cuts (11.46): the cuts count.
TEST(ForageTables, FescueCutsAddUpAndThePercentsOfTheCheckAreThePages) {
  const std::vector<std::pair<std::string, std::vector<std::string>>> rows = {
      {"A", {"4.48", "3.24", "1.47", "1.88", "1.34"}},
      {"B", {"4.75", "2.66", "1.02", "1.68", "1.35"}},
      {"C", {"4.98", "2.75", "1.13", "1.94", "1.42"}},
      {"K", {"3.78", "3.00", "1.27", "1.85", "1.33"}}};
  std::string csv = values_header;
  for (const auto& [entry, cuts] : rows)
    for (std::size_t cut = 0; cut < cuts.size(); ++cut)
      csv += fmt::format("T,,2004,{},,{},{}\n", cut + 1, entry, cuts[cut]);
  const Tables tables = tables_of_text(csv, {"--varieties", data_file("fescue_check.csv")});
  ASSERT_EQ(tables.exit, 0) << tables.messages;
  const std::map<std::string, double> totals = {
      {"A", 12.41}, {"B", 11.46}, {"C", 12.22}, {"K", 11.23}};
  for (const auto& [entry, total] : totals)
    expect_printed(tables.mean("T", "2004", "total", entry), "mean", total, 2);
  EXPECT_EQ(tables.test("T", "2004", "total").at("lsd_05"), "") << "there are no plots";
  // Total, percent of the mean, percent of the check.
  EXPECT_THAT(tables.report, HasSubstr("<td>12.41</td><td>105</td><td>111</td>"));
  EXPECT_THAT(tables.report, HasSubstr("<td>11.46</td><td>97</td><td>102</td>"));
  EXPECT_THAT(tables.report, HasSubstr("<td>12.22</td><td>103</td><td>109</td>"));
  EXPECT_THAT(tables.report, HasSubstr("Plots</th><td>–</td>")) << "means are no plots";
}

// UF 00080557 p. 70: error mean square 0.2624, 4 reps, mean 4.42: CV 11.59, standard error of a
// mean 0.256.
TEST(ForageTables, CvAndStandardErrorOfAPage) {
  const Tables tables = tables_of_text(plots_with({4.42, 4.32, 4.52}, 0.2624));
  const Row test = tables.test("T", "2016", "");
  expect_printed(test, "cv_percent", 11.59, 2);
  expect_printed(tables.mean("T", "2016", "", "E1"), "se", 0.256, 3);
}

// A training manual without blocks: error 3.79 on 15 degrees of freedom, printed as 0.25, from
// which it makes F 23.24 and CV 13.97. Unrounded F is 22.99 and CV 14.04: who rounds early prints
// other figures, and the program rounds last. Three entries of six plots; a spread of entries that
// gives that F, a mean that gives that CV.
TEST(ForageTables, RoundingComesLast) {
  const double error = 3.79 / 15;
  const double mean = std::sqrt(error) / 0.1404;
  const double apart = std::sqrt(22.99 * error / 6);  // of means mean-apart, mean, mean+apart
  const double in_entry = std::sqrt(error * 15 / 12);
  std::string csv = values_header;
  for (int entry = 0; entry < 3; ++entry) {
    for (int plot = 0; plot < 6; ++plot) {
      const double off = plot < 2 ? in_entry : plot < 4 ? -in_entry : 0;
      csv += fmt::format("T,,2016,,{},E{},{:.15g}\n", plot + 1, entry,
                         mean + apart * (entry - 1) + off);
    }
  }
  const Row test = tables_of_text(csv, {"--design", "crd"}).test("T", "2016", "");
  EXPECT_EQ(test.at("df_error"), "15");
  expect_printed(test, "mse", 0.25, 2);
  expect_printed(test, "f_entry", 22.99, 2);
  expect_printed(test, "cv_percent", 14.04, 2);
}

}  // namespace
}  // namespace ligule::published
