// Student's t and F against tables computed outside this project; data/SOURCES.md says how.
// Tolerances: quantiles 1e-12 and tails 1e-11 relative; the tables hold 15 significant digits.
#include "sync/statistics/distributions.h"

#include <gtest/gtest.h>

#include <cmath>
#include <fstream>
#include <limits>
#include <sstream>
#include <string>
#include <vector>

namespace ligule::statistics {
namespace {

constexpr double kQuantile = 1e-12;
constexpr double kTail = 1e-11;

// The rows of a table of plain numbers, without its header; Inf is infinity.
std::vector<std::vector<double>> table(const std::string& name) {
  std::ifstream file(std::string(LIGULE_TEST_DATA) + "/published/data/" + name);
  EXPECT_TRUE(file) << name;
  std::vector<std::vector<double>> rows;
  std::string line;
  std::getline(file, line);
  while (std::getline(file, line)) {
    std::vector<double> row;
    std::istringstream cells(line);
    for (std::string cell; std::getline(cells, cell, ',');) row.push_back(std::stod(cell));
    rows.push_back(row);
  }
  return rows;
}

void expect_close(std::optional<double> got, double expected, double tolerance,
                  const std::vector<double>& row) {
  std::ostringstream what;
  what.precision(17);
  for (const double cell : row) what << cell << ' ';
  ASSERT_TRUE(got) << what.str();
  EXPECT_LE(std::fabs(*got - expected), tolerance * std::fabs(expected))
      << what.str() << "got " << *got;
}

TEST(PublishedDistributions, StudentQuantiles) {
  const auto rows = table("t_quantiles.csv");  // df, p, t
  EXPECT_EQ(rows.size(), 576U);
  for (const auto& row : rows) expect_close(t_quantile(row[1], row[0]), row[2], kQuantile, row);
}

TEST(PublishedDistributions, FQuantiles) {
  const auto rows = table("f_quantiles.csv");  // df above, df below, p, F
  EXPECT_EQ(rows.size(), 1656U);
  for (const auto& row : rows) {
    expect_close(f_quantile(row[2], row[0], row[1]), row[3], kQuantile, row);
  }
}

TEST(PublishedDistributions, StudentTails) {
  const auto rows = table("t_tail.csv");  // t, df, two-sided p
  EXPECT_EQ(rows.size(), 143U);
  for (const auto& row : rows) expect_close(t_two_sided_tail(row[0], row[1]), row[2], kTail, row);
}

TEST(PublishedDistributions, FTailsDownTo1e300) {
  const auto rows = table("f_tail.csv");  // F, df above, df below, upper p
  EXPECT_EQ(rows.size(), 600U);
  for (const auto& row : rows)
    expect_close(f_upper_tail(row[0], row[1], row[2]), row[3], kTail, row);
}

}  // namespace
}  // namespace ligule::statistics
