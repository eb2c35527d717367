#include "app/touch/ramp.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace ligule::touch {
namespace {

using Stops = std::array<std::uint32_t, 5>;
constexpr Stops kAmount{0x440154, 0x3B528B, 0x21918C, 0x5EC962, 0xFDE725};
constexpr Stops kChange{0x1E4585, 0x7398CC, 0xF0EEE5, 0xCC8737, 0x6F3905};

std::uint32_t mixed(std::uint32_t a, std::uint32_t b, double share, unsigned shift) {
  const double from = (a >> shift) & 0xFFU;
  const double to = (b >> shift) & 0xFFU;
  return static_cast<std::uint32_t>(std::lround(from + (to - from) * share)) << shift;
}

std::uint32_t between(const Stops& stops, double share) {
  const double at = std::clamp(share, 0.0, 1.0) * static_cast<double>(stops.size() - 1);
  const auto below = std::min(static_cast<std::size_t>(at), stops.size() - 2);
  const double part = at - static_cast<double>(below);
  const std::uint32_t a = stops.at(below);
  const std::uint32_t b = stops.at(below + 1);
  return mixed(a, b, part, 16) | mixed(a, b, part, 8) | mixed(a, b, part, 0);
}

}  // namespace

std::uint32_t amount_rgb(double share) {
  return between(kAmount, share);
}

std::uint32_t change_rgb(double share) {
  return between(kChange, share);
}

}  // namespace ligule::touch
