#include "storage/trial/plot_path.h"

#include <algorithm>
#include <tuple>

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

std::vector<std::size_t> lane_starts(const std::vector<PlanPlot>& along_path) {
  std::vector<std::size_t> starts;
  for (std::size_t i = 0; i < along_path.size(); ++i) {
    if (i == 0 || along_path[i].row != along_path[i - 1].row) starts.push_back(i);
  }
  return starts;
}

}  // namespace ligule
