// Where all chance of a lay-out comes from, begun with a number that the plan keeps.
//
// A contract: the same number gives the same draws on every machine and in every later version, so
// that a plan can be drawn again and shown to be what the number gives. std::mt19937_64 is fixed by
// the C++ standard ([rand.predef]: the 10000th value from the default seed), the standard's
// distributions and std::shuffle are not; so what is made of its values stands here, in whole
// numbers only. Tests hold it to values that were drawn once.
#pragma once

#include <cstddef>
#include <cstdint>
#include <random>
#include <utility>
#include <vector>

namespace ligule::design {

// Seeds are written with up to 18 digits (a plan takes 19): each is a whole number of 64 bits.
inline constexpr std::uint64_t kSeeds = 1'000'000'000'000'000'000;

class Draw {
 public:
  explicit Draw(std::uint64_t seed) : engine_(seed) {}

  // One of 0 to count - 1, each as likely as any other: values of the last, incomplete round are
  // thrown away. count >= 1.
  [[nodiscard]] std::size_t below(std::size_t count);
  // Every order as likely as any other (Fisher and Yates; Knuth, The Art of Computer Programming
  // 3.4.2, algorithm P).
  template <class T>
  void shuffle(std::vector<T>& items) {
    for (std::size_t left = items.size(); left > 1; --left)
      std::swap(items[left - 1], items[below(left)]);
  }
  // 0 to count - 1 in a drawn order.
  [[nodiscard]] std::vector<std::size_t> order_of(std::size_t count);

 private:
  std::mt19937_64 engine_;
};

}  // namespace ligule::design
