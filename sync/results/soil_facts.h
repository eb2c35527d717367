// What the report tells of a test's soil: what the laboratory found, and what published tables say
// of it.
#pragma once

#include <string_view>
#include <vector>

#include "storage/trial/plan.h"
#include "storage/trial/scale.h"
#include "storage/trial/soil_tables.h"
#include "sync/results/test_facts.h"

namespace ligule::results {

inline constexpr std::string_view kSoilTestFact = "Soil test";
inline constexpr std::string_view kSoilJudgedFact = "Soil for the stand";

// "Soil test": day, depth and laboratory once, then each value as reported. "Soil for the stand":
// the verdicts by species, and that no amounts are prescribed; not there without tables. None
// without a soil test.
[[nodiscard]] std::vector<Fact> soil_facts(const Plan& plan, const SoilTables& tables,
                                           const Definitions& definitions);

}  // namespace ligule::results
