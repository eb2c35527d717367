// What was ever recorded about one plot.
#include <algorithm>

#include "app/screens/review_parts.h"

namespace ligule::screens {

using touch::Align;
using touch::Axis;
using touch::Cutter;
using touch::Font;
using touch::Rect;
using touch::Shape;
using touch::Tone;

namespace {

std::string listed(const std::vector<std::string>& texts) {
  std::string out;
  for (const std::string& text : texts) out += (out.empty() ? "" : ", ") + text;
  return out;
}

std::string title_of(const Pen& pen, const flow::HistoryRow& row) {
  if (row.measure.empty()) {
    std::string kind = words_or(pen, "history.", row.kind);
    if (row.shown.empty()) return kind;
    return pen.words.fill("history.title", {kind, words_or(pen, "as_sown.", row.shown)});
  }
  std::string measure = measure_name(pen, row.measure);
  if (row.bag > 0) measure = pen.words.fill("history.of_bag", {measure, std::to_string(row.bag)});
  if (!row.part.empty())
    measure = pen.words.fill("history.of_part", {measure, std::string(pen.words(row.part))});
  std::string value =
      row.shown_word.empty() ? shown_code(pen, row.shown) : std::string(pen.words(row.shown_word));
  if (row.measure == measure::kNote) value = note_text(pen, value);
  if (value.empty() && row.kind != kind::kWithdrawal)
    value = pen.words("mark." + std::string(flow::name_of(row.mark)));
  if (!row.said.empty())
    value = pen.words.fill("history.said", {value, std::string(pen.words(row.said))});
  return value.empty() ? measure : pen.words.fill("history.title", {measure, value});
}

// What kind of record it is, what it replaced and why, what was asked.
std::vector<std::string> lines_of(const Pen& pen, const flow::HistoryRow& row) {
  std::vector<std::string> lines;
  if (!row.measure.empty()) {
    std::string what = words_or(pen, "history.", row.kind);
    if (!row.replaced.empty())
      what = pen.words.fill("history.instead", {what, listed(row.replaced)});
    if (!row.reason.empty())
      what = pen.words.fill("history.reason", {what, words_or(pen, "reason.", row.reason)});
    lines.push_back(std::move(what));
  } else if (!row.reason.empty()) {
    lines.push_back(words_or(pen, "reason.", row.reason));
  }
  for (const flow::AskedView& asked : row.asked)
    lines.push_back(pen.words.fill("history.asked", {words_or(pen, "asked.", asked.rule),
                                                     words_or(pen, "phrase.", asked.answer)}));
  if (row.conflict) lines.emplace_back(pen.words("history.conflict"));
  if (row.standing && !row.conflict) {
    lines.emplace_back(
        pen.words(row.mark == flow::Mark::kOnHold ? "history.on_hold" : "history.stands"));
  }
  return lines;
}

std::string when_of(const Pen& pen, const flow::HistoryRow& row) {
  std::string when = row.date + " " + row.clock;
  if (!row.initials.empty()) when = pen.words.fill("history.when", {when, row.initials});
  if (!row.occasion.empty()) when += ", " + row.occasion;
  return when;
}

std::optional<Shape> sign_of(const flow::HistoryRow& row) {
  if (!row.standing) return std::nullopt;
  return row.conflict ? Shape::kFlag : shape_of(row.mark);
}

// Draws from `top` on and returns where it ended.
float draw_row(const Pen& pen, const Rect& area, float top, const flow::HistoryRow& row) {
  touch::Ui& ui = pen.ui;
  const float side = ui.mm(7);
  const float key_width = row.can_mend ? ui.mm(34) : 0;
  const float width = area.width() - ui.mm(8) - side - ui.mm(3) - key_width;
  const std::string title = title_of(pen, row);
  const std::string when = when_of(pen, row);
  const auto lines = lines_of(pen, row);
  const float title_height = touch::text_height(ui, title, Font::kStrong, width);
  const float when_height = touch::text_height(ui, when, Font::kBody, width);
  float height = ui.mm(5) + title_height + when_height + ui.mm(1);
  for (const std::string& text : lines)
    height += touch::text_height(ui, text, Font::kBody, width) + ui.mm(1);
  if (row.can_mend) height = std::max(height, ui.mm(18));
  const Rect card{area.left, top, area.right, top + height};
  (void)touch::sheet(ui, card);
  Cutter across(card.grown(-ui.mm(2.5)), Axis::kAcross, ui.mm(3));
  const Rect place = across.take(side);
  if (const auto sign = sign_of(row))
    ui.canvas().shape(*sign, {place.left, place.top, place.right, place.top + side});
  if (row.can_mend) {
    const Rect end = across.take_end(key_width - ui.mm(3));
    const std::string label = std::string(pen.words("history.mend")) + "##" + row.id.text();
    auto group = ui.group(row.measure);
    if (touch::key(ui, {end.left, end.top, end.right, end.top + ui.mm(13)},
                   {.label = label, .font = Font::kStrong}))
      pen.send(flow::MendValue{row.id});
  }
  Rect room = across.take_rest();
  room.right = std::min(room.right, room.left + width);
  Cutter down(room, Axis::kDown, ui.mm(1));
  const auto paragraph = [&](std::string_view text, Font font, Tone tone, float tall) {
    touch::text(ui, down.take(tall),
                {.text = text, .font = font, .tone = tone, .down = Align::kStart, .lines = 9});
  };
  paragraph(title, Font::kStrong, Tone::kInk, title_height);
  paragraph(when, Font::kBody, Tone::kInkSoft, when_height);
  for (const std::string& text : lines)
    paragraph(text, Font::kBody, Tone::kInk, touch::text_height(ui, text, Font::kBody, width));
  return card.bottom;
}

}  // namespace

std::string words_or(const Pen& pen, const std::string& family, const std::string& code) {
  const std::string key = family + code;
  return pen.words.has(key) ? std::string(pen.words(key)) : code;
}

void draw_history(const Pen& pen, const Rect& rect, const flow::HistoryView& history) {
  touch::Ui& ui = pen.ui;
  auto group = ui.group("History");
  Cutter down(rect, Axis::kDown, ui.gap());
  std::string place = pen.words.fill("review.block", {std::to_string(history.block)});
  if (!history.names.empty()) place = pen.words.fill("history.title", {place, history.names});
  touch::text(ui, down.take(touch::line_height(ui, Font::kBody)),
              {.text = place, .tone = Tone::kInkSoft, .may_cut = !history.names.empty()});
  const Rect rows = down.take_rest();
  if (history.rows.empty()) {
    if (history.loaded)
      touch::text(ui, rows, {.text = pen.words("history.none"), .down = Align::kStart, .lines = 3});
    return;
  }
  auto scroll = ui.scroll("history", rows);
  float top = scroll.area().top;
  for (const flow::HistoryRow& row : history.rows)
    top = draw_row(pen, scroll.area(), top, row) + ui.gap();
}

}  // namespace ligule::screens
