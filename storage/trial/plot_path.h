// The way a person walks a trial: up one lane of plots and down the next.
#pragma once

#include <cstddef>
#include <span>
#include <vector>

#include "storage/trial/plan.h"

namespace ligule {

// Sets PlanPlot::path of each plot to a serpentine walk: rows ascending, odd rows (the 1st, 3rd
// ...) by ascending column, even rows descending; within the given plots only. Two plots on one
// place keep their order.
void walk_serpentine(std::vector<PlanPlot>& plots);

// What a lane of the path is: a run of plots of one field row, or of one column.
enum class PathAlong { kRows, kColumns };

// Which of the two it is, of a trial's plots ordered along the path: the one that turns less often;
// where both turn as often the one that comes back less to a row (column) of a block, else rows.
// Of a part of a trial's plots it may be the other one.
[[nodiscard]] PathAlong path_along(std::span<const PlanPlot> along_path);

// Whether two plots that follow each other along the path lie in one lane.
[[nodiscard]] bool in_one_lane(const PlanPlot& plot, const PlanPlot& next, PathAlong along);

// Where each lane starts, as indexes into plots ordered along the path; the first is 0. Empty for
// no plots.
[[nodiscard]] std::vector<std::size_t> lane_starts(std::span<const PlanPlot> along_path);
[[nodiscard]] std::vector<std::size_t> lane_starts(std::span<const PlanPlot> along_path,
                                                   PathAlong along);

}  // namespace ligule
