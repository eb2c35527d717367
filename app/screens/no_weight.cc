// Why a plot has no weight, in the place of the pad: what counts as zero, what as missing.
#include <algorithm>

#include "app/screens/load.h"

namespace ligule::screens {

using touch::Axis;
using touch::Cutter;
using touch::Font;
using touch::Rect;
using touch::Tone;

namespace {

constexpr double kKeyMm = 12.6;

std::string_view word_of(const Pen& pen, const flow::NoWeightView& reason) {
  return pen.words("no_weight." + reason.code);
}

// Two across where the words allow.
std::size_t columns_of(const Pen& pen, const std::vector<flow::NoWeightView>& reasons,
                       float width) {
  float widest = 0;
  for (const flow::NoWeightView& reason : reasons)
    widest = std::max(widest, touch::text_width(pen.ui, word_of(pen, reason), Font::kStrong));
  return 2 * (widest + pen.ui.mm(5)) + close_gap(pen.ui) <= width ? 2 : 1;
}

void draw_group(const Pen& pen, Cutter& down, const std::vector<flow::NoWeightView>& reasons,
                bool zero, std::size_t columns) {
  touch::Ui& ui = pen.ui;
  const std::string_view head = pen.words(zero ? "no_weight.zero" : "no_weight.missing");
  touch::text(ui, down.take(touch::text_height(ui, head, Font::kBody, down.rest().width())),
              {.text = head, .tone = Tone::kInkSoft, .lines = 3});
  std::vector<const flow::NoWeightView*> here;
  for (const flow::NoWeightView& reason : reasons)
    if (reason.zero == zero) here.push_back(&reason);
  for (std::size_t at = 0; at < here.size(); at += columns) {
    const auto places =
        touch::split(down.take(ui.mm(kKeyMm)), Axis::kAcross, columns, close_gap(ui));
    for (std::size_t n = 0; n < columns && at + n < here.size(); ++n)
      if (touch::key(ui, places[n], {.label = word_of(pen, *here[at + n]), .font = Font::kStrong}))
        pen.send(flow::SayNoWeight{here[at + n]->code});
  }
}

}  // namespace

void draw_no_weight(const Pen& pen, const Rect& rect,
                    const std::vector<flow::NoWeightView>& reasons) {
  touch::Ui& ui = pen.ui;
  auto group = ui.group("No weight");
  Cutter down(rect, Axis::kDown, close_gap(ui));
  if (touch::key(ui, down.take_end(ui.mm(kKeyMm)),
                 {.label = pen.words("no_weight.back"), .font = Font::kStrong}))
    pen.send(flow::ShowPage{});
  auto scroll = ui.scroll("no_weight", down.take_rest());
  Cutter list(scroll.area(), Axis::kDown, close_gap(ui));
  const std::size_t columns = columns_of(pen, reasons, scroll.area().width());
  for (const bool zero : {true, false}) draw_group(pen, list, reasons, zero, columns);
}

}  // namespace ligule::screens
