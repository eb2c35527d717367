// From what is wished of a trial to plots with numbers, places and entries.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "storage/design/draw.h"
#include "storage/design/ground.h"
#include "storage/design/spread.h"
#include "storage/trial/error.h"

namespace ligule::design {

// More than a plan's tables number.
inline constexpr std::size_t kMostPlots = 99999;
inline constexpr std::size_t kMostBlocks = 999;
// The walk to a Latin square takes as long as the fifth power of its order: 2 s of this one.
inline constexpr std::size_t kLargestSquare = 40;

struct LayOutWish {
  std::string design;        // a code of kDesigns
  std::vector<int> repeats;  // how often each entry stands in a block
  // plots is worked out here. Design latin: only its corner, direction and serpentine count.
  Ground ground;
  std::size_t incomplete_block_size = 0;  // design alpha
};

struct LaidPlot {
  std::size_t number = 0;
  int block = 0;  // from 1
  int row = 0, column = 0;
  int incomplete_block = 0;          // design alpha, from 1 in each block; else 0
  std::optional<std::size_t> entry;  // nothing: a filler
};

struct LaidOut {
  Ground ground;
  std::vector<LaidPlot> plots;  // along the plot path
  std::size_t fillers = 0;
  Clusters clusters;
  // Design alpha.
  struct Parts {
    std::size_t count = 0;  // in each block
    std::size_t largest = 0, smallest = 0;
    double efficiency = 0;       // efficiency_factor() of all incomplete blocks
    double bound = 0;            // efficiency_bound() of such sizes and repeats
    std::size_t most_meets = 0;  // in how many incomplete blocks two entries stand together at most
  };
  std::optional<Parts> parts;
};

// Designs: rcb, every entry in every block, in a drawn order; crd, all plots of all entries in one
// drawn order (one block, each entry blocks times its repeats); latin, a square of as many rows and
// columns as entries, its rows the blocks; alpha, blocks of incomplete ones that lie one after the
// other along the path; row_column, spread_blocks(). kInvalid says what can't be laid out so.
[[nodiscard]] Result<LaidOut> lay_out(const LayOutWish& wish, Draw& draw);

}  // namespace ligule::design
