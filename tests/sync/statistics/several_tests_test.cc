#include "sync/statistics/several_tests.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <random>

#include "sync/statistics/distributions.h"

namespace ligule::statistics {
namespace {

constexpr double kGap = std::numeric_limits<double>::quiet_NaN();

// Rows are entries, columns tests; kGap leaves the cell out.
std::vector<Observation> in_tests(const std::vector<std::vector<double>>& table) {
  std::vector<Observation> out;
  for (std::size_t i = 0; i < table.size(); ++i) {
    for (std::size_t j = 0; j < table[i].size(); ++j) {
      if (!std::isnan(table[i][j])) out.push_back({i, j, table[i][j]});
    }
  }
  return out;
}

std::optional<RandomModel> model_of(const std::vector<std::vector<double>>& table) {
  return random_model(in_tests(table), table.size(), table.front().size());
}

// Entry mean square 48, test mean square 27, error 1, on a mean of 20 (fit_test has the sums).
const std::vector<std::vector<double>> kThreeByThree = {{14, 15, 19}, {16, 21, 23}, {21, 24, 27}};

// In a complete table REML gives what the mean squares do: variance among entries (48 - 1) / 3, and
// an entry is drawn in by 1 - 1/F.
TEST(RandomModel, ACompleteTableGivesWhatTheMeanSquaresDo) {
  const auto model = model_of(kThreeByThree);
  ASSERT_TRUE(model);
  EXPECT_NEAR(model->error_variance, 1.0, 1e-12);
  EXPECT_NEAR(model->ratios.entry, std::sqrt(47.0 / 3.0), 1e-9);
  EXPECT_NEAR(model->ratios.test, std::sqrt(26.0 / 3.0), 1e-9);
  EXPECT_NEAR(model->mean, 20.0, 1e-12);
  EXPECT_NEAR(model->entries[0]->effect, -4.0 * 47.0 / 48.0, 1e-10);
  EXPECT_NEAR(model->entries[1]->effect, 0.0, 1e-10);
}

// Entries 1 and 2 lie the same above their company, one in a single test: it is drawn in further,
// and less is known of it.
TEST(RandomModel, AnEntryOfFewTestsIsDrawnInFurther) {
  const auto model = model_of({{10, 12, 9, 11, 10, 13},
                               {13, 15, 12, 14, 13, 16},
                               {13, kGap, kGap, kGap, kGap, kGap},
                               {11, 12, 10, 12, 11, 14},
                               {9, 12, 8, 10, 9, 12.5}});
  ASSERT_TRUE(model);
  EXPECT_GT(model->entries[1]->effect, model->entries[2]->effect);
  EXPECT_GT(model->entries[2]->effect, 0.0);
  EXPECT_GT(*model->entries[2]->standard_error, *model->entries[1]->standard_error);
}

TEST(RandomModel, EntriesThatDoNotDifferAreGivenTheMeanAndNoError) {
  // Every entry's mean is 11: the entry mean square is 0.
  const auto model = model_of({{10, 12, 11}, {12, 11, 10}, {11, 10, 12}});
  ASSERT_TRUE(model);
  EXPECT_EQ(model->ratios.entry, 0.0);
  EXPECT_EQ(model->ratios.test, 0.0);
  for (const auto& entry : model->entries) {
    EXPECT_EQ(entry->effect, 0.0);
    EXPECT_FALSE(entry->standard_error || entry->comparison_error);
  }
}

TEST(RandomModel, WhatCannotBeToldApartGivesNothing) {
  EXPECT_FALSE(random_model({}, 0, 0));
  EXPECT_FALSE(random_model({}, 3, 2));
  EXPECT_FALSE(model_of({{1}, {2}, {4}})) << "one test";
  EXPECT_FALSE(model_of({{1, 2, 4}})) << "one entry";
  EXPECT_FALSE(model_of({{1, 2}, {3, kGap}})) << "nothing left for the error";
  EXPECT_FALSE(model_of({{1, 2}, {3, 4}, {5, 6}})) << "no error at all";
  EXPECT_FALSE(model_of({{7, 7, 7}, {7, 7, 7}})) << "all alike";
  EXPECT_FALSE(
      model_of({{1, 2, kGap, kGap}, {2, 4, kGap, kGap}, {kGap, kGap, 1, 5}, {kGap, kGap, 2, 3}}))
      << "two sets that share no test";
}

TEST(RandomModel, AnEntryWithoutAValueHasNoPrediction) {
  std::vector<std::vector<double>> table = kThreeByThree;
  table.insert(table.begin() + 1, {kGap, kGap, kGap});
  const auto model = model_of(table);
  ASSERT_TRUE(model);
  EXPECT_FALSE(model->entries[1]);
  EXPECT_NEAR(model->entries[3]->effect, 4.0 * 47.0 / 48.0, 1e-10);
}

struct Drawn {
  std::vector<double> entry;  // true effects
  std::vector<Observation> cells;
};

Drawn drawn_table(std::mt19937& engine, std::size_t entries, std::size_t tests, double gone,
                  double error_spread) {
  std::normal_distribution<double> normal;
  std::uniform_real_distribution<double> chance;
  Drawn out;
  std::vector<double> test;
  out.entry.reserve(entries);
  test.reserve(tests);
  for (std::size_t i = 0; i < entries; ++i) out.entry.push_back(normal(engine));
  for (std::size_t j = 0; j < tests; ++j) test.push_back(3.0 * normal(engine));
  for (std::size_t i = 0; i < entries; ++i) {
    for (std::size_t j = 0; j < tests; ++j) {
      const double error = error_spread * normal(engine);
      if (chance(engine) >= gone)
        out.cells.push_back({i, j, 20.0 + out.entry[i] + test[j] + error});
    }
  }
  return out;
}

std::vector<Observation> random_table(std::mt19937& engine, std::size_t entries, std::size_t tests,
                                      double gone) {
  return drawn_table(engine, entries, tests, gone, 0.8).cells;
}

// No ratios near the found ones, nor far from them, have a lower criterion.
TEST(RandomModel, NoOtherRatiosAreBetter) {
  std::mt19937 engine(20240501);
  int looked_at = 0;
  for (int table = 0; table < 40; ++table) {
    const std::size_t entries = 3 + engine() % 12;
    const std::size_t tests = 2 + engine() % 10;
    const auto cells = random_table(engine, entries, tests, 0.4);
    const auto model = random_model(cells, entries, tests);
    if (!model) continue;
    ++looked_at;
    const auto better = [&](double entry, double test) {
      const auto other = random_model_at(cells, entries, tests, {entry, test});
      return other && other->criterion < model->criterion - 1e-9;
    };
    for (const double factor : {0.0, 0.1, 0.7, 0.99, 1.01, 1.5, 10.0}) {
      for (const double other : {0.0, 0.1, 0.7, 0.99, 1.0, 1.01, 1.5, 10.0}) {
        EXPECT_FALSE(better(model->ratios.entry * factor, model->ratios.test * other))
            << table << " " << factor << " " << other;
      }
    }
    for (const double small : {0.01, 0.3, 1.0}) {
      EXPECT_FALSE(better(model->ratios.entry + small, model->ratios.test)) << table;
      EXPECT_FALSE(better(model->ratios.entry, model->ratios.test + small)) << table;
    }
  }
  EXPECT_GT(looked_at, 30);
}

// In a complete table all has a closed form, by the mean squares alone: beside the average effect
// (1 - 1/t)(1 - 1/F) MSE / tests is the error of Henderson's equations, and what an estimated F
// adds is the variance of 1/F, 2/F^2 (1/df of entries + 1/df of error), times that of an entry's
// mean.
TEST(RandomModel, TheErrorBesideOtherEntriesHasAClosedFormInACompleteTable) {
  const auto model = model_of(kThreeByThree);
  ASSERT_TRUE(model);
  const double f = 48.0, mse = 1.0, beside = 1.0 - 1.0 / 3.0;
  const double henderson = beside * (1.0 - 1.0 / f) * mse / 3.0;
  const double by_f = 2.0 / (f * f) * (1.0 / 2.0 + 1.0 / 4.0) * beside * f * mse / 3.0;
  for (const auto& entry : model->entries) {
    ASSERT_TRUE(entry && entry->comparison_error);
    EXPECT_NEAR(*entry->comparison_error, std::sqrt(henderson + 2.0 * by_f), 1e-9);
    EXPECT_LT(*entry->comparison_error, *entry->standard_error);
  }
}

struct Coverage {
  int held = 0, all = 0, tables = 0;

  [[nodiscard]] double share() const { return held / static_cast<double>(all); }
};

// How often effect and true effect, each beside the average of the table's entries, lie no further
// apart than Student's t times the error: of tables with all three variances estimated.
Coverage coverage_of(unsigned seed, std::size_t entries, std::size_t tests, double gone,
                     double error_spread) {
  std::mt19937 engine(seed);
  Coverage coverage;
  while (coverage.tables < 400) {
    const Drawn drawn = drawn_table(engine, entries, tests, gone, error_spread);
    const auto model = random_model(drawn.cells, entries, tests);
    ++coverage.tables;
    if (!model) continue;
    const auto t = t_two_sided_quantile(0.05, fit_in_blocks(drawn.cells, entries, tests).df_error);
    double effects = 0.0, truths = 0.0, count = 0.0;
    for (std::size_t i = 0; i < entries; ++i) {
      if (!model->entries[i]) continue;
      effects += model->entries[i]->effect;
      truths += drawn.entry[i];
      count += 1.0;
    }
    for (std::size_t i = 0; i < entries; ++i) {
      const auto& entry = model->entries[i];
      if (!entry || !entry->comparison_error) continue;
      const double beside = entry->effect - effects / count;
      const double truth = drawn.entry[i] - truths / count;
      ++coverage.all;
      if (std::fabs(beside - truth) <= t.value_or(0.0) * *entry->comparison_error) ++coverage.held;
    }
  }
  return coverage;
}

TEST(RandomModel, IntervalsBesideOtherEntriesHold95Of100) {
  struct Case {
    std::size_t entries, tests;
    double gone, error;
  };
  // Complete and with gaps, few and many entries, errors from a third of the spread among entries
  // to all of it. 400 tables each.
  for (const Case& of : {Case{8, 4, 0.0, 0.8}, Case{12, 6, 0.0, 0.35}, Case{12, 8, 0.4, 0.8},
                         Case{20, 6, 0.5, 1.0}, Case{30, 12, 0.6, 0.8}}) {
    const Coverage coverage = coverage_of(7, of.entries, of.tests, of.gone, of.error);
    SCOPED_TRACE(testing::Message() << of.entries << " entries, " << of.tests << " tests");
    EXPECT_GT(coverage.all, 300 * static_cast<int>(of.entries) / 2);
    EXPECT_GT(coverage.share(), 0.93);
    EXPECT_LT(coverage.share(), 0.97);
    RecordProperty("share_" + std::to_string(of.entries) + "_" + std::to_string(of.tests),
                   std::to_string(coverage.share()));
  }
}

TEST(RandomModel, OffsetAndUnitOnlyMoveTheFigures) {
  std::mt19937 engine(3);
  const auto cells = random_table(engine, 9, 7, 0.3);
  std::vector<Observation> moved = cells;
  for (Observation& cell : moved) cell.value = 1e6 + 1e-3 * cell.value;
  std::ranges::reverse(moved);
  const auto plain = random_model(cells, 9, 7);
  const auto other = random_model(moved, 9, 7);
  ASSERT_TRUE(plain && other);
  // 1e6 leaves seven digits of what is a thousandth.
  EXPECT_NEAR(other->ratios.entry, plain->ratios.entry, 1e-5);
  EXPECT_NEAR(other->entries[4]->effect, 1e-3 * plain->entries[4]->effect, 1e-8);
  ASSERT_TRUE(plain->entries[4]->comparison_error && other->entries[4]->comparison_error);
  EXPECT_NEAR(*other->entries[4]->comparison_error, 1e-3 * *plain->entries[4]->comparison_error,
              1e-8);
  std::vector<Observation> huge = cells;
  for (Observation& cell : huge) cell.value *= 1e306;
  const auto at_the_end = random_model(huge, 9, 7);
  EXPECT_TRUE(!at_the_end || std::isfinite(at_the_end->mean));
}

}  // namespace
}  // namespace ligule::statistics
