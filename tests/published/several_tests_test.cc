// Entries over several tests against R: lm for least squares and regressions, lme4 for the random
// model, written out matrices for errors of predictions and Shukla's variances
// (data/several_tests.R). Tolerances, relative to the figure or to the spread it is part of: least
// squares and predictions at lme4's own ratios 1e-8, ratios 1e-5, which is as near as a search that
// looks at a criterion of 15 digits can bring them.
#include <gtest/gtest.h>

#include <cmath>
#include <fstream>
#include <nlohmann/json.hpp>

#include "sync/statistics/fit.h"
#include "sync/statistics/several_tests.h"
#include "sync/statistics/stability.h"

namespace ligule::published {
namespace {

using nlohmann::json;
using statistics::Observation;

constexpr double kTight = 1e-8;

struct Reference {
  json expected;
  std::vector<Observation> cells;
  std::size_t entries = 0, tests = 0;

  [[nodiscard]] double figure(const char* key) const { return expected[key].get<double>(); }
  [[nodiscard]] double of(std::size_t entry, const char* key) const {
    return expected["entries"][entry][key].get<double>();
  }
  [[nodiscard]] statistics::SpreadRatios ratios() const {
    return {figure("theta_entry"), figure("theta_test")};
  }
};

std::vector<Reference> references() {
  std::ifstream file(std::string(LIGULE_TEST_DATA) + "/published/data/several_tests.expected.json");
  std::vector<Reference> all;
  json expected = json::parse(file);
  for (json& table : expected["tables"]) {
    Reference one;
    one.entries = table["entries"].size();
    one.tests = table["tests"].get<std::size_t>();
    for (const json& cell : table["cells"]) {
      one.cells.push_back({cell["entry"].get<std::size_t>(), cell["test"].get<std::size_t>(),
                           cell["value"].get<double>()});
    }
    one.expected = std::move(table);
    all.push_back(std::move(one));
  }
  EXPECT_EQ(all.size(), 8U);
  return all;
}

void expect_or_nothing(const std::optional<double>& got, const json& expected, double tolerance) {
  ASSERT_EQ(got.has_value(), expected.is_number());
  if (!got) return;
  EXPECT_NEAR(*got, expected.get<double>(), tolerance * std::fabs(expected.get<double>()));
}

TEST(SeveralTestsInR, LeastSquaresMeansAndTheirErrors) {
  for (const Reference& r : references()) {
    SCOPED_TRACE(r.expected["name"]);
    const statistics::Fit fit = statistics::fit_in_blocks(r.cells, r.entries, r.tests);
    EXPECT_EQ(fit.df_error, r.figure("df_error"));
    EXPECT_NEAR(*fit.error_mean_square, r.figure("mse"), kTight * r.figure("mse"));
    for (std::size_t i = 0; i < r.entries; ++i) {
      const statistics::TreatmentEstimate& entry = fit.treatments[i];
      EXPECT_NEAR(*entry.mean, r.of(i, "lsmean"), kTight * r.of(i, "lsmean"));
      EXPECT_NEAR(*entry.standard_error, r.of(i, "lsmean_se"), kTight * r.of(i, "lsmean_se"));
    }
  }
}

TEST(SeveralTestsInR, PredictionsAtLme4sOwnRatios) {
  for (const Reference& r : references()) {
    SCOPED_TRACE(r.expected["name"]);
    const auto model = statistics::random_model_at(r.cells, r.entries, r.tests, r.ratios());
    ASSERT_TRUE(model);
    EXPECT_NEAR(model->criterion, r.figure("criterion"), kTight * r.figure("criterion"));
    EXPECT_NEAR(model->mean, r.figure("mean"), kTight * r.figure("mean"));
    // With an offset of 10,000 R's figure itself has lost digits.
    const double variance = r.figure("error_variance");
    EXPECT_NEAR(model->error_variance, variance, kTight * variance);
    for (std::size_t i = 0; i < r.entries; ++i) {
      EXPECT_NEAR(model->entries[i]->effect, r.of(i, "effect"), kTight * std::sqrt(variance));
      if (r.ratios().entry == 0.0) {
        EXPECT_FALSE(model->entries[i]->standard_error);
      } else {
        EXPECT_NEAR(*model->entries[i]->standard_error, r.of(i, "effect_se"),
                    kTight * r.of(i, "effect_se"));
      }
    }
  }
}

// R differentiates the predictor by differences: 1e-6.
TEST(SeveralTestsInR, ErrorsBesideOtherEntriesAreHendersonsAndWhatEstimatedRatiosAdd) {
  for (const Reference& r : references()) {
    SCOPED_TRACE(r.expected["name"]);
    const auto model = statistics::random_model_at(r.cells, r.entries, r.tests, r.ratios());
    ASSERT_TRUE(model);
    for (std::size_t i = 0; i < r.entries; ++i) {
      expect_or_nothing(model->entries[i]->comparison_error,
                        r.expected["entries"][i]["comparison_se"], 1e-6);
    }
  }
}

TEST(SeveralTestsInR, RatiosAreThoseOfLme4AndTheCriterionNoWorse) {
  for (const Reference& r : references()) {
    SCOPED_TRACE(r.expected["name"]);
    const auto model = statistics::random_model(r.cells, r.entries, r.tests);
    ASSERT_TRUE(model);
    EXPECT_NEAR(model->ratios.entry, r.ratios().entry, 1e-5);
    EXPECT_NEAR(model->ratios.test, r.ratios().test, 1e-5);
    const double rounding = 1e-9;  // of R's criterion, which it sums in another order
    EXPECT_LE(model->criterion, r.figure("criterion") + rounding);
    EXPECT_LE(model->criterion, r.figure("criterion_of_lmer") + rounding);
  }
}

TEST(SeveralTestsInR, RegressionsOnTheTestsMeansAndShuklasVariances) {
  for (const Reference& r : references()) {
    SCOPED_TRACE(r.expected["name"]);
    const auto got = statistics::stability(r.cells, r.entries, r.tests);
    for (std::size_t i = 0; i < r.entries; ++i) {
      const json& entry = r.expected["entries"][i];
      SCOPED_TRACE(entry["entry"]);
      expect_or_nothing(got[i].slope, entry["slope"], kTight);
      expect_or_nothing(got[i].slope_error, entry["slope_se"], kTight);
      ASSERT_EQ(got[i].variance.has_value(), entry["shukla"].is_number());
      if (got[i].variance) {
        EXPECT_NEAR(*got[i].variance, entry["shukla"].get<double>(), kTight * r.figure("mse"));
      }
    }
  }
}

}  // namespace
}  // namespace ligule::published
