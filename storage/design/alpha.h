// Resolvable incomplete blocks: every block holds every entry and is made of smaller ones, within
// which entries are compared on more even ground. Alpha designs: H. D. Patterson, E. R. Williams,
// "A new class of resolvable incomplete block designs", Biometrika 63 (1976) 83-92.
#pragma once

#include <cstddef>
#include <span>
#include <vector>

#include "storage/design/complete_blocks.h"
#include "storage/design/draw.h"

namespace ligule::design {

// A generating array: rows[i][block] is the incomplete block, of `parts` in each block, that the
// first of the i-th group of entries stands in; its n-th stands n further on, modulo `parts`. There
// are `parts` entries in a group and as many groups as an incomplete block has plots.
struct AlphaArray {
  std::size_t parts = 0;
  std::vector<std::vector<std::size_t>> rows;

  // The incomplete blocks of each block; entry group * parts + n. Not randomised.
  [[nodiscard]] std::vector<std::vector<Block>> blocks() const;
  // How far entries share incomplete blocks unevenly: of each two groups, in how many pairs of
  // blocks one meets the same entries of the other again. 0: no two entries ever meet twice.
  [[nodiscard]] std::size_t repeated_meetings() const;
  // efficiency_factor() of blocks(), quickly.
  [[nodiscard]] double efficiency() const;
};

// The best array found by as many trials as take well under a second, each from a drawn one by
// changing one cell at a time to where the fewest entries meet twice: of those with the fewest such
// meetings the one with the highest efficiency factor. parts >= 2, plots >= 2, blocks >= 2.
[[nodiscard]] AlphaArray search_array(std::size_t parts, std::size_t plots, std::size_t blocks,
                                      Draw& draw);

// How many incomplete blocks a block of so many plots is made of when they are to hold `size`
// each, or some of them one less.
[[nodiscard]] std::size_t parts_of(std::size_t plots, std::size_t size);

// The incomplete blocks of each block: entry i stands repeats[i] times in a block, its repeats in
// different incomplete blocks where there is room. `parts` incomplete blocks in each, whose sizes
// differ by one at most. Which entry is which of the array, the order of blocks, of incomplete
// blocks in each and of plots in those are drawn. 2 <= parts <= half of the plots; blocks >= 2.
[[nodiscard]] std::vector<std::vector<Block>> alpha_design(std::span<const int> repeats,
                                                           std::size_t blocks, std::size_t parts,
                                                           Draw& draw);

}  // namespace ligule::design
