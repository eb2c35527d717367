// What incomplete blocks cost: how much of the information that complete blocks of the same plots
// and the same error would give is left within them.
#pragma once

#include <cstddef>
#include <span>
#include <vector>

#include "storage/design/complete_blocks.h"

namespace ligule::design {

// The average efficiency factor of a design: the harmonic mean of its canonical efficiency factors,
// the eigenvalues but the one of 0 of R^-1/2 (R - N K^-1 N') R^-1/2, where N says how often entry i
// stands in block j, R how often entry i stands at all and K how large block j is. Complete blocks
// have 1; 0: some entries can't be compared within blocks. Source: J. A. John, E. R. Williams,
// Cyclic and Computer Generated Designs, 2nd ed. 1995, chapters 1 and 2.
// Every entry 0 to entries - 1 stands in some block; entries >= 2.
[[nodiscard]] double efficiency_factor(std::span<const Block> blocks, std::size_t entries);

// What no design of so many entries reaches whose `blocks` complete blocks are of `parts`
// incomplete ones each: (v-1)(r-1) / ((v-1)(r-1) + r(s-1)). Source: H. D. Patterson, E. R.
// Williams, "A new class of resolvable incomplete block designs", Biometrika 63 (1976) 83-92.
// Square lattices reach it. Of incomplete blocks of one size and entries that are not repeated; a
// search for arrays stops at it.
[[nodiscard]] double efficiency_bound(std::size_t entries, std::size_t blocks, std::size_t parts);

// The like where entry i stands repeats[i] times in each complete block, and sizes of incomplete
// blocks differ by one at most. Ours, by the argument of the other: blocks being complete, no more
// than r(s-1) factors are below 1; their sum follows from the diagonal, which is largest where no
// entry stands twice in an incomplete block and repeated ones stand in the smaller blocks; and a
// harmonic mean is no higher than the plain one. It is the other's where nothing is repeated, of
// whatever sizes, unless v - 1 < r(s-1): then it is lower. At least two entries; 1 at most.
[[nodiscard]] double efficiency_bound(std::span<const int> repeats, std::size_t blocks,
                                      std::size_t parts);

// A square matrix by rows.
struct Matrix {
  explicit Matrix(std::size_t rows) : size(rows), cells(rows * rows, 0.0) {}
  [[nodiscard]] double& at(std::size_t row, std::size_t column) {
    return cells[row * size + column];
  }

  std::size_t size;
  std::vector<double> cells;
};
// The sum of the diagonal of the inverse of a symmetric matrix without negative eigenvalues; 0
// where it has none. Written out, plainly, because a design is chosen by it: a library adds in an
// order that is the processor's, and a seed must choose the same design on every machine.
[[nodiscard]] double trace_of_inverse(Matrix matrix);

}  // namespace ligule::design
