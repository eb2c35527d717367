// What is on the scale: in the place of the pad at harvest, and where its port is set.
#include <algorithm>

#include "app/screens/load.h"

namespace ligule::screens {

using touch::Axis;
using touch::Cutter;
using touch::Font;
using touch::Rect;
using touch::Shape;
using touch::Style;
using touch::Tone;

namespace {

Shape sign_of(flow::LoadState state) {
  switch (state) {
    case flow::LoadState::kStill:
      return Shape::kDone;
    case flow::LoadState::kMoving:
      return Shape::kLater;
    case flow::LoadState::kEmpty:
    case flow::LoadState::kNoScale:
      return Shape::kOpen;
    case flow::LoadState::kNotLifted:
      return Shape::kHeld;
    case flow::LoadState::kSilent:
      return Shape::kLost;
    case flow::LoadState::kGarbled:
    case flow::LoadState::kOverload:
    case flow::LoadState::kUnderload:
    case flow::LoadState::kNegative:
      break;
  }
  return Shape::kQuestioned;
}

bool is_nothing(std::string_view shown) {
  return shown.find_first_of("123456789") == std::string_view::npos;
}

// The number as large as it fits, its unit beside it.
void draw_number(const Pen& pen, const Rect& rect, const flow::LoadView& load) {
  touch::Ui& ui = pen.ui;
  const float between = ui.mm(2);
  // The unit with what the number is the weight of, as indicators show it.
  std::string unit_words = load.unit;
  if (load.net) unit_words += "\u00a0" + std::string(pen.words("load.net"));
  const float unit = touch::text_width(ui, unit_words, Font::kTitle);
  const bool large =
      touch::text_width(ui, load.shown, Font::kPlot) + between + unit <= rect.width() &&
      touch::line_height(ui, Font::kPlot) <= rect.height();
  const Font font = large ? Font::kPlot : Font::kValue;
  const float number = touch::text_width(ui, load.shown, font);
  const float from = rect.left + std::max(0.0F, (rect.width() - number - between - unit) / 2);
  touch::text(ui, {from, rect.top, std::min(rect.right, from + number + ui.mm(1)), rect.bottom},
              {.text = load.shown, .font = font, .value = true});
  touch::text(ui, {from + number + between, rect.top, rect.right, rect.bottom},
              {.text = unit_words, .font = Font::kTitle, .tone = Tone::kInkSoft});
}

}  // namespace

std::string load_words(const Pen& pen, const flow::LoadView& load) {
  if (load.state == flow::LoadState::kEmpty && !is_nothing(load.shown))
    return std::string(pen.words("load.left_over"));
  return std::string(pen.words("load." + std::string(name_of(load.state))));
}

void draw_load(const Pen& pen, const Rect& rect, const flow::LoadView& load) {
  touch::Ui& ui = pen.ui;
  const Rect inner = touch::sheet(ui, rect);
  Cutter down(inner, Axis::kDown, ui.mm(1));
  const std::string words = load_words(pen, load);
  const float sign = ui.mm(7);
  const float room = inner.width() - sign - ui.mm(2);
  const float height = std::max(sign, touch::text_height(ui, words, Font::kStrong, room));
  Cutter across(load.shown.empty() ? down.take_rest() : down.take(height), Axis::kAcross, ui.mm(2));
  const Rect mark = across.take(sign);
  ui.canvas().shape(sign_of(load.state), touch::centred(mark, sign, sign));
  touch::text(ui, across.take_rest(), {.text = words, .font = Font::kStrong, .lines = 4});
  if (load.shown.empty()) return;
  draw_number(pen, down.take_rest(), load);
}

void draw_load_pad(const Pen& pen, const Rect& rect, const flow::LoadView& load,
                   flow::CheckDue due) {
  touch::Ui& ui = pen.ui;
  auto group = ui.group("Scale");
  Cutter down(rect, Axis::kDown, ui.gap());
  const auto low = touch::split(down.take_end(ui.mm(15)), Axis::kAcross, 2, ui.gap());
  if (touch::key(ui, low[0], {.label = pen.words("load.type"), .font = Font::kStrong}))
    pen.send(flow::TypeWeight{true});
  // When it is due the key says so by its sign.
  touch::Key check{.label = pen.words("check.open"), .font = Font::kStrong};
  if (due != flow::CheckDue::kNone) check.shape = Shape::kQuestioned;
  if (touch::key(ui, low[1], check)) pen.send(flow::CheckScale{true});
  // On low glass the load needs the room.
  const float most = rect.height() < ui.mm(90) ? ui.mm(20) : rect.height() * 0.36F;
  // One that moves can be taken too, but only after a question.
  const bool still = load.can_take && load.state == flow::LoadState::kStill;
  const touch::Key take{.label = pen.words("load.take"),
                        .style = still ? Style::kAction : Style::kPlain,
                        .enabled = load.can_take,
                        .primary = true,
                        .font = Font::kTitle};
  if (touch::key(ui, down.take_end(std::max(ui.key(), most)), take)) pen.send(flow::TakeWeight{});
  draw_load(pen, down.take_rest(), load);
  // Of a hardware keyboard. Whether an Enter takes the load or ends what a scanner sent is not
  // known here: its letters may have come frames ago.
  for (const auto& press : ui.typed()) {
    if (press.key == platform::HardKey::kText) pen.send(flow::KeyText{press.text});
    if (press.key == platform::HardKey::kEnter) pen.send(flow::KeyDone{});
  }
}

}  // namespace ligule::screens
