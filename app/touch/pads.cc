#include "app/touch/pads.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

#include "app/touch/body.h"

namespace ligule::touch {

bool apply(const PadKey& key, std::string& text, std::size_t most, bool number) {
  const auto letters = [](std::string_view s) {
    return static_cast<std::size_t>(std::ranges::count_if(
        s, [](char c) { return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U; }));
  };
  switch (key.kind) {
    case PadKey::Kind::kDone:
      return false;
    case PadKey::Kind::kErase:
      if (text.empty()) return false;
      // A letter of several bytes goes whole.
      while (text.size() > 1 && (static_cast<unsigned char>(text.back()) & 0xC0U) == 0x80U)
        text.pop_back();
      text.pop_back();
      return true;
    case PadKey::Kind::kText:
      break;
  }
  if (letters(text) + letters(key.text) > most) return false;
  if (number && (key.text == "." || key.text == ",") &&
      text.find_first_of(".,") != std::string::npos)
    return false;
  text += key.text;
  return true;
}

namespace {

// Where the keys of a number pad go. places: 1..9, 0, point, erase, done.
struct PadPlan {
  std::array<Rect, 13> at{};
};
constexpr std::size_t kZero = 9;
constexpr std::size_t kPoint = 10;
constexpr std::size_t kErase = 11;
constexpr std::size_t kDone = 12;

Rect spanned(const Rect& a, const Rect& b) {
  return {std::min(a.left, b.left), std::min(a.top, b.top), std::max(a.right, b.right),
          std::max(a.bottom, b.bottom)};
}

// Equal cells as large as fit, at most that large, in the middle of the area.
std::optional<Grid> cells(const Rect& area, std::size_t columns, std::size_t rows, float gap,
                          float least, float most) {
  const auto c = static_cast<float>(columns);
  const auto r = static_cast<float>(rows);
  const float height = std::min(most, (area.height() - gap * (r - 1)) / r);
  const float width = std::min(height * 1.4F, (area.width() - gap * (c - 1)) / c);
  if (std::min(width, height) < least * 0.999F) return std::nullopt;
  const Rect taken = centred(area, width * c + gap * (c - 1), height * r + gap * (r - 1));
  return Grid{columns, rows, width, height, gap, taken};
}

PadPlan telephone(const Grid& grid, bool done_beside) {
  PadPlan plan;
  const std::size_t columns = grid.columns;
  for (std::size_t digit = 0; digit < 9; ++digit)
    plan.at[digit] = grid.cell(digit / 3 * columns + digit % 3);
  plan.at[kPoint] = grid.cell(3 * columns);
  plan.at[kZero] = grid.cell(3 * columns + 1);
  plan.at[kErase] = grid.cell(3 * columns + 2);
  if (done_beside)
    plan.at[kDone] = spanned(grid.cell(3), grid.cell(3 * columns + 3));
  else if (grid.rows > 4)
    plan.at[kDone] = spanned(grid.cell(4 * columns), grid.cell(4 * columns + 2));
  return plan;
}

// 1 to 5 over 6 to 0: for a strip too low for anything else.
PadPlan two_rows(const Grid& grid, bool done) {
  PadPlan plan;
  for (std::size_t digit = 0; digit < 5; ++digit) {
    plan.at[digit] = grid.cell(digit);
    plan.at[digit + 5] = grid.cell(grid.columns + digit);
  }
  plan.at[kErase] = grid.cell(5);
  plan.at[kPoint] = grid.cell(grid.columns + 5);
  if (done) plan.at[kDone] = spanned(grid.cell(6), grid.cell(grid.columns + 6));
  return plan;
}

// 1 2 3 4 / 5 6 7 8 / 9 0 point erase: for glass that is too low for four rows.
PadPlan three_rows(const Grid& grid, bool done) {
  PadPlan plan;
  const auto place = [&](std::size_t n) { return grid.cell(n / 4 * grid.columns + n % 4); };
  for (std::size_t key = 0; key < kDone; ++key) plan.at[key] = place(key);
  if (done) plan.at[kDone] = spanned(grid.cell(4), grid.cell(2 * grid.columns + 4));
  return plan;
}

// The telephone's order, or 1 2 3 4 / 5 6 7 8 / 9 point 0 done, without a cell for erasing.
PadPlan without_erase(const Grid& grid) {
  PadPlan plan;
  for (std::size_t digit = 0; digit < 9; ++digit) plan.at[digit] = grid.cell(digit);
  plan.at[kPoint] = grid.cell(9);
  plan.at[kZero] = grid.cell(10);
  plan.at[kDone] = grid.cell(11);
  return plan;
}

std::optional<PadPlan> plan_pad(const Ui& ui, const Rect& rect, const NumberPad& pad) {
  const float least = ui.key();
  const float gap = ui.gap();
  const float most = std::max(least, ui.mm(28));
  const bool done = !pad.done.empty();
  if (!pad.erase_place.empty()) {
    auto twelve = cells(rect, 3, 4, gap, least, most);
    if (!twelve) twelve = cells(rect, 4, 3, gap, least, most);
    if (!twelve) return std::nullopt;
    PadPlan plan = without_erase(*twelve);
    plan.at[kErase] = pad.erase_place;
    return plan;
  }
  if (const auto tall = cells(rect, 3, done ? 5 : 4, gap, least, most))
    return telephone(*tall, false);
  if (done) {
    if (const auto square = cells(rect, 4, 4, gap, least, most)) return telephone(*square, true);
  }
  if (const auto three = cells(rect, done ? 5 : 4, 3, gap, least, most))
    return three_rows(*three, done);
  if (const auto low = cells(rect, done ? 7 : 6, 2, gap, least, most)) return two_rows(*low, done);
  return std::nullopt;
}

// The first letter of a text, however many bytes it has.
std::string_view first_letter(std::string_view text) {
  std::size_t bytes = 1;
  while (bytes < text.size() && (static_cast<unsigned char>(text[bytes]) & 0xC0U) == 0x80U) ++bytes;
  return text.substr(0, bytes);
}

// Nothing that is typed is dropped: "-5" must not come out as 5, nor the code of a stake as the
// digits in it. Whoever takes the number refuses what does not fit. A hard Enter may come in one
// burst with the digits that make it count: whether it does they say, too.
void take_typed(Ui& ui, char point, bool decimals, bool can_end, std::vector<PadKey>& out) {
  for (const auto& press : ui.typed()) {
    if (press.key == platform::HardKey::kErase) out.push_back({PadKey::Kind::kErase, {}});
    if (press.key == platform::HardKey::kEnter && can_end)
      out.push_back({PadKey::Kind::kDone, "\n"});
    if (press.key != platform::HardKey::kText) continue;
    for (std::string_view rest = press.text; !rest.empty();) {
      const std::string_view letter = first_letter(rest);
      const bool is_point = decimals && (letter == "." || letter == ",");
      out.push_back({PadKey::Kind::kText, is_point ? std::string(1, point) : std::string(letter)});
      rest.remove_prefix(letter.size());
    }
  }
}

}  // namespace

Point number_pad_size(const Ui& ui, const NumberPad& pad) {
  const float columns = pad.done.empty() ? 3 : 4;
  return {columns * ui.key() + (columns - 1) * ui.gap(), 4 * ui.key() + 3 * ui.gap()};
}

std::vector<PadKey> number_pad(Ui& ui, const Rect& rect, const NumberPad& pad) {
  std::vector<PadKey> out;
  const bool done = !pad.done.empty();
  const auto plan = plan_pad(ui, rect, pad);
  if (!plan) {
    ui.no_room("number pad");
    return out;
  }
  const float halo = ui.gap() / 2;
  const bool apart = !pad.erase_place.empty();
  for (std::size_t n = 0; n < 10; ++n) {
    const std::string digit = n == kZero ? "0" : std::to_string(n + 1);
    if (key(ui, plan->at[n], {.label = digit, .primary = true, .font = Font::kTitle, .halo = halo}))
      out.push_back({PadKey::Kind::kText, digit});
  }
  if (pad.decimals) {
    const std::string point(1, pad.point);
    if (key(ui, plan->at[kPoint],
            {.label = point, .primary = true, .font = Font::kTitle, .halo = halo}))
      out.push_back({PadKey::Kind::kText, point});
  }
  if (key(ui, plan->at[kErase],
          {.label = pad.erase,
           .primary = !apart,
           .paint = erase_sign(),
           .halo = apart ? ui.halo() : halo,
           .icon_only = true}))
    out.push_back({PadKey::Kind::kErase, {}});
  if (done && key(ui, plan->at[kDone],
                  {.label = pad.done,
                   .style = Style::kAction,
                   .enabled = pad.can_done,
                   .primary = true,
                   .halo = halo}))
    out.push_back({PadKey::Kind::kDone, {}});
  if (pad.hard) take_typed(ui, pad.point, pad.decimals, done, out);
  return out;
}

namespace {

// How the notes of one pad stand: all of one size, and the labels of a row on one line, whether or
// not a neighbour has a note.
struct Notes {
  Font font = Font::kBody;
  std::vector<float> rooms;  // by row, in pixels
};

Notes notes_of(const Ui& ui, std::span<const Tile> tiles, const Tiles& options, const Grid& grid) {
  Notes notes;
  notes.rooms.assign(grid.rows, 0.0F);
  // Below a picture a note has one line; on plain tiles what the label leaves.
  const float width = grid.cell_width - ui.mm(options.label_below ? 3.5 : 4);
  const Rect room{0, 0, width, grid.cell_height - ui.mm(4)};
  const bool usual = std::ranges::all_of(tiles, [&](const Tile& tile) {
    if (options.label_below) return text_width(ui, tile.note, Font::kBody) <= width;
    return note_font(ui, tile.note, options.font, room) == Font::kBody;
  });
  if (!usual) notes.font = Font::kCaption;
  float tallest = 0;
  for (std::size_t n = 0; n < tiles.size(); ++n) {
    if (tiles[n].note.empty()) continue;
    float& row = notes.rooms[n / grid.columns];
    row = std::max(row, text_height(ui, tiles[n].note, notes.font, width));
    tallest = std::max(tallest, row);
  }
  // Pictures are of one height on the whole pad.
  if (options.label_below) notes.rooms.assign(grid.rows, tallest);
  return notes;
}

constexpr double kLeastPictureMm = 8;
constexpr float kPictureShare = 0.56F;  // of a tile's width, beside a number

// A picture at the left of its room: a number stands beside it.
Paint at_left(const Paint& paint) {
  return [paint](const Canvas& canvas, const Rect& room) {
    paint(canvas, {room.left, room.top, room.left + room.width() * kPictureShare, room.bottom});
  };
}
Paint nothing() {
  return [](const Canvas& /*canvas*/, const Rect& /*room*/) {};
}

// Room below a tile's picture: the label, and the tallest note under it.
float strip_height(const Ui& ui, const Tiles& options, const Notes& notes) {
  const float label = line_height(ui, options.font) + ui.mm(1);
  const float note = notes.rooms.empty() ? 0 : notes.rooms.front();
  return note > 0 ? label + note + ui.mm(0.8) : label;
}

}  // namespace

std::optional<std::size_t> tile_pad(Ui& ui, const Rect& rect, std::span<const Tile> tiles,
                                    const Tiles& options) {
  const float least = options.primary ? ui.key() : ui.sizes().least();
  const std::size_t cells = std::max(tiles.size(), options.columns * options.rows);
  const Grid grid = fit_grid(rect, cells, least, std::max(least, ui.mm(options.most_mm)), ui.gap(),
                             options.columns);
  if (grid.columns == 0 && !tiles.empty()) {
    ui.no_room(tiles.front().label);
    return std::nullopt;
  }
  const Notes notes = notes_of(ui, tiles, options, grid);
  const float strip = strip_height(ui, options, notes);
  std::optional<std::size_t> tapped;
  for (std::size_t n = 0; n < tiles.size(); ++n) {
    const Tile& tile = tiles[n];
    Key body{.label = tile.label,
             .note = tile.note,
             .selected = tile.selected,
             .enabled = tile.enabled,
             .primary = options.primary,
             .font = options.font,
             .note_font = notes.font,
             .note_room = notes.rooms[n / grid.columns],
             .halo = grid.gap / 2};
    body.paint = tile.paint;
    const Rect cell = grid.cell(n);
    const float picture = options.label_below ? cell.height() - strip - ui.mm(2.5) : 0;
    const bool drawn = options.figures && tile.paint && picture >= ui.mm(kLeastPictureMm);
    if (options.figures && options.label_below)
      body.paint = drawn ? at_left(tile.paint) : nothing();
    if (options.figures && !options.label_below) {
      body.paint = {};
      body.figure = tile.figure;
    }
    if (key_as(ui, cell, body, Kind::kTile, picture)) tapped = n;
    if (tile.figure.empty() || picture <= 0) continue;
    const Rect face = cell.grown(-ui.mm(1));
    const float left = drawn ? face.left + face.width() * kPictureShare : face.left;
    const Rect place{left, cell.top, face.right, cell.top + picture + ui.mm(1)};
    const Rect room{0, 0, place.width(), picture};
    text(ui, place,
         {.text = tile.figure,
          .font = fitting(ui, tile.figure, Font::kTitle, room).first,
          .across = Align::kMiddle,
          .in_key = true});
  }
  return tapped;
}

namespace {

constexpr double kRungWidthMm = 48;

bool rung(Ui& ui, const Rect& rect, const Stage& stage) {
  Widget widget;
  widget.kind = Kind::kStage;
  widget.drawn = rect;
  widget.selected = stage.selected;
  widget.primary = true;
  widget.value = stage.word;
  const TouchState state = ui.touch(stage.label, std::move(widget), ui.halo());
  const Dress look = dress({.label = stage.label, .selected = stage.selected}, state.held);
  const Rect face = draw_body(ui, rect, look, state.held);
  if (stage.selected) draw_chosen(ui, face, look.text);
  Cutter across(face.grown(-ui.mm(1.2)), Axis::kAcross, ui.mm(1.8));
  if (stage.paint) {
    const Rect picture = across.take(rect.height() - ui.mm(3));
    // Drawn stages are ink on card, also on a chosen rung.
    ui.canvas().fill(picture, Tone::kCard, ui.mm(1.4));
    ui.canvas().clip(picture);
    stage.paint(ui.canvas(), picture);
    ui.canvas().unclip();
  }
  const std::string_view code = label_of(stage.label);
  const float code_width = std::max(ui.mm(9), text_width(ui, code, Font::kTitle));
  const Rect code_room = across.take(code_width);
  text(ui, code_room,
       {.text = code,
        .font = Font::kTitle,
        .tone = look.text,
        .across = Align::kMiddle,
        .in_key = true});
  const Rect word_room = across.take_rest();
  const auto [font, lines] = fitting(ui, stage.word, Font::kStrong, word_room);
  text(ui, word_room,
       {.text = stage.word,
        .font = font,
        .tone = look.text,
        .lines = static_cast<int>(lines),
        .in_key = true});
  return state.tapped;
}

}  // namespace

std::optional<std::size_t> ladder(Ui& ui, std::string_view name, const Rect& rect,
                                  std::span<const Stage> stages) {
  auto group = ui.group(name);
  std::optional<std::size_t> tapped;
  if (stages.empty()) return tapped;
  const float gap = ui.gap();
  const float step = ui.key() + gap;
  const auto most_columns = static_cast<std::size_t>(
      std::max(1.0F, std::floor((rect.width() + gap) / (ui.mm(kRungWidthMm) + gap))));
  const auto rows_that_fit =
      static_cast<std::size_t>(std::max(1.0F, std::floor((rect.height() + gap) / step)));
  const std::size_t columns =
      std::clamp((stages.size() + rows_that_fit - 1) / rows_that_fit, std::size_t{1}, most_columns);
  const std::size_t rows = (stages.size() + columns - 1) / columns;

  const auto draw = [&](const Rect& area, float height) {
    const auto strips = split(area, Axis::kAcross, columns, gap);
    for (std::size_t n = 0; n < stages.size(); ++n) {
      const Rect& strip = strips[n / rows];
      const float top = area.top + static_cast<float>(n % rows) * (height + gap);
      const bool last = n % rows + 1 == rows || n + 1 == stages.size();
      if (!last)  // the stem from this stage to the next
        ui.canvas().fill({strip.left + ui.mm(9), top + height - ui.mm(1), strip.left + ui.mm(11),
                          top + height + gap},
                         Tone::kLine);
      if (rung(ui, {strip.left, top, strip.right, top + height}, stages[n])) tapped = n;
    }
  };
  if (rows <= rows_that_fit) {
    const auto count = static_cast<float>(rows);
    const float height = std::min(ui.mm(26), (rect.height() - gap * (count - 1)) / count);
    draw(rect, height);
  } else {
    auto scroll = ui.scroll(name, rect);
    draw(scroll.area(), ui.key());
  }
  return tapped;
}

}  // namespace ligule::touch
