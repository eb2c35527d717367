// The locked glass: everything stays readable, and two corners open it again.
#include <algorithm>
#include <array>
#include <string>

#include "app/screens/pen.h"

namespace ligule::screens {

using touch::Point;
using touch::Rect;
using touch::Style;
using touch::Tone;

namespace {

// Corners that one hand, one drop or one leaf does not reach in turn; the first lies at the hand
// that holds the tablet.
struct Corners {
  Rect first, second;
};

Corners corners_of(const touch::Ui& ui) {
  const Rect page = full_page(ui);
  const float side = ui.mm(25);
  const Rect low_left{page.left, page.bottom - side, page.left + side, page.bottom};
  const Rect low_right{page.right - side, page.bottom - side, page.right, page.bottom};
  const Rect high_left{page.left, page.top, page.left + side, page.top + side};
  const Rect high_right{page.right - side, page.top, page.right, page.top + side};
  return ui.left_handed() ? Corners{low_right, high_left} : Corners{low_left, high_right};
}

}  // namespace

touch::Paint lock_sign() {
  return [](const touch::Canvas& paint, const Rect& room) {
    const Point c = room.centre();
    const float w = paint.sizes().mm(2.7);
    const float h = paint.sizes().mm(2.1);
    const float stroke = paint.sizes().mm(0.9);
    const float top = c.y - paint.sizes().mm(0.5);
    paint.fill({c.x - w, top, c.x + w, top + 2 * h}, Tone::kInk, paint.sizes().mm(0.8));
    const float r = w * 0.62F;
    const std::array bow{Point{c.x - r, top},
                         Point{c.x - r, top - r * 0.9F},
                         Point{c.x - r * 0.55F, top - r * 1.7F},
                         Point{c.x + r * 0.55F, top - r * 1.7F},
                         Point{c.x + r, top - r * 0.9F},
                         Point{c.x + r, top}};
    paint.polyline(bow, Tone::kInk, stroke, false);
  };
}

void draw_lock_key(const Pen& pen, const Rect& rect) {
  touch::Key lock{.label = pen.words("lock.key")};
  lock.paint = lock_sign();
  lock.icon_only = true;
  if (touch::key(pen.ui, rect, lock)) pen.send(flow::LockGlass{});
}

void draw_lock(const Pen& pen, const flow::LockView& view) {
  touch::Ui& ui = pen.ui;
  const Corners corners = corners_of(ui);
  std::string text(pen.words(view.first ? "lock.second" : "lock.first"));
  if (view.not_saved) text = pen.words.fill("lock.not_saved", {text});
  const touch::Banner words{.text = text, .mood = touch::Mood::kAsk, .shape = touch::Shape::kHeld};
  const Rect page = full_page(ui);
  Rect bar = ui.left_handed() ? Rect{page.left, 0, corners.first.left - ui.gap(), page.bottom}
                              : Rect{corners.first.right + ui.gap(), 0, page.right, page.bottom};
  bar.top = bar.bottom - touch::banner_height(ui, words, bar.width());
  auto panel = ui.panel(bar, "Locked");
  auto group = ui.group("Locked");
  const touch::Canvas paint = ui.canvas();
  paint.outline(ui.window_rect(), Tone::kAttention, ui.mm(1.6));
  touch::banner(ui, bar, words);
  // A key that waits has no face of its own: it lies on a sheet, or what is below reads through.
  for (const Rect& corner : {corners.first, corners.second})
    paint.fill(corner, Tone::kGround, ui.mm(2));
  touch::Key first{.label = "1", .font = touch::Font::kValue};
  touch::Key second{.label = "2", .enabled = view.first, .font = touch::Font::kValue};
  first.selected = view.first;
  (view.first ? second : first).style = Style::kAction;
  if (touch::key(ui, corners.first, first)) pen.send(flow::UnlockCorner{});
  if (touch::key(ui, corners.second, second)) pen.send(flow::UnlockCorner{true});
}

}  // namespace ligule::screens
