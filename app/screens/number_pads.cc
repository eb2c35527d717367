// Pads of several numbers that are kept as one act: heights, counted stages, a frame of cells.
#include <algorithm>
#include <utility>

#include "app/screens/art.h"
#include "app/screens/measure_pad.h"

namespace ligule::screens {

using touch::Align;
using touch::Axis;
using touch::Cutter;
using touch::Font;
using touch::Rect;
using touch::Style;
using touch::Tone;

namespace {

std::string joined(const std::vector<std::string>& texts) {
  std::string all;
  for (const std::string& text : texts) all += (all.empty() ? "" : "  ") + text;
  return all;
}

// Where words and small keys of a pad stand: in the cells the lowest row leaves free, where those
// are wide, else in a strip above the pad.
struct Strip {
  Rect words;
  Rect drop;
  Rect keep;
};
Strip strip_of(const touch::Ui& ui, const PadRoom& room, Cutter& down) {
  const bool in_spare = room.spare.width() >= ui.mm(65);
  Cutter across(in_spare ? room.spare : down.take(ui.mm(kPadStripMm)), Axis::kAcross, ui.gap());
  const auto next = [&](double width) {
    return ui.left_handed() ? across.take(ui.mm(width)) : across.take_end(ui.mm(width));
  };
  Strip strip;
  strip.keep = in_spare || room.spare.empty() ? next(in_spare ? 20 : 26) : room.spare;
  strip.drop = next(in_spare ? 14 : 26);
  strip.words = across.take_rest();
  return strip;
}

void draw_drop(const Pen& pen, const Rect& rect, bool enabled) {
  touch::Key drop{.label = pen.words("gather.drop"), .enabled = enabled, .font = Font::kStrong};
  if (touch::text_width(pen.ui, drop.label, drop.font) > rect.width() - pen.ui.mm(4)) {
    drop.paint = touch::erase_sign();
    drop.icon_only = true;
  }
  if (touch::key(pen.ui, rect, drop)) pen.send(flow::DropLast{});
}

// A place for each number of an act: those given, the one that is open, those to come.
struct Slots {
  const std::vector<std::string>& given;
  std::string open;  // what stands in the next one so far
  std::string_view unit;
  std::size_t wanted = 0;
};

// How wide a place is, the open one twice of it; 0: there is no room for places.
float slot_width(const touch::Ui& ui, const Rect& rect, const Slots& slots) {
  const auto n = static_cast<float>(slots.wanted);
  const float width = std::min(ui.mm(20), (rect.width() - (n - 1) * ui.mm(2)) / (n + 1));
  return width < ui.mm(11) ? 0 : width;
}

void draw_slots(const Pen& pen, const Rect& rect, const Slots& slots) {
  touch::Ui& ui = pen.ui;
  const touch::Canvas paint = ui.canvas();
  const float width = slot_width(ui, rect, slots);
  Cutter across(rect, Axis::kAcross, ui.mm(2));
  for (std::size_t n = 0; n < slots.wanted; ++n) {
    const bool open = n == slots.given.size();
    Rect place = across.take(open ? 2 * width : width);
    const float round = ui.mm(1.4);
    paint.fill(place, open ? Tone::kDoneWash : Tone::kSunk, round);
    if (open) paint.outline(place, Tone::kAction, ui.mm(0.8), round);
    if (open && !slots.unit.empty()) {
      const float unit = touch::text_width(ui, slots.unit, Font::kBody) + ui.mm(2);
      line(pen, {place.right - unit, place.top, place.right, place.bottom}, slots.unit);
      place.right -= unit;
    }
    const std::string& shown = open ? slots.open : n < slots.given.size() ? slots.given[n] : "";
    if (shown.empty()) continue;
    touch::text(ui, place,
                {.text = shown,
                 .font = open ? Font::kValue : Font::kLabel,
                 .across = Align::kMiddle,
                 .value = open});
  }
}

// Words with a number in them, as large as the value being entered; the number alone where they
// have no room.
void draw_number(const Pen& pen, const Rect& rect, const std::string& words,
                 const std::string& number, Align across = Align::kStart) {
  const bool whole = touch::text_width(pen.ui, words, Font::kValue) <= rect.width();
  touch::text(
      pen.ui, rect,
      {.text = whole ? words : number, .font = Font::kValue, .across = across, .value = true});
}

// What is measured, where there is room to say it.
bool draw_definition(const Pen& pen, const Rect& rect, const std::string& words) {
  if (words.empty() || rect.empty()) return false;
  const auto fits = [&](Font font) {
    return touch::text_height(pen.ui, words, font, rect.width()) <= rect.height();
  };
  // Large words may stand in the usual size; a sentence never in less.
  const Font least = pen.ui.look().large_text ? Font::kCaption : Font::kBody;
  if (!fits(least)) return false;
  const Font font = fits(Font::kBody) ? Font::kBody : least;
  touch::text(
      pen.ui, rect,
      {.text = words, .font = font, .tone = Tone::kInkSoft, .down = Align::kStart, .lines = 6});
  return true;
}

// What is typed, large, and the readings before it; once they are kept their mean.
void draw_taken(const Pen& pen, const Rect& rect, const flow::MeasureView& measure,
                const flow::GatherView& gather) {
  touch::Ui& ui = pen.ui;
  if (gather.readings.empty() && !gather.mean.empty() && measure.typed.empty())
    return draw_number(pen, rect, pen.words.fill("gather.mean", {gather.mean, measure.unit}),
                       gather.mean);
  const Slots slots{gather.readings, measure.typed, measure.unit, gather.wanted};
  const Rect places = touch::centred(rect, rect.width(), ui.mm(kPadStripMm));
  if (slot_width(ui, places, slots) > 0) return draw_slots(pen, places, slots);
  // Too many to show: which one it is.
  const std::size_t next = std::min(gather.readings.size() + 1, gather.wanted);
  const std::string place = pen.words.fill("gather.reading", {number(next), number(gather.wanted)});
  const std::string value = (measure.typed.empty() ? "-" : measure.typed) + " " + measure.unit;
  Cutter cut(rect, Axis::kAcross, ui.mm(3));
  touch::text(ui, cut.take(rect.width() * 0.6F),
              {.text = value, .font = Font::kValue, .value = true});
  line(pen, cut.take_rest(), place, {.font = Font::kStrong});
}

// The same in a column beside the keys: readings one under the other, the open one large.
void draw_taken_column(const Pen& pen, const Rect& rect, const flow::MeasureView& measure,
                       const flow::GatherView& gather) {
  touch::Ui& ui = pen.ui;
  Cutter down(rect, Axis::kDown, ui.mm(1));
  const Rect open = down.take_end(ui.mm(kPadStripMm));
  const bool kept = gather.readings.empty() && !gather.mean.empty() && measure.typed.empty();
  ui.canvas().fill(open, Tone::kDoneWash, ui.mm(1.4));
  ui.canvas().outline(open, Tone::kAction, ui.mm(0.8), ui.mm(1.4));
  touch::text(ui, open,
              {.text = kept ? gather.mean : measure.typed,
               .font = Font::kValue,
               .across = Align::kMiddle,
               .value = true});
  const float each = touch::line_height(ui, Font::kStrong);
  line(pen, down.take_end(each), measure.unit, {.across = Align::kMiddle});
  const std::size_t next = std::min(gather.readings.size() + 1, gather.wanted);
  if (!kept)
    line(pen, down.take(each),
         pen.words.fill("gather.reading", {number(next), number(gather.wanted)}),
         {.font = Font::kStrong, .across = Align::kMiddle});
  // The last ones that have room.
  const auto lines = static_cast<std::size_t>(std::max(0.0F, down.left_over() / (each + ui.mm(1))));
  const std::size_t from = gather.readings.size() - std::min(lines, gather.readings.size());
  for (std::size_t n = from; n < gather.readings.size(); ++n)
    line(pen, down.take(each), gather.readings[n],
         {.font = Font::kStrong, .across = Align::kMiddle});
}

}  // namespace

void draw_keep_gathered(const Pen& pen, const Rect& rect, bool enabled) {
  const touch::Key keep{.label = pen.words("gather.keep"),
                        .style = enabled ? Style::kAction : Style::kPlain,
                        .enabled = enabled};
  if (touch::key(pen.ui, rect, keep)) pen.send(flow::KeepGathered{});
}

namespace {

constexpr double kStepKeyMm = 14;
constexpr double kSideStepMm = 12.5;  // between a column's value and the erasing key

// Two keys that step, at the hand that taps, beside what is taken where both have room.
Rect cut_steps(const touch::Ui& ui, Rect& taken) {
  const float width = ui.mm(2 * kStepKeyMm) + close_gap(ui);
  if (taken.width() < width + ui.gap() + ui.mm(66)) return {};
  Cutter row(taken, Axis::kAcross, ui.gap());
  const Rect steps = ui.left_handed() ? row.take(width) : row.take_end(width);
  taken = row.take_rest();
  return steps;
}

}  // namespace

void draw_readings_pad(const Pen& pen, const PadRoom& room, const flow::MeasureView& measure,
                       const flow::GatherView& gather) {
  touch::Ui& ui = pen.ui;
  const bool last = gather.readings.size() + 1 >= gather.wanted;
  touch::NumberPad pad{.erase = pen.words("keyboard.erase"),
                       .done = pen.words(last ? "gather.keep" : "gather.on"),
                       .decimals = true,
                       .can_done = room.enabled && !measure.typed.empty(),
                       .hard = false,
                       .erase_place = room.aside};
  Rect keys;
  Rect steps;
  if (room.rows > 0 && room.aside.empty()) {
    // Low glass and gloves: readings and the erasing key beside twelve keys.
    const float width = 4 * ui.key() + 3 * ui.gap();
    Cutter across(room.area, Axis::kAcross, (ui.gap() + close_gap(ui)) / 2);
    keys = ui.left_handed() ? across.take(width) : across.take_end(width);
    Cutter side(across.take_rest(), Axis::kDown, close_gap(ui));
    pad.erase_place = side.take_end(ui.key());
    steps = side.take_end(ui.mm(kSideStepMm));
    // Nothing there is tapped: it may come nearer to the keys.
    Rect taken = side.take_rest();
    (ui.left_handed() ? taken.left : taken.right) += ui.mm(ui.left_handed() ? -1.5 : 1.5);
    draw_taken_column(pen, taken, measure, gather);
  } else if (!room.strip.empty()) {
    Cutter down(room.strip, Axis::kDown, ui.mm(2));
    Rect taken = down.take_end(std::min(ui.mm(kPadStripMm), down.left_over()));
    steps = cut_steps(ui, taken);
    // In a narrow column above them, beside the words that have no room higher up.
    Rect beside;
    if (steps.empty() && down.left_over() >= ui.mm(kStepKeyMm + 2)) {
      Cutter row(down.take_end(ui.mm(kStepKeyMm)), Axis::kAcross, ui.gap());
      const float width = ui.mm(2 * kStepKeyMm) + close_gap(ui);
      steps = ui.left_handed() ? row.take(width) : row.take_end(width);
      beside = row.take_rest();
    }
    const Rect above = down.take_rest();
    if (!draw_definition(pen, above, room.definition) && !beside.empty())
      draw_definition(pen, {beside.left, above.top, beside.right, beside.bottom}, room.definition);
    draw_taken(pen, taken, measure, gather);
    keys = room.area;
  } else {
    Cutter down(room.area, Axis::kDown, ui.gap());
    const bool in_spare = room.spare.width() >= ui.mm(56);
    Rect taken = in_spare ? room.spare : down.take(ui.mm(kPadStripMm));
    steps = cut_steps(ui, taken);
    draw_taken(pen, taken, measure, gather);
    keys = down.take_rest();
  }
  if (!steps.empty()) {
    const auto cells = touch::split(steps, Axis::kAcross, 2, close_gap(ui));
    draw_step_keys(pen, cells.front(), cells.back(), room.enabled);
  }
  // With nothing typed the erasing key takes the last reading back.
  const auto typed = touch::number_pad(ui, keys, pad);
  if (room.enabled) send_keys(pen, typed);
}

namespace {

// How many tiles of a code and a word or two stand side by side so that the words have most room.
std::size_t word_columns(const touch::Ui& ui, const Rect& rect,
                         const std::vector<touch::Tile>& tiles) {
  const std::size_t n = tiles.size();
  const float least = std::max(ui.key(), widest_word(ui, tiles) + ui.mm(3.6));
  std::size_t best = 0;
  float best_room = 0;
  for (std::size_t columns = 1; columns <= n; ++columns) {
    const auto across = static_cast<float>(columns);
    const std::size_t rows = (n + columns - 1) / columns;
    const auto down = static_cast<float>(rows);
    const float width = (rect.width() - ui.gap() * (across - 1)) / across;
    const float height = (rect.height() - ui.gap() * (down - 1)) / down;
    const float room = std::min(width, height * 0.85F);
    if (width < least || height < ui.key() || room <= best_room) continue;
    best = columns;
    best_room = room;
  }
  return best;
}

// Whether a drawing and a number have room above code and word. Where they have not (gloves and
// large text on small glass) the number stands beside the code.
bool figures_fit(const touch::Ui& ui, const Rect& rect, const std::vector<touch::Tile>& tiles,
                 std::size_t columns, std::size_t least_rows) {
  if (columns == 0) return false;
  const auto across = static_cast<float>(columns);
  const std::size_t rows = std::max(least_rows, (tiles.size() + columns - 1) / columns);
  const auto down = static_cast<float>(rows);
  const float width = (rect.width() - ui.gap() * (across - 1)) / across - ui.mm(3.5);
  const float height = (rect.height() - ui.gap() * (down - 1)) / down;
  float note = 0;
  for (const touch::Tile& tile : tiles)
    note = std::max(note, touch::text_height(ui, tile.note, Font::kCaption, width));
  return height >= touch::line_height(ui, Font::kStrong) + note +
                       touch::line_height(ui, Font::kStrong) + ui.mm(4.5);
}

}  // namespace

namespace {

// How many there are, and the mean so far, which is the value: side by side where both stand large,
// else the number alone, beside or under the words.
void draw_counted(const Pen& pen, const Rect& rect, const flow::GatherView& gather) {
  touch::Ui& ui = pen.ui;
  const std::string counted = pen.words.fill("gather.counted", {number(gather.counted)});
  const std::string mean =
      gather.mean.empty() ? std::string() : pen.words.fill("gather.stage", {gather.mean});
  if (rect.width() >= ui.mm(78)) {
    Cutter across(rect, Axis::kAcross, ui.mm(1));
    line(pen, across.take(rect.width() * 0.36F), counted, {.font = Font::kTitle});
    return draw_number(pen, across.take_rest(), mean, gather.mean);
  }
  const float value = touch::text_width(ui, gather.mean, Font::kValue) + 1;
  const bool below = rect.width() < value + ui.mm(20);
  Cutter cut(rect, below ? Axis::kDown : Axis::kAcross, ui.mm(1));
  const Rect large = cut.take_end(below ? touch::line_height(ui, Font::kValue) : value);
  draw_number(pen, large, gather.mean, gather.mean);
  Cutter words(cut.take_rest(), Axis::kDown, 0);
  line(pen, words.take(words.rest().height() / 2), counted, {.font = Font::kStrong});
  if (!mean.empty())
    line(pen, words.take_rest(), pen.words("gather.mean_stage"), {.font = Font::kStrong});
}

}  // namespace

void draw_counts_pad(const Pen& pen, const PadRoom& room, const flow::MeasureView& measure,
                     const flow::GatherView& gather) {
  touch::Ui& ui = pen.ui;
  Cutter down(room.area, Axis::kDown, ui.gap());
  // Gloves on low glass: words and keys stand in the last cells.
  const bool in_cells = room.rows > 0 && room.aside.empty();
  Strip strip;
  Rect rest;
  std::size_t columns = room.columns;
  if (in_cells) {
    rest = room.area;
    const std::size_t cells = room.columns * room.rows;
    const touch::Grid grid =
        touch::fit_grid(rest, cells, ui.key(), ui.mm(46), ui.gap(), room.columns);
    strip = {grid.cell(cells - 3), grid.cell(cells - 2), grid.cell(cells - 1)};
  } else {
    strip = strip_of(ui, room, down);
    rest = down.take_rest();
  }
  draw_counted(pen, strip.words, gather);
  draw_drop(pen, strip.drop, room.enabled && gather.can_drop);
  draw_keep_gathered(pen, strip.keep, room.enabled && gather.can_keep);
  std::vector<std::string> labels;
  labels.reserve(gather.parts.size());
  for (const flow::PartView& part : gather.parts) labels.push_back(code_label(pen, part.code));
  std::vector<touch::Tile> tiles;
  tiles.reserve(gather.parts.size());
  for (const flow::PartView& part : gather.parts)
    tiles.push_back({.label = labels[tiles.size()],
                     .note = pen.words(part.word),
                     .paint = stage_picture(measure.scale, part.value),
                     .figure = part.number,
                     .selected = !part.number.empty(),
                     .enabled = room.enabled});
  if (!in_cells) columns = word_columns(ui, rest, tiles);
  const bool figures = figures_fit(ui, rest, tiles, columns, in_cells ? room.rows : 0);
  const touch::Tiles form{.columns = columns,
                          .rows = in_cells ? room.rows : 0,
                          .font = Font::kStrong,
                          .most_mm = 46,
                          .label_below = figures,
                          .figures = true};
  if (const auto n = touch::tile_pad(ui, rest, tiles, form))
    pen.send(flow::CountStage{gather.parts[*n].code});
}

namespace {

// Cells are rating keys; where the glass is too narrow for five of them they are no such keys, but
// as large as it leaves.
void draw_frame(const Pen& pen, const Rect& area, const flow::GatherView& gather, bool enabled) {
  touch::Ui& ui = pen.ui;
  auto group = ui.group("Frame");
  const std::size_t columns = std::max<std::size_t>(1, gather.columns);
  const std::size_t rows = (gather.cells.size() + columns - 1) / columns;
  const float between = ui.gap();
  const float square = std::min(area.width(), area.height());
  const Rect rect = touch::centred(area, square, square);
  const float side =
      (rect.width() - between * static_cast<float>(columns - 1)) / static_cast<float>(columns);
  const auto lines = touch::split(rect, Axis::kDown, rows, between);
  for (std::size_t n = 0; n < gather.cells.size(); ++n) {
    const auto places = touch::split(lines[n / columns], Axis::kAcross, columns, between);
    const std::string label = number(n + 1);
    touch::Key cell{.label = label,
                    .selected = gather.cells[n],
                    .enabled = enabled,
                    .primary = side >= ui.key() - 1,
                    .halo = between / 2,
                    .icon_only = true};
    cell.paint = cell_picture(gather.cells[n]);
    if (touch::key(ui, places[n % columns], cell)) pen.send(flow::TapCell{static_cast<int>(n)});
  }
}

void draw_frame_done(const Pen& pen, const Rect& rect, const PadRoom& room,
                     const flow::GatherView& gather) {
  touch::Ui& ui = pen.ui;
  Cutter down(touch::sheet(ui, rect), Axis::kDown, ui.mm(2));
  const touch::Key again{.label = pen.words("gather.again"), .enabled = room.enabled};
  if (touch::key(ui, down.take_end(ui.mm(kPadStripMm)), again)) pen.send(flow::NextPlacement{});
  draw_number(pen, down.take(touch::line_height(ui, Font::kValue)),
              pen.words.fill("gather.percent", {gather.mean}), gather.mean);
  const auto sentence = [&](const std::string& text, Font font) {
    const float height = touch::text_height(ui, text, font, down.rest().width());
    touch::text(ui, down.take(height), {.text = text, .font = font, .lines = 4});
  };
  sentence(joined(gather.readings), Font::kLabel);
  if (gather.plants.empty()) return;
  sentence(pen.words.fill("gather.plants", {gather.plants}), Font::kLabel);
  sentence(pen.words.fill("gather.factor", {gather.factor}), Font::kBody);
}

}  // namespace

void draw_cells_pad(const Pen& pen, const PadRoom& room, const flow::GatherView& gather) {
  touch::Ui& ui = pen.ui;
  if (gather.cells.empty()) return draw_frame_done(pen, room.area, room, gather);
  draw_frame(pen, room.area, gather, room.enabled);
  // Beside the words where they leave room for the keys, else below them.
  const bool beside = room.strip.width() >= ui.mm(96);
  Cutter cut(room.strip, Axis::kDown, close_gap(ui));
  Cutter keys(beside ? Rect{} : cut.take_end(ui.mm(kPadStripMm)), Axis::kAcross, close_gap(ui));
  Rect words = cut.take_rest();
  if (beside) {
    Cutter across(words, Axis::kAcross, close_gap(ui));
    const Rect end = ui.left_handed() ? across.take(ui.mm(56)) : across.take_end(ui.mm(56));
    words = across.take_rest();
    keys = Cutter(touch::centred(end, end.width(), std::min(end.height(), ui.mm(20))),
                  Axis::kAcross, close_gap(ui));
  }
  const Rect drop = ui.left_handed() ? keys.take_end(ui.mm(18)) : keys.take(ui.mm(18));
  const Rect next = keys.take_rest();
  draw_drop(pen, drop, room.enabled && gather.can_drop);
  const touch::Key key{.label = pen.words(gather.last ? "gather.keep" : "gather.next"),
                       .style = Style::kAction,
                       .enabled = room.enabled && gather.can_keep};
  if (touch::key(ui, next, key)) pen.send(flow::NextPlacement{});
  const std::string placement = pen.words.fill(
      "gather.placement", {number(gather.readings.size() + 1), number(gather.wanted)});
  const std::string counted =
      pen.words.fill("gather.cells", {number(gather.counted), number(gather.cells.size())});
  Cutter down(words, Axis::kDown, 0);
  const Slots slots{gather.readings, number(gather.counted), {}, gather.wanted};
  const float value = ui.mm(ui.sizes().capital_mm(Font::kValue) * 1.32);
  const float line_room = ui.mm(ui.sizes().capital_mm(Font::kStrong) * 1.5);
  const bool places =
      down.left_over() >= line_room + value + ui.mm(13) && slot_width(ui, words, slots) > 0;
  if (places) {
    draw_slots(pen, down.take_end(ui.mm(11)), slots);
    down.take_end(ui.mm(1.5));
  }
  const float needed = line_room + value + (places ? ui.mm(12.5) : 0);
  if (draw_definition(pen, {words.left, words.top, words.right, words.bottom - needed - ui.mm(1)},
                      room.definition))
    down.take(words.height() - needed);
  draw_number(pen, down.take_end(std::max(value, down.left_over() - ui.mm(9))), counted,
              number(gather.counted));
  line(pen, down.take_rest(), placement, {.font = Font::kStrong});
}

}  // namespace ligule::screens
