#include "app/screens/measure_pad.h"

#include <algorithm>
#include <cmath>

#include "app/screens/art.h"

namespace ligule::screens {

using touch::Axis;
using touch::Cutter;
using touch::Rect;
using touch::Style;

namespace {

// Scores that have pictures; one a program defines itself does without.
touch::Paint score_picture(std::string_view scale, double share) {
  if (scale == "seedling_vigor") return seedling_picture(share);
  if (scale == "winter_injury") return winter_picture(share);
  if (scale == "lodging") return lodging_picture(share);
  if (scale == "disease") return disease_picture(share);
  return {};
}

// What a choice looks like in the plot; empty where there is no picture for its scale.
touch::Paint picture_of(const flow::MeasureView& measure, const flow::ChoiceView& choice,
                        bool drilled) {
  if (measure.kind == ScaleKind::kPercent) {
    const auto percent = static_cast<int>(std::lround(choice.value));
    return drilled ? stand_picture(percent) : ground_picture(percent);
  }
  if (measure.scale == "maturity_grass") return grass_picture(choice.value);
  if (measure.scale == "maturity_legume") return legume_picture(choice.value);
  if (measure.kind == ScaleKind::kScore && measure.choices.size() > 1) {
    const double low = measure.choices.front().value;
    const double high = measure.choices.back().value;
    return score_picture(measure.scale, (choice.value - low) / (high - low));
  }
  if (measure.kind == ScaleKind::kLength) {
    const double most = measure.choices.back().value;
    return stubble_picture(most > 0 ? choice.value / most : 0);
  }
  return {};
}

struct Pad {
  std::vector<std::string> labels;
  std::vector<touch::Tile> tiles;
};

Pad tiles_of(const Pen& pen, const PadRoom& room, const flow::MeasureView& measure) {
  Pad pad;
  pad.labels.reserve(measure.choices.size());
  for (const flow::ChoiceView& choice : measure.choices)
    pad.labels.push_back((choice.label.empty() ? choice.entered : choice.label) + "##" +
                         choice.entered);
  for (std::size_t n = 0; n < measure.choices.size(); ++n) {
    const flow::ChoiceView& choice = measure.choices[n];
    touch::Tile tile{.label = pad.labels[n], .selected = choice.selected, .enabled = room.enabled};
    if (!choice.word.empty())
      tile.note = measure.own_name.empty() ? pen.words(choice.word) : choice.word;
    tile.paint = picture_of(measure, choice, room.drilled);
    pad.tiles.push_back(std::move(tile));
  }
  return pad;
}

}  // namespace

float widest_word(const touch::Ui& ui, const std::vector<touch::Tile>& tiles) {
  float widest = 0;
  for (const touch::Tile& tile : tiles)
    for (std::size_t from = 0; from < tile.note.size();) {
      const std::size_t end = std::min(tile.note.find(' ', from), tile.note.size());
      widest = std::max(
          widest, touch::text_width(ui, tile.note.substr(from, end - from), touch::Font::kCaption));
      from = end + 1;
    }
  return widest;
}

namespace {

// How many tiles stand side by side so that picture and words of each have the most room. 0: let
// the pad choose.
std::size_t best_columns(const touch::Ui& ui, const Rect& rect, const Pad& pad) {
  const bool words =
      std::ranges::any_of(pad.tiles, [](const touch::Tile& tile) { return !tile.note.empty(); });
  if (!words) return 0;
  const std::size_t n = pad.tiles.size();
  const float gap = ui.gap();
  const float least =
      std::max(std::min(ui.key(), ui.mm(20)), widest_word(ui, pad.tiles) + ui.mm(3.2));
  const float least_height = std::min(ui.key(), ui.mm(20));
  std::size_t best = 0;
  float best_room = 0;
  for (std::size_t columns = 1; columns <= n; ++columns) {
    const auto across = static_cast<float>(columns);
    const std::size_t rows = (n + columns - 1) / columns;
    const auto down = static_cast<float>(rows);
    const float width = (rect.width() - gap * (across - 1)) / across;
    const float height = (rect.height() - gap * (down - 1)) / down;
    if (width < least || height < least_height) continue;
    // Label and note take some 14 mm below the picture.
    const float room = std::min({width * 0.8F, height - ui.mm(14), ui.mm(30)});
    if (room <= best_room) continue;
    best = columns;
    best_room = room;
  }
  return best;
}

std::optional<std::size_t> draw_tiles(const Pen& pen, const Rect& rect, const Pad& pad,
                                      std::size_t columns) {
  touch::Ui& ui = pen.ui;
  if (columns == 0) columns = best_columns(ui, rect, pad);
  return touch::tile_pad(ui, rect, pad.tiles,
                         {.columns = columns, .most_mm = 46, .label_below = true});
}

// Tiles of the usual amounts, and below them one fine step less or more, and Keep.
void draw_amount(const Pen& pen, const PadRoom& room, const flow::MeasureView& measure) {
  touch::Ui& ui = pen.ui;
  const float strip = std::max(ui.mm(20), std::min(ui.key(), room.area.height() / 4));
  // On low glass two rows of plain tiles stand over the strip.
  const float least = 2 * ui.mm(20) + ui.mm(3.2);
  Cutter down(room.area, Axis::kDown,
              std::clamp(room.area.height() - strip - least, ui.mm(3), ui.gap()));
  Cutter low(down.take_end(strip), Axis::kAcross, ui.gap());
  // Between two keys for gloves on narrow glass there is no room beside the number.
  const bool tight = low.rest().width() - ui.mm(26) - 2 * ui.key() - 3 * ui.gap() < ui.mm(30);
  Rect keep = room.spare;
  if (!tight || keep.empty())
    keep = ui.left_handed() ? low.take(ui.mm(26)) : low.take_end(ui.mm(26));
  const std::string_view value =
      measure.typed.empty() ? std::string_view(measure.shown) : std::string_view(measure.typed);
  const Rect place = low.take_rest();
  const int step = touch::stepper(ui, place,
                                  {.label = pen.words("amount.step"),
                                   .less = pen.words("amount.less"),
                                   .more = pen.words("amount.more"),
                                   .value = value,
                                   .unit = measure.unit,
                                   .can_less = room.enabled,
                                   .can_more = room.enabled});
  if (step != 0) pen.send(flow::StepAmount{step});
  touch::Key done{.label = pen.words("amount.keep"),
                  .style = measure.typed.empty() ? Style::kPlain : Style::kAction,
                  .enabled = room.enabled && !measure.typed.empty(),
                  .primary = true};
  if (touch::key(ui, keep, done)) pen.send(flow::KeepAmount{});
  if (measure.choices.empty()) return;
  const Pad pad = tiles_of(pen, room, measure);
  if (const auto n = draw_tiles(pen, down.take_rest(), pad, 0))
    pen.send(flow::ChooseValue{measure.measure, measure.choices[*n].entered});
}

// A ruler from tile to tile with the points between.
touch::Paint single_points_sign() {
  return [](const touch::Canvas& paint, const Rect& room) {
    const touch::Point c = room.centre();
    const float step = paint.sizes().mm(1.7);
    const float foot = c.y + paint.sizes().mm(2.2);
    const float stroke = paint.sizes().mm(0.7);
    constexpr int kEnd = 2;  // steps from the middle
    for (int at = -kEnd; at <= kEnd; ++at) {
      const float x = c.x + static_cast<float>(at) * step;
      const float high = paint.sizes().mm(std::abs(at) == kEnd ? 5.4 : 2.8);
      paint.line({x, foot}, {x, foot - high}, touch::Tone::kInk, stroke);
    }
    const float reach = step * kEnd + stroke / 2;
    paint.line({c.x - reach, foot}, {c.x + reach, foot}, touch::Tone::kInk, stroke);
  };
}

// Four tiles: back to them.
touch::Paint tiles_sign() {
  return [](const touch::Canvas& paint, const Rect& room) {
    const touch::Point c = room.centre();
    const float half = paint.sizes().mm(1.7);
    const float off = paint.sizes().mm(2.3);
    for (const float x : {c.x - off, c.x + off})
      for (const float y : {c.y - off, c.y + off})
        paint.outline({x - half, y - half, x + half, y + half}, touch::Tone::kInk,
                      paint.sizes().mm(0.7), paint.sizes().mm(0.6));
  };
}

void draw_fine_key(const Pen& pen, const PadRoom& room, const flow::MeasureView& measure) {
  if (!measure.can_fine || room.fine.empty()) return;
  const bool within = measure.tens || measure.fine;
  touch::Key key{.label = pen.words(within ? "rate.tiles" : "rate.single_points"),
                 .enabled = room.enabled};
  key.paint = within ? tiles_sign() : single_points_sign();
  key.icon_only = true;
  if (touch::key(pen.ui, room.fine, key)) pen.send(flow::ShowTens{});
}

void draw_gathered(const Pen& pen, const PadRoom& room, const flow::MeasureView& measure,
                   const flow::GatherView& gather) {
  if (measure.pad == flow::PadKind::kShares) return draw_shares_pad(pen, room, measure, gather);
  if (measure.pad == flow::PadKind::kCounts) return draw_counts_pad(pen, room, gather);
  if (measure.pad == flow::PadKind::kCells) return draw_cells_pad(pen, room, gather);
  draw_readings_pad(pen, room, measure, gather);
}

}  // namespace

void draw_measure_pad(const Pen& pen, const PadRoom& room, const flow::MeasureView& measure) {
  if (measure.visits) return draw_visit_pad(pen, room, *measure.visits);
  if (measure.gather) return draw_gathered(pen, room, measure, *measure.gather);
  if (measure.pad == flow::PadKind::kAmount) return draw_amount(pen, room, measure);
  const Pad pad = tiles_of(pen, room, measure);
  draw_fine_key(pen, room, measure);
  // The percent's tiles share their grid with the keys; others choose their own.
  const bool whole_grid = measure.kind == ScaleKind::kPercent && !measure.fine && !measure.tens;
  const Rect& rect = whole_grid ? room.grid : room.area;
  const auto tapped = draw_tiles(pen, rect, pad, whole_grid ? room.columns : 0);
  if (!tapped) return;
  const std::string& entered = measure.choices[*tapped].entered;
  if (measure.tens)
    pen.send(flow::ShowFine{entered});
  else
    pen.send(flow::ChooseValue{measure.measure, entered});
}

}  // namespace ligule::screens
