// Entries in incomplete blocks against R's lm (data/incomplete_blocks.R): 24 oats in three reps of
// six blocks of four, whole and with plots missing. Tolerance 1e-8 of the figure.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <fstream>
#include <nlohmann/json.hpp>
#include <sstream>

#include "sync/results/analysis.h"
#include "sync/results/design_gain.h"

namespace ligule::published {
namespace {

using nlohmann::json;
using results::PlotValue;

std::ifstream data_file(const std::string& name) {
  return std::ifstream(std::string(LIGULE_TEST_DATA) + "/published/data/" + name);
}

json expected_sets() {
  std::ifstream file = data_file("incomplete_blocks.expected.json");
  json sets = json::parse(file)["sets"];
  EXPECT_EQ(sets.size(), 2U);
  return sets;
}

// Rows of the table, plots of `gone` without a value.
std::vector<PlotValue> oats(const std::vector<int>& gone) {
  std::ifstream file = data_file("incomplete_blocks.csv");
  std::vector<PlotValue> values;
  std::string line;
  std::getline(file, line);
  while (std::getline(file, line)) {
    std::istringstream cells(line);
    std::string plot, rep, block, entry, value;
    for (std::string* cell : {&plot, &rep, &block, &entry, &value}) std::getline(cells, *cell, ',');
    PlotValue& row = values.emplace_back();
    row.test = "oats";
    row.year = 1990;
    row.cutting = "1";
    row.rep = rep;
    row.entry = entry;
    row.plot = plot;
    row.incomplete_block = std::stoi(block);
    if (std::ranges::find(gone, std::stoi(plot)) == gone.end()) row.value = std::stod(value);
  }
  EXPECT_EQ(values.size(), 72U);
  return values;
}

void expect_as_in_r(std::optional<double> got, const json& wanted, const char* what) {
  ASSERT_TRUE(got.has_value()) << what;
  EXPECT_NEAR(*got, wanted.get<double>(), 1e-8 * std::fabs(wanted.get<double>())) << what;
}

TEST(IncompleteBlocksInR, AreAnalysedWithinBlocks) {
  for (const json& wanted : expected_sets()) {
    SCOPED_TRACE(wanted["name"].get<std::string>());
    results::AnalysisOptions options;
    options.design = results::Design::kIncompleteBlocks;
    const auto values = oats(wanted["gone"].get<std::vector<int>>());
    const auto got = results::analyse(values, options);
    ASSERT_EQ(got.size(), 1U);
    EXPECT_EQ(got[0].df_error, wanted["df_error"].get<double>());
    EXPECT_EQ(got[0].reps, 3U);
    expect_as_in_r(got[0].mse, wanted["mse"], "MSE");
    expect_as_in_r(got[0].f, wanted["f"], "F");
    expect_as_in_r(got[0].p, wanted["p"], "p");
    expect_as_in_r(got[0].lsd, wanted["lsd"], "LSD");
    ASSERT_EQ(got[0].means.size(), wanted["entry"].size());
    for (std::size_t i = 0; i < got[0].means.size(); ++i) {
      EXPECT_EQ(got[0].means[i].entry, wanted["entry"][i].get<std::string>());
      expect_as_in_r(got[0].means[i].mean, wanted["mean"][i], "mean");
      expect_as_in_r(got[0].means[i].standard_error, wanted["se"][i], "SE");
    }

    const auto gains = results::design_gains(values, options);
    ASSERT_EQ(gains.size(), 1U);
    ASSERT_TRUE(gains[0].over_blocks && gains[0].over_none);
    expect_as_in_r(gains[0].over_blocks->plain, wanted["over_blocks"][0], "over blocks");
    expect_as_in_r(gains[0].over_blocks->corrected, wanted["over_blocks"][1], "over blocks");
    expect_as_in_r(gains[0].over_none->plain, wanted["over_none"][0], "over none");
    expect_as_in_r(gains[0].over_none->corrected, wanted["over_none"][1], "over none");
  }
}

}  // namespace
}  // namespace ligule::published
