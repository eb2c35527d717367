// Complete blocks on rows and columns, drawn again in part until no entry clusters.
#pragma once

#include <cstddef>
#include <span>
#include <vector>

#include "storage/design/complete_blocks.h"
#include "storage/design/draw.h"
#include "storage/design/ground.h"

namespace ligule::design {

// How an entry's plots lie to each other, in pairs of plots.
struct Clusters {
  std::size_t side_by_side = 0;   // one touches the other along a side
  std::size_t across_corner = 0;  // at a corner only
  std::size_t in_one_column = 0;  // beyond what the number of columns makes necessary
  std::size_t in_one_row = 0;     // beyond what blocks beside each other make necessary

  bool operator==(const Clusters&) const = default;
  // What is worst first; 0: none of it.
  [[nodiscard]] std::size_t weight() const {
    return 1000 * side_by_side + 30 * across_corner + 10 * (in_one_column + in_one_row);
  }
};

// `blocks` stand on the first places of each block of the ground (what is left are fillers, which
// cluster as they like). places: those of places_of(ground).
[[nodiscard]] Clusters clusters_of(std::span<const Block> blocks, const Ground& ground,
                                   std::span<const GroundPlace> places);

// Restricted randomisation: from complete blocks drawn at random plots of a block are exchanged,
// drawn at random too, wherever that does not make clusters worse, until there are none or (after
// several beginnings) no fewer were found.
//
// What that means for the analysis. Nothing here looks at which entry is which, only at which are
// the same, so every entry is as likely at each place of a block as any other that stands as often
// in it, and every two of those at each two places: in that sense each block stays as random as a
// complete block. An entry that is repeated in each block has places that it comes to more often:
// one that stood twice among seven others, in 4 blocks of 9, had 13 to 36 % of each place's 900
// drawings, where chance alone would give 22. Blocks are not independent of each other: an
// entry's plots lie further apart than chance would put them. Where the ground changes gradually
// means are then more even than the error says that is worked out as for complete blocks: tests ask
// a little too much rather than too little. Such designs are analysed as complete blocks, or by
// rows and columns. On restricted randomisation: F. Yates, "The comparative advantages of
// systematic and randomized arrangements in the design of agricultural and biological experiments",
// Biometrika 30 (1939) 440-466; P. M. Grundy, M. J. R. Healy, "Restricted randomization and
// quasi-Latin squares", JRSS B 12 (1950) 286-291; R. A. Bailey, "Restricted randomization: a
// practical example", JASA 82 (1987) 712-719.
[[nodiscard]] std::vector<Block> spread_blocks(std::span<const int> repeats, const Ground& ground,
                                               Draw& draw);

}  // namespace ligule::design
