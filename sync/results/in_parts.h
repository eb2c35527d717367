// Work over many tests on all cores. For this room only.
#pragma once

#include <algorithm>
#include <atomic>
#include <cstddef>
#include <functional>
#include <future>
#include <iterator>
#include <span>
#include <thread>
#include <vector>

namespace ligule::results {

// What make(first, last) gives for neighbouring parts of 0..count, one after the other, as if it
// had been asked once for all. It runs on several threads at a time and must change nothing that it
// shares; what it throws is thrown here. `size` is how much work it is, in plot values: little work
// stays on one thread.
template <class Item, class Make>
[[nodiscard]] std::vector<Item> in_parts(std::size_t count, std::size_t size, const Make& make) {
  constexpr std::size_t kWorthAThread = 4000;
  const std::size_t cores = std::max(1U, std::thread::hardware_concurrency());
  const std::size_t parts = std::min({cores, count, 1 + size / kWorthAThread});
  if (parts <= 1) return make(std::size_t{0}, count);
  std::vector<std::future<std::vector<Item>>> others;
  for (std::size_t part = 1; part < parts; ++part) {
    // Where no thread can be had it is done when it is asked for.
    others.push_back(
        std::async(std::launch::async | std::launch::deferred, [&make, part, parts, count] {
          return make(part * count / parts, (part + 1) * count / parts);
        }));
  }
  std::vector<Item> all = make(std::size_t{0}, count / parts);
  for (auto& other : others) {
    std::vector<Item> more = other.get();
    all.insert(all.end(), std::make_move_iterator(more.begin()),
               std::make_move_iterator(more.end()));
  }
  return all;
}

// Runs every task once, each core taking the next one as soon as it is free; `size` as above.
// Tasks change nothing that others see; what one throws is thrown here when none runs any more.
inline void side_by_side(std::span<const std::function<void()>> tasks, std::size_t size) {
  std::atomic<std::size_t> next = 0;
  const auto work = [&](std::size_t /*first*/, std::size_t /*last*/) {
    for (std::size_t task = next++; task < tasks.size(); task = next++) tasks[task]();
    return std::vector<int>();
  };
  static_cast<void>(in_parts<int>(tasks.size(), size, work));
}

}  // namespace ligule::results
