#include "sync/results/report_stands.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "sync/results/printed_stands.h"

namespace ligule::results {
namespace {

using ::testing::HasSubstr;
using ::testing::IsEmpty;
using ::testing::Not;

CalendarDate day(int year, unsigned month, unsigned of_month) {
  return date::year(year) / date::month(month) / date::day(of_month);
}

Analysis rated(double of_amber, double of_birch, Best best = Best::kHighest) {
  std::vector<PlotValue> values;
  for (int rep = 1; rep <= 3; ++rep) {
    values.push_back({"T", "", 2026, "p", std::to_string(rep), "Amber", "", of_amber + rep % 2});
    values.push_back({"T", "", 2026, "p", std::to_string(rep), "Birch", "", of_birch + rep % 3});
  }
  return analyse(values, {.best = best, .totals = false}).front();
}

ReportTest test_named(const std::string& name) {
  ReportTest test;
  test.test = name;
  return test;
}

StandPersistence stands() {
  StandPersistence table;
  table.test = "T";
  table.measure = "percent_stand";
  table.passes = {{2025, "spring", day(2025, 4, 2), rated(95, 90)},
                  {2026, "after", day(2026, 6, 9), rated(80, 40)}};
  table.left = rated(84, 44);
  for (const char* const name : {"Amber", "Birch"}) {
    EntryStand entry;
    entry.entry = name;
    entry.first = {2025, "spring", day(2025, 4, 2), 95.0};
    entry.last = {2026, "after", day(2026, 6, 9), 80.0};
    entry.years_in_ground = 1.8;
    entry.percent_left = 84.0;
    table.entries.push_back(entry);
  }
  table.notes = {"1 plot began at 0: 104."};
  return table;
}

TEST(ReportStands, PersistenceShowsFirstLastAndWhatIsLeft) {
  ReportText text;
  text.stands = {stands()};
  const std::string html = stand_tables(test_named("T"), text);
  EXPECT_THAT(html, HasSubstr("Stand persistence by percent stand, 1.8 years in the ground"));
  EXPECT_THAT(html, HasSubstr("First stand<br><small>2025-04-02, %</small>"));
  EXPECT_THAT(html, HasSubstr("Last stand<br><small>2026-06-09, %</small>"));
  EXPECT_THAT(html, HasSubstr("Left<br><small>% of the first</small>"));
  EXPECT_THAT(html, HasSubstr("<li>1 plot began at 0: 104.</li>"));
  EXPECT_THAT(html, HasSubstr("can keep all of it"));
  EXPECT_THAT(html, Not(HasSubstr("% of mean")));
  EXPECT_LT(html.find("Amber"), html.find("Birch"));
  EXPECT_THAT(stand_tables(test_named("U"), text), IsEmpty());
}

TEST(ReportStands, WithoutAPercentLeftThereAreNotesOnly) {
  ReportText text;
  text.stands = {stands()};
  for (EntryStand& entry : text.stands.front().entries) entry.percent_left.reset();
  const std::string html = stand_tables(test_named("T"), text);
  EXPECT_THAT(html, Not(HasSubstr("<table>")));
  EXPECT_THAT(html, HasSubstr("began at 0"));
}

GrazingTest grazing() {
  GrazingTest test;
  test.test = "T";
  test.first_in = day(2026, 5, 1);
  GrazedPass pass;
  pass.figure = GrazingFigure::kPreference;
  pass.measure = "grazing_preference";
  pass.on = day(2026, 5, 1);
  pass.hours_after_turn_in = "4";
  pass.analysis = rated(7, 3, Best::kNone);
  test.passes = {pass};
  pass.figure = GrazingFigure::kStandAfterLast;
  pass.direction = Direction::kHighIsBest;
  pass.hours_after_turn_in.clear();
  pass.analysis = rated(90, 80);
  test.passes.push_back(pass);
  return test;
}

TEST(ReportStands, GrazingSaysItsHoursItsDirectionAndTheCaution) {
  ReportText text;
  text.grazing = {grazing()};
  const std::string html = grazing_table(test_named("T"), text);
  EXPECT_THAT(html, HasSubstr("Grazing, animals first in 2026-05-01"));
  EXPECT_THAT(html, HasSubstr("2026-05-01, 4 h after turn-in, neither end is best"));
  EXPECT_THAT(html, HasSubstr("grazed too close"));
  text.grazing.front().passes.erase(text.grazing.front().passes.begin());
  EXPECT_THAT(grazing_table(test_named("T"), text), Not(HasSubstr("grazed too close")));
  EXPECT_THAT(grazing_table(test_named("U"), text), IsEmpty());
}

TEST(ReportStands, NamesAreThoseInPrint) {
  const PrintedName printed = [](const std::string& label) -> std::optional<std::string> {
    if (label == "Amber") return "Zelkova";
    return std::nullopt;
  };
  StandPersistence table = stands();
  print_names(table, printed);
  ASSERT_EQ(table.entries.size(), 1U);
  EXPECT_EQ(table.entries.front().entry, "Zelkova");
  EXPECT_EQ(table.left.means.size(), 1U);
  GrazingTest grazed = grazing();
  print_names(grazed, printed);
  EXPECT_THAT(grazing_csv({&grazed, 1}), Not(HasSubstr("Birch")));
  EXPECT_THAT(grazing_csv({&grazed, 1}), HasSubstr("Zelkova"));
}

TEST(ReportStands, WhatTheGrazingTableShowsStandsThereOnly) {
  ReportText text;
  text.ratings = {
      {"grazing_preference", "Grazing preference", "", "", "a", false, rated(7, 3, Best::kNone)},
      {"disease", "Disease", "", "", "b", false, rated(7, 3, Best::kLowest)}};
  EXPECT_THAT(report_html({}, {}, text), HasSubstr("Grazing preference</th>"));
  text.grazing = {grazing()};
  const std::string html = report_html({}, {}, text);
  EXPECT_THAT(html, Not(HasSubstr("Grazing preference</th>")));
  EXPECT_THAT(html, HasSubstr("Preference<br>"));
  EXPECT_THAT(html, HasSubstr("Disease</th>"));
}

}  // namespace
}  // namespace ligule::results
