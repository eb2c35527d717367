// Whether counts are as even as chance makes them.
#pragma once

#include <cmath>
#include <cstddef>
#include <span>

namespace ligule::design {

// Pearson's statistic of counts that should all be alike.
inline double evenness(std::span<const std::size_t> counts) {
  double all = 0;
  for (const std::size_t count : counts) all += static_cast<double>(count);
  const double expected = all / static_cast<double>(counts.size());
  double statistic = 0;
  for (const std::size_t count : counts) {
    const double apart = static_cast<double>(count) - expected;
    statistic += apart * apart / expected;
  }
  return statistic;
}

// What chi-square of so many degrees of freedom exceeds once in a thousand times: E. B. Wilson,
// M. M. Hilferty, PNAS 17 (1931) 684-688. Within 1 % of the NIST/SEMATECH e-Handbook of Statistical
// Methods, 1.3.6.7.4, from 10 degrees of freedom on (draw_test.cc looks).
inline double rarely_exceeded(double df) {
  constexpr double kNormal = 3.090232;  // 0.999 of the normal distribution
  const double part = 2 / (9 * df);
  return df * std::pow(1 - part + kNormal * std::sqrt(part), 3);
}
// What it falls below once in a thousand times: counts more even than chance makes them are as
// wrong.
inline double rarely_below(double df) {
  constexpr double kNormal = -3.090232;
  const double part = 2 / (9 * df);
  return df * std::pow(1 - part + kNormal * std::sqrt(part), 3);
}

}  // namespace ligule::design
