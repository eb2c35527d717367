// The two forms of a trial: what a plot really holds, and what happened to the trial. Chips, a date
// in steps of a day; words only where somebody wants to write them.
#include <algorithm>

#include "app/flow/trials_codes.h"
#include "app/screens/trials_parts.h"

namespace ligule::screens {

using touch::Axis;
using touch::Cutter;
using touch::Font;
using touch::Rect;
using touch::Style;
using touch::Tone;

namespace {

struct Chip {
  std::string label;  // with ## and an id
  bool selected = false;
  bool enabled = true;
};

// As many beside each other as keep their words; gives back the one tapped.
std::optional<std::size_t> chips(const Pen& pen, Cutter& down, const std::vector<Chip>& all,
                                 double least_mm, double height_mm = 13) {
  touch::Ui& ui = pen.ui;
  float widest = ui.mm(least_mm);
  for (const Chip& chip : all)
    widest = std::max(widest,
                      touch::text_width(ui, touch::label_of(chip.label), Font::kStrong) + ui.mm(5));
  const float room = down.rest().width();
  const auto columns = std::clamp<std::size_t>(
      static_cast<std::size_t>((room + ui.gap()) / (widest + ui.gap())), 1, all.size());
  std::optional<std::size_t> tapped;
  std::vector<Rect> cells;
  for (std::size_t n = 0; n < all.size(); ++n) {
    if (n % columns == 0)
      cells = touch::split(down.take(ui.mm(height_mm)), Axis::kAcross, columns, ui.gap());
    const touch::Key key{.label = all[n].label,
                         .selected = all[n].selected,
                         .enabled = all[n].enabled,
                         .font = Font::kStrong};
    if (touch::key(ui, cells[n % columns], key)) tapped = n;
  }
  return tapped;
}

void heading(const Pen& pen, Cutter& down, std::string_view key) {
  line(pen, down.take(touch::line_height(pen.ui, Font::kBody)), pen.words(key),
       {Font::kBody, Tone::kInkSoft});
}

// Minus is the day before.
void draw_day(const Pen& pen, Cutter& down, std::string_view label, const std::string& day,
              bool can_later) {
  touch::Ui& ui = pen.ui;
  const std::string name(pen.words(label));
  const float date = touch::text_width(ui, day, Font::kValue) + ui.mm(3);
  const float wanted = std::max(ui.mm(110), 2 * (ui.key() + ui.gap()) + date);
  // Where a date has no room between the keys it stands over them.
  const bool above = wanted > down.rest().width();
  if (above)
    touch::text(ui, down.take(touch::line_height(ui, Font::kValue)),
                {.text = day, .font = Font::kValue, .value = true});
  Rect rect = down.take(ui.key());
  rect.right = std::min(rect.right, rect.left + wanted);
  const int step = touch::stepper(ui, rect,
                                  {.label = name,
                                   .less = pen.words("day.before"),
                                   .more = pen.words("day.after"),
                                   .value = day,
                                   .can_more = can_later,
                                   .keys_only = above});
  if (step != 0) pen.send(flow::StepDay{-step});
}

}  // namespace

void draw_sown_form(const Pen& pen, Cutter& down, const flow::SownFormView& view) {
  touch::Ui& ui = pen.ui;
  auto scroll = ui.scroll("sown", down.take_rest());
  Cutter rows(scroll.area(), Axis::kDown, ui.gap());
  std::vector<Chip> statuses;
  statuses.reserve(kSownStatuses.size());
  for (const AsSownStatus status : kSownStatuses)
    statuses.push_back({std::string(pen.words(sown_key(status))), view.status == status});
  {
    auto group = ui.group("Status");
    if (const auto n = chips(pen, rows, statuses, 30))
      pen.send(flow::StateSown{.status = kSownStatuses[*n]});
  }
  if (view.status == AsSownStatus::kHolds) {
    heading(pen, rows, "sown.which");
    auto group = ui.group("Entry");
    std::vector<Chip> entries;
    entries.reserve(view.entries.size());
    for (const std::string& code : view.entries) entries.push_back({code, code == view.entry});
    if (const auto n = chips(pen, rows, entries, 18))
      pen.send(flow::StateSown{.status = {}, .entry = view.entries[*n]});
  }
  heading(pen, rows, "sown.since");
  draw_day(pen, rows, "sown.since", view.since, view.can_later);
  heading(pen, rows, "sown.why");
  auto group = ui.group("Why");
  std::vector<Chip> reasons;
  reasons.reserve(flow::kSownReasons.size());
  for (const std::string_view code : flow::kSownReasons)
    reasons.push_back(
        {std::string(pen.words("reason." + std::string(code))) + "##" + std::string(code), false,
         view.can_keep});
  if (const auto n = chips(pen, rows, reasons, 30))
    pen.send(flow::KeepSown{std::string(flow::kSownReasons[*n])});
}

namespace {

void draw_event_chips(const Pen& pen, Cutter& rows, const flow::EventFormView& view) {
  touch::Ui& ui = pen.ui;
  {
    auto group = ui.group("What");
    std::vector<Chip> whats;
    whats.reserve(flow::kTrialEvents.size());
    for (const std::string_view code : flow::kTrialEvents)
      whats.push_back({std::string(pen.words("event." + std::string(code))), view.what == code});
    if (const auto n = chips(pen, rows, whats, 30))
      pen.send(flow::DescribeEvent{.what = std::string(flow::kTrialEvents[*n])});
  }
  if (view.what == "spray") {
    const touch::Banner banner{.text = pen.words("caution.spray"),
                               .mood = touch::Mood::kAsk,
                               .shape = touch::Shape::kQuestioned};
    touch::banner(ui, rows.take(touch::banner_height(ui, banner, rows.rest().width())), banner);
  }
  heading(pen, rows, "event.where");
  auto group = ui.group("Where");
  std::vector<Chip> places{{std::string(pen.words("event.whole")), view.block == 0}};
  for (const int block : view.blocks)
    places.push_back({pen.words.fill("event.block", {std::to_string(block)}), view.block == block});
  if (const auto n = chips(pen, rows, places, 24))
    pen.send(flow::DescribeEvent{.block = *n == 0 ? 0 : view.blocks[*n - 1]});
}

}  // namespace

void draw_event_form(const Pen& pen, Cutter& down, const flow::EventFormView& view) {
  touch::Ui& ui = pen.ui;
  const touch::Field words{.label = pen.words("event.words"),
                           .value = view.words,
                           .focused = view.writing,
                           .font = Font::kStrong,
                           .own_words = true,
                           .form = touch::FieldForm::kTall,
                           .lines = 3};
  if (view.writing) {
    const Rect board = down.take_end(touch::keyboard_height(ui, down.rest().width()));
    draw_keyboard(pen, board, pen.words("event.written"));
    Rect room = down.take_rest();
    room.bottom = std::min(room.bottom, room.top + ui.mm(30));
    (void)touch::field(ui, room, words);
    return;
  }
  if (touch::key(
          ui, down.take_end(ui.mm(16)),
          {.label = pen.words("event.keep"), .style = Style::kAction, .enabled = view.can_keep}))
    pen.send(flow::KeepEvent{});
  auto scroll = ui.scroll("event", down.take_rest());
  Cutter rows(scroll.area(), Axis::kDown, ui.gap());
  draw_event_chips(pen, rows, view);
  heading(pen, rows, "event.day");
  draw_day(pen, rows, "event.day", view.on, view.can_later);
  if (touch::field(ui, rows.take(ui.mm(24)), words)) pen.send(flow::DescribeEvent{.writing = true});
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
