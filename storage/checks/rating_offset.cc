#include "storage/checks/rating_offset.h"

#include <cmath>

namespace ligule::checks {

std::optional<RatingOffset> rating_offset(std::span<const RatedTwice> pairs) {
  if (pairs.size() < 3) return std::nullopt;
  const auto n = static_cast<double>(pairs.size());
  double sum = 0;
  for (const RatedTwice& pair : pairs) sum += pair.given - pair.held_against;
  const double mean = sum / n;
  double squares = 0;
  for (const RatedTwice& pair : pairs) {
    const double apart = pair.given - pair.held_against - mean;
    squares += apart * apart;
  }
  return RatingOffset{mean, std::sqrt(squares / (n - 1)), pairs.size()};
}

}  // namespace ligule::checks
