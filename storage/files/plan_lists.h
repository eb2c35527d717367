// Scores of a program's own, and soil tests, from a file of any name: for a plan that is being
// made.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "storage/files/faults.h"
#include "storage/files/table_schema.h"
#include "storage/trial/plan.h"

namespace ligule::files {

// What stands in a table of a plan, and where each row stands ("scores.csv line 3").
template <class Item>
struct PlanList {
  std::vector<Item> items = {};
  std::vector<std::string> places = {};
};

// As scores.csv and soil.csv of a plan, whose schemas these are; every fault by line and column.
[[nodiscard]] Checked<PlanList<Scale>> read_score_list(std::string_view text,
                                                       const std::string& file,
                                                       const TableSchema& schema);
[[nodiscard]] Checked<PlanList<SoilTest>> read_soil_list(std::string_view text,
                                                         const std::string& file,
                                                         const TableSchema& schema);

}  // namespace ligule::files
