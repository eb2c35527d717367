// The pictures on the tiles of a pad, drawn by code: what a number or a stage looks like in a plot.
//
// Each gives a paint for touch::Tile. They use tones of the theme only, fill their own ground, and
// draw the same picture every time: chance comes from a fixed seed.
#pragma once

#include <cstdint>
#include <string_view>
#include <vector>

#include "app/touch/key.h"

namespace ligule::screens {

// Drill rows seen from above, filled to a whole percent (0 to 100, others are held to the ends).
// A higher percent fills the gaps of the lower one, so that neighbours differ only by what was
// added. lie: where the gaps are, of stands that are to look different; the pads' is 0. A picture
// wider than a tile is drawn finer.
[[nodiscard]] touch::Paint stand_picture(int percent, std::uint32_t lie = 0);

// The same of a broadcast plot: ground covered in patches.
[[nodiscard]] touch::Paint ground_picture(int percent, std::uint32_t lie = 0);

// Where the plants of stand_picture() stand, for drawing and for counting: kRows drill rows of
// `pieces` pieces each, row by row; `true` is filled. The share is as near to percent as pieces
// allow. Lower percents of the same pieces are part of it.
struct StandPattern {
  static constexpr int kRows = 5;
  int pieces = 0;
  std::vector<bool> filled;
  [[nodiscard]] bool at(int row, int piece) const {
    return filled[static_cast<std::size_t>(row) * static_cast<std::size_t>(pieces) +
                  static_cast<std::size_t>(piece)];
  }
};
[[nodiscard]] StandPattern stand_pattern(int percent, int pieces, std::uint32_t lie = 0);

// Three seedlings from the side; strength 0 the weakest to 1 the strongest.
[[nodiscard]] touch::Paint seedling_picture(double strength);

// A tiller at a stage of the grass scale (its index, 1 to 5), a stem at a stage of the legume scale
// (0 to 9).
[[nodiscard]] touch::Paint grass_picture(double index);
[[nodiscard]] touch::Paint legume_picture(double stage);

// What a score from 0, nothing, to 1, the worst, looks like: plants after a winter, a stand that
// leans, a leaf with its spots.
[[nodiscard]] touch::Paint winter_picture(double injury);
[[nodiscard]] touch::Paint lodging_picture(double share);
[[nodiscard]] touch::Paint disease_picture(double share);

// A cell of a frame from above: a plant in it, or bare ground.
[[nodiscard]] touch::Paint cell_picture(bool held);

// A stage of a scale, told or counted, by its place on it; nothing for a scale without pictures.
[[nodiscard]] touch::Paint stage_picture(std::string_view scale, double value);

// Cut stems on the ground, as high as share (0 to 1) of the picture.
[[nodiscard]] touch::Paint stubble_picture(double share);

}  // namespace ligule::screens
