#include "storage/design/draw.h"

#include <cassert>
#include <numeric>

namespace ligule::design {

std::size_t Draw::below(std::size_t count) {
  assert(count > 0);
  const std::uint64_t ways = count;
  // 2^64 modulo the number of ways, in 64 bits: so many of the lowest values are one too many.
  const std::uint64_t beyond = (std::uint64_t{0} - ways) % ways;
  std::uint64_t value = engine_();
  while (value < beyond) value = engine_();
  return static_cast<std::size_t>(value % ways);
}

std::vector<std::size_t> Draw::order_of(std::size_t count) {
  std::vector<std::size_t> order(count);
  std::iota(order.begin(), order.end(), std::size_t{0});
  shuffle(order);
  return order;
}

}  // namespace ligule::design
