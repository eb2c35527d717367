// What rules hold a rating against of the ratings before it.
#pragma once

#include <optional>

#include "storage/trial/calendar.h"

namespace ligule {

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

}  // namespace ligule
