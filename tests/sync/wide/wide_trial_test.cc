// Cells of the wide tables, from trials built record by record.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>

#include "storage/files/columns.h"
#include "sync/wide/cuttings_table.h"
#include "sync/wide/plan_tables.h"
#include "sync/wide/raters_table.h"
#include "sync/wide/ratings_table.h"
#include "tests/sync/results/rated_trial.h"
#include "tests/sync/results/weighed_trial.h"

namespace ligule::wide {
namespace {

using results::LedgerFacts;
using results::RatedTrial;
using results::WeighedTrial;

LedgerFacts facts_of(const results::TrialFacts& trial) {
  return {.trials = {trial}};
}

// A cell by column, and the row's cell of another column that names the row.
std::string cell_of(const WideTable& table, const std::string& row_column, const std::string& row,
                    const std::string& column) {
  const auto place = [&](const std::string& name) {
    const auto at = std::ranges::find(table.columns, name, &files::Column::name);
    EXPECT_NE(at, table.columns.end()) << "no column " << name;
    return static_cast<std::size_t>(at - table.columns.begin());
  };
  for (const auto& cells : table.rows)
    if (cells[place(row_column)] == row) return cells[place(column)];
  ADD_FAILURE() << "no row " << row;
  return {};
}

void expect_what_is_declared(const WideTable& table) {
  for (const auto& row : table.rows) {
    ASSERT_EQ(row.size(), table.columns.size()) << table.name;
    const std::vector<std::string_view> cells(row.begin(), row.end());
    EXPECT_EQ(files::row_fault(table.columns, cells), std::nullopt) << table.name;
  }
}

TEST(CuttingsTable, ShowsHowAYieldCameAbout) {
  WeighedTrial trial;
  trial.weigh_all("cut-1");
  const WideTable table = cuttings_table(facts_of(trial.facts()));
  expect_what_is_declared(table);
  ASSERT_EQ(table.rows.size(), 4U);
  // Along the plot path, which is not the order of the numbers.
  EXPECT_EQ(cell_of(table, "plot", table.rows[2][0], "number"), "202");
  EXPECT_EQ(cell_of(table, "number", "101", "cut_on"), "2026-06-01");
  EXPECT_EQ(cell_of(table, "number", "101", "dry_matter_from"), "own sample");
  EXPECT_EQ(cell_of(table, "number", "101", "bags"), "17");
  EXPECT_EQ(cell_of(table, "number", "101", "entry"), "Amber (novel)");
  // By hand: 13.8 lb is 13.8 x 0.45359237 kg; 20 ft x 3 ft is 60 x 0.3048^2 square metres; bag of
  // 0.05 kg taken off both weights, (0.15 - 0.05) / (0.45 - 0.05) = 0.25 dry.
  const double kg = 13.8 * 0.45359237;
  const double area = 60 * 0.3048 * 0.3048;
  EXPECT_NEAR(std::stod(cell_of(table, "number", "101", "net_kg")), kg, 1e-9);
  EXPECT_NEAR(std::stod(cell_of(table, "number", "101", "area_m2")), area, 1e-9);
  EXPECT_NEAR(std::stod(cell_of(table, "number", "101", "dry_matter")), 0.25, 1e-12);
  EXPECT_NEAR(std::stod(cell_of(table, "number", "101", "yield_kg_ha")), kg * 0.25 / area * 10000,
              1e-6);
}

TEST(CuttingsTable, TellsWhyThereIsNoYield) {
  WeighedTrial trial;
  trial.reading(trial.plot("101"), measure::kGrossWeight, "cut-1", 13.8, "lb");
  trial.weigh("102", "cut-1", 13.8, 0.45, 0.15);
  trial.as_sown("202", AsSownStatus::kAbandoned, WeighedTrial::day(5, 1));
  trial.weigh("202", "cut-1", 13.8, 0.45, 0.15);
  const WideTable table = cuttings_table(facts_of(trial.facts()));
  expect_what_is_declared(table);
  EXPECT_EQ(cell_of(table, "number", "101", "dry_matter_from"), "trial mean of the day");
  EXPECT_NE(cell_of(table, "number", "101", "without_own_sample_because"), "");
  EXPECT_EQ(cell_of(table, "number", "202", "entry"), "");
  EXPECT_EQ(cell_of(table, "number", "202", "without_yield_because"),
            "the plot was abandoned on 2026-05-01");
  EXPECT_EQ(cell_of(table, "number", "201", "without_yield_because"),
            "no gross weight was recorded");
  EXPECT_EQ(cell_of(table, "number", "201", "yield_kg_ha"), "");
}

class RatingsTableTest : public ::testing::Test {
 protected:
  RatingsTableTest() {
    add_scale("stand", ScaleKind::kPercent);
    add_scale("height", ScaleKind::kLength).units = {"in", "cm"};
    add_scale("words", ScaleKind::kText);
    Scale& cover = add_scale("cover", ScaleKind::kShares);
    cover.steps = {{"sown", 1, ""}, {"weed", 2, ""}, {"bare", 3, ""}};
  }
  Scale& add_scale(const std::string& digest, ScaleKind kind) {
    Scale& scale = trial_.facts().scales[digest];
    scale.code = digest;
    scale.kind = kind;
    return scale;
  }
  Record& rate(const std::string& plot, const std::string& measure, double value,
               const std::string& digest, const std::string& unit = {}) {
    Record& record = trial_.reading(trial_.plot(plot), measure, "spring", value, unit);
    record.definition = digest;
    return record;
  }
  WideTable table() {
    WideTable made = ratings_table(facts_of(trial_.facts()));
    expect_what_is_declared(made);
    return made;
  }

  WeighedTrial trial_;
};

TEST_F(RatingsTableTest, HasAColumnAMeasureAndItsState) {
  rate("101", "percent_stand", 90, "stand");
  rate("102", "percent_stand", 0, "stand").state = ValueState::kLater;
  Record& note = rate("101", "note", 0, "words");
  note.value.reset();
  note.entered = "geese; many";
  const WideTable ratings = table();
  ASSERT_EQ(ratings.rows.size(), 2U) << "plots of which nothing was recorded have no row";
  EXPECT_EQ(cell_of(ratings, "number", "101", "percent_stand"), "90");
  EXPECT_EQ(cell_of(ratings, "number", "101", "percent_stand_state"), "value");
  EXPECT_EQ(cell_of(ratings, "number", "102", "percent_stand"), "");
  EXPECT_EQ(cell_of(ratings, "number", "102", "percent_stand_state"), "later");
  EXPECT_EQ(cell_of(ratings, "number", "101", "note"), "geese; many");
  EXPECT_EQ(cell_of(ratings, "number", "101", "note_state"), "value");
  EXPECT_EQ(cell_of(ratings, "number", "102", "note_state"), "");
  EXPECT_EQ(cell_of(ratings, "number", "101", "rating"), "spring");
}

TEST_F(RatingsTableTest, AveragesSeveralReadingsInTheFirstUnit) {
  rate("101", "height", 10, "height", "in");
  rate("101", "height", 30.48, "height", "cm").part = 2;
  EXPECT_EQ(cell_of(table(), "number", "101", "height"), "11");
}

TEST_F(RatingsTableTest, GivesEveryShareAColumn) {
  Record& record = rate("101", "ground", 60, "cover");
  record.entered = "sown=60 weed=25 bare=15";
  const WideTable ratings = table();
  EXPECT_EQ(cell_of(ratings, "number", "101", "ground"), "60");
  EXPECT_EQ(cell_of(ratings, "number", "101", "ground_weed"), "25");
  EXPECT_EQ(cell_of(ratings, "number", "101", "ground_bare"), "15");
  EXPECT_EQ(cell_of(ratings, "number", "101", "ground_state"), "value");
}

TEST_F(RatingsTableTest, HasNoNumberOfWhatNobodyDecidedOn) {
  rate("101", "percent_stand", 90, "stand").state = ValueState::kOnHold;
  rate("102", "percent_stand", 80, "stand");
  trial_.facts().claims.back().others = 1;
  rate("201", "percent_stand", 70, "stand");
  trial_.as_sown("201", AsSownStatus::kUnknown, WeighedTrial::day(5, 1));
  const WideTable ratings = table();
  EXPECT_EQ(cell_of(ratings, "number", "101", "percent_stand_state"), "on hold");
  EXPECT_EQ(cell_of(ratings, "number", "101", "percent_stand"), "");
  EXPECT_EQ(cell_of(ratings, "number", "102", "percent_stand_state"), "conflict");
  EXPECT_EQ(cell_of(ratings, "number", "102", "percent_stand"), "");
  EXPECT_EQ(cell_of(ratings, "number", "201", "percent_stand"), "");
  EXPECT_EQ(cell_of(ratings, "number", "201", "out_of_results_because"),
            "nobody can say what the plot holds");
}

// A row has one day; a number of what the plot held on another is not set beside another entry.
TEST_F(RatingsTableTest, HasNoNumberOfWhatThePlotHeldBefore) {
  rate("101", "percent_stand", 90, "stand").at.local_date = WeighedTrial::day(5, 1);
  rate("101", "height", 10, "height", "in").at.local_date = WeighedTrial::day(6, 1);
  trial_.as_sown("101", AsSownStatus::kHolds, WeighedTrial::day(5, 15), "B");
  const WideTable ratings = table();
  EXPECT_EQ(cell_of(ratings, "number", "101", "entry"), "Birch");
  EXPECT_EQ(cell_of(ratings, "number", "101", "height"), "10");
  EXPECT_EQ(cell_of(ratings, "number", "101", "percent_stand"), "");
  EXPECT_EQ(cell_of(ratings, "number", "101", "percent_stand_state"), "value");
}

TEST_F(RatingsTableTest, NamesTheScaleOfEachValue) {
  add_scale("legume", ScaleKind::kStages);
  rate("101", "maturity", 3, "stand");
  WeighedTrial other;
  other.facts().plan.codes.trial = "clover26";
  other.facts().scales = trial_.facts().scales;
  other.reading(other.plot("101"), "maturity", "spring", 2, "").definition = "legume";
  LedgerFacts both = facts_of(trial_.facts());
  both.trials.push_back(other.facts());
  const WideTable ratings = ratings_table(both);
  EXPECT_EQ(cell_of(ratings, "test", "fescue26", "maturity_scale"), "stand");
  EXPECT_EQ(cell_of(ratings, "test", "clover26", "maturity_scale"), "legume");
}

TEST_F(RatingsTableTest, AScoreNamedLikeAColumnGetsAnUnderscore) {
  rate("101", "block", 7, "stand");
  const WideTable ratings = table();
  EXPECT_EQ(cell_of(ratings, "number", "101", "block"), "1");
  EXPECT_EQ(cell_of(ratings, "number", "101", "block_"), "7");
}

TEST_F(RatingsTableTest, AValueWithoutItsScaleIsWordsAndNoNumber) {
  rate("101", "percent_stand", 90, "a scale of another file").entered = "90";
  EXPECT_EQ(cell_of(table(), "number", "101", "percent_stand"), "90");
  // As soon as one trial has numbers the column is one of numbers.
  LedgerFacts two = facts_of(trial_.facts());
  WeighedTrial other;
  other.facts().plan.codes.trial = "rye26";
  other.facts().scales = trial_.facts().scales;
  other.reading(other.plot("101"), "percent_stand", "spring", 50, "").definition = "stand";
  two.trials.push_back(other.facts());
  const WideTable ratings = ratings_table(two);
  expect_what_is_declared(ratings);
  EXPECT_EQ(cell_of(ratings, "test", "rye26", "percent_stand"), "50");
  EXPECT_EQ(cell_of(ratings, "test", "fescue26", "percent_stand"), "");
}

TEST(RatersTable, TellsHowFarAPairAgrees) {
  RatedTrial trial(3, 3);
  trial.rate_all(Purpose::kSurvey, "AB", {3, 5, 7});
  trial.rate_all(Purpose::kSecond, "CD", {4, 6, 9});
  LedgerFacts facts = facts_of(trial.facts());
  for (const char* initials : {"AB", "CD"}) facts.people[person_id(initials)] = initials;
  const WideTable table = raters_table(facts);
  expect_what_is_declared(table);
  ASSERT_EQ(table.rows.size(), 1U);
  EXPECT_EQ(cell_of(table, "rater", "CD", "compared"), "second");
  EXPECT_EQ(cell_of(table, "rater", "CD", "n"), "3");
  // Differences 1, 1, 2: mean 4/3, standard deviation sqrt(1/3).
  EXPECT_NEAR(std::stod(cell_of(table, "rater", "CD", "mean_difference")), 4.0 / 3, 1e-12);
  EXPECT_NEAR(std::stod(cell_of(table, "rater", "CD", "spread")), std::sqrt(1.0 / 3), 1e-12);
}

TEST(PlanTables, NameWhatIdsMean) {
  WeighedTrial trial;
  trial.facts().plan.sown = WeighedTrial::day(3, 1);
  const LedgerFacts facts = facts_of(trial.facts());
  for (const WideTable& table :
       {trials_table(facts), occasions_table(facts), entries_table(facts), plots_table(facts)}) {
    expect_what_is_declared(table);
    EXPECT_FALSE(table.rows.empty()) << table.name;
  }
  EXPECT_EQ(cell_of(entries_table(facts), "code", "A", "endophyte"), "novel");
  EXPECT_EQ(cell_of(entries_table(facts), "code", "B", "endophyte"), "not stated");
  const WideTable plots = plots_table(facts);
  EXPECT_EQ(cell_of(plots, "number", "202", "path"), "3");
  EXPECT_EQ(cell_of(plots, "number", "202", "entry"),
            cell_of(entries_table(facts), "code", "A", "entry"));
  EXPECT_EQ(cell_of(plots, "number", "202", "incomplete_block"), "");
  EXPECT_TRUE(soil_table(facts).rows.empty());
}

// How the field was laid out, what was sown and what the ground held: in metres and kg per hectare,
// by the exact foot (0.3048 m), pound (0.45359237 kg) and acre (4046.8564224 square metres) of
// NIST SP 811; 14 lb/acre are 15.69... kg/ha.
TEST(PlanTables, SayHowTheTrialWasLaidOutAndSown) {
  WeighedTrial trial;
  Plan& plan = trial.facts().plan;
  plan.sown = WeighedTrial::day(3, 1);
  plan.design = "alpha";
  plan.drilled = false;
  plan.random_seed = "20260301";
  plan.plot_length = {"20", "ft"};
  plan.alley = {"10", "ft"};
  plan.border = {"no length", "ft"};
  plan.plots.front().incomplete_block = 2;
  plan.entries.front().sowing_rate = "14";
  plan.entries.front().sowing_rate_unit = "lb/acre";
  plan.occasions.front().entries = {"A", "B"};
  plan.occasions.front().hours_after_turn_in = "0.50";
  plan.soil = {{"ph", "6.4", "", "", "6", "in", "Valley laboratory", WeighedTrial::day(2, 1)},
               {"p", "not done", "ppm", "mehlich_3", "", "", "", {}}};
  const LedgerFacts facts = facts_of(trial.facts());
  const WideTable trials = trials_table(facts), soil = soil_table(facts);
  for (const WideTable& table :
       {trials, occasions_table(facts), entries_table(facts), plots_table(facts), soil})
    expect_what_is_declared(table);
  const auto of_trial = [&](const char* column) {
    return cell_of(trials, "design", "alpha", column);
  };
  EXPECT_EQ(of_trial("drilled"), "0");
  EXPECT_EQ(of_trial("random_seed"), "20260301");
  EXPECT_NEAR(std::stod(of_trial("plot_length_m")), 6.096, 1e-12);
  EXPECT_NEAR(std::stod(of_trial("alley_m")), 3.048, 1e-12);
  EXPECT_EQ(of_trial("border_m"), "");
  const std::string first = plan.plots.front().number;
  EXPECT_EQ(cell_of(plots_table(facts), "number", first, "incomplete_block"), "2");
  const std::string code = plan.entries.front().code;
  EXPECT_NEAR(std::stod(cell_of(entries_table(facts), "code", code, "sowing_rate_kg_ha")),
              14 * 0.45359237 / 0.40468564224, 1e-9);
  const std::string pass = plan.occasions.front().code;
  EXPECT_EQ(cell_of(occasions_table(facts), "code", pass, "entries"), "A B");
  EXPECT_EQ(cell_of(occasions_table(facts), "code", pass, "hours_after_turn_in"), "0.5");
  EXPECT_EQ(cell_of(soil, "property", "ph", "value"), "6.4");
  EXPECT_EQ(cell_of(soil, "property", "ph", "laboratory"), "Valley laboratory");
  EXPECT_EQ(cell_of(soil, "property", "p", "extractant"), "mehlich_3");
  EXPECT_EQ(cell_of(soil, "property", "p", "value"), "");
}

}  // namespace
}  // namespace ligule::wide
