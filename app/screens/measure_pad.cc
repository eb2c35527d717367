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
touch::Paint picture_of(const ChoiceScale& scale, std::span<const flow::ChoiceView> choices,
                        const flow::ChoiceView& choice) {
  if (scale.kind == ScaleKind::kPercent) {
    // Ground that is green would stand for what is gone.
    if (scale.code == "percent_removed") return {};
    const auto percent = static_cast<int>(std::lround(choice.value));
    const bool rows = scale.drilled && scale.code == "percent_stand";
    return rows ? stand_picture(percent) : ground_picture(percent);
  }
  if (scale.kind == ScaleKind::kStages) return stage_picture(scale.code, choice.value);
  if (scale.kind == ScaleKind::kScore && choices.size() > 1) {
    const double low = choices.front().value;
    const double high = choices.back().value;
    return score_picture(scale.code, (choice.value - low) / (high - low));
  }
  if (scale.kind == ScaleKind::kLength) {
    const double most = choices.back().value;
    return stubble_picture(most > 0 ? choice.value / most : 0);
  }
  return {};
}

}  // namespace

ChoiceTiles choice_tiles(const Pen& pen, const ChoiceScale& scale,
                         std::span<const flow::ChoiceView> choices) {
  ChoiceTiles pad;
  pad.labels.reserve(choices.size());
  for (const flow::ChoiceView& choice : choices)
    pad.labels.push_back(choice.label.empty() ? code_label(pen, choice.entered)
                                              : choice.label + "##" + choice.entered);
  for (std::size_t n = 0; n < choices.size(); ++n) {
    const flow::ChoiceView& choice = choices[n];
    touch::Tile tile{.label = pad.labels[n], .selected = choice.selected, .enabled = scale.enabled};
    if (!choice.word.empty())
      tile.note = scale.own_words ? std::string_view(choice.word) : pen.words(choice.word);
    if (!scale.plain) tile.paint = picture_of(scale, choices, choice);
    pad.tiles.push_back(std::move(tile));
  }
  return pad;
}

namespace {

ChoiceTiles tiles_of(const Pen& pen, const PadRoom& room, const flow::MeasureView& measure) {
  const ChoiceScale scale{measure.kind, measure.scale, !measure.own_name.empty(),
                          room.drilled, room.enabled,  room.plain};
  return choice_tiles(pen, scale, measure.choices);
}

}  // namespace

void draw_step_keys(const Pen& pen, const Rect& less, const Rect& more, bool enabled) {
  auto group = pen.ui.group(pen.words("amount.step"));
  const auto step = [&](const Rect& rect, std::string_view word, int by) {
    touch::Key key{.label = pen.words(word), .enabled = enabled, .icon_only = true};
    key.paint = touch::step_sign(by > 0);
    if (touch::key(pen.ui, rect, key)) pen.send(flow::StepAmount{by});
  };
  step(less, "amount.less", -1);
  step(more, "amount.more", 1);
}

float widest_word(const touch::Ui& ui, std::span<const touch::Tile> tiles) {
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

std::size_t best_columns(const touch::Ui& ui, const Rect& rect,
                         std::span<const touch::Tile> tiles) {
  const bool words =
      std::ranges::any_of(tiles, [](const touch::Tile& tile) { return !tile.note.empty(); });
  if (!words) return 0;
  const std::size_t n = tiles.size();
  const float gap = ui.gap();
  const float least = std::max(ui.key(), widest_word(ui, tiles) + ui.mm(3.2));
  const float least_height = ui.key();
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

namespace {

std::optional<std::size_t> draw_tiles(const Pen& pen, const Rect& rect, const ChoiceTiles& pad,
                                      std::size_t columns, std::size_t rows = 0) {
  touch::Ui& ui = pen.ui;
  auto one_size = ui.same_size("tiles");
  if (columns == 0) columns = best_columns(ui, rect, pad.tiles);
  return touch::tile_pad(ui, rect, pad.tiles,
                         {.columns = columns, .rows = rows, .most_mm = 46, .label_below = true});
}

// The value with its unit, in the middle of a room.
void draw_large_value(const Pen& pen, const Rect& rect, std::string_view value,
                      std::string_view unit) {
  touch::Ui& ui = pen.ui;
  ui.canvas().fill(rect, touch::Tone::kSunk, ui.mm(2.4));
  const float number = touch::text_width(ui, value, touch::Font::kValue) + 1;
  const float words = touch::text_width(ui, unit, touch::Font::kBody);
  const float from = std::max(rect.left, rect.centre().x - (number + ui.mm(1.8) + words) / 2);
  touch::text(ui, {from, rect.top, std::min(rect.right, from + number), rect.bottom},
              {.text = value, .font = touch::Font::kValue, .value = true});
  if (!unit.empty())
    line(pen, {from + number + ui.mm(1.8), rect.top, rect.right, rect.bottom}, unit);
}

void draw_keep_amount(const Pen& pen, const PadRoom& room, const Rect& rect,
                      const flow::MeasureView& measure) {
  const bool typed = !measure.typed.empty();
  const touch::Key done{.label = pen.words("amount.keep"),
                        .style = typed ? Style::kAction : Style::kPlain,
                        .enabled = room.enabled && typed};
  if (touch::key(pen.ui, rect, done)) pen.send(flow::KeepAmount{});
}

void draw_amounts(const Pen& pen, const PadRoom& room, const Rect& rect,
                  const flow::MeasureView& measure, std::size_t columns = 0, std::size_t rows = 0) {
  if (measure.choices.empty()) return;
  const ChoiceTiles pad = tiles_of(pen, room, measure);
  if (const auto n = draw_tiles(pen, rect, pad, columns, rows))
    pen.send(flow::ChooseValue{measure.measure, measure.choices[*n].entered});
}

std::string_view amount_of(const flow::MeasureView& measure) {
  return measure.typed.empty() ? std::string_view(measure.shown) : std::string_view(measure.typed);
}

// Small glass and gloves, upright: every cell of the pad is a usual amount; the number and Keep
// stand above it, the fine steps beside.
void draw_amount_beside(const Pen& pen, const PadRoom& room, const flow::MeasureView& measure) {
  touch::Ui& ui = pen.ui;
  Cutter above(room.spare, Axis::kAcross, ui.gap());
  const float width = ui.mm(30);
  draw_keep_amount(pen, room, ui.left_handed() ? above.take(width) : above.take_end(width),
                   measure);
  draw_large_value(pen, above.take_rest(), amount_of(measure), measure.unit);
  draw_amounts(pen, room, room.area, measure);
  const auto steps = touch::split(room.aside, Axis::kDown, 2, close_gap(ui));
  draw_step_keys(pen, steps.back(), steps.front(), room.enabled);
}

// The same held wide: the fine steps have the last cells of the pad, the number between them.
void draw_amount_cells(const Pen& pen, const PadRoom& room, const flow::MeasureView& measure) {
  touch::Ui& ui = pen.ui;
  draw_keep_amount(pen, room, room.spare, measure);
  draw_amounts(pen, room, room.area, measure, room.columns, room.rows);
  const std::size_t cells = room.columns * room.rows;
  const touch::Grid grid =
      touch::fit_grid(room.area, cells, ui.key(), ui.mm(46), ui.gap(), room.columns);
  const Rect less = grid.cell(cells - 3);
  const Rect more = grid.cell(cells - 1);
  const int step = touch::stepper(ui, {less.left, less.top, more.right, more.bottom},
                                  {.label = pen.words("amount.step"),
                                   .less = pen.words("amount.less"),
                                   .more = pen.words("amount.more"),
                                   .can_less = room.enabled,
                                   .can_more = room.enabled,
                                   .keys_only = true});
  if (step != 0) pen.send(flow::StepAmount{step});
  // Nothing there is tapped: it may come nearer to the keys. The chip names the unit.
  Rect middle = grid.cell(cells - 2);
  middle.left -= ui.mm(1.5);
  middle.right += ui.mm(1.5);
  draw_large_value(pen, middle, amount_of(measure), {});
}

// Tiles of the usual amounts, and below them one fine step less or more, and Keep.
void draw_amount(const Pen& pen, const PadRoom& room, const flow::MeasureView& measure) {
  touch::Ui& ui = pen.ui;
  if (!room.aside.empty()) return draw_amount_beside(pen, room, measure);
  if (room.rows > 0) return draw_amount_cells(pen, room, measure);
  const float strip = ui.key();
  Cutter down(room.area, Axis::kDown, ui.gap());
  Cutter low(down.take_end(strip), Axis::kAcross, ui.gap());
  // Between two keys for gloves on narrow glass there is no room beside the number.
  const bool tight = low.rest().width() - ui.mm(26) - 2 * ui.key() - 3 * ui.gap() < ui.mm(30);
  Rect keep = room.spare;
  if (!tight || keep.empty())
    keep = ui.left_handed() ? low.take(ui.mm(26)) : low.take_end(ui.mm(26));
  const Rect place = low.take_rest();
  const int step = touch::stepper(ui, place,
                                  {.label = pen.words("amount.step"),
                                   .less = pen.words("amount.less"),
                                   .more = pen.words("amount.more"),
                                   .value = amount_of(measure),
                                   .unit = measure.unit,
                                   .can_less = room.enabled,
                                   .can_more = room.enabled});
  if (step != 0) pen.send(flow::StepAmount{step});
  draw_keep_amount(pen, room, keep, measure);
  draw_amounts(pen, room, down.take_rest(), measure);
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
  if (measure.pad == flow::PadKind::kCounts) return draw_counts_pad(pen, room, measure, gather);
  if (measure.pad == flow::PadKind::kCells) return draw_cells_pad(pen, room, gather);
  draw_readings_pad(pen, room, measure, gather);
}

}  // namespace

namespace {

// Half of a percent's tiles, first the one that is usual: high ones, or low ones where low is best.
// The key between the two stands in
// the cell after the longer half. Which half shows never depends on a value.
void draw_half(const Pen& pen, const PadRoom& room, const flow::MeasureView& measure,
               const ChoiceTiles& whole) {
  touch::Ui& ui = pen.ui;
  constexpr double kMiddle = 50;
  const std::string here = room.plot + "/" + measure.measure;
  if (pen.scratch.other_half != here) pen.scratch.other_half.clear();
  const bool other_half = !pen.scratch.other_half.empty();
  const bool lower = (measure.direction == Direction::kLowIsBest) != other_half;
  ChoiceTiles half;
  std::vector<std::size_t> places;
  std::size_t upper_tiles = 0;
  for (std::size_t n = 0; n < whole.tiles.size(); ++n) {
    const bool is_lower = measure.choices[n].value < kMiddle;
    upper_tiles += is_lower ? 0 : 1;
    if (is_lower != lower) continue;
    half.tiles.push_back(whole.tiles[n]);
    places.push_back(n);
  }
  if (const auto n = draw_tiles(pen, room.grid, half, room.columns, room.rows))
    pen.send(flow::ChooseValue{measure.measure, measure.choices[places[*n]].entered});
  const touch::Grid grid = touch::fit_grid(room.grid, room.columns * room.rows, ui.key(), ui.mm(46),
                                           ui.gap(), room.columns);
  const auto ends = [&](std::size_t from, std::size_t to) {
    return measure.choices[from].entered + "-" + measure.choices[to].entered;
  };
  const std::size_t last = measure.choices.size() - 1;
  const std::size_t lower_tiles = measure.choices.size() - upper_tiles;
  const std::string label = lower ? ends(lower_tiles, last) : ends(0, lower_tiles - 1);
  const touch::Key other{
      .label = label, .enabled = room.enabled, .primary = true, .halo = grid.gap / 2};
  if (touch::key(ui, grid.cell(upper_tiles), other))
    pen.scratch.other_half = other_half ? std::string() : here;
  if (room.definition.empty()) return;
  // What the cells leave says what it is a percent of.
  const touch::Text words{.text = room.definition, .font = touch::Font::kStrong, .lines = 3};
  if (room.spare.width() >= ui.mm(65)) {
    touch::text(ui, room.spare, words);
    return;
  }
  const Rect from = grid.cell(upper_tiles + 1);
  const Rect to = grid.cell(upper_tiles + 2);
  if (!from.empty() && to.right > from.right && to.top == from.top)
    touch::text(ui, {from.left, from.top, to.right, to.bottom}, words);
}

}  // namespace

void draw_measure_pad(const Pen& pen, const PadRoom& room, const flow::MeasureView& measure) {
  if (measure.visits) return draw_visit_pad(pen, room, *measure.visits);
  if (measure.gather) return draw_gathered(pen, room, measure, *measure.gather);
  if (measure.pad == flow::PadKind::kAmount) return draw_amount(pen, room, measure);
  const ChoiceTiles pad = tiles_of(pen, room, measure);
  draw_fine_key(pen, room, measure);
  // The percent's tiles share their grid with the keys; others choose their own.
  const bool whole_grid = measure.kind == ScaleKind::kPercent && !measure.fine && !measure.tens;
  if (whole_grid && room.rows > 0) return draw_half(pen, room, measure, pad);
  const Rect& rect = whole_grid ? room.grid : room.area;
  // Where a percent comes in halves its key to the single points, and elsewhere a long value, stand
  // in the last cells.
  const bool long_value = !room.long_value.empty();
  const bool in_cells = room.rows > 0 && (measure.kind == ScaleKind::kPercent || long_value);
  const auto tapped = draw_tiles(pen, rect, pad, whole_grid || in_cells ? room.columns : 0,
                                 in_cells ? room.rows : 0);
  if (long_value) {
    const std::size_t cells = room.columns * room.rows;
    const touch::Grid grid =
        touch::fit_grid(rect, cells, pen.ui.key(), pen.ui.mm(46), pen.ui.gap(), room.columns);
    const Rect end = grid.cell(cells - 1);
    draw_large_value(pen, {grid.cell(cells - 3).left, end.top, end.right, end.bottom},
                     room.long_value, measure.unit);
  }
  if (!tapped) return;
  const std::string& entered = measure.choices[*tapped].entered;
  if (measure.tens)
    pen.send(flow::ShowFine{entered});
  else
    pen.send(flow::ChooseValue{measure.measure, entered});
}

}  // namespace ligule::screens
