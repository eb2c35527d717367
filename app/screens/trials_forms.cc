// What a plot really holds, and the pieces that the two forms of a trial are made of: chips, a date
// in steps of a day.
#include <algorithm>

#include "app/flow/trials_codes.h"
#include "app/screens/trials_parts.h"

namespace ligule::screens {

using touch::Axis;
using touch::Cutter;
using touch::Font;
using touch::Rect;
using touch::Tone;

std::optional<std::size_t> chips(const Pen& pen, Cutter& down, const std::vector<Chip>& all,
                                 double least_mm, double height_mm) {
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
  const std::string_view words = pen.words(key);
  const float height = touch::text_height(pen.ui, words, Font::kBody, down.rest().width());
  touch::text(pen.ui, down.take(height),
              {.text = words, .tone = Tone::kInkSoft, .down = touch::Align::kStart, .lines = 3});
}

int day_step(const Pen& pen, Cutter& down, std::string_view label, const std::string& day,
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
  return touch::stepper(ui, rect,
                        {.label = name,
                         .less = pen.words("day.before"),
                         .more = pen.words("day.after"),
                         .value = day,
                         .can_more = can_later,
                         .keys_only = above});
}

void draw_day(const Pen& pen, Cutter& down, std::string_view label, const std::string& day,
              bool can_later) {
  const int step = day_step(pen, down, label, day, can_later);
  if (step != 0) pen.send(flow::StepDay{-step});
}

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

}  // namespace ligule::screens
