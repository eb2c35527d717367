// Latin squares: each entry once in each row and once in each column.
#pragma once

#include <cstddef>
#include <vector>

#include "storage/design/complete_blocks.h"
#include "storage/design/draw.h"

namespace ligule::design {

// The rows of a square of `order` entries (2 or more). A walk among all squares of that order, of
// which every one can be reached and none is preferred: M. T. Jacobson, P. Matthews, "Generating
// uniformly distributed random Latin squares", Journal of Combinatorial Designs 4 (1996) 405-437.
// It takes order^3 steps from the cyclic square and goes on to the next square that is proper;
// rows, columns and entries are put in drawn orders besides, so that the square it began with can't
// show. How many steps suffice nobody has proven; tests look at the squares of order 4.
[[nodiscard]] std::vector<Block> latin_square(std::size_t order, Draw& draw);

}  // namespace ligule::design
