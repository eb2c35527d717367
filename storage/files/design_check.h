// Whether plots lie as the design says that a plan states: what goes beyond complete blocks and
// Latin squares, which plan_check.cc looks at.
#pragma once

#include "storage/files/plan_check.h"
#include "storage/trial/plan.h"

namespace ligule::files {

// Fillers aside. Faults of design alpha: a plot of no incomplete block, a gap in their numbers
// within a block, sizes that differ by more than one. Notices: an entry twice in one incomplete
// block; incomplete blocks under another design; with design row_column an entry whose plots touch
// along a side, or that stands in a column more often than so many columns make necessary. Each is
// told once: one plot out of place shows in many ways.
[[nodiscard]] PlanFindings check_design(const Plan& plan, const PlanPlaces& places);

}  // namespace ligule::files
