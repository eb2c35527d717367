#include "sync/results/skipped_rows.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>

#include "sync/results/analysis.h"

namespace ligule::results {
namespace {

using ::testing::ElementsAre;
using ::testing::IsEmpty;

const std::string kValuesHeader = "test,site,year,cutting,rep,entry,value\n";

ValuesFile values_in(const std::string& text) {
  const Result<ValuesFile> file = parse_values(text, "v.csv");
  EXPECT_TRUE(file) << one_line(file.error());
  return file.value_or(ValuesFile{});
}

SkippedRows skipped_of(const std::string& rows, const std::string& header = kValuesHeader) {
  const ValuesFile file = values_in(header + rows);
  EXPECT_TRUE(file.rows_read);
  return without_bad_rows(file, "v.csv");
}

// "2024 1 rep 1 A 5" for each, in the order of the plots.
std::vector<std::string> rows_of(const SkippedRows& skipped) {
  std::vector<std::string> rows;
  for (const PlotValue& v : skipped.values) {
    rows.push_back((v.year ? std::to_string(*v.year) : "-") + " " + v.cutting.text() + " rep " +
                   v.rep.text() + " " + v.entry.text() + " " +
                   (v.value ? std::to_string(static_cast<int>(*v.value)) : "missing"));
  }
  return rows;
}

std::vector<std::string> notices_of(const SkippedRows& skipped) {
  std::vector<std::string> lines;
  for (const Error& notice : skipped.notices) lines.push_back(notice.where + ": " + notice.what);
  return lines;
}

TEST(SkippedRows, ABadValueIsAMissingPlot) {
  const SkippedRows skipped = skipped_of("T,,2024,1,1,A,5t\nT,,2024,1,1,B,6\nT,,2024,1,2,A,7\n");
  EXPECT_THAT(rows_of(skipped),
              ElementsAre("2024 1 rep 1 A missing", "2024 1 rep 1 B 6", "2024 1 rep 2 A 7"));
  EXPECT_EQ(skipped.rows, 1U);
  EXPECT_EQ(skipped.missing, 1U);
  EXPECT_EQ(skipped.nowhere, 0U);
  EXPECT_THAT(skipped.notices, IsEmpty());
  EXPECT_EQ(left_out_words(skipped), "1 bad row left out (1 plot counts as missing)");
}

// The contract's totals: a plot that lacks a part has none, an entry without any row of a cutting
// was not scheduled for it. A bad value must not turn the first into the second.
TEST(SkippedRows, ABadValueDoesNotMakeItsEntryOneThatWasNotScheduled) {
  const SkippedRows skipped = skipped_of(
      "T,,2024,1,1,A,5\nT,,2024,1,1,B,6\nT,,2024,2,1,A,x\nT,,2024,2,1,B,2\n"
      "T,,2024,3,1,B,3\n");
  const std::vector<Analysis> analyses = analyse(skipped.values, {});
  const Analysis& total = analyses.back();
  ASSERT_EQ(total.span, Span::kYear);
  ASSERT_EQ(total.means.size(), 2U);
  EXPECT_EQ(total.means[0].mean, std::nullopt);  // A lacks its second cutting
  EXPECT_EQ(total.means[1].mean, 11.0);
}

TEST(SkippedRows, ARowWhosePlotCannotBeReadIsLeftOutAltogether) {
  const SkippedRows skipped = skipped_of(
      "T,,2024,1,1,A,5\nT,,2024,1,2,A,5\nT,,2024,1,1,B,6\nT,,20x4,1,2,B,7\nT,,2024,total,1,A,9\n"
      "T,,2024,1,2,C\n,,2024,1,2,C,8\nT,,2024,1,2,,8\n");
  EXPECT_THAT(rows_of(skipped),
              ElementsAre("2024 1 rep 1 A 5", "2024 1 rep 1 B 6", "2024 1 rep 2 A 5"));
  EXPECT_EQ(skipped.rows, 5U);
  EXPECT_EQ(skipped.missing, 0U);
  EXPECT_EQ(skipped.nowhere, 5U);
  EXPECT_EQ(left_out_words(skipped), "5 bad rows left out");
}

TEST(SkippedRows, AnEntryLeftWithoutARowIsTold) {
  const SkippedRows skipped =
      skipped_of("T,,2024,1,1,A,5\nT,,2024,2,1,A,5\nT,,2024,1,1,B,6\nT,,20x4,2,1,B,7\n");
  EXPECT_THAT(
      notices_of(skipped),
      ElementsAre("v.csv line 5: entry \"B\" of test T has no other row in 2024, cutting 2, "
                  "and counts as not scheduled there"));
  // A sum that somebody left in costs nothing.
  EXPECT_THAT(skipped_of("T,,2024,1,1,A,5\nT,,2024,2,1,A,5\nT,,2024,total,1,A,10\n").notices,
              IsEmpty());
  // Its cutting is known: only that one is looked at.
  EXPECT_THAT(
      notices_of(skipped_of("T,,2024,1,1,A,5\nT,,2024,2,1,A,5\nT,,2024,1,1,B,6\nT,,2024,1,,B,7\n")),
      IsEmpty());
}

TEST(SkippedRows, TwoRowsOfOnePlotContradictEachOther) {
  const SkippedRows skipped =
      skipped_of("T,,2024,1,1,A,5\nT,,2024,1,1,B,6\nT,,2024,1,1,A,7\nT,,2024,1,2,A,8\n");
  EXPECT_THAT(rows_of(skipped),
              ElementsAre("2024 1 rep 1 A missing", "2024 1 rep 1 B 6", "2024 1 rep 2 A 8"));
  EXPECT_EQ(skipped.rows, 2U);
  EXPECT_EQ(skipped.missing, 1U);
  EXPECT_THAT(notices_of(skipped),
              ElementsAre("v.csv line 2: left out too: line 4 has the same plot and cutting, and "
                          "nobody knows which counts"));
}

TEST(SkippedRows, TheSameRowTwiceCountsOnce) {
  const SkippedRows skipped = skipped_of("T,,2024,1,1,A,5\nT,,2024,1,1,A,5\nT,,2024,1,1,A,5.0\n");
  EXPECT_THAT(rows_of(skipped), ElementsAre("2024 1 rep 1 A 5"));
  EXPECT_EQ(skipped.rows, 2U);
  EXPECT_EQ(skipped.missing, 0U);
  EXPECT_THAT(skipped.notices, IsEmpty());
}

TEST(SkippedRows, AGoodRowBesideABadOneOfItsPlotIsDoubtfulToo) {
  const SkippedRows skipped = skipped_of("T,,2024,1,1,A,5\nT,,2024,1,1,A,7t\nT,,2024,1,1,B,6\n");
  EXPECT_THAT(rows_of(skipped), ElementsAre("2024 1 rep 1 A missing", "2024 1 rep 1 B 6"));
  EXPECT_EQ(skipped.rows, 2U);
  EXPECT_EQ(skipped.missing, 1U);
  EXPECT_EQ(skipped.notices.size(), 1U);
}

TEST(SkippedRows, APlotColumnTellsThemApart) {
  const SkippedRows skipped = skipped_of("T,,2024,1,1,A,5,101\nT,,2024,1,1,A,x,102\n",
                                         "test,site,year,cutting,rep,entry,value,plot\n");
  EXPECT_THAT(rows_of(skipped), ElementsAre("2024 1 rep 1 A 5", "2024 1 rep 1 A missing"));
}

TEST(SkippedRows, ARowWithoutItsRepIsNoMissingPlot) {
  const SkippedRows skipped = skipped_of("T,,2024,1,1,A,5\nT,,2024,1,,B,6\nT,,2024,1,,C,x\n");
  EXPECT_THAT(rows_of(skipped), ElementsAre("2024 1 rep 1 A 5"));
  EXPECT_EQ(skipped.nowhere, 2U);
  EXPECT_EQ(skipped.notices.size(), 2U);
}

// A rep in one bad row must not turn published means into plots.
TEST(SkippedRows, PublishedMeansStayMeans) {
  const SkippedRows skipped =
      skipped_of("T,,2024,1,,A,5\nT,,2024,1,,B,6t\nT,,2024,1,3,C,7t\nT,,2024,1,,D,8\n");
  EXPECT_THAT(rows_of(skipped),
              ElementsAre("2024 1 rep  A 5", "2024 1 rep  B missing", "2024 1 rep  D 8"));
  EXPECT_EQ(skipped.nowhere, 1U);
  EXPECT_EQ(analyse(skipped.values, {}).front().basis, Basis::kPublishedMeans);
}

TEST(SkippedRows, WhatHasNoBadRowStaysAsItIs) {
  const std::string rows = "T,,2024,1,1,A,5\nT,,,,1,B,\n";
  const SkippedRows skipped = skipped_of(rows);
  EXPECT_EQ(skipped.rows, 0U);
  EXPECT_EQ(skipped.values.size(), 2U);
}

TEST(SkippedRows, AFaultyFirstLineLeavesNothingToSkip) {
  EXPECT_FALSE(values_in("test,entry\nT,A\n").rows_read);
  EXPECT_FALSE(values_in("").rows_read);
  EXPECT_FALSE(values_in(kValuesHeader + "T,,1,1,1,\"A,5\n").rows_read);
  EXPECT_TRUE(values_in(kValuesHeader + "T,,x,1,1,A,5\n").rows_read);
}

}  // namespace
}  // namespace ligule::results
