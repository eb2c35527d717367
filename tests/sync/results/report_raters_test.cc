#include "sync/results/report_raters.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "sync/results/report.h"
#include "tests/sync/results/rated_trial.h"

namespace ligule::results {
namespace {

using ::testing::HasSubstr;
using ::testing::Not;

std::string section_of(const RatedTrial& trial) {
  return raters_section(trial.figures(), 0.05);
}

// Percents of two blocks of three; CD's differences are given.
RatedTrial stands(const std::vector<double>& apart) {
  RatedTrial trial(6, 3);
  const std::vector<double> first = {40, 55, 60, 70, 80, 65};
  trial.rate_all(Purpose::kSurvey, "AB", first, "percent_stand");
  for (std::size_t n = 0; n < apart.size(); ++n)
    trial.rate(static_cast<int>(n) + 1, Purpose::kSecond, "CD", first[n] + apart[n],
               "percent_stand");
  return trial;
}

TEST(ReportRaters, SaysInPlainWordsWhoRatedHigher) {
  // Mean 6, squares about it 26 over 5.
  const std::string html = section_of(stands({3, 6, 9, 8, 6, 4}));
  EXPECT_THAT(html, HasSubstr("<h2>How the raters agree</h2>"));
  EXPECT_THAT(html, HasSubstr("<h3>T, spring: percent stand</h3>"));
  EXPECT_THAT(html, HasSubstr("<li>CD rated 6 points higher than AB, give or take 2, on 6 plots."
                              "</li>"));
  EXPECT_THAT(html, HasSubstr("Lin 1989"));
  EXPECT_THAT(html, HasSubstr("Shrout and Fleiss 1979"));
  EXPECT_THAT(html, HasSubstr("Cohen 1968"));
  EXPECT_THAT(html, HasSubstr("<td>6.0</td><td>2.3</td>"));
}

TEST(ReportRaters, SaysWhereNobodyRatedHigher) {
  EXPECT_THAT(section_of(stands({3, -3, 1, -1, 2, -1})),
              HasSubstr("CD rated much as AB did, give or take 2, on 6 plots."));
  EXPECT_THAT(section_of(stands({-1, -1, -2, -1, -1, 0})),
              HasSubstr("CD rated 1 point lower than AB, give or take 1, on 6 plots."));
}

TEST(ReportRaters, SaysWhereTheDifferenceChanged) {
  EXPECT_THAT(
      section_of(stands({1, 2, 3, 9, 10, 11})),
      HasSubstr("The difference changed from block to block: 2 in block 1, 10 in block 2."));
  EXPECT_THAT(section_of(stands({1, 2, 3, 2, 3, 1})), Not(HasSubstr("changed from block")));
}

TEST(ReportRaters, SaysWhereThereAreTooFew) {
  EXPECT_THAT(section_of(stands({1})), HasSubstr("CD rated 1 plot that AB rated too: too few"));
}

TEST(ReportRaters, TellsRepeatsPracticeAndWhoSharedARating) {
  RatedTrial trial(9, 3);
  for (int plot = 1; plot <= 9; ++plot)
    trial.rate(plot, Purpose::kSurvey, plot <= 3 ? "AB" : "CD", 50 + plot % 3, "percent_stand");
  for (int plot = 1; plot <= 3; ++plot)
    trial.rate(plot, Purpose::kRepeat, "AB", 54 + plot % 3, "percent_stand");
  for (int plot = 4; plot <= 6; ++plot)
    trial.rate(plot, Purpose::kRepeat, "AB", 50 + plot % 3, "percent_stand");
  for (int part = 1; part <= 3; ++part) trial.practise(1, part, "EF", 20 * part, 20 * part - 7);
  const std::string html = section_of(trial);
  EXPECT_THAT(html, HasSubstr("AB rated 4 points higher the second time, give or take 0, on 3"));
  EXPECT_THAT(html, HasSubstr("AB looked again and rated much as CD did"));
  EXPECT_THAT(html, HasSubstr("EF rated drawn stands 7 points low on 2026-06-01, give or take 0, "
                              "on 3 stands."));
  EXPECT_THAT(
      html,
      HasSubstr(
          "AB and CD shared this rating by whole blocks: AB near the mean (3 plots), CD near"));
  EXPECT_THAT(html, HasSubstr("AB, first look"));
}

TEST(ReportRaters, SaysWhoGaveMoreInASharedRating) {
  RaterFigures figures;
  SurveyRaters of;
  of.at = {"T", 2026, "spring", "percent_stand", ScaleKind::kPercent};
  of.raters = {{"AB", 20, -3.2, 1.04}, {"CD", 21, 3.2, 1.04}, {"EF", 3, 0.2, 2.0}};
  figures.surveys.push_back(of);
  EXPECT_THAT(raters_section(figures, 0.05),
              HasSubstr("AB, CD and EF shared this rating; too few plots to tell"));
  figures.surveys.front().p = 0.0004;
  EXPECT_THAT(
      raters_section(figures, 0.05),
      HasSubstr("AB, CD and EF shared this rating; beside entries and blocks AB 3 points low "
                "(standard error 1.0, 20 plots), CD 3 points high (standard error 1.0, 21 "
                "plots), EF near the mean (standard error 2.0, 3 plots) (p below 0.001)."));
  figures.surveys.front().p = 0.4;
  EXPECT_THAT(raters_section(figures, 0.05),
              HasSubstr("no difference between them can be told (p 0.400)."));
  EXPECT_THAT(raters_section(figures, 0.05), Not(HasSubstr("<table>")));
}

TEST(ReportRaters, ScoresAreToldByTheTenthAndUnknownPeopleAsUnknown) {
  RatedTrial trial(6, 3);
  trial.rate_all(Purpose::kSurvey, "AB", {1, 2, 3, 4, 5, 6});
  trial.rate_all(Purpose::kSecond, "CD", {1, 3, 3, 5, 5, 6});
  for (ledger::Claim& claim : trial.facts().claims)
    if (claim.record.purpose == Purpose::kSecond) claim.record.person.reset();
  EXPECT_THAT(section_of(trial), HasSubstr("somebody unknown rated 0.3 points higher than AB"));
}

TEST(ReportRaters, InitialsStayText) {
  RatedTrial trial = stands({1, 2, 3});
  RaterFigures figures = trial.figures();
  figures.agreements.front().rater = "<b>";
  EXPECT_THAT(raters_section(figures, 0.05), HasSubstr("&lt;b&gt; rated 2 points"));
}

TEST(ReportRaters, StandInTheReportOnlyWhereThereAreFigures) {
  ReportText text;
  EXPECT_THAT(report_html({}, {}, text), Not(HasSubstr("raters")));
  text.raters = stands({1, 2, 3}).figures();
  const std::string html = report_html({}, {}, text);
  EXPECT_THAT(html, HasSubstr("<a href=\"#raters\">How the raters agree</a>"));
  EXPECT_THAT(html, HasSubstr("<section id=\"raters\">"));
}

}  // namespace
}  // namespace ligule::results
