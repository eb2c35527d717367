// Designs of incomplete blocks that lack something; the figures are in tests/published.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "sync/results/analysis.h"
#include "sync/results/design_gain.h"
#include "sync/results/field_trend.h"
#include "sync/results/over_cuttings.h"

namespace ligule::results {
namespace {

using testing::HasSubstr;

AnalysisOptions within_blocks() {
  AnalysisOptions options;
  options.design = Design::kIncompleteBlocks;
  return options;
}

// Four entries in two reps of two parts. Entries 1 and 2 share a part in both reps, or else nothing
// but the reps would tell them from the others.
std::vector<PlotValue> four_entries(bool connected) {
  std::vector<PlotValue> values;
  for (int rep = 1; rep <= 2; ++rep) {
    for (int entry = 1; entry <= 4; ++entry) {
      const bool first = connected && rep == 2 ? entry % 2 == 1 : entry <= 2;
      PlotValue& value = values.emplace_back();
      value.test = "AL26";
      value.year = 2026;
      value.cutting = "1";
      value.rep = std::to_string(rep);
      value.entry = "E" + std::to_string(entry);
      value.plot = std::to_string(100 * rep + entry);
      value.value = 3.0 + 0.25 * entry + 0.5 * rep + (entry == rep ? 0.1 : 0.0);
      value.place = PlotPlace{rep, entry};
      value.incomplete_block = first ? 1 : 2;
    }
  }
  return values;
}

TEST(IncompleteBlocks, AreNamedAlphaInAPlan) {
  EXPECT_EQ(design_named("alpha"), Design::kIncompleteBlocks);
  EXPECT_EQ(name_of(Design::kIncompleteBlocks), "alpha");
  EXPECT_EQ(design_named("row_column"), Design::kRandomisedBlocks);
}

TEST(IncompleteBlocks, WithoutThemThereIsNoMeanAndItIsTold) {
  std::vector<PlotValue> values = four_entries(true);
  values[3].incomplete_block = 0;
  const auto got = analyse(values, within_blocks());
  ASSERT_EQ(got.size(), 1U);
  EXPECT_TRUE(got[0].places_missing);
  EXPECT_FALSE(got[0].mse || got[0].means[0].mean);
  EXPECT_TRUE(got[0].mean) << "the plain mean of the plots needs no design";
  const auto notices = design_notices(got);
  ASSERT_EQ(notices.size(), 1U);
  EXPECT_THAT(one_line(notices[0]), HasSubstr("a design of incomplete blocks, but that of a plot"));
  EXPECT_FALSE(design_gains(values, within_blocks())[0].over_blocks);
  EXPECT_TRUE(field_trends(values, within_blocks()).empty());

  values[3].value.reset();  // a missing plot needs none
  EXPECT_FALSE(analyse(values, within_blocks())[0].places_missing);
}

TEST(IncompleteBlocks, EntriesThatShareNoneHaveNoCommonMeans) {
  EXPECT_TRUE(analyse(four_entries(true), within_blocks())[0].connected);
  const auto apart = analyse(four_entries(false), within_blocks());
  EXPECT_FALSE(apart[0].connected);
  EXPECT_FALSE(apart[0].means[0].mean);
  EXPECT_FALSE(design_gains(four_entries(false), within_blocks())[0].over_blocks);
}

TEST(IncompleteBlocks, AreNoneInOverCuttings) {
  std::vector<PlotValue> values = four_entries(true);
  const std::vector<PlotValue> first = values;
  for (PlotValue value : first) {
    value.cutting = "2";
    values.push_back(std::move(value));
  }
  const auto over = over_cuttings(values, within_blocks());
  ASSERT_FALSE(over.empty());
  EXPECT_THAT(over[0].why_not, HasSubstr("within parts of them"));
}

}  // namespace
}  // namespace ligule::results
