// The plot map: true places, one colour ramp, a shape for everything that is no plain value.
#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <functional>

#include "app/screens/review_parts.h"
#include "app/touch/ramp.h"

namespace ligule::screens {

using touch::Align;
using touch::Axis;
using touch::Cutter;
using touch::Font;
using touch::Rect;
using touch::Shape;
using touch::Tone;

namespace {

constexpr double kLeastWidthMm = 14;
constexpr double kLeastHeightMm = 18;
constexpr double kMostWidthMm = 34;
constexpr double kMostHeightMm = 30;
constexpr double kGapMm = 1;
constexpr double kPartMm = 14;  // of the field, under a finger

// The shape of what is no plain value; empty for those.
std::optional<Shape> sign_of(const flow::MapCell& cell) {
  if (cell.odd) return Shape::kQuestioned;
  if (cell.conflict) return Shape::kFlag;
  if (cell.mark == flow::Mark::kKept) return std::nullopt;
  return shape_of(cell.mark);
}

using Colour = std::uint32_t (*)(double share);

// Amounts run one way, changes to both sides of none.
Colour colour_of(const flow::MapView& map) {
  return map.against.empty() ? touch::amount_rgb : touch::change_rgb;
}

// Plot number on top, below it the colour with the value on a chip of card: text on card keeps its
// contrast whatever the colour.
void draw_cell(const Pen& pen, const Rect& rect, const flow::MapCell& cell, Colour colour) {
  touch::Ui& ui = pen.ui;
  const float strip = touch::line_height(ui, Font::kCaption);
  const auto sign = sign_of(cell);
  const auto paint = [&](const touch::Canvas& canvas, const Rect& room) {
    if (!cell.share) return;
    canvas.fill_rgb({room.left, rect.top + strip, room.right, room.bottom}, colour(*cell.share));
  };
  const touch::Key key{
      .label = cell.plot, .paint = std::cref(paint), .halo = ui.mm(kGapMm / 2), .icon_only = true};
  if (touch::key(ui, rect, key)) pen.send(flow::ShowHistory{cell.plot});
  const Rect inner = rect.grown(-ui.mm(0.8));
  touch::text(
      ui, {inner.left, rect.top, inner.right, rect.top + strip},
      {.text = cell.plot, .font = Font::kCaption, .across = Align::kMiddle, .in_key = true});
  Rect low{inner.left, rect.top + strip + ui.mm(0.6), inner.right, inner.bottom};
  if (sign) {
    const float side = std::min(ui.mm(5), low.height() * 0.5F);
    const Rect place = cell.shown.empty() ? touch::centred(low, std::min(ui.mm(8), low.height()),
                                                           std::min(ui.mm(8), low.height()))
                                          : Rect{low.centre().x - side / 2, low.top,
                                                 low.centre().x + side / 2, low.top + side};
    if (!cell.shown.empty()) {
      // A ground of card under the sign: its colours are made for that.
      ui.canvas().fill(place.grown(ui.mm(0.5)), Tone::kCard, ui.mm(1));
      low.top = place.bottom + ui.mm(0.6);
    }
    ui.canvas().shape(*sign, place);
  }
  if (cell.shown.empty()) return;
  const std::string shown = shown_code(pen, cell.shown);
  // A value that has no room stands in the size below.
  for (const Font font : {Font::kStrong, Font::kCaption}) {
    const float width = touch::text_width(ui, shown, font) + ui.mm(1.6);
    const float height = touch::line_height(ui, font);
    if (width > low.width() || height > low.height() + ui.mm(0.6)) continue;
    const Rect chip = touch::centred(low, width, std::min(height, low.height()));
    ui.canvas().fill(chip, Tone::kCard, ui.mm(1));
    touch::text(ui, chip, {.text = shown, .font = font, .across = Align::kMiddle});
    return;
  }
}

struct MapGrid {
  float width = 0;
  float height = 0;
  float gap = 0;
};

MapGrid grid_of(const Pen& pen, const Rect& rect, const flow::MapView& map) {
  const touch::Ui& ui = pen.ui;
  MapGrid grid;
  grid.gap = ui.mm(kGapMm);
  const auto fit = [&](float room, int n, double least, double most) {
    const float each = (room - grid.gap * static_cast<float>(n - 1)) / static_cast<float>(n);
    return std::clamp(each, ui.mm(least), ui.mm(most));
  };
  // A cell is as wide as its number and its value: many columns are dragged, not left without.
  const Font font = ui.look().large_text ? Font::kCaption : Font::kStrong;
  float widest = ui.mm(kLeastWidthMm);
  for (const flow::MapCell& cell : map.cells)
    widest =
        std::max({widest, touch::text_width(ui, shown_code(pen, cell.shown), font) + ui.mm(3.4),
                  touch::text_width(ui, cell.plot, Font::kCaption) + ui.mm(2)});
  // The bar that shows how far one scrolled needs its room.
  grid.width = std::max(
      widest, fit(rect.width() - ui.mm(3), std::max(1, map.columns), kLeastWidthMm, kMostWidthMm));
  grid.height = fit(rect.height(), std::max(1, map.rows), kLeastHeightMm, kMostHeightMm);
  return grid;
}

}  // namespace

bool map_scrolls(const Pen& pen, const Rect& rect, const flow::MapView& map) {
  const MapGrid grid = grid_of(pen, rect, map);
  const auto reach = [&](float each, int n) {
    return static_cast<float>(n) * (each + grid.gap) - grid.gap;
  };
  return reach(grid.width, map.columns) + pen.ui.mm(3) > rect.width() + 1 ||
         reach(grid.height, map.rows) > rect.height() + 1;
}

void draw_map(const Pen& pen, const Rect& rect, const flow::MapView& map) {
  touch::Ui& ui = pen.ui;
  auto group = ui.group("Map");
  const MapGrid grid = grid_of(pen, rect, map);
  const float width = static_cast<float>(map.columns) * (grid.width + grid.gap) - grid.gap;
  auto sideways = ui.scroll("map across", rect, Axis::kAcross);
  const float left = sideways.area().left;
  const float right = left + std::max(rect.width(), width + ui.mm(3));
  {
    auto down = ui.scroll("map down", {left, rect.top, right, rect.bottom});
    const float top = down.area().top;
    for (const flow::MapCell& cell : map.cells) {
      const float x = left + static_cast<float>(cell.column - 1) * (grid.width + grid.gap);
      const float y = top + static_cast<float>(cell.row - 1) * (grid.height + grid.gap);
      draw_cell(pen, {x, y, x + grid.width, y + grid.height}, cell, colour_of(map));
    }
  }
  ui.reach({left + width, rect.top});
}

namespace {

// Where plots lie when all of them are seen at once.
Rect small_place(const Rect& field, const flow::MapView& map, int row, int column) {
  const float width = field.width() / static_cast<float>(std::max(1, map.columns));
  const float height = field.height() / static_cast<float>(std::max(1, map.rows));
  const float left = field.left + static_cast<float>(column - 1) * width;
  const float top = field.top + static_cast<float>(row - 1) * height;
  return {left, top, left + width, top + height};
}

void draw_small_cell(const Pen& pen, const Rect& place, const flow::MapCell& cell, Colour colour) {
  touch::Ui& ui = pen.ui;
  const Rect face = place.grown(-std::min(ui.mm(kGapMm / 2), place.width() * 0.1F));
  if (cell.share)
    ui.canvas().fill_rgb(face, colour(*cell.share));
  else
    ui.canvas().fill(face, Tone::kCard, ui.mm(0.6));
  ui.canvas().outline(face, Tone::kLine, ui.sizes().border(), ui.mm(0.6));
  const Rect inner = face.grown(-ui.mm(0.4));
  if (const auto sign = sign_of(cell)) {
    const float side = std::min({ui.mm(5), inner.width(), inner.height()});
    const Rect middle = touch::centred(inner, side, side);
    if (cell.share) ui.canvas().fill(middle, Tone::kCard, side / 2);
    ui.canvas().shape(*sign, middle);
    return;
  }
  if (cell.shown.empty()) return;
  const std::string shown = shown_code(pen, cell.shown);
  const float width = touch::text_width(ui, shown, Font::kCaption) + ui.mm(0.8);
  const float height = touch::line_height(ui, Font::kCaption);
  if (width > inner.width() || height > inner.height()) return;
  const Rect chip = touch::centred(inner, width, height);
  ui.canvas().fill(chip, Tone::kCard, ui.mm(1));
  touch::text(ui, chip,
              {.text = shown, .font = Font::kCaption, .across = Align::kMiddle, .in_key = true});
}

const flow::MapCell* cell_at(const flow::MapView& map, int row, int column) {
  const auto at = std::ranges::find_if(map.cells, [&](const flow::MapCell& cell) {
    return cell.row == row && cell.column == column;
  });
  return at == map.cells.end() ? nullptr : &*at;
}

// The first and the last number of every row, beside it: where one is.
void draw_row_ends(const Pen& pen, const Rect& rect, const Rect& field, const flow::MapView& map) {
  touch::Ui& ui = pen.ui;
  const float high = touch::line_height(ui, Font::kCaption);
  for (int row = 1; row <= map.rows; ++row) {
    const Rect place = small_place(field, map, row, 1);
    const float top = place.centre().y - high / 2;
    if (high > place.height()) return;
    if (const auto* first = cell_at(map, row, 1))
      touch::text(ui, {rect.left, top, field.left - ui.mm(0.8), top + high},
                  {.text = first->plot, .font = Font::kCaption, .across = Align::kEnd});
    if (const auto* last = cell_at(map, row, map.columns))
      touch::text(ui, {field.right + ui.mm(0.8), top, rect.right, top + high},
                  {.text = last->plot, .font = Font::kCaption});
  }
}

// How many parts of kPartMm at least a field of n plots has along one side, none of them cutting a
// plot.
int parts_along(const touch::Ui& ui, float length, int n) {
  if (n < 1) return 1;
  const float plot = length / static_cast<float>(n);
  const auto least = std::max(1, static_cast<int>(std::ceil(ui.mm(kPartMm) / plot)));
  return std::max(1, n / least);
}

// Plots are smaller than a finger: what is tapped is a part of the field, and the map then shows
// it.
void take_parts(const Pen& pen, const Rect& rect, const Rect& field, const flow::MapView& map) {
  touch::Ui& ui = pen.ui;
  const int across = parts_along(ui, field.width(), map.columns);
  const int down = parts_along(ui, field.height(), map.rows);
  const MapGrid grid = grid_of(pen, rect, map);
  const auto start = [&](float each, int n) {
    return static_cast<float>(n - 1) * (each + grid.gap);
  };
  for (int part = 0; part < across * down; ++part) {
    const int x = part % across;
    const int y = part / across;
    const int top = map.rows * y / down + 1;
    const int left = map.columns * x / across + 1;
    const int bottom = map.rows * (y + 1) / down;
    const int right = map.columns * (x + 1) / across;
    const Rect from = small_place(field, map, top, left);
    const Rect to = small_place(field, map, bottom, right);
    const std::string name = std::to_string(top) + "/" + std::to_string(left);
    if (!touch::patch(ui, {from.left, from.top, to.right, to.bottom}, name)) continue;
    pen.scratch.whole_map = false;
    ui.scroll_to("map across", start(grid.width, left), start(grid.width, right + 1));
    ui.scroll_to("map down", start(grid.height, top), start(grid.height, bottom + 1));
  }
}

}  // namespace

void draw_whole_map(const Pen& pen, const Rect& rect, const flow::MapView& map) {
  touch::Ui& ui = pen.ui;
  auto group = ui.group("Whole trial");
  float ends = 0;
  for (const flow::MapCell& cell : map.cells)
    ends = std::max(ends, touch::text_width(ui, cell.plot, Font::kCaption) + ui.mm(1.2));
  Rect field{rect.left + ends, rect.top, rect.right - ends, rect.bottom};
  const float most = ui.mm(kMostHeightMm) * static_cast<float>(map.rows);
  field.bottom = std::min(field.bottom, field.top + most);
  for (const flow::MapCell& cell : map.cells)
    draw_small_cell(pen, small_place(field, map, cell.row, cell.column), cell, colour_of(map));
  draw_row_ends(pen, rect, field, map);
  take_parts(pen, rect, field, map);
}

namespace {

std::string tick_of(const flow::MapView& map, const flow::LegendStep& step) {
  return map.unit.empty() ? step.text : step.text + "\xC2\xA0" + map.unit;
}

void draw_ramp(const Pen& pen, const Rect& rect, const flow::MapView& map) {
  touch::Ui& ui = pen.ui;
  constexpr int kPieces = 40;
  const float bar = ui.mm(5);
  for (int n = 0; n < kPieces; ++n) {
    const float step = rect.width() / kPieces;
    const float x = rect.left + step * static_cast<float>(n);
    ui.canvas().fill_rgb({x, rect.top, x + step + 1, rect.top + bar},
                         colour_of(map)((n + 0.5) / kPieces));
  }
  ui.canvas().outline({rect.left, rect.top, rect.right, rect.top + bar}, Tone::kLine,
                      ui.sizes().border());
  const float high = touch::line_height(ui, Font::kCaption);
  const Rect ticks{rect.left, rect.top + bar, rect.right, rect.top + bar + high};
  const float third = rect.width() / 3;
  for (const flow::LegendStep& step : map.legend) {
    const std::string text = tick_of(map, step);
    // Ends stand at the ends, the middle in the middle.
    Rect place = ticks;
    Align across = Align::kMiddle;
    if (step.share <= 0) {
      place.right = place.left + third;
      across = Align::kStart;
    } else if (step.share >= 1) {
      place.left = place.right - third;
      across = Align::kEnd;
    } else {
      place.left += third;
      place.right -= third;
    }
    touch::text(ui, place, {.text = text, .font = Font::kCaption, .across = across});
  }
}

// A shape that stands on the map, its word, and where the two go below the legend's start.
struct Sign {
  Shape shape;
  std::string_view word;
  Rect place;
};

float sign_side(const touch::Ui& ui) {
  return ui.mm(5);
}

// Only shapes that stand on this map, in lines of the width.
std::vector<Sign> signs_of(const Pen& pen, const flow::MapView& map, float width) {
  touch::Ui& ui = pen.ui;
  const float line = touch::line_height(ui, Font::kCaption);
  std::vector<Sign> signs;
  float left = 0;
  float top = 0;
  for (const flow::MapCell& cell : map.cells) {
    const auto shape = sign_of(cell);
    if (!shape) continue;
    const std::string mark = "mark." + std::string(flow::name_of(cell.mark));
    std::string_view word = cell.conflict ? pen.words("review.conflict") : pen.words(mark);
    if (cell.odd) word = pen.words("review.odd");
    if (std::ranges::find(signs, word, &Sign::word) != signs.end()) continue;
    const float wide = sign_side(ui) + ui.mm(1.5) + touch::text_width(ui, word, Font::kCaption) + 1;
    if (left > 0 && left + wide > width) {
      left = 0;
      top += line + ui.mm(1);
    }
    signs.push_back({*shape, word, {left, top, left + wide, top + line}});
    left += wide + ui.mm(5);
  }
  return signs;
}

float ramp_height(const touch::Ui& ui) {
  return ui.mm(5) + touch::line_height(ui, Font::kCaption);
}

}  // namespace

float legend_width(const Pen& pen, const flow::MapView& map) {
  float widest = 0;
  for (const flow::LegendStep& step : map.legend)
    widest = std::max(widest, touch::text_width(pen.ui, tick_of(map, step), Font::kCaption) + 1);
  float signs = 0;
  for (const Sign& sign : signs_of(pen, map, 0)) signs = std::max(signs, sign.place.width());
  return std::max(3 * widest, signs);
}

float legend_height(const Pen& pen, const flow::MapView& map, float width) {
  const auto signs = signs_of(pen, map, width);
  const float words = signs.empty() ? 0 : signs.back().place.bottom;
  // What can't be ordered has no ramp, and the map takes its room.
  const float ramp = map.legend.empty() ? 0 : ramp_height(pen.ui);
  return ramp + pen.ui.mm(2) + words;
}

void draw_legend(const Pen& pen, const Rect& rect, const flow::MapView& map) {
  touch::Ui& ui = pen.ui;
  auto group = ui.group("Legend");
  Cutter down(rect, Axis::kDown, ui.mm(1));
  if (!map.legend.empty()) draw_ramp(pen, down.take(ramp_height(ui)), map);
  const Rect words = down.take_rest();
  const float side = sign_side(ui);
  for (const Sign& sign : signs_of(pen, map, words.width())) {
    const float x = words.left + sign.place.left;
    const float y = words.top + sign.place.top;
    ui.canvas().shape(sign.shape, {x, y, x + side, y + side});
    touch::text(
        ui,
        {x + side + ui.mm(1.5), y, words.left + sign.place.right, words.top + sign.place.bottom},
        {.text = sign.word, .font = Font::kCaption});
  }
}

}  // namespace ligule::screens
