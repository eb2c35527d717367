#include "app/screens/stick_row.h"

#include <algorithm>
#include <string>
#include <vector>

#include "app/screens/passages.h"

namespace ligule::screens {

using touch::Axis;
using touch::Cutter;
using touch::Font;
using touch::Rect;
using touch::Shape;

namespace {

constexpr double kStickStart = 4;  // millimetres, as the next ones
constexpr double kStickEnd = 3;
constexpr double kStickKeyBelow = 34;
constexpr double kStickKeyHeight = 18;
constexpr double kStickSign = 8;
constexpr double kStickAir = 4;

std::string codes_in_line(const std::vector<std::string>& codes) {
  std::string out;
  for (const std::string& code : codes) {
    if (!out.empty()) out += ", ";
    out += code;
  }
  return out;
}

std::vector<Passage> stick_words(const Pen& pen, const flow::StickView& view) {
  std::vector<Passage> words{{std::string(pen.words("stick.title")), Font::kLabel}};
  if (!view.fresh.empty())
    words.push_back({pen.words.fill("stick.fresh", {codes_in_line(view.fresh)})});
  if (!view.changed.empty())
    words.push_back({pen.words.fill("stick.changed", {codes_in_line(view.changed)})});
  if (view.faulty > 0)
    words.push_back({pen.words.count("stick.faulty", static_cast<std::int64_t>(view.faulty))});
  return words;
}

// Narrow glass: words over the whole width, the key below.
bool row_is_narrow(const touch::Ui& ui, float width) {
  return width < ui.mm(110);
}

float stick_words_width(const touch::Ui& ui, float width, float key) {
  const float words = width - ui.mm(kStickStart + kStickEnd + kStickSign + kStickAir);
  return row_is_narrow(ui, width) ? words : words - key - ui.mm(kStickAir);
}

}  // namespace

float stick_row_height(const Pen& pen, const flow::StickView& view, float width, float key) {
  if (!view.any()) return 0;
  const touch::Ui& ui = pen.ui;
  const float words =
      passages_height(pen, stick_words(pen, view), stick_words_width(ui, width, key));
  if (row_is_narrow(ui, width)) return words + ui.mm(2 * kStickEnd + kStickAir + kStickKeyHeight);
  return std::max(words, ui.mm(kStickKeyHeight)) + ui.mm(2 * kStickEnd);
}

void draw_stick_row(const Pen& pen, const Rect& rect, const flow::StickView& view, float width) {
  if (!view.any()) return;
  touch::Ui& ui = pen.ui;
  auto group = ui.group("Stick");
  (void)touch::sheet(ui, rect);
  const bool fresh = !view.fresh.empty();
  touch::Key key{.label = pen.words(fresh ? "stick.load" : "stick.look")};
  if (fresh) key.style = touch::Style::kAction;
  key.enabled = !fresh || view.can_load;
  Rect room = rect.grown(-ui.mm(kStickEnd));
  room.left = rect.left + ui.mm(kStickStart);
  Rect words = room;
  Rect side;
  if (row_is_narrow(ui, rect.width())) {
    Cutter down(room, Axis::kDown, ui.mm(kStickAir));
    Cutter low(down.take_end(ui.mm(kStickKeyHeight)), Axis::kAcross, 0);
    side = ui.left_handed() ? low.take(ui.mm(kStickKeyBelow)) : low.take_end(ui.mm(kStickKeyBelow));
    words = down.take_rest();
  } else {
    Cutter across(room, Axis::kAcross, ui.mm(kStickAir));
    const Rect place = ui.left_handed() ? across.take(width) : across.take_end(width);
    side = touch::centred(place, width, ui.mm(kStickKeyHeight));
    words = across.take_rest();
  }
  if (touch::key(ui, side, key)) {
    if (fresh)
      pen.send(flow::LoadSticks{});
    else
      pen.send(flow::ShowStick{});
  }
  Cutter across(words, Axis::kAcross, ui.mm(kStickAir));
  const Rect sign = across.take(ui.mm(kStickSign));
  ui.canvas().shape(Shape::kCard, {sign.left, sign.top, sign.right, sign.top + sign.width()});
  draw_passages(pen, across.take_rest(), stick_words(pen, view));
}

}  // namespace ligule::screens
