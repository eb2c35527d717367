#include "sync/results/in_parts.h"

#include <gtest/gtest.h>

#include <cmath>
#include <stdexcept>
#include <string>

#include "sync/results/analysis.h"
#include "sync/results/over_cuttings.h"
#include "sync/results/tables.h"
#include "sync/results/test_results.h"

namespace ligule::results {
namespace {

std::vector<std::size_t> numbers(std::size_t first, std::size_t last) {
  std::vector<std::size_t> all;
  for (std::size_t i = first; i < last; ++i) all.push_back(i);
  return all;
}

TEST(InParts, GivesWhatOneCallWouldGive) {
  for (const std::size_t count : {0U, 1U, 2U, 3U, 1000U, 1001U}) {
    EXPECT_EQ(in_parts<std::size_t>(count, 0, numbers), numbers(0, count));
    EXPECT_EQ(in_parts<std::size_t>(count, 1'000'000, numbers), numbers(0, count));
  }
}

TEST(InParts, WhatAPartThrowsIsThrown) {
  const auto last_fails = [](std::size_t, std::size_t last) -> std::vector<int> {
    if (last == 10) throw std::runtime_error("no memory");
    return {};
  };
  EXPECT_THROW(static_cast<void>(in_parts<int>(10, 1'000'000, last_fails)), std::runtime_error);
}

TEST(SideBySide, RunsEveryTaskOnce) {
  for (const std::size_t size : {0U, 1'000'000U}) {
    std::vector<int> runs(100, 0);
    std::vector<std::function<void()>> tasks;
    for (int& count : runs) tasks.emplace_back([&count] { ++count; });
    side_by_side(tasks, size);
    EXPECT_EQ(runs, std::vector<int>(100, 1));
  }
}

TEST(SideBySide, WhatATaskThrowsIsThrown) {
  const std::vector<std::function<void()>> tasks(8, [] { throw std::runtime_error("no memory"); });
  EXPECT_THROW(side_by_side(tasks, 1'000'000), std::runtime_error);
}

// Enough values for several threads: the same as each test by itself.
TEST(InParts, ManyTestsAreEachAnalysedAsIfAlone) {
  std::vector<PlotValue> values;
  std::vector<Analysis> one_by_one;
  std::vector<OverCuttings> over_one_by_one;
  for (int test = 0; test < 60; ++test) {
    std::vector<PlotValue> of_test;
    for (int plot = 0; plot < 240; ++plot) {
      const double value = 5.0 + std::sin(1.7 * plot + test) + 0.1 * (plot % 20);
      of_test.push_back({"T" + std::to_string(100 + test), "", 2024, std::to_string(plot / 80),
                         std::to_string(plot / 20 % 4), "E" + std::to_string(plot % 20), "",
                         value});
    }
    for (const Analysis& analysis : analyse(of_test, {})) one_by_one.push_back(analysis);
    for (auto& over : over_cuttings(of_test, {})) over_one_by_one.push_back(std::move(over));
    values.insert(values.end(), of_test.begin(), of_test.end());
  }
  const std::vector<Analysis> together = analyse(values, {});
  EXPECT_EQ(together.size(), 240U);
  EXPECT_EQ(tests_csv(together), tests_csv(one_by_one));
  EXPECT_EQ(means_csv(together), means_csv(one_by_one));
  EXPECT_EQ(over_cuttings_csv(over_cuttings(values, {})), over_cuttings_csv(over_one_by_one));
  const TestResults all = test_results(values, {});
  EXPECT_EQ(means_csv(all.analyses), means_csv(together));
  EXPECT_EQ(over_cuttings_csv(all.over_cuttings), over_cuttings_csv(over_one_by_one));
  EXPECT_EQ(designs_csv(all.gains), designs_csv(design_gains(values, {})));
  EXPECT_EQ(all.standings.size(), 60U * 20U);
}

}  // namespace
}  // namespace ligule::results
