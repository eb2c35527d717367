// What happened to a trial: noting it, saying it as a line, taking it back.
#include <algorithm>
#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "app/flow/trials_codes.h"
#include "app/screens/trials_parts.h"

namespace ligule::screens {

using touch::Axis;
using touch::Cutter;
using touch::Font;
using touch::Rect;
using touch::Style;

namespace {

// Digits where nothing else is meant; a clock may be written with words of its own.
bool is_number(std::string_view key) {
  return key == flow::event_key::kHead || key == flow::event_key::kHours ||
         key == flow::event_key::kHeightBefore || key == flow::event_key::kHeightAfter;
}

void draw_banner(const Pen& pen, Cutter& rows, std::string_view text,
                 touch::Mood mood = touch::Mood::kAsk,
                 touch::Shape shape = touch::Shape::kQuestioned) {
  const touch::Banner banner{.text = text, .mood = mood, .shape = shape};
  touch::banner(pen.ui, rows.take(touch::banner_height(pen.ui, banner, rows.rest().width())),
                banner);
}

std::string animals_word(const Pen& pen, const std::string& animals) {
  const std::string key = "animals." + animals;
  return pen.words.has(key) ? std::string(pen.words(key)) : animals;
}

std::string field_label(const Pen& pen, const flow::EventFieldView& field) {
  std::string label(pen.words("event.field." + field.key));
  if (!field.unit.empty()) label += ", " + field.unit;
  return label;
}

// How what is asked for is written; empty: that needs no saying.
std::string_view hint_of(const Pen& pen, std::string_view key) {
  if (key == flow::event_key::kRate) return pen.words("event.hint.rate");
  if (key == flow::event_key::kEnded || key == flow::event_key::kUntilClock)
    return pen.words("event.hint.clock");
  return {};
}

void draw_whats(const Pen& pen, Cutter& rows, const flow::EventFormView& view) {
  auto group = pen.ui.group("What");
  if (!view.what.empty()) {
    // What is chosen makes room for what is asked about it.
    const touch::Key chosen{.label = pen.words("event." + view.what),
                            .note = pen.words("event.choose_anew"),
                            .selected = true,
                            .font = Font::kStrong};
    if (touch::key(pen.ui, rows.take(pen.ui.mm(16)), chosen))
      pen.send(flow::DescribeEvent{.what = view.what});
    return;
  }
  std::vector<Chip> whats;
  whats.reserve(flow::kTrialEvents.size());
  for (const std::string_view code : flow::kTrialEvents)
    whats.push_back({std::string(pen.words("event." + std::string(code)))});
  if (const auto n = chips(pen, rows, whats, 30))
    pen.send(flow::DescribeEvent{.what = std::string(flow::kTrialEvents[*n])});
}

void draw_places(const Pen& pen, Cutter& rows, const flow::EventFormView& view) {
  heading(pen, rows, "event.where");
  auto group = pen.ui.group("Where");
  std::vector<Chip> places{{std::string(pen.words("event.whole")), view.block == 0}};
  for (const int block : view.blocks)
    places.push_back({pen.words.fill("event.block", {std::to_string(block)}), view.block == block});
  if (const auto n = chips(pen, rows, places, 24))
    pen.send(flow::DescribeEvent{.block = *n == 0 ? 0 : view.blocks[*n - 1]});
}

void draw_animals(const Pen& pen, Cutter& rows, const flow::EventFormView& view) {
  heading(pen, rows, "event.animals");
  auto group = pen.ui.group("Animals");
  std::vector<Chip> kinds;
  kinds.reserve(flow::kAnimals.size());
  for (const std::string_view code : flow::kAnimals)
    kinds.push_back({animals_word(pen, std::string(code)), view.animals == code});
  if (const auto n = chips(pen, rows, kinds, 24))
    pen.send(flow::DescribeEvent{.animals = std::string(flow::kAnimals[*n])});
}

// Those of the keys, as many beside each other as keep their labels.
void draw_fields(const Pen& pen, Cutter& rows, const flow::EventFormView& view, auto wanted) {
  touch::Ui& ui = pen.ui;
  std::vector<const flow::EventFieldView*> fields;
  float widest = ui.mm(60);
  for (const flow::EventFieldView& field : view.fields) {
    if (!wanted(field.key)) continue;
    fields.push_back(&field);
    widest =
        std::max(widest, touch::text_width(ui, field_label(pen, field), Font::kBody) + ui.mm(8));
  }
  if (fields.empty()) return;
  const float room = rows.rest().width();
  const auto columns = std::clamp<std::size_t>(
      static_cast<std::size_t>((room + ui.gap()) / (widest + ui.gap())), 1, fields.size());
  std::vector<Rect> cells;
  for (std::size_t n = 0; n < fields.size(); ++n) {
    if (n % columns == 0)
      cells = touch::split(rows.take(ui.mm(22)), Axis::kAcross, columns, ui.gap());
    const std::string label = field_label(pen, *fields[n]);
    // What was tapped shows on its key.
    const bool tapped = fields[n]->key == flow::event_key::kAnimals && !view.animals.empty();
    const std::string value = tapped ? std::string() : fields[n]->text;
    const touch::Field field{.label = label,
                             .value = value,
                             .empty_hint = hint_of(pen, fields[n]->key),
                             .font = Font::kStrong,
                             .own_words = !is_number(fields[n]->key),
                             .form = touch::FieldForm::kTall,
                             .lines = 2};
    if (touch::field(ui, cells[n % columns], field))
      pen.send(flow::DescribeEvent{.writing = fields[n]->key});
  }
}

bool of_no_entry(std::string_view key) {
  return key == flow::event_key::kHours || key == flow::event_key::kEnded ||
         key == flow::event_key::kUntilClock;
}

// How the label names the time, and what that comes to.
void draw_no_entry(const Pen& pen, Cutter& rows, const flow::EventFormView& view) {
  constexpr std::array<std::pair<NoEntryBy, std::string_view>, 4> kWays{
      {{NoEntryBy::kHours, "no_entry.by_hours"},
       {NoEntryBy::kUntil, "no_entry.by_until"},
       {NoEntryBy::kNone, "no_entry.by_none"},
       {NoEntryBy::kNotKnown, "no_entry.by_not_known"}}};
  heading(pen, rows, "no_entry.heading");
  {
    auto group = pen.ui.group("No entry");
    std::vector<Chip> ways;
    ways.reserve(kWays.size());
    for (const auto& [by, key] : kWays)
      ways.push_back({std::string(pen.words(key)), view.no_entry == by});
    if (const auto n = chips(pen, rows, ways, 36))
      pen.send(flow::DescribeEvent{.no_entry = kWays[*n].first});
  }
  if (view.no_entry == NoEntryBy::kUntil) {
    const int step = day_step(pen, rows, "no_entry.day", view.until_day, true);
    if (step != 0) pen.send(flow::StepUntil{step});
  }
  draw_fields(pen, rows, view, of_no_entry);
  if (view.comes_to.empty()) return;
  const std::string text = pen.words.fill("no_entry.comes_to", {view.comes_to}) + " " +
                           std::string(pen.words("no_entry.decides"));
  draw_banner(pen, rows, text);
}

void draw_writing(const Pen& pen, Cutter& down, const flow::EventFormView& view,
                  const flow::EventFieldView& writing) {
  touch::Ui& ui = pen.ui;
  const std::string label = field_label(pen, writing);
  Rect room;
  if (is_number(writing.key)) {
    room = draw_digits(pen, down,
                       {.erase = pen.words("keyboard.erase"),
                        .done = pen.words("event.written"),
                        .decimals = writing.key != flow::event_key::kHead});
  } else {
    draw_keyboard(pen, down.take_end(touch::keyboard_height(ui, down.rest().width())),
                  pen.words("event.written"));
    room = down.take_rest();
  }
  // What a clock comes to shows while it is typed.
  if (of_no_entry(writing.key) && !view.comes_to.empty()) {
    const std::string text = pen.words.fill("no_entry.comes_to", {view.comes_to});
    Cutter parts(room, Axis::kDown, ui.gap());
    const touch::Banner banner{.text = text, .mood = touch::Mood::kAsk};
    const float height = touch::banner_height(ui, banner, room.width());
    if (room.height() - height - ui.gap() >= ui.mm(19)) {
      touch::banner(ui, parts.take_end(height), banner);
      room = parts.take_rest();
    }
  }
  room.bottom = std::min(room.bottom, room.top + ui.mm(30));
  // A number stays as large as any other; words may be as small as they are read.
  const bool number = is_number(writing.key);
  const bool low = number && room.height() < ui.mm(27);
  (void)touch::field(ui, room,
                     {.label = label,
                      .value = writing.text,
                      .empty_hint = hint_of(pen, writing.key),
                      .focused = true,
                      .font = number ? Font::kValue : Font::kStrong,
                      .own_words = !number,
                      .form = low ? touch::FieldForm::kDense : touch::FieldForm::kTall,
                      .lines = number ? 1 : 3});
}

}  // namespace

void draw_event_form(const Pen& pen, Cutter& down, const flow::EventFormView& view) {
  touch::Ui& ui = pen.ui;
  if (view.writing) return draw_writing(pen, down, view, *view.writing);
  if (touch::key(
          ui, down.take_end(ui.mm(16)),
          {.label = pen.words("event.keep"), .style = Style::kAction, .enabled = view.can_keep}))
    pen.send(flow::KeepEvent{});
  auto scroll = ui.scroll("event", down.take_rest());
  Cutter rows(scroll.area(), Axis::kDown, ui.gap());
  draw_whats(pen, rows, view);
  if (view.what.empty()) return;
  const bool grazing = view.what == "grazing_in" || view.what == "grazing_out";
  if (view.what == "spray") draw_banner(pen, rows, pen.words("caution.spray"));
  if (grazing) draw_banner(pen, rows, pen.words("caution.live_fence"));
  if (grazing) draw_animals(pen, rows, view);
  draw_fields(pen, rows, view, [](std::string_view key) {
    return key != flow::event_key::kWords && !of_no_entry(key);
  });
  heading(pen, rows, "event.day");
  draw_day(pen, rows, "event.day", view.on, view.can_later);
  if (view.what == "spray") draw_no_entry(pen, rows, view);
  draw_places(pen, rows, view);
  draw_fields(pen, rows, view, [](std::string_view key) { return key == flow::event_key::kWords; });
}

std::string event_name(const Pen& pen, const flow::EventRow& event) {
  const std::string what = event.known ? std::string(pen.words("event." + event.what)) : event.what;
  return what + " " + event.on;
}

std::string event_head(const Pen& pen, const flow::EventRow& event) {
  const std::string what = event.known ? std::string(pen.words("event." + event.what)) : event.what;
  const std::string where = event.block.empty() ? std::string(pen.words("event.whole"))
                                                : pen.words.fill("event.block", {event.block});
  return pen.words.fill("event.row", {event.on, what, where, event.initials});
}

std::string event_facts(const Pen& pen, const flow::EventRow& event) {
  std::string line;
  for (flow::Words fact : event.facts) {
    if (fact.key == "event.fact.animals")
      fact.arguments.front() = animals_word(pen, fact.arguments.front());
    line += (line.empty() ? "" : "; ") + pen.words.fill(fact);
  }
  return line;
}

void draw_event_back(const Pen& pen, Cutter& down, const flow::EventBackView& view) {
  touch::Ui& ui = pen.ui;
  auto scroll = ui.scroll("event back", down.take_rest());
  Cutter rows(scroll.area(), Axis::kDown, ui.gap());
  const auto paragraph = [&](const std::string& text, Font font) {
    if (text.empty()) return;
    touch::text(ui, rows.take(touch::text_height(ui, text, font, rows.rest().width())),
                {.text = text, .font = font, .down = touch::Align::kStart, .lines = 12});
  };
  paragraph(event_head(pen, view.event), Font::kLabel);
  paragraph(event_facts(pen, view.event), Font::kBody);
  paragraph(view.event.words, Font::kBody);
  heading(pen, rows, "event.back.why");
  auto group = ui.group("Why");
  std::vector<Chip> reasons;
  reasons.reserve(flow::kEventBackReasons.size());
  for (const std::string_view code : flow::kEventBackReasons)
    reasons.push_back(
        {std::string(pen.words("reason." + std::string(code))) + "##" + std::string(code), false,
         view.can_keep});
  if (const auto n = chips(pen, rows, reasons, 40, 20))
    pen.send(flow::TakeEventBack{std::string(flow::kEventBackReasons[*n])});
}

}  // namespace ligule::screens
