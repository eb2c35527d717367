#include "storage/design/complete_blocks.h"

namespace ligule::design {

Block block_of(std::span<const int> repeats) {
  Block block;
  for (std::size_t entry = 0; entry < repeats.size(); ++entry)
    block.insert(block.end(), static_cast<std::size_t>(repeats[entry]), entry);
  return block;
}

std::vector<Block> complete_blocks(std::span<const int> repeats, std::size_t blocks, Draw& draw) {
  std::vector<Block> drawn(blocks, block_of(repeats));
  for (Block& block : drawn) draw.shuffle(block);
  return drawn;
}

}  // namespace ligule::design
