#include "sync/results/stand_persistence.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <iterator>

#include "storage/trial/as_sown.h"
#include "tests/sync/results/stand_trial.h"

namespace ligule::results {
namespace {

using ::testing::ElementsAre;
using ::testing::HasSubstr;
using ::testing::IsEmpty;

class StandPersistenceTest : public ::testing::Test {
 protected:
  StandPersistenceTest() {
    trial_.add_pass("fall-25", 2025);
    trial_.add_pass("spring-27", 2027);
    trial_.add_pass("spring-28", 2028);
    trial_.facts().plan.sown = date::year{2025} / 9 / 10;
  }
  // Plots 101 (A), 102 (B), 201 (B), 202 (A).
  void rate_three_passes() {
    trial_.rate_all("fall-25", {80, 100, 80, 90}, date::year{2025} / 10 / 20);
    trial_.rate_all("spring-27", {70, 75, 60, 70}, date::year{2027} / 4 / 9);
    trial_.rate_all("spring-28", {60, 50, 40, 45}, date::year{2028} / 4 / 12);
  }
  [[nodiscard]] StandTables made() const {
    return stand_persistence_of(trial_.facts(), "T", AnalysisOptions{});
  }
  [[nodiscard]] StandPersistence only() const {
    StandTables all = made();
    EXPECT_EQ(all.tables.size(), 1U);
    return all.tables.empty() ? StandPersistence{} : all.tables.front();
  }

  StandTrial trial_;
};

// By hand. Percent left: 101 60/80 = 75, 102 50/100 = 50, 201 40/80 = 50, 202 45/90 = 50. Entries A
// (75 + 50)/2 = 62.5, B 50; blocks 62.5 and 50; all 56.25. Each residual is 6.25 or -6.25: error
// mean square 4 x 39.0625 / 1 = 156.25, standard error sqrt(156.25 / 2) = 8.8388, LSD t(0.975, 1) x
// sqrt(2 x 156.25 / 2) = 12.70620 x 12.5. From 2025-09-10 to 2028-04-12 are 945 days, 2.6 years.
TEST_F(StandPersistenceTest, WhatIsLeftIsEachPlotsLastStandAsPercentOfItsFirst) {
  rate_three_passes();
  const StandPersistence table = only();
  EXPECT_EQ(table.measure, "percent_stand");
  ASSERT_EQ(table.entries.size(), 2U);
  const EntryStand& a = table.entries[0];
  EXPECT_EQ(a.entry, "Amber (novel)");
  EXPECT_EQ(a.first.pass, "fall-25");
  EXPECT_EQ(a.first.year, 2025);
  EXPECT_EQ(a.first.on, (date::year{2025} / 10 / 20));
  EXPECT_DOUBLE_EQ(a.first.stand.value(), 85.0);
  EXPECT_EQ(a.last.pass, "spring-28");
  EXPECT_DOUBLE_EQ(a.last.stand.value(), 52.5);
  EXPECT_EQ(a.years_in_ground, 2.6);
  EXPECT_EQ(a.plots, 2U);
  EXPECT_DOUBLE_EQ(a.percent_left.value(), 62.5);
  EXPECT_NEAR(a.standard_error.value(), 8.838834764831844, 1e-9);
  EXPECT_EQ(a.rank, 1U);
  EXPECT_EQ(a.in_top_group, true);
  const EntryStand& b = table.entries[1];
  EXPECT_DOUBLE_EQ(b.first.stand.value(), 90.0);
  EXPECT_DOUBLE_EQ(b.last.stand.value(), 45.0);
  EXPECT_DOUBLE_EQ(b.percent_left.value(), 50.0);
  EXPECT_NEAR(table.left.lsd.value(), 158.827559, 1e-6);
  EXPECT_NEAR(table.left.mse.value(), 156.25, 1e-9);
  EXPECT_EQ(b.in_top_group, true);
  EXPECT_THAT(table.notes, IsEmpty());
  EXPECT_THAT(made().notices, IsEmpty());
}

TEST_F(StandPersistenceTest, EveryPassIsAPointOfTheChart) {
  rate_three_passes();
  const StandPersistence table = only();
  ASSERT_EQ(table.passes.size(), 3U);
  EXPECT_EQ(table.passes[1].pass, "spring-27");
  EXPECT_EQ(table.passes[1].on, (date::year{2027} / 4 / 9));
  EXPECT_EQ(table.passes[1].year, 2027);
  const auto courses = stand_courses(table);
  ASSERT_EQ(courses.size(), 2U);
  EXPECT_EQ(courses[1].entry, "Birch");
  ASSERT_EQ(courses[1].stands.size(), 3U);
  EXPECT_DOUBLE_EQ(courses[1].stands[1].value(), 67.5);
}

TEST_F(StandPersistenceTest, TheFileHasALineAnEntry) {
  rate_three_passes();
  const StandPersistence table = only();
  const std::string text = stand_persistence_csv({&table, 1});
  EXPECT_THAT(text, HasSubstr("test,measure,entry,first_year,first_pass,first_date,first_stand,"
                              "last_year,last_pass,last_date,last_stand,years_in_ground,n,"
                              "percent_left,se,lsd_05,in_top_group\n"
                              "T,percent_stand,Amber (novel),2025,fall-25,2025-10-20,85,2028,"
                              "spring-28,2028-04-12,52.5,2.6,2,62.5,8.83883476483184"));
  EXPECT_THAT(text, HasSubstr("\nT,percent_stand,Birch,2025,fall-25,2025-10-20,90,"));
  EXPECT_EQ(stand_persistence_csv({}), "");
}

TEST_F(StandPersistenceTest, AStandThatIsGoneIsZeroAndOneThatNeverWasHasNothingLeft) {
  trial_.rate_all("fall-25", {80, 0, 80, 90}, date::year{2025} / 10 / 20);
  trial_.rate_all("spring-28", {0, 30, 40, 45}, date::year{2028} / 4 / 12);
  const StandPersistence table = only();
  EXPECT_EQ(table.left.values, 3U);
  EXPECT_EQ(table.entries[0].plots, 2U);
  EXPECT_DOUBLE_EQ(table.entries[0].percent_left.value(), 25.0);  // 0 and 50
  EXPECT_EQ(table.entries[1].plots, 1U);
  EXPECT_DOUBLE_EQ(table.entries[1].first.stand.value(), 40.0) << "its zero counts in the stands";
  EXPECT_THAT(table.notes, ElementsAre("1 plot began at 0 and can have nothing left: 102."));
}

TEST_F(StandPersistenceTest, PlotsWithoutAFirstOrLastStandAreCounted) {
  trial_.rate_all("fall-25", {80, {}, 80, 90}, date::year{2025} / 10 / 20);
  trial_.rate_all("spring-28", {60, 50, {}, 45}, date::year{2028} / 4 / 12);
  const StandPersistence table = only();
  EXPECT_EQ(table.left.values, 2U);
  EXPECT_THAT(table.notes, ElementsAre("1 plot without a first stand: 102.",
                                       "1 plot without a last stand: 201."));
  EXPECT_EQ(table.entries[1].plots, 0U);
  EXPECT_FALSE(table.entries[1].percent_left);
  const std::string text = stand_persistence_csv({&table, 1});
  EXPECT_THAT(text, HasSubstr(",2.6,0,,,,\n")) << text;
}

TEST_F(StandPersistenceTest, AValueInConflictIsNone) {
  rate_three_passes();
  trial_.facts().claims.front().others = 1;  // 101 in fall 2025
  EXPECT_THAT(only().notes, ElementsAre("1 plot without a first stand: 101."));
}

TEST_F(StandPersistenceTest, APlotSownAgainInBetweenIsLeftOut) {
  rate_three_passes();
  trial_.as_sown("101", AsSownStatus::kReseeded, date::year{2027} / 9 / 1);
  const StandPersistence table = only();
  EXPECT_THAT(table.notes, ElementsAre("1 plot sown again in between, left out: 101."));
  EXPECT_EQ(table.left.values, 3U);
  EXPECT_EQ(table.entries[0].plots, 1U);
  EXPECT_EQ(table.passes[0].stand.values, 3U) << "nor is it in the stands";
}

TEST_F(StandPersistenceTest, PeopleRateBeforeTheySowAgain) {
  rate_three_passes();
  trial_.as_sown("101", AsSownStatus::kReseeded, date::year{2025} / 9 / 30);  // before both
  trial_.as_sown("202", AsSownStatus::kReseeded, date::year{2028} / 4 / 12);  // after both
  trial_.as_sown("201", AsSownStatus::kReseeded, date::year{2026} / 4 / 1);   // taken back below
  trial_.as_sown("201", AsSownStatus::kAsPlanned, date::year{2026} / 4 / 1);
  EXPECT_THAT(only().notes, IsEmpty());
  trial_.as_sown("102", AsSownStatus::kReseeded, date::year{2025} / 10 / 20);  // that evening
  EXPECT_THAT(only().notes, ElementsAre("1 plot sown again in between, left out: 102."));
}

TEST_F(StandPersistenceTest, APlotThatCameToHoldAnotherEntryIsLeftOut) {
  rate_three_passes();
  trial_.as_sown("101", AsSownStatus::kHolds, date::year{2026} / 9 / 1, "B");
  const StandPersistence table = only();
  EXPECT_THAT(table.notes, ElementsAre("1 plot held another entry at the last stand than at the "
                                       "first, left out: 101."));
}

TEST_F(StandPersistenceTest, APassThatIsJustBeingRatedIsNotTheLast) {
  rate_three_passes();
  trial_.add_pass("fall-28", 2028);
  trial_.rate("101", "fall-28", 55, date::year{2028} / 10 / 20);
  const StandTables all = made();
  ASSERT_EQ(all.tables.size(), 1U);
  EXPECT_EQ(all.tables[0].entries[0].last.pass, "spring-28");
  EXPECT_EQ(all.tables[0].passes.size(), 3U);
  ASSERT_EQ(all.notices.size(), 1U);
  EXPECT_EQ(one_line(all.notices[0]),
            "T: percent_stand: fall-28 has values of 1 of 4 plots: it is no pass of stand "
            "persistence (rate the other plots)");
}

TEST_F(StandPersistenceTest, AnEntryThatWasRatedLaterIsNotHeldAgainstTheOthers) {
  Plan& plan = trial_.facts().plan;
  plan.plots.push_back({"103", 1, "C", 1, 3, 5});
  plan.plots.push_back({"203", 2, "C", 2, 3, 6});
  plan.occasions[3].entries = {"A", "B"};  // fall-25
  rate_three_passes();
  for (const char* plot : {"103", "203"}) {
    trial_.rate(plot, "spring-27", 90, date::year{2027} / 4 / 9);
    trial_.rate(plot, "spring-28", 81, date::year{2028} / 4 / 12);
  }
  const StandTables all = made();
  ASSERT_EQ(all.tables.size(), 1U);
  const EntryStand& late = all.tables[0].entries.at(2);
  EXPECT_EQ(late.entry, "Cedar");
  EXPECT_EQ(late.first.pass, "spring-27");
  EXPECT_DOUBLE_EQ(late.first.stand.value(), 90.0);
  EXPECT_FALSE(late.percent_left);
  EXPECT_FALSE(stand_courses(all.tables[0])[2].stands[0]);
  EXPECT_DOUBLE_EQ(all.tables[0].entries[0].percent_left.value(), 62.5);
  ASSERT_EQ(all.notices.size(), 1U);
  EXPECT_THAT(all.notices[0].what, HasSubstr("what is left of Cedar can't be held against the "
                                             "others: it was rated from spring-27 to spring-28"));
}

TEST_F(StandPersistenceTest, ACorrectionDoesNotMoveThePass) {
  rate_three_passes();
  trial_.facts().claims.front().record.at.local_date = date::year{2026} / 1 / 15;
  EXPECT_EQ(only().entries[0].first.on, (date::year{2025} / 10 / 20));
}

TEST_F(StandPersistenceTest, MeasuredAndRatedStandsAreNeverMixed) {
  trial_.rate_all("fall-25", {80, 100, 80, 90}, date::year{2025} / 10 / 20);
  trial_.rate_all("spring-28", {60, 50, 40, 45}, date::year{2028} / 4 / 12, "frequency_grid");
  EXPECT_TRUE(made().tables.empty()) << "one pass each";
  trial_.rate_all("spring-27", {72, 60, 80, 75}, date::year{2027} / 4 / 9, "frequency_grid");
  const StandPersistence table = only();
  EXPECT_EQ(table.measure, "frequency_grid");
  EXPECT_EQ(table.entries[0].first.pass, "spring-27");
}

TEST_F(StandPersistenceTest, WithoutADayOfSowingThereAreNoYears) {
  rate_three_passes();
  trial_.facts().plan.sown = CalendarDate{};
  EXPECT_FALSE(only().entries[0].years_in_ground);
  trial_.facts().plan.sown = date::year{2029} / 1 / 1;
  EXPECT_FALSE(only().entries[0].years_in_ground);
}

// Plots of Cochran and Cox (1957), Experimental Designs, 2nd ed., p. 46: eelworm cysts before and
// after a season, 4 blocks, each treatment once a block and the untreated four times (through the R
// package agridat, MIT, cochran.eelworms; there one untreated plot is called by another treatment
// at dose 0). No stands, but what is taken is the same: first and last of each plot, in blocks. The
// book analyses the counts; the percents were analysed here in exact fractions by the normal
// equations of entry + block, with t from tests/published/data/t_quantiles.csv.
constexpr double kT36 = 2.02809400098045;  // t(0.975)
constexpr double kT34 = 2.03224450931772;

struct Counted {
  int block;
  const char* entry;
  double first;
  double last;
};
constexpr Counted kEelworms[] = {
    {1, "N", 269, 466},  {1, "S2", 283, 280}, {1, "C1", 252, 398}, {1, "Y1", 212, 386},
    {1, "K1", 138, 194}, {1, "N", 100, 219},  {1, "N", 197, 421},  {1, "Y2", 263, 379},
    {1, "K2", 282, 372}, {1, "S1", 230, 256}, {1, "N", 216, 708},  {1, "C2", 145, 304},
    {4, "Y2", 95, 199},  {4, "K2", 127, 166}, {4, "S2", 80, 142},  {2, "S1", 124, 268},
    {2, "N", 211, 505},  {2, "K1", 194, 433}, {2, "S2", 222, 408}, {3, "S2", 193, 292},
    {3, "N", 209, 352},  {3, "S1", 109, 132}, {3, "Y1", 153, 454}, {4, "N", 134, 590},
    {4, "S1", 107, 236}, {4, "C1", 89, 332},  {2, "N", 102, 363},  {2, "C2", 193, 561},
    {2, "K2", 128, 311}, {2, "C1", 42, 222},  {3, "N", 29, 254},   {3, "C2", 9, 92},
    {3, "K2", 17, 28},   {3, "N", 19, 106},   {4, "Y1", 41, 176},  {4, "N", 74, 137},
    {4, "N", 88, 356},   {2, "Y2", 162, 365}, {2, "N", 191, 563},  {2, "Y1", 107, 415},
    {2, "N", 67, 338},   {3, "K1", 23, 80},   {3, "C1", 19, 114},  {3, "N", 44, 268},
    {3, "Y2", 48, 298},  {4, "N", 25, 212},   {4, "C2", 42, 308},  {4, "K1", 62, 221}};

class PublishedPlots : public StandPersistenceTest {
 protected:
  PublishedPlots() {
    Plan& plan = trial_.facts().plan;
    plan.entries.clear();
    plan.plots.clear();
    for (const char* code : {"N", "S1", "S2", "C1", "C2", "Y1", "Y2", "K1", "K2"}) {
      PlanEntry entry;
      entry.code = entry.variety = code;
      plan.entries.push_back(entry);
    }
    for (const Counted& plot : kEelworms) {
      const int n = static_cast<int>(plan.plots.size()) + 1;
      plan.plots.push_back({std::to_string(n), plot.block, plot.entry, 1, n, n});
    }
  }
  void rate_published(double first_of_32, std::optional<double> last_of_41) {
    for (std::size_t n = 0; n < std::size(kEelworms); ++n) {
      const std::string plot = std::to_string(n + 1);
      trial_.rate(plot, "fall-25", n + 1 == 32 ? first_of_32 : kEelworms[n].first,
                  date::year{2025} / 10 / 20);
      const auto last = n + 1 == 41 ? last_of_41 : std::optional(kEelworms[n].last);
      if (last) trial_.rate(plot, "spring-28", *last, date::year{2028} / 4 / 12);
    }
  }
  void expect_left(const StandPersistence& table, const std::string& entry, double percent,
                   double error) {
    const auto at = std::ranges::find(table.entries, entry, &EntryStand::entry);
    ASSERT_NE(at, table.entries.end()) << entry;
    EXPECT_NEAR(at->percent_left.value(), percent, 1e-9 * percent) << entry;
    EXPECT_NEAR(at->standard_error.value(), error, 1e-9 * error) << entry;
  }
};

TEST_F(PublishedPlots, FirstAndLastOfEachPlotInBlocks) {
  rate_published(9, 338);
  const StandPersistence table = only();
  EXPECT_EQ(table.left.values, 48U);
  EXPECT_EQ(table.left.df_error, 36.0);
  EXPECT_NEAR(table.left.mse.value(), 28739.358284701928, 1e-5);
  EXPECT_NEAR(table.left.f.value(), 2.9802948528265905, 1e-9);
  EXPECT_NEAR(table.left.lsd.value(), kT36 * 114.29466375436444, 1e-6);
  expect_left(table, "N", 401.0891426643271, 42.38171649183018);
  expect_left(table, "S2", 152.87976247499262, 84.76343298366037);
  expect_left(table, "C2", 563.9710757747206, 84.76343298366037);
  EXPECT_EQ(std::ranges::find(table.entries, "C2", &EntryStand::entry)->rank, 1U);
}

TEST_F(PublishedPlots, PlotsWithoutAPercentLeaveLeastSquaresMeans) {
  rate_published(0, std::nullopt);
  const StandPersistence table = only();
  EXPECT_THAT(table.notes, ElementsAre("1 plot began at 0 and can have nothing left: 32.",
                                       "1 plot without a last stand: 41."));
  EXPECT_EQ(table.left.values, 46U);
  EXPECT_NEAR(table.left.mse.value(), 25401.566150775296, 1e-5);
  EXPECT_NEAR(table.left.f.value(), 2.3165796044388802, 1e-9);
  EXPECT_NEAR(table.left.lsd.value(), kT34 * 109.84301969545957, 1e-6);
  expect_left(table, "C2", 446.0389206273363, 93.06606331300492);
  expect_left(table, "N", 392.8054902226144, 41.244146378098996);
}

}  // namespace
}  // namespace ligule::results
