// Whether a person's eye changed on the way through the blocks: a rater's differences from what
// they are held against, block by block.
#pragma once

#include <cstddef>
#include <optional>
#include <span>
#include <vector>

#include "storage/checks/rating_offset.h"

namespace ligule::checks {

struct RatedInBlock {
  int block = 0;
  RatedTwice rated;
};

struct BlockOffset {
  int block = 0;
  double mean = 0;  // given less held against, in the scale's points
  std::size_t pairs = 0;

  bool operator==(const BlockOffset&) const = default;
};

struct RatingDrift {
  std::vector<BlockOffset> blocks;  // by number; those of four pairs or more
  // In what share of random orders of the same differences the blocks lie at least as far apart:
  // from 0.001 to 1.
  double chance = 1;
};

// How seldom chance does it before somebody is told of it.
inline constexpr double kDriftTold = 0.05;

// A randomisation test of one-way classes over 999 orders that are the same on every device,
// counting the order that was seen among them (Fisher's test; the one that is added: Davison &
// Hinkley, Bootstrap Methods and their Application, 1997, section 4.2.5; both from memory).
// Differences come in steps of five points and are far from normal: a test by F would lean on that.
// Empty of fewer than two blocks of four pairs: the rarest order of fewer is not rare.
[[nodiscard]] std::optional<RatingDrift> rating_drift(std::span<const RatedInBlock> pairs);

}  // namespace ligule::checks
