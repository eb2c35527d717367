// The ground a trial lies on: blocks as rectangles of plots, and how plots are numbered and walked.
#pragma once

#include <cstddef>
#include <vector>

namespace ligule::design {

// As one stands in front of the field: row 1 is the nearest, column 1 the leftmost.
enum class Corner { kFrontLeft, kFrontRight, kBackLeft, kBackRight };
// Which way the numbers run first.
enum class Along { kRows, kColumns };

struct Ground {
  std::size_t blocks = 0;
  std::size_t plots = 0;  // of each block, as many as are to be sown
  // How wide a block is; 0: all its plots in one row.
  std::size_t plots_per_row = 0;
  // How many blocks lie beside each other before the next ones lie behind them.
  std::size_t blocks_beside = 1;
  Corner start = Corner::kFrontLeft;
  Along along = Along::kRows;
  // Every other row (column) of the field is numbered backwards, as people and machines go.
  bool serpentine = true;

  [[nodiscard]] std::size_t width() const;  // of a block, plots
  [[nodiscard]] std::size_t depth() const;  // of a block, rows
  // Places of a block with those that are left to fill its rectangle.
  [[nodiscard]] std::size_t places() const { return width() * depth(); }
  [[nodiscard]] std::size_t rows() const;     // of the field
  [[nodiscard]] std::size_t columns() const;  // of the field
};

struct GroundPlace {
  std::size_t block = 0;  // from 0
  std::size_t place = 0;  // within its block, from 0
  int row = 0;            // of the field, from 1
  int column = 0;

  bool operator==(const GroundPlace&) const = default;
  // 101, 102 ... 201; with more than 99 places in a block 1001, 1002 ... 2001.
  [[nodiscard]] std::size_t number(std::size_t places) const;
};

// Every place in the order of the numbers, which is the plot path: block by block from the start
// corner, and within a block row by row (column by column). Whether a row runs backwards depends on
// how many rows of the field lie before it, so that the path goes on from block to block.
[[nodiscard]] std::vector<GroundPlace> places_of(const Ground& ground);

}  // namespace ligule::design
