// Cuts a rectangle into rows and columns that can't overlap.
//
// A Cutter hands out strips from the start or the end of an area, with a gap between; when nothing
// is left it hands out empty rectangles, and a widget given an empty one draws nothing and reports
// itself in Register::no_room.
#pragma once

#include <cstddef>
#include <vector>

#include "app/platform/geometry.h"

namespace ligule::touch {

using platform::Point;
using platform::Rect;

enum class Axis { kDown, kAcross };

class Cutter {
 public:
  Cutter(const Rect& area, Axis axis, float gap) : rest_(area), axis_(axis), gap_(gap) {}

  // The next strip, so thick, from the top (or left). All of what is left if that is less.
  Rect take(float thickness);
  // The same from the bottom (or right).
  Rect take_end(float thickness);
  // What is left; the cutter is empty afterwards.
  Rect take_rest();
  [[nodiscard]] const Rect& rest() const { return rest_; }
  [[nodiscard]] float left_over() const;  // thickness of the rest, never negative

 private:
  Rect rest_;
  Axis axis_;
  float gap_;
};

// n equal strips side by side (or one under the other).
[[nodiscard]] std::vector<Rect> split(const Rect& area, Axis axis, std::size_t n, float gap);

// A grid of equal cells, row by row.
struct Grid {
  std::size_t columns = 0;
  std::size_t rows = 0;
  float cell_width = 0;
  float cell_height = 0;
  float gap = 0;
  Rect area;  // what the cells really take
  [[nodiscard]] Rect cell(std::size_t n) const;
};

// The grid for n cells in which a cell comes nearest to a square of at least `least` and at most
// `most` pixels a side (a cell may be wider, never lower than `least` unless there is no room).
// Cells keep to the top left; `columns` fixes the number across, 0 lets it choose.
[[nodiscard]] Grid fit_grid(const Rect& area, std::size_t n, float least, float most, float gap,
                            std::size_t columns = 0);

// A rectangle of that size in the middle of an area, never larger than it.
[[nodiscard]] Rect centred(const Rect& area, float width, float height);

}  // namespace ligule::touch
