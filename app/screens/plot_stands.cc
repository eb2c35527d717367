#include "app/screens/plot_stands.h"

#include <algorithm>
#include <array>

#include "app/screens/trials_parts.h"

namespace ligule::screens {

using touch::Point;
using touch::Rect;
using touch::Tone;

namespace {

constexpr double kSignMm = 4.4;
constexpr double kLeastPartMm = 12.2;

// Two leaves on a stalk.
void draw_seedling(const Pen& pen, const Rect& room) {
  const touch::Canvas& canvas = pen.ui.canvas();
  const float w = room.width();
  const float h = room.height();
  const auto at = [&](double x, double y) {
    return Point{room.left + w * static_cast<float>(x), room.top + h * static_cast<float>(y)};
  };
  const std::array stalk{at(0.45, 0.42), at(0.55, 0.42), at(0.55, 1), at(0.45, 1)};
  const std::array left{at(0.48, 0.62), at(0.1, 0.46), at(0, 0.14), at(0.36, 0.24)};
  const std::array right{at(0.52, 0.5), at(0.62, 0.14), at(1, 0), at(0.9, 0.34)};
  canvas.polygon(stalk, Tone::kInkSoft);
  canvas.polygon(left, Tone::kInkSoft);
  canvas.polygon(right, Tone::kInkSoft);
}

}  // namespace

float stands_sign_width(const touch::Ui& ui) {
  return ui.mm(kSignMm + 1);
}

void draw_stands_sign(const Pen& pen, const Rect& strip, float after,
                      const flow::StandsView& stands) {
  touch::Ui& ui = pen.ui;
  const float side = ui.mm(kSignMm);
  const bool beside = after + stands_sign_width(ui) <= strip.right + 1;
  if (!beside && !stands.stated) return;
  const float left = beside ? after + ui.mm(1) : strip.right - side;
  const float middle = (strip.top + strip.bottom) / 2;
  const float top = std::max(strip.top, middle - side * 1.1F);
  const Rect room{left, top, left + side, top + side};
  if (stands.stated)
    ui.canvas().shape(shape_of(*stands.stated), room);
  else if (stands.can_state)
    draw_seedling(pen, room);
}

void stands_part(const Pen& pen, const Rect& rect, const flow::StandsView& stands) {
  touch::Ui& ui = pen.ui;
  if (!stands.can_state || rect.empty()) return;
  // Keys beside it answer a little way out; never lower than what a glove finds.
  Rect part = rect;
  part.left += ui.halo();
  part.right -= ui.halo();
  const float spare = std::max(0.0F, part.height() - ui.mm(kLeastPartMm)) / 2;
  const float air = std::min(ui.halo(), spare);
  part.top += air;
  part.bottom -= air;
  touch::Widget widget;
  widget.kind = touch::Kind::kSheet;
  widget.drawn = part;
  const touch::TouchState state = ui.touch(pen.words("key.stands"), std::move(widget), 0);
  if (state.held) ui.canvas().fill(part, Tone::kPressed, ui.mm(2));
  if (state.tapped) pen.send(flow::ShowStands{});
}

}  // namespace ligule::screens
