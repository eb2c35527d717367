// Complete blocks: every entry in every block, each block in an order of its own.
#pragma once

#include <cstddef>
#include <span>
#include <vector>

#include "storage/design/draw.h"

namespace ligule::design {

// What stands along the places of a block, as places of a list of entries.
using Block = std::vector<std::size_t>;

// Entry i stands repeats[i] times.
[[nodiscard]] Block block_of(std::span<const int> repeats);

// So many blocks, each in one of all its orders, drawn for itself.
[[nodiscard]] std::vector<Block> complete_blocks(std::span<const int> repeats, std::size_t blocks,
                                                 Draw& draw);

}  // namespace ligule::design
