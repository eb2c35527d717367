// Values entered at a neighbour, for the rates at which checks find them.
#pragma once

#include <vector>

#include "storage/checks/lane_shift.h"
#include "tests/storage/checks/weighed_cutting.h"

namespace ligule::checks::tests {

inline std::vector<LanePlot> lane_of(const WeighedPath& path) {
  std::vector<LanePlot> lane;
  for (const std::optional<WeighedPlot>& plot : path)
    if (plot) lane.push_back({plot->block, plot->entry, plot->net});
  return lane;
}

// From place `first` on `length` values are those of the next plot (too early) or of the one
// before; the plot that is left over stays empty. There must be a place more on that side.
inline void shift(std::vector<LanePlot>& lane, std::size_t first, std::size_t length,
                  Entered entered) {
  const std::vector<LanePlot> before = lane;
  const bool early = entered == Entered::kTooEarly;
  for (std::size_t place = first; place < first + length; ++place)
    lane[place].value = before[early ? place + 1 : place - 1].value;
  lane[early ? first + length : first - 1].value.reset();
}

// Whether what was found names the planted run: its way, and half of it at least.
inline bool names(const std::optional<LaneShift>& found, std::size_t first, std::size_t length,
                  Entered entered) {
  if (!found || found->entered != entered) return false;
  const std::size_t from = std::max(first, found->first);
  const std::size_t to = std::min(first + length - 1, found->last);
  return to >= from && 2 * (to - from + 1) >= length;
}

}  // namespace ligule::checks::tests
