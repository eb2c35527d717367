// The field that shows what is entered, in its three forms.
#include <algorithm>
#include <array>
#include <cmath>

#include "app/touch/body.h"

namespace ligule::touch {
namespace {

struct Places {
  Rect label;
  Rect value;
  float shape = 0;  // side of the state's sign
  Font label_font = Font::kBody;
};

// The label's strip is as low as its capitals allow; text() centres them in it.
float strip(const Ui& ui, Font font) {
  return std::ceil(ui.mm(ui.sizes().capital_mm(font) * 1.31)) + 1;
}

Places lay_out(const Ui& ui, const Rect& rect, const Field& field) {
  Places places;
  places.shape = ui.mm(7);
  if (field.form == FieldForm::kDense) {
    Rect room = rect.grown(-ui.mm(1.2));
    room.left += ui.mm(1.0);
    room.right -= ui.mm(1.0);
    places.label_font = Font::kCaption;
    places.shape = ui.mm(4.6);
    Cutter down(room, Axis::kDown, ui.mm(0.2));
    places.label = down.take(strip(ui, Font::kCaption));
    places.value = down.take_rest();
    return places;
  }
  const Rect room = rect.grown(-ui.mm(2.2));
  if (field.form == FieldForm::kRow) {
    Cutter across(room, Axis::kAcross, ui.mm(2));
    places.label = across.take(text_width(ui, label_of(field.label), Font::kBody) + 1);
    places.value = across.take_rest();
    return places;
  }
  Cutter down(room, Axis::kDown, ui.mm(0.5));
  places.label = down.take(line_height(ui, Font::kBody));
  places.value = down.take_rest();
  return places;
}

// The largest type, from the wanted one down, in which the value stands on one line of that room.
Font value_font(const Ui& ui, std::string_view value, Font wanted, float width, float height) {
  constexpr std::array kSteps{Font::kValue, Font::kTitle, Font::kLabel, Font::kStrong, Font::kBody};
  for (const Font font : kSteps)
    if (ui.sizes().capital_mm(font) <= ui.sizes().capital_mm(wanted) + 0.01 &&
        strip(ui, font) <= height + 1 && text_width(ui, value, font) <= width)
      return font;
  return Font::kCaption;
}

void draw_value(Ui& ui, Rect line, const Field& field) {
  const bool right = field.form == FieldForm::kRow;
  // A dense field has its unit on the label's line.
  const std::string_view unit = field.form == FieldForm::kDense ? std::string_view() : field.unit;
  const float unit_width = unit.empty() ? 0 : text_width(ui, unit, Font::kBody) + 1;
  const float between = unit.empty() ? 0 : ui.mm(1.2);
  const bool hint = field.value.empty();
  const std::string_view shown = hint ? field.empty_hint : field.value;
  const Font font =
      hint ? Font::kBody
           : value_font(ui, shown, field.font, line.width() - unit_width - between, line.height());
  const float width = shown.empty() ? 0 : text_width(ui, shown, font) + 1;
  const float left =
      right ? std::max(line.left, line.right - unit_width - between - width) : line.left;
  if (!hint && field.lines > 1 && text_width(ui, shown, Font::kStrong) > line.width()) {
    text(ui, line, {.text = shown, .font = Font::kStrong, .lines = field.lines, .in_key = true});
    return;
  }
  if (!shown.empty())
    text(ui, {left, line.top, std::min(left + width, line.right), line.bottom},
         {.text = shown,
          .font = font,
          .tone = hint && !field.focused ? Tone::kInkSoft : Tone::kInk,
          .in_key = !hint});
  const float after = left + width + (shown.empty() ? 0 : between);
  if (!unit.empty())
    text(ui, {after, line.top, line.right, line.bottom},
         {.text = unit, .tone = field.focused ? Tone::kInk : Tone::kInkSoft, .in_key = true});
}

}  // namespace

bool field(Ui& ui, const Rect& rect, const Field& field) {
  if (rect.empty()) {
    ui.no_room(field.label);
    return false;
  }
  Widget widget;
  widget.kind = Kind::kField;
  widget.drawn = rect;
  widget.enabled = field.enabled;
  widget.selected = field.focused;
  widget.value = field.value;
  const TouchState state = ui.touch(field.label, std::move(widget), ui.halo());
  const Canvas paint = ui.canvas();
  const float border = field.focused ? ui.mm(1.1) : ui.sizes().border();
  const Tone face = field.focused ? Tone::kDoneWash : Tone::kCard;
  paint.fill(rect, state.held ? Tone::kPressed : face, radius_of(ui));
  paint.outline(rect, field.focused ? Tone::kAction : Tone::kLine, border, radius_of(ui));
  Places places = lay_out(ui, rect, field);
  const Tone soft = field.focused ? Tone::kInk : Tone::kInkSoft;
  if (field.shape) {
    const bool dense = field.form == FieldForm::kDense;
    const float right = rect.right - ui.mm(dense ? 2.0 : 2.6);
    const float half = places.shape / 2;
    float middle = dense ? places.value.centre().y : rect.centre().y;
    const float beside = right - places.shape - ui.mm(1.4);
    // A long value sends the sign of its state up beside the label.
    const float label_width = text_width(ui, label_of(field.label), places.label_font);
    const bool up = dense &&
                    text_width(ui, field.value, Font::kBody) > beside - places.value.left &&
                    label_width <= beside - places.label.left;
    if (up) {
      middle = places.label.centre().y;
      places.label.right = beside;
    } else {
      places.value.right = beside;
    }
    paint.shape(*field.shape, {right - places.shape, middle - half, right, middle + half});
    if (field.form == FieldForm::kTall) places.label.right = places.value.right;
  }
  text(ui, places.label,
       {.text = label_of(field.label), .font = places.label_font, .tone = soft, .in_key = true});
  if (field.form == FieldForm::kDense && !field.unit.empty()) {
    const float label_width = text_width(ui, label_of(field.label), places.label_font);
    const float unit_width = text_width(ui, field.unit, Font::kCaption) + 1;
    if (places.label.width() - label_width >= unit_width + ui.mm(0.8))
      text(ui, places.label,
           {.text = field.unit,
            .font = Font::kCaption,
            .tone = soft,
            .across = Align::kEnd,
            .in_key = true});
  }
  draw_value(ui, places.value, field);
  return state.tapped;
}

}  // namespace ligule::touch
