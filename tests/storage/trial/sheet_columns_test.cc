#include "storage/trial/sheet_columns.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>

#include "tests/storage/trial/sample_plan.h"

namespace ligule {
namespace {

using testing::ElementsAre;
using testing::IsEmpty;

// Scales of two kinds of plants, and what a cutting asks for.
Definitions known() {
  Definitions known;
  const auto add = [&](const char* code, ScaleKind kind, const char* group = "") {
    Scale scale;
    scale.code = std::string(code) + group;
    scale.kind = kind;
    known.scales.push_back(scale);
    const auto at = std::ranges::find(known.measures, code, &Measure::code);
    if (at == known.measures.end())
      known.measures.push_back({code, Subject::kPlot, {{group, scale.code}}});
    else
      at->scales.push_back({group, scale.code});
  };
  add("note", ScaleKind::kText);
  add("percent_stand", ScaleKind::kPercent);
  add("maturity", ScaleKind::kStages, "grass");
  add("maturity", ScaleKind::kStages, "legume");
  add("heading_date", ScaleKind::kReached, "grass");
  add("gross_weight", ScaleKind::kMass);
  add("bag_number", ScaleKind::kLabel);
  add("separated_fresh", ScaleKind::kMass);
  add("part_bag", ScaleKind::kLabel);
  add("swath_width", ScaleKind::kLength);
  known.species = {{"tall_fescue", "tall fescue", "grass"}, {"alfalfa", "alfalfa", "legume"}};
  return known;
}

std::vector<std::string> names(const std::vector<SheetColumn>& columns, TypedIn typed) {
  std::vector<std::string> found;
  for (const SheetColumn& column : columns)
    if (column.typed == typed) found.push_back(column.measure);
  return found;
}

TEST(SheetColumns, StandInTheOrderOfTheCardWithNotesLast) {
  Plan plan = sample_plan();
  plan.occasions[0].measures = {"note",         "maturity",     "percent_stand",
                                "heading_date", "gross_weight", "separated_fresh",
                                "bag_number",   "swath_width",  "no_such"};
  const Definitions definitions = known();
  const auto columns = sheet_columns(plan, plan.occasions[0], definitions);
  EXPECT_THAT(names(columns, TypedIn::kFromPaper),
              ElementsAre("maturity", "percent_stand", "heading_date", "note"));
  EXPECT_THAT(names(columns, TypedIn::kTakeIn), ElementsAre("gross_weight", "bag_number"));
  EXPECT_THAT(names(columns, TypedIn::kTablet), ElementsAre("separated_fresh", "swath_width"));
  EXPECT_EQ(columns.back().measure, "note");
}

TEST(SheetColumns, HaveEveryScaleOfWhatIsSown) {
  Plan plan = sample_plan();
  const Definitions definitions = known();
  plan.occasions[0].measures = {"maturity"};
  EXPECT_EQ(sheet_columns(plan, plan.occasions[0], definitions)[0].scales.size(), 1U)
      << "three entries of one species";
  plan.entries[1].species = "alfalfa";
  EXPECT_EQ(sheet_columns(plan, plan.occasions[0], definitions)[0].scales.size(), 2U);
  plan.occasions[0].measures = {"heading_date"};
  for (PlanEntry& entry : plan.entries) entry.species = "alfalfa";
  EXPECT_THAT(sheet_columns(plan, plan.occasions[0], definitions), IsEmpty());
}

TEST(SheetColumns, AScoreOfTheProgramsOwnGoesBeforeEverybodys) {
  Plan plan = sample_plan();
  plan.scores.emplace_back().code = "percent_stand";
  const Definitions definitions = known();
  EXPECT_EQ(sheet_scale(plan, definitions, "percent_stand", "tall_fescue"), &plan.scores[0]);
  EXPECT_EQ(sheet_scale(plan, definitions, "texture", "tall_fescue"), nullptr);
}

TEST(SheetColumns, WhatAPlotHoldsDecidesWhetherItIsRated) {
  Plan plan = sample_plan();
  PlanOccasion& rating = plan.occasions[0];
  rating.entries = {"A"};
  const auto of = [&](const char* code) -> const PlanPlot& {
    return *std::ranges::find(plan.plots, code, &PlanPlot::entry);
  };
  const PlanPlot& a = of("A");
  const PlanPlot& b = of("B");
  EXPECT_TRUE(is_on_sheet(plan, rating, {}, a));
  EXPECT_FALSE(is_on_sheet(plan, rating, {}, b)) << "the rating is for A alone";
  using date::year;
  const std::vector<AsSown> said{
      {plan.plot(b), AsSownStatus::kHolds, plan.entry(plan.entries[0]), year{2024} / 10 / 1, ""},
      {plan.plot(a), AsSownStatus::kAbandoned, std::nullopt, year{2024} / 10 / 1, ""}};
  EXPECT_EQ(entry_on(plan, said, b)->code, "A");
  EXPECT_TRUE(is_on_sheet(plan, rating, said, b));
  EXPECT_FALSE(is_on_sheet(plan, rating, said, a)) << "abandoned";
}

}  // namespace
}  // namespace ligule
