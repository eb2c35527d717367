#include "app/touch/key.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <utility>
#include <vector>

#include "app/touch/body.h"

namespace ligule::touch {
bool key(Ui& ui, const Rect& rect, const Key& key) {
  return key_as(ui, rect, key, Kind::kKey);
}

bool patch(Ui& ui, const Rect& rect, std::string_view label) {
  Widget widget;
  widget.kind = Kind::kKey;
  widget.drawn = rect;
  const TouchState state = ui.touch(label, std::move(widget), 0);
  if (state.held) ui.canvas().outline(rect, Tone::kAction, ui.mm(0.9), ui.mm(1.2));
  return state.tapped;
}

namespace {

// An arrow whose shaft is centred; turn = -1 points left.
Paint arrow(float turn) {
  return [turn](const Canvas& paint, const Rect& room) {
    const Point c = room.centre();
    const float r = paint.sizes().mm(4);
    const float stroke = paint.sizes().mm(1.1);
    const Point tip{c.x + turn * r, c.y};
    paint.line({c.x - turn * r, c.y}, tip, Tone::kInk, stroke);
    const std::array head{Point{tip.x - turn * r * 0.8F, c.y - r * 0.8F}, tip,
                          Point{tip.x - turn * r * 0.8F, c.y + r * 0.8F}};
    paint.polyline(head, Tone::kInk, stroke, false);
  };
}

}  // namespace

Paint back_sign() {
  return arrow(-1);
}
Paint onward_sign() {
  return arrow(1);
}

Paint erase_sign() {
  return [](const Canvas& paint, const Rect& room) {
    const Point c = room.centre();
    const float h = paint.sizes().mm(3);
    const float w = paint.sizes().mm(4.6);
    const float stroke = paint.sizes().mm(0.8);
    const std::array tab{Point{c.x - w, c.y}, Point{c.x - w * 0.4F, c.y - h},
                         Point{c.x + w, c.y - h}, Point{c.x + w, c.y + h},
                         Point{c.x - w * 0.4F, c.y + h}};
    paint.polyline(tab, Tone::kInk, stroke, true);
    const float x = h * 0.45F;
    const Point m{c.x + w * 0.28F, c.y};
    paint.line({m.x - x, m.y - x}, {m.x + x, m.y + x}, Tone::kInk, stroke);
    paint.line({m.x - x, m.y + x}, {m.x + x, m.y - x}, Tone::kInk, stroke);
  };
}

Paint undo_sign() {
  return [](const Canvas& paint, const Rect& room) {
    // A way out to the right, round, and back to where it began.
    const Point c = room.centre();
    const float r = paint.sizes().mm(2.9);
    const float w = paint.sizes().mm(4.2);
    const float stroke = paint.sizes().mm(1.1);
    constexpr int kSteps = 16;
    const Point tip{c.x - w, c.y - r * 0.9F};
    std::vector<Point> way{tip};
    for (int step = 0; step <= kSteps; ++step) {
      const float angle = std::numbers::pi_v<float> * (static_cast<float>(step) / kSteps - 0.5F);
      way.push_back({c.x + w - r + r * std::cos(angle), c.y + r * 0.1F + r * std::sin(angle)});
    }
    way.push_back({c.x - w * 0.5F, c.y + r * 1.1F});
    paint.polyline(way, Tone::kInk, stroke, false);
    const std::array head{Point{tip.x + r * 0.75F, tip.y - r * 0.75F}, tip,
                          Point{tip.x + r * 0.75F, tip.y + r * 0.75F}};
    paint.polyline(head, Tone::kInk, stroke, false);
  };
}

Paint tablet_sign() {
  return [](const Canvas& paint, const Rect& room) {
    const Point c = room.centre();
    const float w = paint.sizes().mm(3.4);
    const float h = paint.sizes().mm(4.4);
    const float stroke = paint.sizes().mm(0.9);
    paint.outline({c.x - w, c.y - h, c.x + w, c.y + h}, Tone::kInk, stroke, paint.sizes().mm(1.2));
    const float reach = w * 0.58F;
    const float knob = paint.sizes().mm(1);
    for (const float up : {-1.0F, 1.0F}) {
      const float y = c.y + up * h * 0.34F;
      paint.line({c.x - reach, y}, {c.x + reach, y}, Tone::kInk, stroke * 0.7F);
      paint.disc({c.x + up * reach * 0.45F, y}, knob, Tone::kInk);
    }
  };
}

Paint step_sign(bool more) {
  return [more](const Canvas& paint, const Rect& room) {
    const Point c = room.centre();
    const float r = paint.sizes().mm(4.2);
    const float stroke = paint.sizes().mm(1.4);
    paint.line({c.x - r, c.y}, {c.x + r, c.y}, Tone::kInk, stroke);
    if (more) paint.line({c.x, c.y - r}, {c.x, c.y + r}, Tone::kInk, stroke);
  };
}

int stepper(Ui& ui, const Rect& rect, const Stepper& stepper) {
  auto group = ui.group(stepper.label);
  Cutter across(rect, Axis::kAcross, ui.gap());
  const float side = std::max(ui.key(), std::min(ui.mm(30), rect.height()));
  const Rect left = across.take(side);
  const Rect right = across.take_end(side);
  const Rect middle = across.take_rest();
  int moved = 0;
  Key less{.label = stepper.less, .enabled = stepper.can_less, .primary = true};
  less.paint = step_sign(false);
  less.icon_only = true;
  if (key(ui, left, less)) moved = -1;
  Key more{.label = stepper.more, .enabled = stepper.can_more, .primary = true};
  more.paint = step_sign(true);
  more.icon_only = true;
  if (key(ui, right, more)) moved = 1;
  if (stepper.keys_only) return moved;
  ui.canvas().fill(middle, Tone::kSunk, radius_of(ui));
  if (stepper.unit.empty()) {
    // A date has more digits than a number.
    Font font = Font::kValue;
    for (const Font smaller : {Font::kTitle, Font::kStrong})
      if (text_width(ui, stepper.value, font) > middle.width() - ui.mm(1)) font = smaller;
    text(ui, middle,
         {.text = stepper.value, .font = font, .across = Align::kMiddle, .value = true});
    return moved;
  }
  const float gap = ui.mm(1.8);
  const float value_width = text_width(ui, stepper.value, Font::kValue);
  const float unit_width = text_width(ui, stepper.unit, Font::kBody);
  const float start =
      std::max(middle.left, middle.centre().x - (value_width + gap + unit_width) / 2);
  text(ui, {start, middle.top, start + value_width + 1, middle.bottom},
       {.text = stepper.value, .font = Font::kValue, .value = true});
  text(ui, {start + value_width + gap, middle.top, middle.right, middle.bottom},
       {stepper.unit, Font::kBody, Tone::kInkSoft});
  return moved;
}

}  // namespace ligule::touch
