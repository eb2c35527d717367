// Who holds the tablet: one tap for somebody known, initials for somebody new.
#include <algorithm>

#include "app/screens/pen.h"

namespace ligule::screens {

using touch::Axis;
using touch::Cutter;
using touch::Font;
using touch::Rect;
using touch::Tone;

namespace {

// The other languages, at the right end of a strip: whoever can't read this finds their own. Gives
// back the rest.
Rect draw_languages(const Pen& pen, const Rect& strip, const flow::SignInView& view) {
  touch::Ui& ui = pen.ui;
  Cutter across(strip, Axis::kAcross, ui.gap());
  for (const flow::OptionView& language : view.languages) {
    if (language.selected) continue;
    const float width = touch::text_width(ui, language.name, Font::kStrong) + ui.mm(7);
    const Rect place = across.take_end(std::max(width, ui.mm(16)));
    const touch::Key other{.label = language.name, .font = Font::kStrong};
    if (touch::key(ui, place, other))
      pen.send(flow::Choose{flow::Preference::kLanguage, language.code});
  }
  return across.take_rest();
}

// Title of the first question of the day, or of a tablet that goes from hand to hand.
bool draw_who(const Pen& pen, const Rect& rect, const flow::SignInView& view, bool low) {
  if (has_notice(pen)) {
    draw_notice(pen, rect);
    return false;
  }
  if (view.held_by.empty()) {
    (void)touch::head(pen.ui, rect,
                      {.title = pen.words("sign_in.title"),
                       .note = low ? std::string_view() : pen.words("sign_in.note")});
    return false;
  }
  Cutter across(rect, Axis::kAcross, pen.ui.mm(4));
  bool back = false;
  if (!view.after_rest) {
    touch::Key out{.label = pen.words("key.back")};
    out.paint = touch::back_sign();
    out.icon_only = true;
    back = touch::key(pen.ui, across.take(pen.ui.mm(16)), out);
  }
  if (low) {
    touch::text(pen.ui, across.take_rest(),
                {.text = pen.words("sign_in.title"), .font = Font::kLabel, .lines = 2});
    return back;
  }
  const std::string note =
      pen.words.fill(view.after_rest ? "hand_over.rest" : "hand_over.note", {view.held_by});
  (void)touch::head(pen.ui, across.take_rest(),
                    {.title = pen.words("sign_in.title"), .note = note});
  return back;
}

}  // namespace

void draw_sign_in(const Pen& pen, const flow::SignInView& view) {
  touch::Ui& ui = pen.ui;
  auto group = ui.group("Sign in");
  stand_close(ui);
  Cutter down(full_page(ui), Axis::kDown, close_gap(ui));
  const Rect keyboard = down.take_end(touch::keyboard_height(ui, down.rest().width()));
  pen.scratch.keyboard.capitals = true;  // initials have no small letters
  draw_keyboard(pen, keyboard,
                pen.words(view.held_by.empty() ? "sign_in.start" : "hand_over.start"));

  // Low glass: title and field share a strip, so that the initials known keep their keys.
  const bool low = down.left_over() < ui.mm(16 + 20 + 20) + 3 * ui.gap();
  Rect head = down.take(low ? ui.mm(16) : touch::head_height(ui));
  Rect typed;
  if (low) {
    typed = head;
    typed.left = head.right - std::min(ui.mm(40), head.width() * 0.3F);
    head.right = typed.left - ui.gap();
    // Somebody who had it goes on in their own language: the way back needs the room.
    if (view.held_by.empty()) head = draw_languages(pen, head, view);
  } else {
    typed = draw_languages(pen, down.take_end(ui.mm(ui.look().large_text ? 22 : 20)), view);
    typed.right = std::min(typed.right, typed.left + ui.mm(90));
  }
  if (draw_who(pen, head, view, low)) pen.send(flow::KeepTablet{});
  const touch::Field field{.label = pen.words("field.initials"),
                           .value = view.typed,
                           .empty_hint = low ? std::string_view() : pen.words("sign_in.hint"),
                           .focused = true,
                           .form = low ? touch::FieldForm::kDense : touch::FieldForm::kTall};
  (void)touch::field(ui, typed, field);

  if (view.known.empty()) return;
  const Rect room = down.take_rest();
  const float side = ui.key();
  const auto columns = static_cast<std::size_t>(
      std::max(1.0F, (room.width() + ui.gap()) / (side * 1.4F + ui.gap())));
  auto scroll = ui.scroll("people", room);
  const std::size_t rows = (view.known.size() + columns - 1) / columns;
  const Rect& area = scroll.area();
  const auto down_rows = static_cast<float>(rows);
  const Rect all{area.left, area.top, area.right,
                 area.top + down_rows * side + (down_rows - 1) * ui.gap()};
  const auto lines = touch::split(all, Axis::kDown, rows, ui.gap());
  for (std::size_t n = 0; n < view.known.size(); ++n) {
    const auto cells = touch::split(lines[n / columns], Axis::kAcross, columns, ui.gap());
    const touch::Key person{.label = view.known[n], .primary = true, .font = Font::kTitle};
    if (touch::key(ui, cells[n % columns], person)) pen.send(flow::PickPerson{view.known[n]});
  }
}

}  // namespace ligule::screens
