// Which plots of a rating come back unannounced, and where along the path.
//
// The person is to have forgotten what they gave, and is not to walk back far. Where plots lie
// decides, and chance: nothing here knows of entries, so that a plot that comes back says nothing
// of what it holds.
#pragma once

#include <cstddef>
#include <span>
#include <string_view>
#include <vector>

namespace ligule::checks {

// Other plots between the two looks at one, and steps over rows and columns from where the person
// stands: common practice, no source.
inline constexpr std::size_t kPlotsBetween = 8;
inline constexpr int kMostStepsBack = 2;

struct PathPlot {
  int row = 0;
  int column = 0;
};
struct RepeatPlot {
  std::size_t plot = 0;   // place along the path, from 0
  std::size_t after = 0;  // it is asked when the plot at this place was done

  bool operator==(const RepeatPlot&) const = default;
};

// One plot in `one_in` (rounded, none below 1), each once, at most one at a place, spread over the
// part of the path from where an earlier plot can be reached; in the order of the walk. The same
// for the same seed. A path that never comes near its own plots again (one long row) has none, and
// fewer where few places reach one.
[[nodiscard]] std::vector<RepeatPlot> repeat_plots(std::span<const PathPlot> path,
                                                   std::string_view seed, int one_in);

}  // namespace ligule::checks
