#include "storage/checks/repeat_plots.h"

#include <algorithm>
#include <cstdlib>
#include <set>

#include "storage/checks/chance.h"

namespace ligule::checks {
namespace {

int steps(const PathPlot& from, const PathPlot& to) {
  return std::abs(from.row - to.row) + std::abs(from.column - to.column);
}

// Places of plots that are near this one, and were passed long enough ago.
std::vector<std::size_t> in_reach(std::span<const PathPlot> path, std::size_t from) {
  std::vector<std::size_t> plots;
  for (std::size_t plot = 0; plot + kPlotsBetween < from; ++plot)
    if (steps(path[plot], path[from]) <= kMostStepsBack) plots.push_back(plot);
  return plots;
}

}  // namespace

std::vector<RepeatPlot> repeat_plots(std::span<const PathPlot> path, std::string_view seed,
                                     int one_in) {
  if (one_in < 1) return {};
  std::vector<std::size_t> places;
  for (std::size_t from = 0; from < path.size(); ++from)
    if (!in_reach(path, from).empty()) places.push_back(from);
  const auto share = static_cast<std::size_t>(one_in);
  const std::size_t wanted = std::min((path.size() + share / 2) / share, places.size());
  Chance chance(hash_of(seed));
  std::vector<RepeatPlot> chosen;
  std::set<std::size_t> again;
  for (std::size_t n = 0; n < wanted; ++n) {
    const std::size_t first = n * places.size() / wanted;
    const std::size_t end = (n + 1) * places.size() / wanted;
    const std::size_t from = places[first + chance.below(end - first)];
    std::vector<std::size_t> plots = in_reach(path, from);
    std::erase_if(plots, [&](std::size_t plot) { return again.contains(plot); });
    if (plots.empty()) continue;
    const std::size_t plot = plots[chance.below(plots.size())];
    again.insert(plot);
    chosen.push_back({plot, from});
  }
  return chosen;
}

}  // namespace ligule::checks
