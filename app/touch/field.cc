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
  int label_lines = 1;
};

constexpr double kDenseMarginMm = 0.95;
constexpr double kDenseAirMm = 0.5;   // left and right of the words
constexpr double kDescenderMm = 0.8;  // what hangs below a label's line
constexpr double kRoomyAirMm =
    1.3;  // more, on every side, in a field that is higher than it must be

// Whether what the field holds is the value that is being entered.
bool is_current(const Field& field) {
  return field.focused && !field.own_words && !field.elsewhere && !field.value.empty();
}

// The label's strip is as low as its capitals allow; text() centres them in it.
float strip(const Ui& ui, Font font) {
  return std::ceil(ui.mm(ui.sizes().capital_mm(font) * 1.31)) + 1;
}

// A name of two words goes on in a second line where the field is high enough.
int label_lines(const Ui& ui, const Rect& rect, const Field& field, float width) {
  const std::string_view label = label_of(field.label);
  if (text_width(ui, label, Font::kCaption) <= width) return 1;
  return rect.height() >= dense_field_height(ui) + line_height(ui, Font::kCaption) ? 2 : 1;
}

Places lay_out(const Ui& ui, const Rect& rect, const Field& field) {
  Places places;
  places.shape = ui.mm(7);
  if (field.form == FieldForm::kDense) {
    // Room goes between label and value first, then between words and border.
    const float spare = std::max(0.0F, rect.height() - dense_field_height(ui));
    const float between = std::min(spare, ui.mm(kDescenderMm));
    const float air = std::min((spare - between) / 3, ui.mm(kRoomyAirMm));
    Rect room = rect.grown(-ui.mm(kDenseMarginMm));
    room.top += air;
    room.bottom -= air;
    const float beside = ui.mm(kDenseAirMm) + (rect.width() >= ui.mm(36) ? air : 0);
    room.left += beside;
    room.right -= beside;
    places.label_font = Font::kCaption;
    places.shape = ui.mm(4.6);
    Cutter down(room, Axis::kDown, 0);
    places.label_lines = label_lines(ui, rect, field, room.width() + ui.mm(0.6));
    places.label =
        down.take(strip(ui, Font::kCaption) +
                  static_cast<float>(places.label_lines - 1) * line_height(ui, Font::kCaption));
    (void)down.take(between);
    places.value = down.take_rest();
    // A long word goes nearer to the border.
    if (text_width(ui, label_of(field.label), Font::kCaption) > places.label.width()) {
      places.label.left -= ui.mm(0.3);
      places.label.right += ui.mm(0.3);
    }
    return places;
  }
  const Rect room = rect.grown(-ui.mm(2.2));
  if (field.form == FieldForm::kRow) {
    Cutter across(room, Axis::kAcross, ui.mm(2));
    // Large words give way to the value.
    const std::string_view label = label_of(field.label);
    const float value = text_width(ui, field.value, Font::kValue) + places.shape + ui.mm(8);
    if (ui.look().large_text && is_current(field) &&
        text_width(ui, label, Font::kBody) + value > room.width())
      places.label_font = Font::kCaption;
    places.label = across.take(text_width(ui, label, places.label_font) + 1);
    places.value = across.take_rest();
    return places;
  }
  Cutter down(room, Axis::kDown, ui.mm(0.5));
  places.label = down.take(line_height(ui, Font::kBody));
  places.value = down.take_rest();
  return places;
}

// The least height of a value: digits have no descenders.
float value_height(const Ui& ui, Font font) {
  return std::ceil(ui.mm(ui.sizes().capital_mm(font) * 1.06));
}

// The largest type, from the wanted one down, in which the value stands on one line of that room.
Font value_font(const Ui& ui, std::string_view value, Font wanted, float width, float height) {
  constexpr std::array kSteps{Font::kValue, Font::kTitle, Font::kLabel, Font::kStrong, Font::kBody};
  for (const Font font : kSteps) {
    const float least = font == Font::kValue ? value_height(ui, font) : strip(ui, font);
    if (ui.sizes().capital_mm(font) <= ui.sizes().capital_mm(wanted) + 0.01 &&
        least <= height + 1 && text_width(ui, value, font) <= width)
      return font;
  }
  return Font::kCaption;
}

Font wanted_font(const Field& field) {
  return is_current(field) ? Font::kValue : field.font;
}

// Of the sign of the field's state, with the air before it.
float beside_width(const Ui& ui, const Places& places) {
  return places.shape + ui.mm(1.2);
}

// A long value sends the sign of its state up beside the label.
bool sign_goes_up(const Ui& ui, const Field& field, const Places& places) {
  if (field.form != FieldForm::kDense) return false;
  const Font least = is_current(field) ? Font::kValue : Font::kBody;
  const float beside = places.value.width() - beside_width(ui, places);
  const float label = text_width(ui, label_of(field.label), places.label_font);
  return text_width(ui, field.value, least) > beside &&
         label <= places.label.width() - beside_width(ui, places);
}

// A dense field has its unit on the label's line.
std::string_view unit_beside(const Field& field) {
  return field.form == FieldForm::kDense || field.value.empty() ? std::string_view() : field.unit;
}

// Capitals of the value as it will stand.
double value_mm(const Ui& ui, const Rect& line, const Field& field) {
  const std::string_view unit = unit_beside(field);
  const float taken = unit.empty() ? 0 : text_width(ui, unit, Font::kBody) + 1 + ui.mm(1.2);
  return ui.sizes().capital_mm(
      value_font(ui, field.value, wanted_font(field), line.width() - taken, line.height()));
}

void draw_value(Ui& ui, Rect line, const Field& field) {
  const bool right = field.form == FieldForm::kRow;
  // A dense field has its unit on the label's line.
  const std::string_view unit = field.form == FieldForm::kDense ? std::string_view() : field.unit;
  const float unit_width = unit.empty() ? 0 : text_width(ui, unit, Font::kBody) + 1;
  const float between = unit.empty() ? 0 : ui.mm(1.2);
  const bool hint = field.value.empty();
  const std::string_view shown = hint ? field.empty_hint : field.value;
  const Font font = hint ? Font::kBody
                         : value_font(ui, shown, wanted_font(field),
                                      line.width() - unit_width - between, line.height());
  const float width = shown.empty() ? 0 : text_width(ui, shown, font) + 1;
  const float left =
      right ? std::max(line.left, line.right - unit_width - between - width) : line.left;
  if (!hint && field.lines > 1 && text_width(ui, shown, Font::kStrong) > line.width()) {
    text(ui, line, {.text = shown, .font = Font::kStrong, .lines = field.lines, .in_key = true});
    return;
  }
  // Capitals stand in the middle of it, however low it is.
  // Letters with a tail stand a little higher.
  if (is_current(field) && shown.find_first_of("gjpqy") != std::string_view::npos)
    line.bottom -= ui.mm(1);
  const float lacking =
      std::max(0.0F, ui.mm(ui.sizes().capital_mm(font) * 1.32) - line.height()) / 2;
  if (!shown.empty())
    text(ui, {left, line.top - lacking, std::min(left + width, line.right), line.bottom + lacking},
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

float dense_field_width(const Ui& ui, std::string_view value) {
  return text_width(ui, value, Font::kValue) + 2 * ui.mm(kDenseMarginMm + kDenseAirMm) + 2;
}

float dense_field_height(const Ui& ui) {
  return strip(ui, Font::kCaption) + value_height(ui, Font::kValue) + 2 * ui.mm(kDenseMarginMm);
}

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
  Places places = lay_out(ui, rect, field);
  const bool up = field.shape && sign_goes_up(ui, field, places);
  if (field.shape) {
    Rect& beside = up ? places.label : places.value;
    beside.right -= beside_width(ui, places);
    if (field.form == FieldForm::kTall) places.label.right = places.value.right;
  }
  if (is_current(field)) widget.value_mm = value_mm(ui, places.value, field);
  const TouchState state = ui.touch(field.label, std::move(widget), ui.halo());
  const Canvas paint = ui.canvas();
  const float border = field.focused ? ui.mm(1.1) : ui.sizes().border();
  const Tone face = field.focused ? Tone::kDoneWash : Tone::kCard;
  paint.fill(rect, state.held ? Tone::kPressed : face, radius_of(ui));
  paint.outline(rect, field.focused ? Tone::kAction : Tone::kLine, border, radius_of(ui));
  const Tone soft = field.focused ? Tone::kInk : Tone::kInkSoft;
  if (field.shape) {
    const float right = rect.right - ui.mm(field.form == FieldForm::kDense ? 1.7 : 2.6);
    float middle = rect.centre().y;
    if (field.form == FieldForm::kDense)
      middle = up ? places.label.centre().y + ui.mm(0.5) : places.value.centre().y;
    const float half = places.shape / 2;
    paint.shape(*field.shape, {right - places.shape, middle - half, right, middle + half});
  }
  text(ui, places.label,
       {.text = label_of(field.label),
        .font = places.label_font,
        .tone = soft,
        .lines = places.label_lines,
        .in_key = true});
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
