// Whether the weight just taken is what the other plots suggest: a bar with its range, and words.
#include <algorithm>

#include "app/screens/load.h"

namespace ligule::screens {

using touch::Axis;
using touch::Cutter;
using touch::Font;
using touch::Rect;
using touch::Shape;
using touch::Tone;

namespace {

// The range is the middle half of the bar; the weight a strong line on it.
void draw_bar(const Pen& pen, const Rect& rect, const flow::GaugeView& gauge) {
  const touch::Ui& ui = pen.ui;
  const touch::Canvas paint = pen.ui.canvas();
  const float middle = rect.centre().y;
  const float thick = ui.mm(1.2);
  const Rect track{rect.left, middle - thick, rect.right, middle + thick};
  paint.fill(track, Tone::kSunk, thick);
  const float quarter = track.width() / 4;
  paint.fill({track.left + quarter, track.top, track.right - quarter, track.bottom}, Tone::kDone);
  const float half = ui.mm(0.6);
  const float x = std::clamp(track.left + track.width() * static_cast<float>(gauge.place),
                             track.left + half, track.right - half);
  paint.fill({x - half, rect.top, x + half, rect.bottom}, Tone::kInk);
}

}  // namespace

void draw_gauge(const Pen& pen, const Rect& rect, const flow::GaugeView& gauge) {
  touch::Ui& ui = pen.ui;
  auto group = ui.group("Gauge");
  // On the way to the next plot it says whose it is.
  const auto of_plot = [&](const std::string& text) {
    return gauge.plot.empty() ? text : pen.words.fill("gauge.of", {gauge.plot, text});
  };
  if (!gauge.any) {
    std::string nothing = of_plot(std::string(pen.words("gauge.nothing")));
    const bool fits = touch::text_width(ui, nothing, Font::kBody) <= rect.width();
    if (!gauge.plot.empty() && !fits)
      nothing = of_plot(std::string(pen.words("gauge.nothing.short")));
    touch::text(ui, rect, {.text = nothing, .tone = Tone::kInkSoft, .lines = 2});
    return;
  }
  const std::string unit = "\u00a0" + gauge.unit;
  std::string text = of_plot(pen.words.fill("gauge.range", {gauge.lowest, gauge.highest + unit}));
  const auto fits = [&](float room) { return touch::text_width(ui, text, Font::kBody) <= room; };
  // In a narrow column the words stand under the bar.
  const bool below = rect.height() >= ui.mm(9);
  const float side = std::min(ui.mm(5.4), rect.height());
  const float least = ui.mm(16);
  Cutter down(rect, Axis::kDown, 0);
  Rect told = below ? down.take_end(rect.height() - side) : Rect{};
  Cutter across(down.take_rest(), Axis::kAcross, ui.mm(1.5));
  ui.canvas().shape(gauge.inside ? Shape::kDone : Shape::kQuestioned, across.take(side));
  if (!fits(below ? told.width() : across.left_over() - least - ui.mm(1.5)))
    text = of_plot(pen.words.fill("gauge.range.short", {gauge.lowest, gauge.highest + unit}));
  // Beside another plot's number the range comes before the bar.
  const bool bar =
      gauge.plot.empty() || fits(below ? told.width() : across.left_over() - least - ui.mm(1.5));
  if (!bar) {
    told = across.take_rest();
    told.bottom = rect.bottom;
  }
  if (!below && bar)
    told = across.take_end(std::min(touch::text_width(ui, text, Font::kBody) + ui.mm(0.5),
                                    across.left_over() - least));
  if (bar) draw_bar(pen, across.take_rest(), gauge);
  touch::text(ui, told, {.text = text, .lines = bar ? 1 : 2});
}

}  // namespace ligule::screens
