// How far a person's ratings lie from what they are held against, in the scale's own points: drawn
// stands of known percent, their own ratings of the same plots, or another person's.
#pragma once

#include <optional>
#include <span>

namespace ligule::checks {

struct RatedTwice {
  double held_against = 0;
  double given = 0;
};

struct RatingOffset {
  double mean = 0;    // given less held against: above 0 is high
  double spread = 0;  // standard deviation of those differences, n - 1
  std::size_t pairs = 0;
};

// Empty of fewer than three pairs: of one or two the spread says nothing.
[[nodiscard]] std::optional<RatingOffset> rating_offset(std::span<const RatedTwice> pairs);

}  // namespace ligule::checks
