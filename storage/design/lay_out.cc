#include "storage/design/lay_out.h"

#include <algorithm>
#include <iterator>
#include <map>
#include <numeric>
#include <set>

#include "storage/design/alpha.h"
#include "storage/design/efficiency.h"
#include "storage/design/latin_square.h"

namespace ligule::design {
namespace {

// What stands in each block along its places, and where its incomplete blocks end.
struct Drawn {
  Ground ground;
  std::vector<Block> blocks;
  std::vector<std::vector<std::size_t>> part_ends;  // by block; empty but for alpha
  std::optional<LaidOut::Parts> parts;
};

std::unexpected<Error> refused(std::string what, std::string mend) {
  return fail(ErrorKind::kInvalid, std::move(what), {}, std::move(mend));
}

Result<void> can_lay_out(const LayOutWish& wish, std::size_t plots) {
  const std::size_t blocks = wish.ground.blocks;
  if (wish.repeats.size() < 2)
    return refused("there are fewer than two entries", "with one alone nothing can be compared");
  if (blocks < 1 || blocks > kMostBlocks)
    return refused("there are " + std::to_string(blocks) + " blocks", "state 1 to 999 of them");
  if (wish.ground.blocks_beside < 1)
    return refused("no blocks lie beside each other", "state 1 where they lie behind each other");
  // Fillers make no block twice as large.
  if (2 * plots * blocks > kMostPlots)
    return refused("that is " + std::to_string(plots * blocks) + " plots",
                   "lay out several trials of fewer entries or blocks");
  return {};
}

Result<Drawn> square(const LayOutWish& wish, Draw& draw) {
  const std::size_t order = wish.repeats.size();
  if (std::ranges::any_of(wish.repeats, [](int repeats) { return repeats != 1; }))
    return refused("in a Latin square no entry is repeated",
                   "let every entry stand once, or choose design rcb or row_column");
  if (wish.ground.blocks != order)
    return refused("a Latin square of " + std::to_string(order) + " entries has " +
                       std::to_string(order) + " rows, not " + std::to_string(wish.ground.blocks),
                   "leave the number of blocks out, or choose design rcb or row_column");
  if (order > kLargestSquare)
    return refused("a Latin square of " + std::to_string(order) + " entries is too large",
                   "lay out " + std::to_string(kLargestSquare) +
                       " entries at most so, or choose design row_column");
  Drawn drawn{wish.ground, std::vector<Block>(order, Block(order)), {}, {}};
  drawn.ground.plots = order;
  drawn.ground.plots_per_row = 0;
  drawn.ground.blocks_beside = 1;
  // By rows and columns of the field, whichever way they are walked.
  const auto rows = latin_square(order, draw);
  for (const GroundPlace& place : places_of(drawn.ground))
    drawn.blocks[place.block][place.place] =
        rows[static_cast<std::size_t>(place.row) - 1][static_cast<std::size_t>(place.column) - 1];
  return drawn;
}

LaidOut::Parts parts_of_design(const std::vector<std::vector<Block>>& design,
                               std::span<const int> repeats) {
  LaidOut::Parts parts;
  std::vector<Block> all;
  for (const auto& block : design) std::ranges::copy(block, std::back_inserter(all));
  parts.count = design.front().size();
  const auto [least, most] = std::ranges::minmax(all, {}, &Block::size);
  parts.smallest = least.size();
  parts.largest = most.size();
  parts.efficiency = efficiency_factor(all, repeats.size());
  parts.bound = efficiency_bound(repeats, design.size(), parts.count);
  std::map<std::pair<std::size_t, std::size_t>, std::size_t> meets;
  for (const Block& block : all) {
    const std::set<std::size_t> standing(block.begin(), block.end());
    for (auto a = standing.begin(); a != standing.end(); ++a)
      for (auto b = std::next(a); b != standing.end(); ++b)
        parts.most_meets = std::max(parts.most_meets, ++meets[{*a, *b}]);
  }
  return parts;
}

Result<Drawn> incomplete(const LayOutWish& wish, std::size_t plots, Draw& draw) {
  const std::size_t size = wish.incomplete_block_size;
  if (wish.ground.blocks < 2)
    return refused("incomplete blocks need two complete ones at least",
                   "state more blocks, or choose design rcb");
  if (size < 2 || 2 * size > plots + (plots % 2))
    return refused("incomplete blocks of " + std::to_string(size) + " plots do not part " +
                       std::to_string(plots) + " plots",
                   "state a size from 2 to half the plots of a block");
  Drawn drawn{wish.ground, {}, {}, {}};
  const auto design = alpha_design(wish.repeats, wish.ground.blocks, parts_of(plots, size), draw);
  for (const auto& parts : design) {
    Block block;
    std::vector<std::size_t> ends;
    for (const Block& part : parts) {
      block.insert(block.end(), part.begin(), part.end());
      ends.push_back(block.size());
    }
    drawn.blocks.push_back(std::move(block));
    drawn.part_ends.push_back(std::move(ends));
  }
  drawn.parts = parts_of_design(design, wish.repeats);
  return drawn;
}

Result<Drawn> draw_design(const LayOutWish& wish, std::size_t plots, Draw& draw) {
  Drawn drawn{wish.ground, {}, {}, {}};
  drawn.ground.plots = plots;
  if (wish.design == "latin") return square(wish, draw);
  if (wish.design == "alpha") return incomplete(wish, plots, draw);
  if (wish.design == "row_column") {
    drawn.blocks = spread_blocks(wish.repeats, drawn.ground, draw);
  } else if (wish.design == "crd") {
    std::vector<int> all = wish.repeats;
    for (int& repeats : all) repeats *= static_cast<int>(wish.ground.blocks);
    drawn.blocks = complete_blocks(all, 1, draw);
    drawn.ground.blocks = drawn.ground.blocks_beside = 1;
  } else if (wish.design == "rcb") {
    drawn.blocks = complete_blocks(wish.repeats, wish.ground.blocks, draw);
  } else {
    return refused("'" + wish.design + "' is not a design",
                   "use rcb, crd, latin, alpha or row_column");
  }
  return drawn;
}

int part_at(const std::vector<std::vector<std::size_t>>& ends, const GroundPlace& place) {
  if (ends.empty()) return 0;
  const auto& of_block = ends[place.block];
  const auto before = std::ranges::upper_bound(of_block, place.place) - of_block.begin();
  return static_cast<int>(before) + 1;
}

}  // namespace

Result<LaidOut> lay_out(const LayOutWish& wish, Draw& draw) {
  const auto plots =
      static_cast<std::size_t>(std::accumulate(wish.repeats.begin(), wish.repeats.end(), 0));
  if (const auto can = can_lay_out(wish, plots); !can) return std::unexpected(can.error());
  auto drawn = draw_design(wish, plots, draw);
  if (!drawn) return std::unexpected(drawn.error());
  LaidOut out;
  out.ground = drawn->ground;
  out.ground.plots = drawn->blocks.front().size();
  const auto places = places_of(out.ground);
  out.plots.reserve(places.size());
  for (const GroundPlace& place : places) {
    LaidPlot plot{place.number(out.ground.places()),
                  static_cast<int>(place.block) + 1,
                  place.row,
                  place.column,
                  0,
                  std::nullopt};
    const Block& block = drawn->blocks[place.block];
    if (place.place < block.size()) {
      plot.entry = block[place.place];
      plot.incomplete_block = part_at(drawn->part_ends, place);
    } else {
      ++out.fillers;
    }
    out.plots.push_back(plot);
  }
  out.clusters = clusters_of(drawn->blocks, out.ground, places);
  out.parts = drawn->parts;
  return out;
}

}  // namespace ligule::design
