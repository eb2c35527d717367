#include "storage/design/latin_square.h"

#include <array>
#include <cassert>

namespace ligule::design {
namespace {

// How often each entry stands at each row and column: 0 or 1, and -1 at one place while the square
// is improper. Every line of the cube, in each of its three directions, adds up to 1.
class Cube {
 public:
  explicit Cube(std::size_t order) : order_(order), cells_(order * order * order, 0) {
    for (std::size_t row = 0; row < order; ++row)
      for (std::size_t column = 0; column < order; ++column)
        at({row, column, (row + column) % order}) = 1;
  }

  // One step of the walk (Jacobson and Matthews, section 3).
  void move(Draw& draw) {
    const Cell from = proper() ? empty_cell(draw) : improper_;
    Cell to{};
    for (std::size_t axis = 0; axis < 3; ++axis) to[axis] = along(from, axis, draw);
    for (std::size_t corner = 0; corner < 8; ++corner) {
      Cell cell = from;
      int change = 1;
      for (std::size_t axis = 0; axis < 3; ++axis) {
        if (((corner >> axis) & 1U) == 0) continue;
        cell[axis] = to[axis];
        change = -change;
      }
      at(cell) += change;
    }
    improper_ = to;
  }

  [[nodiscard]] bool proper() { return at(improper_) >= 0; }

  [[nodiscard]] std::vector<Block> rows() {
    std::vector<Block> rows(order_, Block(order_));
    for (std::size_t row = 0; row < order_; ++row)
      for (std::size_t column = 0; column < order_; ++column)
        for (std::size_t entry = 0; entry < order_; ++entry)
          if (at({row, column, entry}) == 1) rows[row][column] = entry;
    return rows;
  }

 private:
  using Cell = std::array<std::size_t, 3>;

  int& at(const Cell& cell) { return cells_[(cell[0] * order_ + cell[1]) * order_ + cell[2]]; }

  // A cell that holds nothing, each as likely.
  Cell empty_cell(Draw& draw) {
    for (;;) {
      Cell cell{draw.below(order_), draw.below(order_), draw.below(order_)};
      if (at(cell) == 0) return cell;
    }
  }

  // Where a 1 stands in the line through a cell: the one there is, or one of the two beside a -1.
  std::size_t along(Cell cell, std::size_t axis, Draw& draw) {
    std::vector<std::size_t> places;
    for (std::size_t i = 0; i < order_; ++i) {
      cell[axis] = i;
      if (at(cell) == 1) places.push_back(i);
    }
    return places.size() == 1 ? places.front() : places[draw.below(places.size())];
  }

  std::size_t order_;
  std::vector<int> cells_;
  Cell improper_{0, 0, 0};
};

}  // namespace

std::vector<Block> latin_square(std::size_t order, Draw& draw) {
  assert(order >= 2);
  Cube cube(order);
  // Proper squares are counted, not steps: who took the next proper one after so many steps would
  // prefer squares that long ways through improper ones lead to.
  for (std::size_t proper = 0; proper < order * order * order;) {
    cube.move(draw);
    if (cube.proper()) ++proper;
  }
  const std::vector<Block> walked = cube.rows();
  const auto rows = draw.order_of(order);
  const auto columns = draw.order_of(order);
  const auto entries = draw.order_of(order);
  std::vector<Block> square(order, Block(order));
  for (std::size_t row = 0; row < order; ++row)
    for (std::size_t column = 0; column < order; ++column)
      square[row][column] = entries[walked[rows[row]][columns[column]]];
  return square;
}

}  // namespace ligule::design
