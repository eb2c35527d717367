// Where the parts of the rating card stand. Only rectangles: four compositions, chosen by the room
// in millimetres that the largest pad (21 tiles of full key size) leaves.
#pragma once

#include "app/touch/touch.h"

namespace ligule::screens {

struct RateLayout {
  bool roomy = false;       // card with rows, stakes and a heading for the pad; else dense chips
  std::size_t columns = 0;  // of the grid of keys that the pad and the three keys share
  touch::Rect back;
  touch::Rect plot;  // the number and its place
  touch::Rect hand;  // who holds the tablet
  touch::Rect lock;
  touch::Rect status;  // clock and what is being saved; empty: none
  touch::Rect lane;
  touch::Rect measures;  // the card's rows or chips
  std::size_t measure_columns = 1;
  touch::Rect heading;  // of the pad; empty: none
  touch::Rect pad;      // whole grid, with the cells the three keys take where those lie inside it
  touch::Rect pad_above_keys;  // the part for pads that are no grid of tiles
  touch::Rect note, take_back, later;
  touch::Rect fine;    // the key to a percent's single points; empty: its chip does that
  touch::Rect notice;  // where a refusal shows
};

[[nodiscard]] RateLayout rate_layout(const touch::Ui& ui, std::size_t measures);

}  // namespace ligule::screens
