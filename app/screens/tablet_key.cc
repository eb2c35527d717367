// The tablet's key, for the desk: as a code for its scanner and as letters to compare.
#include <algorithm>
#include <cmath>
#include <vector>

#include "app/screens/passages.h"

namespace ligule::screens {

using touch::Axis;
using touch::Cutter;
using touch::Font;
using touch::Rect;
using touch::Tone;

namespace {

constexpr float kQuiet = 4;  // modules of light around a code (ISO/IEC 18004)

// As large as there is room, each module a whole number of dots.
void draw_code(touch::Ui& ui, const Rect& rect, const flow::DotCode& code) {
  const auto modules = static_cast<float>(code.side) + 2 * kQuiet;
  const float module = std::floor(std::min(rect.width(), rect.height()) / modules);
  const float size = module * modules;
  const float left = std::floor(rect.centre().x - size / 2);
  const float top = std::floor(rect.top);
  const touch::Canvas paint = ui.canvas();
  const Rect ground{left, top, left + size, top + size};
  paint.fill(ground, Tone::kCodeLight);
  for (std::size_t row = 0; row < code.side; ++row) {
    for (std::size_t column = 0; column < code.side; ++column) {
      if (!code.dark[row * code.side + column]) continue;
      const float x = left + (static_cast<float>(column) + kQuiet) * module;
      const float y = top + (static_cast<float>(row) + kQuiet) * module;
      paint.fill({x, y, x + module, y + module}, Tone::kCodeDark);
    }
  }
  touch::Widget widget;
  widget.kind = touch::Kind::kShape;
  widget.label = "code";
  widget.drawn = ground;
  ui.enter(std::move(widget));
}

}  // namespace

void draw_key_page(const Pen& pen, const Rect& rect, const flow::KeyView& view) {
  touch::Ui& ui = pen.ui;
  const bool beside = rect.width() > rect.height();
  Cutter cut(rect, beside ? Axis::kAcross : Axis::kDown, ui.mm(5));
  const float side = std::min(rect.height(), beside ? rect.width() * 0.55F : rect.width());
  const Rect place = view.code.side == 0          ? Rect{}
                     : beside && ui.left_handed() ? cut.take_end(side)
                                                  : cut.take(beside ? side : rect.height() * 0.6F);
  if (view.code.side > 0) draw_code(ui, place, view.code);
  Cutter down(cut.take_rest(), Axis::kDown, ui.gap());
  const float width = down.rest().width();
  const Font font =
      touch::text_width(ui, view.fingerprint, Font::kHead) <= width ? Font::kHead : Font::kLabel;
  const std::vector<Passage> passages{{view.fingerprint, font},
                                      {std::string(pen.words("key.how"))}};
  draw_apart(pen, down, passages);
}

}  // namespace ligule::screens
