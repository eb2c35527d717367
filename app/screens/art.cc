#include "app/screens/art.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <numeric>

#include "app/screens/plant.h"

namespace ligule::screens {
namespace {

using touch::Canvas;
using touch::Rect;
using touch::Tone;

constexpr int kGroundColumns = 20;
constexpr int kGroundRows = 10;
constexpr double kTileMm = 50;         // no tile is wider
constexpr double kLargePieceMm = 0.8;  // of a wider picture's rows
constexpr double kLargePlaceMm = 1.6;  // and ground

// Places 0 .. rows*columns-1 by a chance that is smoothed over near places, highest first: patches
// and gaps hang together as they do in a field. reach: how far places are near, along and across.
std::vector<int> fill_order(int rows, int columns, int along, int across, std::uint32_t lie) {
  std::vector<double> height;
  height.reserve(static_cast<std::size_t>(rows) * static_cast<std::size_t>(columns));
  for (int row = 0; row < rows; ++row) {
    for (int column = 0; column < columns; ++column) {
      double sum = 0;
      for (int dy = -across; dy <= across; ++dy)
        for (int dx = -along; dx <= along; ++dx)
          sum += chance(static_cast<std::uint32_t>(row + dy + 8) + lie,
                        static_cast<std::uint32_t>(column + dx + 8));
      // A little of the place's own, so that edges stay ragged.
      height.push_back(sum + 0.8 * chance(static_cast<std::uint32_t>(row + 77) + lie,
                                          static_cast<std::uint32_t>(column + 77)));
    }
  }
  std::vector<int> order(height.size());
  std::iota(order.begin(), order.end(), 0);
  std::ranges::stable_sort(order, [&](int a, int b) {
    return height[static_cast<std::size_t>(a)] > height[static_cast<std::size_t>(b)];
  });
  return order;
}

std::vector<bool> filled(const std::vector<int>& order, int percent) {
  std::vector<bool> places(order.size(), false);
  const auto share = static_cast<double>(std::clamp(percent, 0, 100)) / 100;
  const auto n = std::lround(share * static_cast<double>(order.size()));
  for (long i = 0; i < n; ++i)
    places[static_cast<std::size_t>(order[static_cast<std::size_t>(i)])] = true;
  return places;
}

// The whole pixels of a picture's room: shares are counted in them.
Rect whole_pixels(const Rect& room) {
  return {std::ceil(room.left), std::ceil(room.top), std::floor(room.right),
          std::floor(room.bottom)};
}

// Where part `n` of `parts` begins between two whole pixels.
float edge(float from, float to, int n, int parts) {
  return from + std::floor((to - from) * static_cast<float>(n) / static_cast<float>(parts));
}

bool is_large(const Canvas& paint, const Rect& room) {
  return room.width() > paint.sizes().mm(kTileMm);
}

// Rows run across from edge to edge; a piece is two pixels long, or as long as a plant is seen
// where the picture is large, all of the same height.
void draw_stand(const Canvas& paint, const Rect& around, int percent, std::uint32_t lie) {
  const Rect room = whole_pixels(around);
  const float piece =
      is_large(paint, room) ? std::max(2.0F, std::round(paint.sizes().mm(kLargePieceMm))) : 2.0F;
  paint.fill(room, Tone::kSunk);
  const int pieces = static_cast<int>(std::floor(room.width() / piece));
  if (pieces < 1) return;
  const StandPattern pattern = stand_pattern(percent, pieces, lie);
  const float lane = room.height() / StandPattern::kRows;
  const float tall = std::max(2.0F, std::floor(lane * 0.6F));
  for (int row = 0; row < StandPattern::kRows; ++row) {
    const float top = std::floor(room.top + lane * (static_cast<float>(row) + 0.5F) - tall / 2);
    // The drill mark runs on where nothing came up.
    const float mark = std::max(1.0F, std::floor(tall * 0.12F));
    const float middle = std::floor(top + (tall - mark) / 2);
    paint.fill({room.left, middle, room.right, middle + mark}, Tone::kLine);
    for (int n = 0; n < pieces; ++n) {
      if (!pattern.at(row, n)) continue;
      // Leaves reach out to one side and leave as much out on the other: the share stays.
      const double swing =
          chance(static_cast<std::uint32_t>(row + 40), static_cast<std::uint32_t>(n)) - 0.5;
      const float lean = std::round(tall * 0.5F * static_cast<float>(swing));
      paint.fill({edge(room.left, room.right, n, pieces), top + lean,
                  edge(room.left, room.right, n + 1, pieces), top + lean + tall},
                 Tone::kDone);
    }
  }
}

struct GroundGrid {
  int columns = kGroundColumns;
  int rows = kGroundRows;
  int reach = 1;
};
// A large picture has patches of the same size, with finer edges.
GroundGrid ground_grid(const Canvas& paint, const Rect& room) {
  if (!is_large(paint, room)) return {};
  const float place = paint.sizes().mm(kLargePlaceMm);
  return {std::max(kGroundColumns, static_cast<int>(room.width() / place)),
          std::max(kGroundRows, static_cast<int>(room.height() / place)), 2};
}

// Places are filled in their order until the picture's pixels, not the places, reach the share:
// where the room does not divide evenly some places are larger than others.
void draw_ground(const Canvas& paint, const Rect& around, int percent, std::uint32_t lie) {
  const Rect room = whole_pixels(around);
  const GroundGrid grid = ground_grid(paint, room);
  const std::vector<int> order = fill_order(grid.rows, grid.columns, grid.reach, grid.reach, lie);
  paint.fill(room, Tone::kSunk);
  const float wanted = room.area() * static_cast<float>(std::clamp(percent, 0, 100)) / 100;
  float covered = 0;
  for (const int n : order) {
    const int column = n % grid.columns;
    const int row = n / grid.columns;
    const Rect place{edge(room.left, room.right, column, grid.columns),
                     edge(room.top, room.bottom, row, grid.rows),
                     edge(room.left, room.right, column + 1, grid.columns),
                     edge(room.top, room.bottom, row + 1, grid.rows)};
    if (covered + place.area() / 2 > wanted) return;
    covered += place.area();
    paint.fill(place, Tone::kDone);
  }
}

// A grass head from y = low up: spikelets left and right of the middle. rise: how steeply they
// stand, 1 close to the stem, less than nothing hanging.
void head(const Plant& plant, double low, double high, double half, Tone tone, double rise = 1) {
  plant.stem(0, low, 0, high, 0.035, tone);
  constexpr int kPairs = 5;
  for (int n = 0; n < kPairs; ++n) {
    const double y = low + (high - low) * (n + 0.4) / kPairs;
    const double w = half * (1.0 - 0.13 * n);
    for (const double side : {-1.0, 1.0})
      plant.blade(0, y, side * w, (high - low) * 0.2 * rise, 0.07, tone);
  }
  plant.lens(0, high - (high - low) * 0.28, high + 0.01, half * 0.3, tone);
}

// What hangs on a head: anthers, or grains that fill.
void trim(const Plant& plant, double low, double high, double half, double index) {
  constexpr int kPairs = 4;
  for (int n = 0; n < kPairs; ++n) {
    const double y = low + (high - low) * (n + 0.75) / (kPairs + 0.6);
    for (const double side : {-1.0, 1.0}) {
      const double x = side * half * (1.15 - 0.16 * n);
      if (index < 3.8) {  // anthers hang out on threads
        plant.stem(x * 0.7, y + 0.02, x * 1.25, y - 0.05, 0.016, Tone::kInk);
        plant.dot(x * 1.25, y - 0.06, 0.05, Tone::kInk);
        plant.dot(x * 1.25, y - 0.06, 0.036, Tone::kAttention);
      } else if (index < 4.2) {
        plant.ring(x, y, 0.05, Tone::kInk);
      } else if (index < 4.6) {
        plant.dot(x, y, 0.054, Tone::kInk);
        plant.dot(x, y, 0.034, Tone::kAttention);
      } else {
        plant.dot(x, y, 0.06, Tone::kInk);
      }
    }
  }
}

void draw_grass(const Canvas& paint, const Rect& room, double index) {
  const Plant plant(paint, room);
  if (index < 2) {  // leaves only
    for (const double reach : {-0.72, -0.36, 0.1, 0.42, 0.76})
      plant.blade(reach * 0.06, 0, reach, 0.52 - 0.18 * std::abs(reach), 0.075);
    return;
  }
  const bool early = index < 2.5;
  const bool boot = index < 3.05;
  // From heading on the head has half the height: what tells those stages apart is there.
  const double top = early ? 0.42 : index < 2.95 ? 0.62 : boot ? 0.66 : 0.4;
  plant.stem(0, 0, 0, top, 0.045);
  plant.blade(0, 0.04, -0.62, 0.3, 0.06);
  plant.blade(0, top * 0.36, 0.6, 0.28, 0.06);
  plant.blade(0, top * 0.66, -0.52, 0.26, 0.055);
  const int nodes = early ? 2 : 3;
  for (int n = 0; n < nodes; ++n) plant.dot(0, top * (0.14 + 0.24 * n), 0.04, Tone::kInk);
  if (index < 2.95) {  // still growing: the youngest leaves stand up
    plant.blade(0, top, 0.3, 0.3, 0.05);
    plant.blade(0, top, -0.12, 0.34, 0.05);
    return;
  }
  if (boot) {  // the sheath swells
    plant.lens(0, top - 0.12, top + 0.26, 0.12, Tone::kDone);
    plant.blade(0, top + 0.14, 0.62, 0.2, 0.055);
    return;
  }
  plant.blade(0, top, 0.58, 0.16, 0.055);  // flag leaf
  if (index < 3.2) {                       // the head's tip, out of a sheath that still holds it
    plant.lens(0, top - 0.16, top + 0.3, 0.16, Tone::kDone);
    head(plant, top + 0.2, top + 0.5, 0.2, Tone::kInk);
    return;
  }
  const bool out = index >= 3.4;  // a stretch of bare stem below the head
  const double low = out ? top + 0.2 : top;
  const double high = out ? 0.99 : top + 0.46;
  plant.stem(0, top, 0, low, 0.03);
  const bool flowered = index > 3.8 && index < 4.0;
  const double half = flowered ? 0.42 : index < 3.6 ? 0.26 : 0.3;
  // Past flowering the branches hang.
  head(plant, low, high, half, index > 4.6 ? Tone::kAttention : Tone::kInk, flowered ? -0.5 : 1);
  if (index > 3.6 && (index < 3.8 || index > 4.0)) trim(plant, low, high, half, index);
}

void trefoil(const Plant& plant, double x, double y, double side, double size) {
  const double tip = x + side * size * 1.7;
  plant.stem(x, y, tip, y + size * 0.5, 0.016);
  for (const auto& [dx, dy] :
       std::array<std::pair<double, double>, 3>{{{0.45, 0.75}, {1.0, 0.35}, {0.35, -0.1}}})
    plant.dot(tip + side * dx * size * 0.9, y + size * 0.5 + (dy - 0.3) * size * 0.8, size * 0.36,
              Tone::kDone);
}

void flower(const Plant& plant, double x, double y) {
  for (int n = 0; n < 5; ++n) {
    const double angle = 1.2566 * n + 0.3;
    plant.dot(x + 0.1 * std::cos(angle), y + 0.05 * std::sin(angle), 0.034, Tone::kInk);
    plant.dot(x + 0.1 * std::cos(angle), y + 0.05 * std::sin(angle), 0.022, Tone::kAttention);
  }
  plant.dot(x, y, 0.022, Tone::kInk);
}

// A pod is a small coil.
void pod(const Plant& plant, double x, double y, bool ripe) {
  if (ripe) {
    plant.dot(x, y, 0.052, Tone::kInk);
    plant.dot(x, y, 0.02, Tone::kCard);
  } else {
    plant.dot(x, y, 0.052, Tone::kDone);
    plant.dot(x, y, 0.03, Tone::kCard);
    plant.dot(x, y, 0.014, Tone::kDone);
  }
}

void draw_legume(const Canvas& paint, const Rect& room, double stage) {
  const Plant plant(paint, room);
  const double height = std::min(0.92, 0.26 + 0.2 * stage);
  const int nodes = std::clamp(static_cast<int>(std::lround(height * 6)), 2, 5);
  plant.stem(0, 0, 0, height, 0.034);
  for (int n = 0; n < nodes; ++n) {
    const double y = height * (n + 0.6) / (nodes + 0.2);
    const double side = n % 2 == 0 ? 1 : -1;
    trefoil(plant, 0, y, side, 0.17);
    if (stage < 2.5) continue;
    // Flowering starts low on the stem: how many nodes carry something tells early from late.
    const bool late = stage == 4 || stage == 6 || stage == 8 || stage > 8.5;
    if (n > (late ? nodes : 1)) continue;
    const double x = -side * 0.26;
    plant.stem(0, y, x, y + 0.06, 0.014);
    if (stage < 4.5)
      plant.lens(x, y + 0.03, y + 0.14, 0.07, Tone::kInk);
    else if (stage < 6.5)
      flower(plant, x, y + 0.09);
    else
      pod(plant, x, y + 0.08, stage > 8.5);
  }
}

void draw_seedlings(const Canvas& paint, const Rect& room, double strength) {
  const Plant plant(paint, room);
  const double rise = 0.16 + 0.7 * strength;
  const int leaves = 2 + static_cast<int>(std::lround(3 * strength));
  for (const double x : {-0.66, 0.0, 0.66})
    for (int n = 0; n < leaves; ++n) {
      const double out = 2.0 * n / (leaves - 1) - 1;
      plant.blade(x + 0.05 * out * strength, 0, out * (0.12 + 0.26 * strength),
                  rise * (1.0 - 0.32 * std::abs(out)), 0.026 + 0.022 * strength);
    }
}

void draw_stubble(const Canvas& paint, const Rect& room, double share) {
  const Plant plant(paint, room);
  const double top = 0.04 + 0.9 * share;
  for (int n = -3; n <= 3; ++n) {
    const double x = 0.22 * n;
    plant.stem(x, 0, x + 0.03 * (n % 2), top - 0.02 * std::abs(n % 3), 0.05);
  }
  plant.stem(-0.86, top, 0.86, top, 0.02, Tone::kInk);  // where the knife went
}

}  // namespace

StandPattern stand_pattern(int percent, int pieces, std::uint32_t lie) {
  const int reach = std::max(1, pieces / 14);  // gaps of a few percent of the row
  return {pieces, filled(fill_order(StandPattern::kRows, pieces, reach, 0, lie), percent)};
}

touch::Paint stand_picture(int percent, std::uint32_t lie) {
  return [percent, lie](const Canvas& paint, const Rect& room) {
    draw_stand(paint, room, percent, lie);
  };
}

touch::Paint ground_picture(int percent, std::uint32_t lie) {
  return [percent, lie](const Canvas& paint, const Rect& room) {
    draw_ground(paint, room, percent, lie);
  };
}

touch::Paint seedling_picture(double strength) {
  return
      [strength](const Canvas& paint, const Rect& room) { draw_seedlings(paint, room, strength); };
}
touch::Paint grass_picture(double index) {
  return [index](const Canvas& paint, const Rect& room) { draw_grass(paint, room, index); };
}
touch::Paint legume_picture(double stage) {
  return [stage](const Canvas& paint, const Rect& room) { draw_legume(paint, room, stage); };
}
touch::Paint stage_picture(std::string_view scale, double value) {
  if (scale == "maturity_grass" || scale == "stage_counts_grass") return grass_picture(value);
  if (scale == "maturity_legume" || scale == "stage_counts_legume") return legume_picture(value);
  return {};
}
touch::Paint stubble_picture(double share) {
  return [share](const Canvas& paint, const Rect& room) { draw_stubble(paint, room, share); };
}

}  // namespace ligule::screens
