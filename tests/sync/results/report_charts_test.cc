#include "sync/results/report_charts.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

namespace ligule::results {
namespace {

using ::testing::HasSubstr;
using ::testing::IsEmpty;
using ::testing::Not;

std::vector<PlotValue> values_of(
    const std::vector<std::pair<std::string, std::vector<double>>>& rows, int year = 2025,
    const std::string& cutting = "1") {
  std::vector<PlotValue> values;
  for (const auto& [entry, plots] : rows)
    for (std::size_t rep = 0; rep < plots.size(); ++rep)
      values.push_back(
          {"T", "Hill", year, cutting, std::to_string(rep + 1), entry, "", plots[rep]});
  return values;
}

std::size_t count_of(const std::string& text, const std::string& part) {
  std::size_t found = 0;
  for (auto at = text.find(part); at != std::string::npos; at = text.find(part, at + 1)) ++found;
  return found;
}

// Where a dot stands, from the text of its circle.
double x_of(const std::string& html, std::size_t nth) {
  std::size_t at = 0;
  for (std::size_t i = 0; i <= nth; ++i) at = html.find("<circle cx=\"", at + 1);
  return std::stod(html.substr(at + 12));
}

const std::vector<std::pair<std::string, std::vector<double>>> kClear{
    {"Low", {10, 11, 10}}, {"High", {20, 21, 22}}, {"Best", {21, 21, 21}}};

TEST(MeansChart, ADotForEachMeanAndABarForTheLsd) {
  const std::vector<Analysis> analyses = analyse(values_of(kClear), {});
  const std::string html = means_chart(analyses.front(), "ton/acre", Best::kHighest, {});
  EXPECT_EQ(count_of(html, "<circle"), 3U);
  EXPECT_EQ(count_of(html, "class=\"best\""), 2U);
  EXPECT_EQ(count_of(html, "class=\"lsd\""), 1U);
  EXPECT_THAT(html, HasSubstr("Entry means: ton/acre"));
  EXPECT_THAT(html, HasSubstr(">21.0</text>"));
  // Best and High have the same mean, Low lies left of them.
  EXPECT_DOUBLE_EQ(x_of(html, 0), x_of(html, 1));
  EXPECT_LT(x_of(html, 2), x_of(html, 0));
}

TEST(MeansChart, WhereTheBestIsNotShownThereIsNoBarAndTheCaptionSaysSo) {
  std::vector<std::pair<std::string, std::vector<double>>> entries = kClear;
  entries[2].second = {22, 22, 23};
  std::vector<Analysis> analyses = analyse(values_of(entries), {});
  const auto caption = [&] { return means_chart(analyses.front(), "", Best::kHighest, {}); };
  EXPECT_THAT(caption(), HasSubstr("The bar is the LSD from the best"));
  std::erase_if(analyses.front().means, [](const EntryMean& mean) { return mean.entry == "Best"; });
  EXPECT_EQ(count_of(caption(), "class=\"lsd\""), 0U);
  EXPECT_THAT(caption(), HasSubstr("The best entry is not shown: filled dots are not proven"));
  EXPECT_THAT(caption(), Not(HasSubstr("The bar is")));
}

TEST(MeansChart, AlikeEntriesHaveNoBarAndNoFilledDot) {
  const auto noise = values_of({{"A", {10, 14, 12}}, {"B", {13, 11, 12}}, {"C", {12, 11, 14}}});
  const std::string html = means_chart(analyse(noise, {}).front(), "", Best::kHighest, {});
  EXPECT_EQ(count_of(html, "class=\"best\""), 0U);
  EXPECT_EQ(count_of(html, "class=\"lsd\""), 0U);
  EXPECT_THAT(html, HasSubstr("alike as far as this test can tell"));
}

TEST(MeansChart, NeedsTwoMeans) {
  EXPECT_THAT(means_chart(analyse(values_of({{"A", {1, 2}}}), {}).front(), "", Best::kHighest, {}),
              IsEmpty());
}

// A page holds some 40 rows: a drawing of 60 would be cut through one of them.
TEST(MeansChart, ManyEntriesAreDrawnInPartsWithAScaleEach) {
  std::vector<std::pair<std::string, std::vector<double>>> entries;
  for (int i = 0; i < 60; ++i)
    entries.push_back({"E" + std::to_string(100 + i), {10.0 + i, 10.1 + i, 9.9 + i}});
  const std::string html =
      means_chart(analyse(values_of(entries), {}).front(), "", Best::kHighest, {});
  EXPECT_EQ(count_of(html, "<svg"), 2U);
  EXPECT_EQ(count_of(html, "<circle"), 60U);
  EXPECT_EQ(count_of(html, "class=\"lsd\""), 2U);
  EXPECT_EQ(count_of(html, "height=\"552\""), 2U) << "30 rows of 17 and what stands around them";
  EXPECT_THAT(html, HasSubstr("<title>Entry means, part 2 of 2</title>"));
  const std::string second = html.substr(html.find("<svg", html.find("</svg>")));
  EXPECT_EQ(count_of(second, ">60</text>"), count_of(html, ">60</text>") / 2) << "the scale";
  EXPECT_EQ(count_of(second, "<circle"), 30U);
  entries.resize(34);
  EXPECT_EQ(count_of(means_chart(analyse(values_of(entries), {}).front(), "", Best::kHighest, {}),
                     "<svg"),
            1U);
}

TEST(MeansChart, OfOneValueEverywhereIsDrawnAllTheSame) {
  const auto flat = values_of({{"A", {0, 0, 0}}, {"B", {0, 0, 0}}});
  const std::string html = means_chart(analyse(flat, {}).front(), "", Best::kHighest, {});
  EXPECT_EQ(count_of(html, "<circle"), 2U);
  EXPECT_THAT(html, Not(HasSubstr("nan")));
  EXPECT_THAT(html, Not(HasSubstr("inf")));
}

TEST(MeansChart, ALongNameIsCutAtALetter) {
  const std::string name(80, 'x');
  std::string umlauts;
  for (int i = 0; i < 60; ++i) umlauts += "ü";
  const auto values = values_of({{name, {1, 2, 3}}, {umlauts, {2, 3, 5}}});
  const std::string html = means_chart(analyse(values, {}).front(), "", Best::kHighest, {});
  EXPECT_THAT(html, Not(HasSubstr(name)));
  EXPECT_THAT(html, HasSubstr("x…x"));
  EXPECT_THAT(html, HasSubstr("ü…ü"));
}

TEST(StandChart, JoinsTheStandsOfEachEntryInOrder) {
  const auto pass = [](int year, double of_a, double of_b) {
    return RatingColumn{
        .measure = "percent_stand",
        .heading = "Percent stand",
        .day = "2 Apr",
        .below = "",
        .order = "",
        .is_date = false,
        .analysis =
            analyse(values_of({{"A", {of_a, of_a + 1}}, {"B", {of_b, of_b + 1}}}, year, "s"),
                    {.totals = false})
                .front()};
  };
  const RatingColumn first = pass(2024, 95, 90), middle = pass(2025, 80, 90),
                     last = pass(2026, 40, 88);
  const std::vector<const RatingColumn*> stands{&first, &middle, &last};
  const std::string html = stand_chart(stands, {});
  EXPECT_EQ(count_of(html, "<circle"), 6U);
  EXPECT_EQ(count_of(html, "class=\"path\""), 4U);
  EXPECT_EQ(count_of(html, "class=\"best\""), 2U);
  EXPECT_THAT(html, HasSubstr("Open dots 2 Apr 2024, filled dots 2 Apr 2026"));
  EXPECT_THAT(html, HasSubstr(">88 %</text>"));
  EXPECT_THAT(stand_chart(std::span(stands).first(1), {}), IsEmpty());
}

TEST(LongTermChart, ShowsIntervalsInPercentOfTheCompany) {
  LongTermRow few;
  few.entry = "Few";
  few.tests = {{"T", 110}};
  few.shrunken_mean = 4.2;
  few.shrunken_interval = Interval{3.6, 4.8};
  few.company_mean = 4.0;
  LongTermRow many = few;
  many.entry = "Many";
  many.tests.push_back({"U", 90});
  many.shrunken_mean = 3.8;
  many.shrunken_interval = Interval{3.6, 4.0};
  LongTermRow none;
  none.entry = "None";
  const std::vector<const LongTermRow*> rows{&few, &many, &none};
  const std::string html = long_term_chart(rows);
  EXPECT_EQ(count_of(html, "<circle"), 2U);
  EXPECT_EQ(count_of(html, "class=\"interval\""), 2U);
  EXPECT_THAT(html, HasSubstr(">1 test</text>"));
  EXPECT_THAT(html, HasSubstr(">2 tests</text>"));
  EXPECT_THAT(html, HasSubstr("A line says where an entry stands beside the mean of its company"));
  // 3.6 and 4.8 of 4.0 are 90 and 120 percent.
  EXPECT_THAT(html, HasSubstr(">90</text>"));
  EXPECT_THAT(html, HasSubstr(">120</text>"));
  EXPECT_THAT(long_term_chart(std::span(rows).subspan(1)), IsEmpty());
}

}  // namespace
}  // namespace ligule::results
