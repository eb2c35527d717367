// What rules hold a rating against of the ratings before it.
#pragma once

#include <optional>
#include <span>
#include <string_view>

#include "storage/trial/as_sown.h"
#include "storage/trial/calendar.h"
#include "storage/trial/identity.h"

namespace ligule {

// Measures that rules know by name.
inline constexpr std::string_view kPercentStand = "percent_stand";
inline constexpr std::string_view kMaturity = "maturity";

// What a plot was rated last, in other ratings: the newest of each, by
// when it was first given.
struct RatedBefore {
  struct Value {
    double value = 0;
    CalendarDate on{};

    bool operator==(const Value&) const = default;
  };
  std::optional<Value> stand;  // percent
  std::optional<Value> stage;  // place on the scale of the species

  bool operator==(const RatedBefore&) const = default;
};

// Whether a rating of that day still says something on another of what stands on the plot: it is of
// the same year, and nothing was sown or found out about the plot in between.
[[nodiscard]] bool still_says(CalendarDate rated, CalendarDate on, std::span<const AsSown> as_sown,
                              PlotId plot);

}  // namespace ligule
