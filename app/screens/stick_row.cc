#include "app/screens/stick_row.h"

#include <algorithm>
#include <span>
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
constexpr double kStickKeyNarrow = 30;
constexpr double kStickKeyHeight = 18;
constexpr double kStickSign = 8;
constexpr double kStickAir = 4;
constexpr double kStickBelow = 2;
constexpr double kStickKeyLowest = 44;

std::string codes_in_line(const std::vector<std::string>& codes) {
  std::string out;
  for (const std::string& code : codes) {
    if (!out.empty()) out += ", ";
    out += code;
  }
  return out;
}

// What it is, then what there is in it.
std::vector<Passage> stick_words(const Pen& pen, const flow::StickView& view) {
  std::vector<Passage> words{{std::string(pen.words("stick.title")), Font::kLabel}};
  if (!view.fresh.empty())
    words.push_back({pen.words.fill("stick.fresh", {codes_in_line(view.fresh)})});
  if (!view.changed.empty())
    words.push_back({pen.words.fill("stick.changed", {codes_in_line(view.changed)})});
  if (!view.older.empty())
    words.push_back({pen.words.fill("stick.older", {codes_in_line(view.older)}), Font::kBody,
                     touch::Tone::kInkSoft});
  if (view.faulty > 0)
    words.push_back({pen.words.count("stick.faulty", static_cast<std::int64_t>(view.faulty))});
  return words;
}

// On narrow glass the key stands beside the title and what there is below both, over the whole
// width: however much it is, the key is seen without dragging.
bool row_is_narrow(const touch::Ui& ui, float width) {
  return width < ui.mm(110);
}

struct StickHeights {
  float head = 0;  // title and key beside each other
  float words = 0;
};

StickHeights stick_heights(const Pen& pen, std::span<const Passage> words, float width, float key) {
  const touch::Ui& ui = pen.ui;
  const float room = width - ui.mm(kStickStart + kStickEnd + kStickSign + kStickAir);
  const bool narrow = row_is_narrow(ui, width);
  const float beside = room - (narrow ? ui.mm(kStickKeyNarrow) : key) - ui.mm(kStickAir);
  const auto head = narrow ? words.first(1) : words;
  StickHeights heights{std::max(passages_height(pen, head, beside), ui.mm(kStickKeyHeight))};
  if (narrow && words.size() > 1)
    heights.words = ui.mm(kStickBelow) + passages_height(pen, words.subspan(1), room);
  return heights;
}

}  // namespace

float stick_row_height(const Pen& pen, const flow::StickView& view, float width, float key) {
  if (!view.any()) return 0;
  const StickHeights heights = stick_heights(pen, stick_words(pen, view), width, key);
  return heights.head + heights.words + pen.ui.mm(2 * kStickEnd);
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
  const std::vector<Passage> words = stick_words(pen, view);
  const bool narrow = row_is_narrow(ui, rect.width());
  const float wide = narrow ? ui.mm(kStickKeyNarrow) : width;
  Rect room = rect.grown(-ui.mm(kStickEnd));
  room.left = rect.left + ui.mm(kStickStart);
  Cutter down(room, Axis::kDown, 0);
  Cutter head(down.take(stick_heights(pen, words, rect.width(), width).head), Axis::kAcross,
              ui.mm(kStickAir));
  const Rect side = ui.left_handed() ? head.take(wide) : head.take_end(wide);
  const float high = ui.mm(kStickKeyHeight);
  // In the middle of what there is, but never below what low glass shows first.
  const float lowest = narrow ? high : std::min(side.height(), ui.mm(kStickKeyLowest));
  const Rect place =
      touch::centred({side.left, side.top, side.right, side.top + lowest}, wide, high);
  if (touch::key(ui, place, key)) {
    if (fresh)
      pen.send(flow::LoadSticks{});
    else
      pen.send(flow::ShowStick{});
  }
  const Rect sign = head.take(ui.mm(kStickSign));
  ui.canvas().shape(Shape::kCard, {sign.left, sign.top, sign.right, sign.top + sign.width()});
  const std::span<const Passage> all = words;
  draw_passages(pen, head.take_rest(), narrow ? all.first(1) : all);
  if (!narrow || all.size() == 1) return;
  (void)down.take(ui.mm(kStickBelow));
  Rect below = down.take_rest();
  below.left += ui.mm(kStickSign + kStickAir);
  draw_passages(pen, below, all.subspan(1));
}

}  // namespace ligule::screens
