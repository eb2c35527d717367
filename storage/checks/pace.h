// What the order and the clock of a rating say of how it was made: looked at once, when the rating
// is closed, never plot by plot.
#pragma once

#include <cstddef>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "storage/trial/calendar.h"

namespace ligule::checks {

// A value as it was given, in the order in which plots were rated.
struct GivenValue {
  std::string plot;
  std::string entered;

  bool operator==(const GivenValue&) const = default;
};

struct SameRun {
  std::string from;  // plots
  std::string to;
  std::string entered;
  std::size_t plots = 0;

  bool operator==(const SameRun&) const = default;
};
// The longest run of one value that chance does not explain: were the values of the rating dealt in
// another order, so long a run of that value would come up in fewer than kChance of the ratings. So
// a trial whose plots are nearly all alike has no odd run, and of values that are all equal nothing
// is said.
inline constexpr double kChance = 0.001;
[[nodiscard]] std::optional<SameRun> odd_run(std::span<const GivenValue> values);

// A plot as somebody came to it: where it lies and when its first value was given.
struct Visited {
  std::string plot;
  double across = 0;  // metres, middle of the plot
  double along = 0;
  UtcInstant at{};
};
// Metres a second that nobody walks over plots: a fast walk on a road is 2 (common practice, no
// source).
inline constexpr double kFastest = 2.5;
// One plot may be a plot found again; of so many somebody is told.
inline constexpr std::size_t kFewestFast = 3;
// Plots that were reached from the one before them faster than that. One that was rated with the
// one before it, from where that lies (a neighbour no further than `reach` metres), does not count.
[[nodiscard]] std::vector<std::string> too_fast(std::span<const Visited> visits, double reach);

}  // namespace ligule::checks
