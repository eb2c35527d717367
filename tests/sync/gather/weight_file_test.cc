#include "sync/gather/weight_file.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

namespace ligule::gather {
namespace {

using ::testing::ElementsAre;
using ::testing::HasSubstr;
using ::testing::IsEmpty;
using ::testing::SizeIs;

WeightColumns columns(std::string_view text = "plot=Plot,gross=Weight") {
  return parse_weight_columns(text).value_or(WeightColumns{});
}

std::string fault_of(std::string_view text, const WeightColumns& wanted = columns()) {
  const auto file = read_weight_file(text, "w.csv", wanted, false);
  if (file) return "no fault";
  std::string all;
  for (const Error& error : file.error()) all += one_line(error) + "\n";
  return all;
}

TEST(WeightColumns, AreNamedAsOneLineOfCsv) {
  EXPECT_EQ(columns(), (WeightColumns{{"gross", "Weight"}, {"plot", "Plot"}}));
  EXPECT_EQ(columns(R"( plot = Plot No ,"gross=Weight, lb")"),
            (WeightColumns{{"gross", "Weight, lb"}, {"plot", "Plot No"}}));
}

TEST(WeightColumns, EachFaultIsOneClearLine) {
  const std::pair<const char*, const char*> faulty[] = {
      {"", "names no columns"},
      {"plot", "'plot' names no column"},
      {"plot=Plot,moisture=H2O", "no record holds a 'moisture' (columns are plot, part"},
      {"plot=,gross=W", "'plot' has no heading"},
      {"plot=A,gross=A", "\"A\" stands for two columns"},
      {"plot=A,plot=B,gross=C", "'plot' is named twice"},
      {"gross=W", "no column holds the plot number"},
      {"plot=P,bag=B", "no column holds a weight"},
      {"plot=P\ngross=W", "names no columns"}};
  for (const auto& [text, what] : faulty) {
    const auto read = parse_weight_columns(text);
    ASSERT_FALSE(read) << text;
    EXPECT_THAT(one_line(read.error()), HasSubstr(what)) << text;
    EXPECT_EQ(read.error().where, "--columns");
  }
}

TEST(WeightFile, RowsCarryTheirLineAsItStood) {
  const auto file =
      read_weight_file("\xEF\xBB\xBFPlot,Weight,Note\r\n 101 ,12.30,\"a, b\"\r\n102,9\r\n", "w.csv",
                       columns(), false);
  ASSERT_FALSE(file) << "the last row is short";
  const auto whole =
      read_weight_file("\xEF\xBB\xBFPlot,Weight,Note\r\n 101 ,12.30,\"a, b\"\r\n102,9,\r\n",
                       "w.csv", columns(), false);
  ASSERT_TRUE(whole) << one_line(whole.error().front());
  ASSERT_THAT(whole->rows, SizeIs(2));
  EXPECT_EQ(whole->rows[0].line, 2U);
  EXPECT_EQ(whole->rows[0].raw, " 101 ,12.30,\"a, b\"");
  EXPECT_EQ(whole->rows[0].cell("plot"), "101");
  EXPECT_EQ(whole->rows[0].cell("gross"), "12.30");
  EXPECT_EQ(whole->rows[0].cell("tare"), "");
  EXPECT_EQ(whole->rows[1].raw, "102,9,");
}

TEST(WeightFile, EveryLineEndAndAnEmptyLineAreFine) {
  for (const char* text : {"Plot,Weight\n101,1\n\n102,2\n", "Plot,Weight\r101,1\r\r102,2",
                           "Plot,Weight\r\n101,1\r\n\r\n102,2\r\n"}) {
    const auto file = read_weight_file(text, "w.csv", columns(), false);
    ASSERT_TRUE(file) << text;
    ASSERT_THAT(file->rows, SizeIs(2));
    EXPECT_EQ(file->rows[1].line, 4U);
    EXPECT_EQ(file->rows[1].raw, "102,2");
  }
}

TEST(WeightFile, WhatStandsAboveTheHeadingsIsPassedOver) {
  const auto file =
      read_weight_file("Machine 7,,\nfield north,2026-05-20,\nPlot,Grain,Weight\n101,x,12\n",
                       "w.csv", columns(), false);
  ASSERT_TRUE(file) << one_line(file.error().front());
  EXPECT_EQ(file->header_line, 3U);
  const auto narrow = read_weight_file("Machine 7\nPlot,Weight,Note,\n101,12,,\n102,13,x,\n",
                                       "w.csv", columns(), false);
  ASSERT_TRUE(narrow) << one_line(narrow.error().front());
  EXPECT_THAT(narrow->rows, SizeIs(2)) << "blank cells at the end are cells";
  EXPECT_EQ(file->rows[0].cell("gross"), "12");
}

TEST(WeightFile, AHeadingThatIsNotThereNamesTheNearestLine) {
  EXPECT_THAT(fault_of("title\nPlot,weight\n101,1\n"),
              HasSubstr("w.csv line 2: no column is headed \"Weight\""));
  EXPECT_THAT(fault_of("a,b\n1,2\n"), HasSubstr("no column is headed \"Weight\", \"Plot\""));
  EXPECT_THAT(fault_of("Plot;Weight\n101;1\n"), HasSubstr("not separated by commas"));
  EXPECT_THAT(fault_of(""), HasSubstr("w.csv line 1: no column is headed"));
  EXPECT_THAT(fault_of("Plot,Weight\n"), HasSubstr("no row follows the column names"));
  EXPECT_THAT(fault_of("Plot,Weight,Weight\n101,1,2\n"),
              HasSubstr("line 1, column Weight: two columns are headed so"));
}

TEST(WeightFile, EveryFaultIsListedWithItsLine) {
  const std::string faults =
      fault_of("Plot,Weight\n,12\n102,\n103,\"12,5\"\n104,12,5\n105,\"1\n2\"\n106,\t7\n107,8\n");
  EXPECT_THAT(faults, HasSubstr("w.csv line 2, column Plot: there is no plot number"));
  EXPECT_THAT(faults, HasSubstr("w.csv line 3, column Weight: plot 102 has no weight"));
  EXPECT_THAT(faults, HasSubstr("w.csv line 4, column Weight: '12,5' has a comma"));
  EXPECT_THAT(faults, HasSubstr("w.csv line 5: the row has 3 cells, the column names 2"));
  EXPECT_THAT(faults, HasSubstr("w.csv line 6: a cell goes over two lines"));
  EXPECT_THAT(faults, HasSubstr("w.csv line 8: the line holds a tab"));
  EXPECT_EQ(std::ranges::count(faults, '\n'), 6);
}

TEST(WeightFile, NoCsvIsRefused) {
  EXPECT_THAT(fault_of("Plot,Weight\n101,\"1\n"), HasSubstr("quotes are never closed"));
  EXPECT_THAT(fault_of("Plot,Weight\n101,\xFF\n"), HasSubstr("not UTF-8"));
}

TEST(WeightFile, BlanksAreLeftOutOnlyWhenThatIsAsked) {
  const auto file = read_weight_file("Plot,Weight\n101,\n102,2\n103, \n", "w.csv", columns(), true);
  ASSERT_TRUE(file);
  EXPECT_THAT(file->rows, SizeIs(1));
  EXPECT_THAT(file->without_weight, ElementsAre("101", "103"));
  const auto plot_less = read_weight_file("Plot,Weight\n,\n,3\n", "w.csv", columns(), true);
  EXPECT_FALSE(plot_less) << "a weight of no plot";
}

TEST(WeightFile, WithoutAColumnForPlotWeightsASampleIsEnough) {
  const auto file =
      read_weight_file("P,Dry\n101,55\n", "w.csv", columns("plot=P,sample_dry=Dry"), false);
  ASSERT_TRUE(file);
  EXPECT_EQ(file->rows[0].cell("sample_dry"), "55");
  EXPECT_THAT(file->without_weight, IsEmpty());
}

}  // namespace
}  // namespace ligule::gather
