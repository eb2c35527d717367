// A run of plots along the plot path whose values fit better one place on or one place back: a
// stake was passed over or counted twice, and from there on each value was entered at a neighbour.
#pragma once

#include <cstddef>
#include <optional>
#include <span>
#include <string>

namespace ligule::checks {

// A plot of the path, in the order one walks, whether it has a value or not. Plots where nothing is
// ever entered (borders, abandoned ones) are no part of it.
struct LanePlot {
  int block = 0;
  std::string entry;
  std::optional<double> value = {};  // all in one unit
};

enum class Entered { kTooEarly, kTooLate };  // the value is the next plot's, the one's before

struct LaneShift {
  std::size_t first = 0;  // places of the path whose values belong to a neighbour; the ends are a
  std::size_t last = 0;   // plot or two uncertain
  Entered entered = Entered::kTooEarly;
  double evidence = 0;  // natural logarithm of how many times likelier moved than as they stand
};

inline constexpr std::size_t kShortestShift = 4;  // fewer are exchanges and single slips
inline constexpr double kLeastShiftEvidence = 7.5;

// The run that fits best moved, however little it says, of all runs of kShortestShift plots and
// more in both directions. Entries and errors are normal, with variances told robustly from the
// values with the run moved; no value says more than e^3. A run that
// would move onto a place with a value counts less (e^3), since that plot would then have two.
// Empty where no run fits better moved, where entries do not lie further apart than their own
// plots, and of fewer than 12 values. A cutting of 96 plots takes 1 to 3 ms, of 240 plots 5 to 10
// ms.
[[nodiscard]] std::optional<LaneShift> likeliest_lane_shift(std::span<const LanePlot> path);

// The same where the evidence is kLeastShiftEvidence at least. Of whole cuttings with nothing wrong
// 0 to 3 in 100 then have a run named where plots follow their entries (24 or 60 entries in 4
// blocks, entries with a standard deviation of 15 percent, errors of 6 to 15), up to 6 where they
// hardly do, and 5 of ratings in steps of five close below 100. Of runs that leave an empty place
// behind there are found, at errors of 6, 10 and 15 percent: of ten plots 97, 85 and 55 in 100, of
// fifteen 99, 96 and 70. Where entries lie only 8 percent apart it is 75, 35 and 10 of ten plots:
// neighbours who differ little can't tell. (tests/storage/checks/lane_shift_test.cc measures it.)
// More than half of the path moved one way looks the same as the rest moved the other way, and may
// be named so.
[[nodiscard]] std::optional<LaneShift> lane_shift(std::span<const LanePlot> path);

}  // namespace ligule::checks
