// A check weight in the place of the pad: the load and the key that takes it, or digits for its
// mass.
#include "app/screens/load.h"

namespace ligule::screens {

using touch::Axis;
using touch::Cutter;
using touch::Rect;
using touch::Style;

void draw_check_pad(const Pen& pen, const Rect& rect, const Rect& erase,
                    const flow::CheckView& check) {
  touch::Ui& ui = pen.ui;
  auto group = ui.group("Check weight");
  if (check.typing) {
    const touch::NumberPad pad{.erase = pen.words("keyboard.erase"),
                               .done = pen.words("check.typed"),
                               .decimals = true,
                               .erase_place = erase};
    for (const touch::PadKey& key : touch::number_pad(ui, rect, pad)) {
      if (key.kind == touch::PadKey::Kind::kDone && key.text.empty())
        pen.send(flow::FocusField{flow::Field::kGross});
      else
        send_keys(pen, {key});
    }
    return;
  }
  Cutter down(rect, Axis::kDown, ui.gap());
  const auto low = touch::split(down.take_end(ui.key()), Axis::kAcross, 2, ui.gap());
  if (touch::key(ui, low[0], {.label = pen.words("key.back")})) pen.send(flow::CheckScale{false});
  const touch::Key take{.label = pen.words("check.take"),
                        .style = check.load.can_take ? Style::kAction : Style::kPlain,
                        .enabled = check.load.can_take,
                        .primary = true};
  if (touch::key(ui, low[1], take)) pen.send(flow::TakeCheck{});
  draw_load(pen, down.take_rest(), check.load);
}

}  // namespace ligule::screens
