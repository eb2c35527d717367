// The pad of one measure: drawn tiles, stages, or an amount.
#pragma once

#include "app/screens/pen.h"

namespace ligule::screens {

struct PadRoom {
  touch::Rect grid;   // of `columns` keys across, the room of the percent's 21 tiles
  touch::Rect area;   // the part that is free for everything else
  touch::Rect spare;  // a cell of the lowest row that nothing stands in; empty: none
  std::size_t columns = 0;
  bool drilled = true;
  bool enabled = true;
};

void draw_measure_pad(const Pen& pen, const PadRoom& room, const flow::MeasureView& measure);

}  // namespace ligule::screens
