#include "sync/results/release.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "sync/results/report.h"

namespace ligule::results {
namespace {

using ::testing::ElementsAre;
using ::testing::HasSubstr;
using ::testing::Not;

CalendarDate day(unsigned month, unsigned of_month) {
  return date::year(2026) / date::month(month) / date::day(of_month);
}

const std::string kSome(64, 'a');
const std::string kOther(64, 'b');

TEST(Release, TheDigestIsOfTablesOnlyAndOfEachNumber) {
  const std::vector<OutputFile> files{{"tests.csv", "1"}, {"means.csv", "2"}};
  const std::string digest = tables_digest(files);
  EXPECT_EQ(
      digest,
      tables_digest(std::vector<OutputFile>{
          {"means.csv", "2"}, {"tests.csv", "1"}, {"report.html", "x"}, {"releases.csv", "y"}}));
  EXPECT_NE(digest, tables_digest(std::vector<OutputFile>{{"tests.csv", "1"}, {"means.csv", "3"}}));
  EXPECT_NE(digest, tables_digest(std::vector<OutputFile>{{"tests.csv", "2"}, {"means.csv", "1"}}));
}

TEST(Release, GoesThroughItsFile) {
  const std::vector<Release> releases{{day(11, 2), "AB", "first, of 2026", kSome},
                                      {day(11, 27), "AB", "the \"third\" cutting", kOther}};
  const auto read = parse_releases(releases_csv(releases), "releases.csv");
  ASSERT_TRUE(read);
  EXPECT_EQ(*read, releases);
}

TEST(Release, FaultsOfItsFileAreTold) {
  const auto faults = [](const std::string& rows) {
    std::vector<std::string> lines;
    const auto read = parse_releases("date,released_by,changed,tables\n" + rows, "r.csv");
    if (!read)
      for (const Error& error : read.error()) lines.push_back(one_line(error));
    return lines;
  };
  EXPECT_THAT(faults("2026-13-01,AB,x," + kSome + "\n"), ElementsAre(HasSubstr("date")));
  EXPECT_THAT(faults("2026-11-01,,x," + kSome + "\n"), ElementsAre(HasSubstr("released_by")));
  EXPECT_THAT(faults("2026-11-01,AB,x,abc\n"), ElementsAre(HasSubstr("tables")));
  EXPECT_THAT(faults("2026-11-05,AB,x," + kSome + "\n2026-11-01,AB,y," + kSome + "\n"),
              ElementsAre(HasSubstr("dated before the one above")));
}

std::string report_with(ReleaseState state) {
  std::vector<PlotValue> values;
  for (const char* const rep : {"1", "2", "3"}) {
    values.push_back({"T", "", 2025, "1", rep, "A", "", 1.0 + static_cast<double>(values.size())});
    values.push_back({"T", "", 2025, "1", rep, "B", "", 3.0 + static_cast<double>(values.size())});
  }
  const std::vector<Analysis> analyses = analyse(values, {});
  ReportText text;
  text.release = std::move(state);
  return report_html(analyses, long_term(analyses, 2), text);
}

TEST(Release, AReportIsADraftUntilThen) {
  EXPECT_THAT(report_with({}), HasSubstr("<b>DRAFT.</b> The trial lead has not released"));
  const std::vector<Release> releases{{day(11, 2), "AB", "first <one>", kSome}};
  const std::string released = report_with(state_of(releases, kSome));
  EXPECT_THAT(released,
              HasSubstr("<b>RELEASED.</b> Revision 1, 2026-11-02, by AB: first &lt;one&gt;."));
  EXPECT_THAT(released, Not(HasSubstr("DRAFT")));
}

TEST(Release, OtherNumbersMakeItADraftAgain) {
  const std::vector<Release> releases{{day(11, 2), "AB", "first", kSome},
                                      {day(11, 9), "AB", "second", kOther}};
  const std::string draft = report_with(state_of(releases, kSome));
  EXPECT_THAT(draft, HasSubstr("DRAFT.</b> These tables are not those released on 2026-11-09"));
  EXPECT_THAT(draft, HasSubstr("Revision 2, 2026-11-09"));
  const std::string released = report_with(state_of(releases, kOther));
  EXPECT_THAT(released, HasSubstr("RELEASED.</b> Revision 2"));
  EXPECT_THAT(released, HasSubstr("<li>Revision 1, 2026-11-02, by AB: first</li>"));
}

}  // namespace
}  // namespace ligule::results
