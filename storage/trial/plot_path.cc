#include "storage/trial/plot_path.h"

#include <algorithm>
#include <set>
#include <tuple>
#include <utility>

namespace ligule {

void walk_serpentine(std::vector<PlanPlot>& plots) {
  std::vector<int> rows;
  rows.reserve(plots.size());
  for (const PlanPlot& plot : plots) rows.push_back(plot.row);
  std::ranges::sort(rows);
  rows.erase(std::ranges::unique(rows).begin(), rows.end());

  std::vector<PlanPlot*> order;
  order.reserve(plots.size());
  for (PlanPlot& plot : plots) order.push_back(&plot);
  std::ranges::stable_sort(order, {}, [&](const PlanPlot* plot) {
    const auto lane = std::ranges::lower_bound(rows, plot->row) - rows.begin();
    return std::tuple(lane, lane % 2 == 0 ? plot->column : -plot->column);
  });
  int place = 0;
  for (PlanPlot* plot : order) plot->path = ++place;
}

PathAlong path_along(std::span<const PlanPlot> along_path) {
  // Lanes, and lanes that come back to a row (column) which the path left within its block.
  const auto turns = [&](PathAlong along) {
    std::size_t lanes = 0;
    std::set<std::pair<int, int>> visited;
    for (const std::size_t start : lane_starts(along_path, along)) {
      const PlanPlot& plot = along_path[start];
      visited.emplace(plot.block, along == PathAlong::kRows ? plot.row : plot.column);
      ++lanes;
    }
    return std::pair(lanes, lanes - visited.size());
  };
  return turns(PathAlong::kColumns) < turns(PathAlong::kRows) ? PathAlong::kColumns
                                                              : PathAlong::kRows;
}

bool in_one_lane(const PlanPlot& plot, const PlanPlot& next, PathAlong along) {
  return along == PathAlong::kRows ? plot.row == next.row : plot.column == next.column;
}

std::vector<std::size_t> lane_starts(std::span<const PlanPlot> along_path) {
  return lane_starts(along_path, path_along(along_path));
}

std::vector<std::size_t> lane_starts(std::span<const PlanPlot> along_path, PathAlong along) {
  std::vector<std::size_t> starts;
  for (std::size_t i = 0; i < along_path.size(); ++i) {
    if (i == 0 || !in_one_lane(along_path[i - 1], along_path[i], along)) starts.push_back(i);
  }
  return starts;
}

}  // namespace ligule
