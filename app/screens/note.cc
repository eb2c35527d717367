// A note on a plot: phrases of the trade by one tap, the rest typed on keys of our own.
#include <algorithm>
#include <cmath>
#include <string>

#include "app/screens/measure_pad.h"
#include "app/screens/pen.h"

namespace ligule::screens {

using touch::Align;
using touch::Axis;
using touch::Cutter;
using touch::Font;
using touch::Rect;
using touch::Tone;

namespace {

// Phrases that go into the note by their code; the row is dragged sideways.
void draw_phrases(const Pen& pen, const Rect& rect) {
  touch::Ui& ui = pen.ui;
  auto group = ui.group("Phrases");
  auto scroll = ui.scroll("phrases", rect, Axis::kAcross);
  Cutter across(scroll.area(), Axis::kAcross, close_gap(ui));
  auto codes = pen.words.family("note_phrase.");
  // A photo is taken more often than anything else is seen, and its number is typed next.
  std::ranges::stable_partition(codes, [](std::string_view code) { return code == "photo"; });
  for (const std::string_view code : codes) {
    const std::string_view word = pen.words("note_phrase." + std::string(code));
    const Rect chip = across.take(touch::text_width(ui, word, Font::kStrong) + ui.mm(7));
    if (touch::key(ui, chip, {.label = word, .font = Font::kStrong}))
      pen.send(flow::KeyText{"[" + std::string(code) + "] "});
  }
}

// As much of the end of a note as has room: what is being typed is always seen.
void draw_written(const Pen& pen, const Rect& rect, const std::string& text) {
  touch::Ui& ui = pen.ui;
  const auto room = [&](Font font) {
    return std::max(1.0F, std::floor(rect.height() / touch::line_height(ui, font)));
  };
  const auto count = [&](Font font) {
    return static_cast<float>(touch::wrap(ui, text, font, rect.width()).size());
  };
  const Font font = count(Font::kLabel) <= room(Font::kLabel) ? Font::kLabel : Font::kBody;
  std::string shown = text;
  if (count(font) > room(font)) {
    // Room for the sign that says there is more before it.
    const auto lines = touch::wrap(ui, text, font, rect.width() - ui.mm(5));
    const auto first = lines.size() - static_cast<std::size_t>(room(font));
    shown = "\u2026" + text.substr(static_cast<std::size_t>(lines[first].data() - text.data()));
  }
  touch::text(ui, rect,
              {.text = shown,
               .font = font,
               .down = Align::kStart,
               .lines = static_cast<int>(room(font)),
               .may_cut = true});
}

// What was said of the plot before, and below it what is being said now.
void draw_text(const Pen& pen, const Rect& rect, const flow::RateView& view,
               const flow::NoteView& note) {
  touch::Ui& ui = pen.ui;
  const Rect inside = touch::sheet(ui, rect);
  std::string earlier;
  for (const std::string& text : view.notes)
    earlier += (earlier.empty() ? "" : "\n") + note_text(pen, text);
  Cutter lines(inside, Axis::kDown, ui.mm(2));
  // On low glass what is being written needs the room.
  const bool room_for_both = inside.height() >= 3 * touch::line_height(ui, Font::kLabel);
  if (!earlier.empty() && room_for_both)
    touch::text(ui,
                lines.take(std::min(touch::text_height(ui, earlier, Font::kBody, inside.width()),
                                    inside.height() * 0.4F)),
                {.text = earlier,
                 .tone = Tone::kInkSoft,
                 .down = Align::kStart,
                 .lines = 6,
                 .may_cut = true});
  if (!note.text.empty())
    return draw_written(pen, lines.take_rest(), note_text(pen, note.text) + "_");
  touch::text(ui, lines.take_rest(),
              {.text = pen.words("note.hint"),
               .font = Font::kLabel,
               .tone = Tone::kInkSoft,
               .down = Align::kStart,
               .lines = 8});
}

}  // namespace

void draw_note(const Pen& pen, const flow::RateView& view, const flow::NoteView& note) {
  touch::Ui& ui = pen.ui;
  Cutter down(full_page(ui), Axis::kDown, close_gap(ui));
  const bool low = down.rest().height() < ui.mm(120);
  Rect top = down.take(low ? ui.mm(13) : touch::head_height(ui));
  const std::string title = pen.words.fill("note.title", {note.plot});
  // The note may be about the plot that was just left. Its key stands in the head, on narrow glass
  // in a row of its own, on low glass beside the text.
  const std::string other = pen.words.fill("note.on_last", {view.last_plot});
  const bool offer = !view.last_plot.empty() && view.last_plot != note.plot;
  const float width = touch::text_width(ui, other, Font::kStrong) + ui.mm(8);
  const float taken = ui.mm(16 + 4 + 4) + hand_key_width(ui, view.head.initials) + ui.mm(4);
  const bool in_head = top.width() - width - taken >= touch::text_width(ui, title, Font::kTitle);
  Rect place;
  if (offer && in_head) {
    place = {top.right - width, top.top, top.right, top.bottom};
    top.right -= width + ui.mm(4);
  }
  if (draw_head(pen, top, {.title = title, .note = pen.words("note.note"), .back = true},
                view.head))
    pen.send(flow::CloseNote{});
  const Rect keyboard = down.take_end(touch::keyboard_height(ui, down.rest().width()));
  draw_keyboard(pen, keyboard, pen.words("note.keep"));
  draw_phrases(pen, down.take_end(ui.mm(12.4)));
  if (offer && !in_head && down.left_over() >= ui.mm(40)) {
    place = down.take(ui.mm(13));
    place.left = place.right - width;
  }
  Cutter across(down.take_rest(), Axis::kAcross, close_gap(ui));
  if (offer && place.empty()) place = across.take_end(width);
  draw_text(pen, across.take_rest(), view, note);
  if (!offer) return;
  place = touch::centred(place, width, ui.mm(13));
  if (touch::key(ui, place, {.label = other, .font = Font::kStrong}))
    pen.send(flow::OpenNote{.on_last_plot = true});
}

}  // namespace ligule::screens
