// Chance that comes out the same on every device: numbers from a text. Not the library's
// distributions, which differ from one library to the next.
#pragma once

#include <cstddef>
#include <cstdint>
#include <string_view>

namespace ligule::checks {

// FNV-1a: the same number for a text everywhere.
[[nodiscard]] constexpr std::uint64_t hash_of(std::string_view text) {
  std::uint64_t hash = 0xCBF29CE484222325U;
  for (const char letter : text) {
    hash ^= static_cast<unsigned char>(letter);
    hash *= 0x100000001B3U;
  }
  return hash;
}

// SplitMix64.
class Chance {
 public:
  explicit constexpr Chance(std::uint64_t seed) : state_(seed) {}
  constexpr std::uint64_t next() {
    state_ += 0x9E3779B97F4A7C15U;
    std::uint64_t mixed = state_;
    mixed = (mixed ^ (mixed >> 30U)) * 0xBF58476D1CE4E5B9U;
    mixed = (mixed ^ (mixed >> 27U)) * 0x94D049BB133111EBU;
    return mixed ^ (mixed >> 31U);
  }
  // From 0 to end - 1; end is above 0.
  constexpr std::size_t below(std::size_t end) { return static_cast<std::size_t>(next() % end); }

 private:
  std::uint64_t state_;
};

}  // namespace ligule::checks
