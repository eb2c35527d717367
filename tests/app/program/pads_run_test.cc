// Measures of several numbers, of dates and of the program's own: from the tap to the figures that
// tables are made of.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "sync/results/ledger_facts.h"
#include "sync/results/ratings.h"
#include "tests/app/program/invented_site.h"

namespace ligule::program_test {
namespace {

using program::Exit;

Plan pads_plan() {
  Plan plan = InventedSite::plan();
  plan.codes.trial = "PADS";
  plan.entries.resize(2);
  std::erase_if(plan.plots, [](const PlanPlot& plot) { return plot.column > 2; });
  Scale texture;
  texture.code = "texture";
  texture.name = "Leaf texture";
  texture.kind = ScaleKind::kScore;
  texture.direction = Direction::kLowIsBest;
  texture.minimum = 1;
  texture.maximum = 3;
  texture.steps = {{"1", 1, "soft"}, {"2", 2, ""}, {"3", 3, "harsh"}};
  texture.definition = "How harsh leaves feel drawn through the hand.";
  texture.source = "the program's own";
  plan.scores = {texture};
  plan.occasions = {
      {"2026-pads",
       Job::kRate,
       2026,
       0,
       {"plant_height_canopy", "ground_cover", "frequency_grid", "stage_counts", "texture"},
       std::nullopt},
      {"2026-heading", Job::kRate, 2026, 0, {"heading_date"}, std::nullopt}};
  return plan;
}

// By measure, the value of plot 101.
std::map<std::string, std::optional<double>> figures(const InventedSite& site) {
  const auto ledger = need(ledger::Ledger::open(site.ledger(), ledger::Access::kReadOnly));
  const auto facts = need(results::facts_of(ledger));
  std::map<std::string, std::optional<double>> values;
  for (const auto& measure : results::ratings_of(facts.trials.front(), "T").measures)
    values[measure.measure] = measure.values.front().value;
  return values;
}

TEST(Pads, WhatIsTappedBecomesTheFiguresOfThePlot) {
  const InventedSite site;
  site.enrol(pads_plan(), true);
  const Ran ran =
      run(site.drive("type \"AB\\n\"\ntap \"Today/PADS/2026-pads/Rate\"\ntap \"Stake/101\"\n"
                     // three heights: tapped, stepped on with a hardware keyboard
                     "tap \"Canopy/2\"\ntap \"Canopy/0\"\ntap \"Canopy/Next\"\n"
                     "type \"22.5\\n\"\nexpect \"22.5\"\ntype \"26\\n\"\n"
                     "tap \"Cover/60\"\ntap \"Cover/20\"\ntap \"Cover/+5\"\ntap \"Cover/Keep\"\n"
                     "tap \"Frame/1\"\ntap \"Frame/25\"\ntap \"Next frame\"\ntap \"Next frame\"\n"
                     "tap \"Next frame\"\ntap \"Frame/13\"\ntap \"Frame/Keep\"\n"
                     "tap \"Counts/R0\"\ntap \"Counts/R0\"\ntap \"Counts/V\"\n"
                     "expect \"mean 2.50\"\ntap \"Counts/Keep\"\n"
                     "expect \"harsh\"\ntap \"Leaf texture/3\"\nexpect \"102\"\n"));
  EXPECT_EQ(ran.errors, "");
  const auto values = figures(site);
  EXPECT_NEAR(values.at("plant_height_canopy").value_or(0), (20 + 22.5 + 26) / 3, 1e-12);
  EXPECT_EQ(values.at("ground_cover"), 60.0);
  EXPECT_EQ(values.at("ground_cover_weed"), 25.0);
  EXPECT_EQ(values.at("ground_cover_bare"), 15.0);
  EXPECT_EQ(values.at("frequency_grid"), 3.0);
  EXPECT_EQ(values.at("stage_counts"), 2.5);
  EXPECT_EQ(values.at("texture"), 3.0);
  const auto ledger = need(ledger::Ledger::open(site.ledger()));
  EXPECT_TRUE(need(ledger.check()).empty());
  // What the program's own score means lies in the ledger, and its value names it.
  for (const ledger::Claim& claim : need(ledger.claims(pads_plan().id()))) {
    if (claim.record.measure != "texture") continue;
    EXPECT_EQ(claim.record.definition, sha256(scale_text(pads_plan().scores.front())).hex());
    EXPECT_TRUE(need(ledger.definition(claim.record.definition)));
  }
}

TEST(Pads, ADateIsBetweenTwoVisitsAndOutlivesARestart) {
  const InventedSite site;
  site.enrol(pads_plan(), true);
  const Ran first =
      run(site.drive("type \"AB\\n\"\ntap \"Today/PADS/2026-heading/Rate\"\ntap \"Stake/101\"\n"
                     "tap \"Plots/102\"\ntap \"1 other: not yet\"\n"));
  EXPECT_EQ(first.errors, "");
  program::Arguments later = site.drive(
      "type \"AB\\n\"\ntap \"Today/PADS/2026-heading/Go on\"\ntap \"Stake/201\"\ntap \"Block "
      "before\"\n"
      "tap \"Plots/101\"\n");
  later.today = parse_date("2026-05-07").value();
  EXPECT_EQ(run(later).errors, "");
  const auto ledger = need(ledger::Ledger::open(site.ledger(), ledger::Access::kReadOnly));
  const auto ratings = results::ratings_of(need(results::facts_of(ledger)).trials.front(), "T");
  ASSERT_EQ(ratings.measures.size(), 1U);
  EXPECT_EQ(ratings.measures.front().unit, "day of year");
  EXPECT_EQ(ratings.measures.front().values.front().value, 127.0) << "7 May";
  // 102 had reached it before anybody looked.
  ASSERT_EQ(ratings.left_out.size(), 1U);
  EXPECT_THAT(one_line(ratings.left_out.front()), testing::HasSubstr("plot 102"));
}

}  // namespace
}  // namespace ligule::program_test
