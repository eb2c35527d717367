#include "storage/design/ground.h"

#include <algorithm>

namespace ligule::design {
namespace {

std::size_t upwards(std::size_t a, std::size_t b) {
  return (a + b - 1) / b;
}

// The field by lanes, one after the other from the start corner, and by steps along a lane: rows
// and columns, or the other way about.
struct Lanes {
  explicit Lanes(const Ground& ground)
      : by_rows(ground.along == Along::kRows),
        block_lanes(by_rows ? ground.depth() : ground.width()),
        block_steps(by_rows ? ground.width() : ground.depth()) {
    const std::size_t behind = upwards(ground.blocks, ground.blocks_beside);
    lanes_of_blocks = by_rows ? behind : ground.blocks_beside;
    steps_of_blocks = by_rows ? ground.blocks_beside : behind;
  }

  bool by_rows;
  std::size_t block_lanes, block_steps;          // plots
  std::size_t lanes_of_blocks, steps_of_blocks;  // blocks
};

// 0 to count - 1, or backwards.
std::size_t turned(std::size_t i, std::size_t count, bool backwards) {
  return backwards ? count - 1 - i : i;
}

GroundPlace at_corner(const Ground& ground, std::size_t row, std::size_t column) {
  const bool right = ground.start == Corner::kFrontRight || ground.start == Corner::kBackRight;
  const bool back = ground.start == Corner::kBackLeft || ground.start == Corner::kBackRight;
  GroundPlace place;
  place.row = static_cast<int>(turned(row, ground.rows(), back)) + 1;
  place.column = static_cast<int>(turned(column, ground.columns(), right)) + 1;
  return place;
}

}  // namespace

std::size_t Ground::width() const {
  return plots_per_row == 0 ? plots : std::min(plots_per_row, plots);
}

std::size_t Ground::depth() const {
  return upwards(plots, width());
}

std::size_t Ground::rows() const {
  return upwards(blocks, blocks_beside) * depth();
}

std::size_t Ground::columns() const {
  return std::min(blocks, blocks_beside) * width();
}

std::size_t GroundPlace::number(std::size_t places) const {
  return (block + 1) * (places > 99 ? 1000 : 100) + place + 1;
}

std::vector<GroundPlace> places_of(const Ground& ground) {
  const Lanes lanes(ground);
  std::vector<GroundPlace> all;
  all.reserve(ground.blocks * ground.places());
  std::size_t block = 0;
  for (std::size_t i = 0; i < lanes.lanes_of_blocks; ++i) {
    const auto backwards = [&](std::size_t lane) {
      return ground.serpentine && (i * lanes.block_lanes + lane) % 2 == 1;
    };
    for (std::size_t n = 0; n < lanes.steps_of_blocks; ++n) {
      const std::size_t j = turned(n, lanes.steps_of_blocks, backwards(0));
      // The last blocks of the field may lie behind a part of those before only: where the path
      // goes on.
      if ((lanes.by_rows ? i * ground.blocks_beside + n : j * ground.blocks_beside + i) >=
          ground.blocks)
        continue;
      for (std::size_t place = 0; place < ground.places(); ++place) {
        const std::size_t within = place / lanes.block_steps;
        const std::size_t lane = i * lanes.block_lanes + within;
        const std::size_t step =
            j * lanes.block_steps +
            turned(place % lanes.block_steps, lanes.block_steps, backwards(within));
        GroundPlace found =
            at_corner(ground, lanes.by_rows ? lane : step, lanes.by_rows ? step : lane);
        found.block = block;
        found.place = place;
        all.push_back(found);
      }
      ++block;
    }
  }
  return all;
}

}  // namespace ligule::design
