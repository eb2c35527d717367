#include "app/touch/body.h"

#include <algorithm>
#include <array>
#include <optional>
#include <tuple>

namespace ligule::touch {

Dress dress(const Key& key, bool held) {
  if (!key.enabled) return {Tone::kGround, Tone::kLine, Tone::kInkSoft, false, false};
  if (held && (key.style == Style::kAction || key.selected))
    return {Tone::kActionPressed, Tone::kActionPressed, Tone::kOnAction, true, false};
  if (held) return {Tone::kPressed, Tone::kLine, Tone::kInk, true, false};
  if (key.selected) return {Tone::kAction, Tone::kActionPressed, Tone::kOnAction, true, false};
  if (key.style == Style::kAction)
    return {Tone::kAction, Tone::kActionPressed, Tone::kOnAction, true, true};
  if (key.style == Style::kQuiet)
    return {Tone::kGround, Tone::kAction, Tone::kAction, false, false};
  return {Tone::kCard, Tone::kLine, Tone::kInk, true, true};
}

float radius_of(const Ui& ui) {
  return ui.mm(2.4);
}

// Draws the body and returns the room for the label.
Rect draw_body(Ui& ui, const Rect& rect, const Dress& look, bool sunk) {
  const Canvas paint = ui.canvas();
  const float border = ui.sizes().border();
  const float r = radius_of(ui);
  if (look.has_face) paint.fill(rect, look.edge, r);
  Rect face = rect.grown(-border);
  if (look.lip) face.bottom -= ui.mm(0.8);
  if (sunk) face.top += ui.mm(0.6);
  if (look.has_face)
    paint.fill(face, look.face, std::max(0.0F, r - border));
  else
    paint.outline(rect, look.edge, border, r);
  return face;
}

namespace {

// Whether the label stands in `room` without breaking a word; lines it takes.
std::optional<std::size_t> fits(const Ui& ui, std::string_view label, Font font, const Rect& room) {
  for (std::size_t from = 0; from <= label.size();) {
    const std::size_t end = std::min(label.find(' ', from), label.size());
    if (text_width(ui, label.substr(from, end - from), font) > room.width()) return std::nullopt;
    from = end + 1;
  }
  const auto lines = wrap(ui, label, font, room.width()).size();
  if (static_cast<float>(lines) * line_height(ui, font) > room.height() * 1.08F)
    return std::nullopt;
  return lines;
}

}  // namespace

std::pair<Font, std::size_t> fitting(const Ui& ui, std::string_view label, Font wanted,
                                     const Rect& room) {
  constexpr std::array kSteps{Font::kPlot,  Font::kValue,  Font::kTitle,
                              Font::kLabel, Font::kStrong, Font::kBody};
  for (const Font font : kSteps) {
    if (ui.sizes().capital_mm(font) > ui.sizes().capital_mm(wanted) + 0.01) continue;
    if (const auto lines = fits(ui, label, font, room)) return {font, *lines};
  }
  // In large text there is a usual size below it, bold as long as it can.
  if (ui.look().large_text) {
    for (const Font font : {Font::kFirm, Font::kCaption}) {
      if (font == Font::kFirm && wanted == Font::kCaption) continue;
      if (const auto lines = fits(ui, label, font, room)) return {font, *lines};
    }
  }
  return {Font::kBody, 3};
}

// A word too long for a small tile goes down one size; a sentence never does.
Font note_font(const Ui& ui, std::string_view note, Font label, const Rect& room) {
  Rect under_label = room;
  under_label.top += line_height(ui, label) * 0.96F;
  return fits(ui, note, Font::kBody, under_label) ? Font::kBody : Font::kCaption;
}

namespace {

constexpr Font kFigureFont = Font::kStrong;

float figure_width(const Ui& ui, std::string_view figure) {
  return std::max(ui.mm(7), text_width(ui, figure, kFigureFont) + ui.mm(1.6));
}

}  // namespace

void draw_label(Ui& ui, Rect room, const Key& key, Tone tone) {
  const std::string_view label = label_of(key.label);
  const Font small = key.note_font.value_or(note_font(ui, key.note, key.font, room));
  const float note_height =
      key.note.empty() ? key.note_room
                       : std::max(key.note_room, text_height(ui, key.note, small, room.width()));
  if (key.shape) {
    // The sign stands left of a label on one line and shares its room.
    const float side = std::min(ui.mm(7), room.height() * 0.6F);
    const float width = std::min(text_width(ui, label, key.font), room.width() - side - ui.mm(2));
    const float start = room.centre().x - (side + ui.mm(2) + width) / 2;
    ui.canvas().shape(
        *key.shape, {start, room.centre().y - side / 2, start + side, room.centre().y + side / 2});
    room.left = start + side + ui.mm(2);
  }
  Rect upper = room;
  upper.bottom -= note_height;
  const float figure = key.figure.empty() ? 0 : figure_width(ui, key.figure);
  if (figure > 0) upper.right -= figure + ui.mm(0.6);
  auto [font, lines] = fitting(ui, label, key.font, upper);
  if (const Font common = ui.common_size(key.font, font, true); common != font)
    std::tie(font, lines) = fitting(ui, label, common, upper);
  const float step = line_height(ui, font);
  const float block = static_cast<float>(lines) * step + note_height;
  const float top = std::max(room.top, room.centre().y - block / 2);
  Rect strip{room.left, top, room.right, top + static_cast<float>(lines) * step};
  if (note_height <= 0) strip = room;
  if (figure > 0) {
    const Rect box{strip.right - figure, strip.top, strip.right, strip.bottom};
    ui.canvas().fill(box, Tone::kCard, ui.mm(1.2));
    text(ui, box,
         {.text = key.figure, .font = kFigureFont, .across = Align::kMiddle, .in_key = true});
    strip.right = upper.right;
  }
  const Align across = key.shape ? Align::kStart : Align::kMiddle;
  text(ui, strip,
       {label, font, tone, across, Align::kMiddle, static_cast<int>(lines), false, true});
  if (!key.note.empty())
    text(ui, {room.left, strip.bottom, room.right, std::max(room.bottom, strip.bottom + 1)},
         {key.note, small, tone, across, Align::kStart, 3, false, true});
}

void draw_chosen(Ui& ui, const Rect& face, Tone tone, bool foot_taken) {
  if (!foot_taken && (face.height() < ui.mm(16) || face.width() < ui.mm(16))) {
    // A small key has no corner to spare: a bar at its foot.
    const float half = std::min(ui.mm(4), face.width() * 0.3F);
    const Point foot{face.centre().x, face.bottom - ui.mm(1.5)};
    ui.canvas().fill({foot.x - half, foot.y - ui.mm(0.5), foot.x + half, foot.y + ui.mm(0.5)}, tone,
                     ui.mm(0.5));
    return;
  }
  const Point corner{face.right - ui.mm(3.2), face.top + ui.mm(3.0)};
  const float r = ui.mm(1.5);
  const std::array tick{Point{corner.x - r, corner.y},
                        Point{corner.x - r * 0.25F, corner.y + r * 0.75F},
                        Point{corner.x + r, corner.y - r * 0.8F}};
  ui.canvas().polyline(tick, tone, ui.mm(0.7), false);
}

bool key_as(Ui& ui, const Rect& rect, const Key& key, Kind kind, float picture) {
  if (rect.empty()) {
    ui.no_room(key.label);
    return false;
  }
  Widget widget;
  widget.kind = kind;
  widget.drawn = rect;
  widget.enabled = key.enabled;
  widget.selected = key.selected;
  widget.primary = key.primary;
  widget.value = key.note;
  const TouchState state = ui.touch(key.label, std::move(widget), key.halo.value_or(ui.halo()));
  const Dress look = dress(key, state.held);
  const Rect face = draw_body(ui, rect, look, state.held);
  // A narrow key has every millimetre for its word.
  Rect label_room = face.grown(-ui.mm(rect.width() < ui.mm(18) ? 0.7 : 1.2));
  if (key.paint) {
    Rect room = face;
    if (picture > 0) {
      room = face.grown(-ui.mm(1));
      room.bottom = room.top + picture;
      label_room.top = room.bottom;
      // Pictures are drawn for card, also on a chosen tile.
      if (key.selected) ui.canvas().fill(room, Tone::kCard, ui.mm(1.2));
    }
    ui.canvas().clip(room);
    key.paint(ui.canvas(), room);
    ui.canvas().unclip();
  }
  if (!key.icon_only) draw_label(ui, label_room, key, look.text);
  // A number on card says it too.
  if (key.selected && key.enabled && picture <= 0 && key.figure.empty())
    draw_chosen(ui, face, look.text, !key.note.empty());
  return state.tapped;
}

}  // namespace ligule::touch
