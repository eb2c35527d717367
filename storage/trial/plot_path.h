// The way a person walks a trial: up one lane of plots and down the next.
#pragma once

#include <cstddef>
#include <vector>

#include "storage/trial/plan.h"

namespace ligule {

// Sets PlanPlot::path of each plot to a serpentine walk: rows ascending, odd rows (the 1st, 3rd
// ...) by ascending column, even rows descending; within the given plots only. Two plots on one
// place keep their order.
void walk_serpentine(std::vector<PlanPlot>& plots);

// Where each lane (a run of one field row along the path) starts, as indexes into plots ordered
// along the path; the first is 0. Empty for no plots.
[[nodiscard]] std::vector<std::size_t> lane_starts(const std::vector<PlanPlot>& along_path);

}  // namespace ligule
