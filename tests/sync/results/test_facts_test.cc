#include "sync/results/test_facts.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "storage/trial/details.h"
#include "sync/results/report.h"
#include "sync/results/test_results.h"
#include "tests/sync/results/weighed_trial.h"

namespace ligule::results {
namespace {

using ::testing::ElementsAre;
using ::testing::HasSubstr;
using ::testing::IsEmpty;
using ::testing::SizeIs;

class TestFactsOf : public ::testing::Test {
 protected:
  TestFacts facts() {
    return test_facts(trial_.facts(), "T", yields_of(trial_.facts(), "T").plots, definitions_);
  }
  std::string fact(const std::string& name) {
    for (const Fact& each : facts().facts)
      if (each.name == name) return each.value;
    return "none";
  }
  void event(const std::string& kind, const Details& details) {
    Record record;
    record.entered = kind;
    record.at.local_date = WeighedTrial::day(5, 9);
    record.details = details_text(details);
    trial_.facts().events.push_back({record, std::nullopt});
  }

  WeighedTrial trial_;
  Definitions definitions_;
};

TEST_F(TestFactsOf, SayHowItWasSown) {
  Plan& plan = trial_.facts().plan;
  plan.sown = date::year(2025) / date::month(9) / date::day(3);
  plan.plot_width = {"5", "ft"};
  plan.plot_length = {"22", "ft"};
  EXPECT_EQ(fact("Sown"), "2025-09-03, drilled in rows");
  plan.drilled = false;
  EXPECT_EQ(fact("Sown"), "2025-09-03, broadcast");
  EXPECT_EQ(fact("Plots"), "5 ft × 22 ft as sown, 3 ft × 20 ft harvested");
  EXPECT_EQ(fact("Design"), "randomised complete blocks, 2 blocks");
  plan.design = "crd";
  EXPECT_EQ(fact("Design"), "completely randomised");
}

TEST_F(TestFactsOf, SayWhatWasDoneToIt) {
  EXPECT_EQ(fact("Fertilizer, lime"), "none noted");
  event("lime", {{"on", "2025-08-20"}, {"material", "ground lime"}, {"rate", "2 ton/acre"}});
  event("fertilizer", {{"on", "2026-03-11"}, {"material", "urea"}, {"block", "2"}});
  event("spray", {});
  trial_.facts().events.push_back(trial_.facts().events.back());
  trial_.facts().events.back().taken_back = Record{};
  EXPECT_EQ(fact("Fertilizer, lime"),
            "2025-08-20 ground lime, 2 ton/acre; 2026-03-11 urea (block 2 only)");
  EXPECT_EQ(fact("Sprays"), "2026-05-09");
}

TEST_F(TestFactsOf, CountWhatWasWeighed) {
  trial_.weigh_all("cut-1");
  EXPECT_EQ(fact("Plot yields"),
            "4 weighed, 0 of them by the dry matter of other plots; 0 counted as zero; 0 missing");
  trial_.claim(trial_.plot("101"), measure::kGrossWeight).record.state = ValueState::kMissing;
  trial_.claim(trial_.plot("101"), measure::kGrossWeight).record.value.reset();
  EXPECT_EQ(fact("Plot yields"),
            "3 weighed, 0 of them by the dry matter of other plots; 0 counted as zero; 1 missing");
  EXPECT_EQ(fact("Cut on"), "2026: 1 Jun");
  EXPECT_EQ(fact("Cut with"), "none");
  Record run;
  run.details = details_text({{"machine", "flail 2"}});
  trial_.facts().runs.push_back(run);
  EXPECT_EQ(fact("Cut with"), "flail 2");
}

TEST_F(TestFactsOf, KnowWhenAPassWasDoneAndWhatIsNext) {
  trial_.weigh_all("cut-1");
  trial_.facts().claims.back().record.at.local_date = WeighedTrial::day(6, 9);  // dried later
  trial_.reading(trial_.plot("101"), "percent_stand", "spring", 90, "%").at.local_date =
      WeighedTrial::day(4, 2);
  trial_.reading(trial_.plot("102"), "percent_stand", "spring", 90, "%").at.local_date =
      WeighedTrial::day(4, 3);
  const std::vector<PassDays> passes = pass_days(trial_.facts());
  ASSERT_THAT(passes, SizeIs(2));
  EXPECT_EQ(passes[0].code, "spring");
  EXPECT_EQ(passes[0].first, WeighedTrial::day(4, 2));
  EXPECT_EQ(passes[0].last, WeighedTrial::day(4, 3));
  EXPECT_EQ(passes[1].last, WeighedTrial::day(6, 1));
  EXPECT_FALSE(facts().next_due);
  trial_.facts().plan.occasions[1].due = WeighedTrial::day(7, 20);
  EXPECT_EQ(facts().next_due, WeighedTrial::day(7, 20));
}

TEST_F(TestFactsOf, AnotherRatersValueIsNoPass) {
  trial_.reading(trial_.plot("101"), "percent_stand", "spring", 90, "%").purpose = Purpose::kSecond;
  EXPECT_THAT(pass_days(trial_.facts()), IsEmpty());
}

TEST_F(TestFactsOf, EntriesStandAsThePlanHasThem) {
  trial_.facts().plan.entries[0].role = EntryRole::kCheck;
  trial_.facts().plan.entries[2].role = EntryRole::kFiller;
  EXPECT_THAT(entry_standings(trial_.facts(), "T"),
              ElementsAre(EntryStanding{"T", "Amber (novel)", 0, true, Market::kNotStated},
                          EntryStanding{"T", "Birch", 1, false, Market::kNotStated}));
  const std::vector<PlotValue> values{{"U", "", 2025, "1", "1", "Z", "", 1.0},
                                      {"U", "", 2025, "1", "1", "A", "", 1.0},
                                      {"U", "", 2025, "2", "1", "Z", "", 1.0}};
  EXPECT_THAT(test_results(values, {}).standings,
              ElementsAre(EntryStanding{"U", "A", 1, false, Market::kNotStated},
                          EntryStanding{"U", "Z", 0, false, Market::kNotStated}));
}

TEST_F(TestFactsOf, StandInTheReportWithTheirIndex) {
  ReportText text;
  text.tests = {{.test = "T",
                 .title = "Fescue <1>",
                 .site = "Hill",
                 .field = "Upper",
                 .species = {"tall fescue"},
                 .sown = date::year(2025) / 9 / 3,
                 .next_due = date::year(2026) / 5 / 20,
                 .facts = {{"Sown", "2025-09-03 & rolled"}}}};
  const std::string html = report_html({}, {}, text);
  EXPECT_THAT(html, HasSubstr(">Tall fescue</th>"));
  EXPECT_THAT(html,
              HasSubstr("<a href=\"#test-1\">T</a></th><td class=\"text\">Hill, Upper</td><td "
                        "class=\"text\">2025-09-03</td><td class=\"text\">–</td><td>0</td><td "
                        "class=\"text\">2026-05-20</td>"));
  EXPECT_THAT(html, HasSubstr("Fescue &lt;1&gt;. Hill, Upper</p>"));
  EXPECT_THAT(html, HasSubstr("<li><b>Sown</b> <span>2025-09-03 &amp; rolled</span></li>"));
}

// A test sown in spring: its first year is told apart.
TEST_F(TestFactsOf, TheSeedingYearIsMarked) {
  std::vector<PlotValue> values;
  for (const int year : {2025, 2026})
    for (const char* const entry : {"A", "B"})
      for (const char* const rep : {"1", "2"})
        values.push_back(
            {"T", "Hill", year, "", rep, entry, "", 1.0 + static_cast<double>(values.size() % 5)});
  const std::vector<Analysis> analyses = analyse(values, {});
  ReportText text;
  text.tests = {{.test = "T", .sown = date::year(2025) / 4 / 3}};
  EXPECT_THAT(report_html(analyses, {}, text), HasSubstr("2025<br><small>seeding year</small>"));
}

TEST_F(TestFactsOf, RatingsStandBesideTheYieldsOfTheirYear) {
  std::vector<PlotValue> values, stands;
  for (const char* const entry : {"A", "B"})
    for (const char* const rep : {"1", "2", "3"}) {
      values.push_back(
          {"T", "", 2026, "1", rep, entry, "", 1.0 + static_cast<double>(values.size())});
      stands.push_back(
          {"T", "", 2026, "s", rep, entry, "", 80.0 + static_cast<double>(values.size())});
    }
  const std::vector<Analysis> analyses = analyse(values, {});
  const Analysis stand = analyse(stands, {.totals = false}).front();
  ReportText text;
  text.ratings = {{"percent_stand", "Percent stand", "2 Apr", "2 Apr, %", "a", false, stand},
                  {"disease", "Disease", "", "", "b", false, stand}};
  const std::string html = report_html(analyses, {}, text);
  EXPECT_THAT(
      html, HasSubstr("Percent stand<br><small>2 Apr, %</small></th><th scope=\"col\">Cutting 1"));
  EXPECT_THAT(html, HasSubstr("<caption>Other ratings of 2026</caption>"));
  const std::string others = html.substr(html.find("Other ratings of 2026"));
  EXPECT_THAT(others, HasSubstr("Disease</th></tr>"));
}

// Seven columns are more than an upright page holds.
TEST_F(TestFactsOf, ManyRatingsOfAYearStandInSeveralTables) {
  std::vector<PlotValue> scores;
  for (const char* const entry : {"A", "B"})
    for (const char* const rep : {"1", "2", "3"})
      scores.push_back(
          {"T", "", 2026, "s", rep, entry, "", 1.0 + static_cast<double>(scores.size())});
  const Analysis score = analyse(scores, {.totals = false}).front();
  ReportText text;
  for (const char* const name : {"a", "b", "c", "d", "e", "f", "g"})
    text.ratings.push_back({name, name, "", "", name, false, score});
  const std::string html = report_html({}, {}, text);
  const std::string caption = "<caption>Ratings of 2026</caption>";
  const std::size_t first = html.find(caption);
  ASSERT_NE(first, std::string::npos);
  const std::size_t second = html.find(caption, first + 1);
  ASSERT_NE(second, std::string::npos);
  EXPECT_THAT(html.substr(first, second - first), HasSubstr(">f</th></tr>"));
  EXPECT_THAT(html.substr(second), HasSubstr(">Entry</th><th scope=\"col\">g</th></tr>"));
}

}  // namespace
}  // namespace ligule::results
