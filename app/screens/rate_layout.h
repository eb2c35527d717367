// Where the parts of the rating card stand. Only rectangles: four compositions, chosen by the room
// in millimetres that the largest pad (21 tiles of full key size) leaves, and two for gloves on
// glass that has no room for it: there the percent's tiles come in halves.
#pragma once

#include "app/touch/touch.h"

namespace ligule::screens {

// Percent in steps of five: the largest pad.
inline constexpr std::size_t kPercentTiles = 21;

struct RateLayout {
  bool roomy = false;       // card with rows, stakes and a heading for the pad; else dense chips
  std::size_t columns = 0;  // of the grid of keys that the pad and the three keys share
  std::size_t rows = 0;     // of the pad in halves, which shares with none; 0: it is whole
  touch::Rect back;
  touch::Rect plot;  // the number and its place
  touch::Rect hand;  // who holds the tablet
  touch::Rect lock;
  touch::Rect status;  // clock and what is being saved; empty: none
  touch::Rect lane;
  touch::Rect measures;             // the card's rows or chips
  std::size_t measure_columns = 1;  // 0: dense chips, side by side
  bool stacked = false;             // dense chips, one under the other
  touch::Rect where;                // trial and rating; empty: beside the number or the heading
  touch::Rect heading;              // of the pad; empty: none
  touch::Rect pad;  // whole grid, with the cells the three keys take where those lie inside it
  touch::Rect pad_above_keys;  // the part for pads that are no grid of tiles
  touch::Rect note, take_back, later;
  touch::Rect spare;  // for what a pad has beside its keys; empty: what the three keys leave
  // For two small keys of a pad, one under the other; empty: it has none.
  touch::Rect aside;
  // For what a square pad says, and the two keys of a frame; empty: another composition.
  touch::Rect strip;
  touch::Rect fine;    // the key to a percent's single points; empty: its chip does that
  touch::Rect notice;  // where a refusal shows
};

// While a square of that many keys a side is tapped, a frame's cells or digits: as large as the
// glass leaves (square_layout.cc).
inline constexpr std::size_t kFrameSide = 5;
inline constexpr std::size_t kDigitsSide = 4;
[[nodiscard]] RateLayout square_layout(const touch::Ui& ui, std::size_t keys);

[[nodiscard]] RateLayout rate_layout(const touch::Ui& ui, std::size_t measures);

}  // namespace ligule::screens
