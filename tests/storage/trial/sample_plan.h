// A small sound plan that tests spoil in one place at a time.
#pragma once

#include <string>
#include <utility>

#include "storage/trial/plan.h"
#include "storage/trial/plot_path.h"

namespace ligule {

// Tall fescue, three entries (one a check) in three complete blocks, two ratings and two cuttings.
inline Plan sample_plan() {
  using date::year;
  Plan plan;
  plan.codes = {"HILL", "north", "TF24"};
  plan.title = "Tall fescue sown 2024";
  plan.site_name = "North farm, \"the long field\"";
  plan.zone = "America/New_York";
  plan.field = "7";
  plan.sown = year{2024} / 9 / 3;
  plan.design = "rcb";
  plan.plot_length = {"20", "ft"};
  plan.plot_width = {"5", "ft"};
  plan.swath_length = {"17.5", "ft"};
  plan.swath_width = {"0.9144", "m"};
  plan.bag_tare = {"12", "g"};
  plan.entries = {
      {"A", "tall_fescue", "Alder Brook", Endophyte::kNovel, "AX1", EntryRole::kTest, "L1"},
      {"B", "tall_fescue", "Alder Brook", Endophyte::kFree, "", EntryRole::kTest, ""},
      {"C", "tall_fescue", "Old Mill", Endophyte::kToxic, "", EntryRole::kCheck, ""}};
  plan.entries[0].seed_harvested = year{2024} / 6 / 28;
  for (int block = 1; block <= 3; ++block) {
    for (int column = 1; column <= 3; ++column) {
      const auto entry = static_cast<std::size_t>((block + column) % 3);
      plan.plots.push_back({std::to_string(100 * block + column), block, plan.entries[entry].code,
                            block, column, 0});
    }
  }
  walk_serpentine(plan.plots);
  plan.occasions = {{"2025-spring-stand",
                     Job::kRate,
                     2025,
                     0,
                     {"percent_stand", "maturity", "note"},
                     year{2025} / 4 / 10},
                    {"2025-cut-1",
                     Job::kHarvest,
                     2025,
                     1,
                     {"gross_weight", "bag_number", "sample_fresh"},
                     year{2025} / 5 / 20},
                    {"2025-cut-2", Job::kHarvest, 2025, 2, {"gross_weight"}, std::nullopt},
                    {"2024-vigor", Job::kRate, 2024, 0, {"seedling_vigor"}, std::nullopt}};
  return plan;
}

// Two entries of tall fescue in two blocks, a rating and a cutting: the least a ledger test needs.
// Lists stand in the canonical order, so that a plan read back is equal.
inline Plan two_block_plan(TrialCodes codes) {
  using date::year;
  Plan plan;
  plan.codes = std::move(codes);
  plan.title = "Tall fescue";
  plan.site_name = "Home farm";
  plan.zone = "America/New_York";
  plan.field = "7";
  plan.sown = year{2025} / 9 / 10;
  plan.design = "rcb";
  plan.plot_length = {"20", "ft"};
  plan.plot_width = {"5", "ft"};
  plan.swath_length = {"18", "ft"};
  plan.swath_width = {"3", "ft"};
  plan.bag_tare = {"0.1", "lb"};
  plan.entries = {{"A1", "tall_fescue", "Alder Brook", Endophyte::kNovel, "", EntryRole::kTest, ""},
                  {"A2", "tall_fescue", "Birch Run", Endophyte::kFree, "", EntryRole::kCheck, ""}};
  plan.plots = {{"101", 1, "A1", 1, 1, 1},
                {"102", 1, "A2", 1, 2, 2},
                {"202", 2, "A1", 2, 2, 3},
                {"201", 2, "A2", 2, 1, 4}};
  plan.occasions = {
      {"2026-cut-1", Job::kHarvest, 2026, 1, {"gross_weight", "bag_number"}, std::nullopt},
      {"2026-stand", Job::kRate, 2026, 0, {"percent_stand", "seedling_vigor"}, std::nullopt}};
  return plan;
}

}  // namespace ligule
