// Today: what is due at this site, how far it is, and what has not been sealed yet.
#include <algorithm>

#include "app/screens/pen.h"

namespace ligule::screens {

using touch::Align;
using touch::Axis;
using touch::Cutter;
using touch::Font;
using touch::Rect;
using touch::Shape;
using touch::Style;
using touch::Tone;

namespace {

Shape shape_of(flow::DueState state) {
  switch (state) {
    case flow::DueState::kOverdue:
      return Shape::kQuestioned;
    case flow::DueState::kToday:
      return Shape::kNow;
    case flow::DueState::kDone:
      return Shape::kDone;
    case flow::DueState::kComing:
    case flow::DueState::kNoDate:
      break;
  }
  return Shape::kOpen;
}

std::string due_words(const Pen& pen, const flow::DueRow& row) {
  switch (row.state) {
    case flow::DueState::kOverdue:
      return pen.words.count("today.overdue", -row.days);
    case flow::DueState::kToday:
      return std::string(pen.words("today.due"));
    case flow::DueState::kComing:
      return pen.words.count("today.coming", row.days);
    case flow::DueState::kNoDate:
      return std::string(pen.words("today.no_date"));
    case flow::DueState::kDone:
      break;
  }
  return std::string(pen.words("today.done"));
}

std::string row_name(const Pen& pen, const flow::DueRow& row) {
  if (row.job == Job::kHarvest)
    return pen.words.fill("today.harvest", {std::to_string(row.cutting), row.code});
  return pen.words.fill("today.rating", {row.code});
}

// What the key of a row says: the step that comes next.
std::string_view act_words(const Pen& pen, const flow::DueRow& row) {
  if (row.state == flow::DueState::kDone) return pen.words("today.look");
  if (row.done > 0) return pen.words("today.go_on");
  return pen.words(row.job == Job::kHarvest ? "today.weigh" : "today.rate");
}

// Narrow glass: words over the whole width, the key beside the progress.
bool narrow(const touch::Ui& ui, float width) {
  return width < ui.mm(110);
}

float row_height(const touch::Ui& ui, float width) {
  const float words =
      touch::line_height(ui, Font::kLabel) + 2 * touch::line_height(ui, Font::kBody) + ui.mm(2);
  return ui.mm(6) + words + (narrow(ui, width) ? ui.mm(16.5) : ui.mm(6.2));
}

void draw_row_words(const Pen& pen, Cutter& down, const flow::DueRow& row) {
  touch::Ui& ui = pen.ui;
  const float body = touch::line_height(ui, Font::kBody);
  touch::text(ui, down.take(touch::line_height(ui, Font::kLabel)),
              {.text = row_name(pen, row), .font = Font::kLabel, .may_cut = true});
  const std::string trial = pen.words.fill("today.trial", {row.trial_code, row.trial_title});
  touch::text(ui, down.take(body), {.text = trial, .tone = Tone::kInkSoft, .may_cut = true});
  const std::string place = pen.words.fill("today.place", {due_words(pen, row), row.field});
  touch::text(ui, down.take(body), {.text = place, .may_cut = true});
}

void draw_row(const Pen& pen, const Rect& rect, const flow::DueRow& row, bool first) {
  touch::Ui& ui = pen.ui;
  auto trial = ui.group(row.trial_code);
  auto occasion = ui.group(row.code);
  (void)touch::sheet(ui, rect);
  const Rect room{rect.left + ui.mm(4), rect.top + ui.mm(3), rect.right - ui.mm(3),
                  rect.bottom - ui.mm(3)};
  const touch::Key act{
      .label = act_words(pen, row),
      .style = first && row.state != flow::DueState::kDone ? Style::kAction : Style::kPlain};
  const double share = row.total == 0 ? 0.0 : static_cast<double>(row.done) / row.total;
  const std::string share_words =
      pen.words.fill("today.progress", {std::to_string(row.done), std::to_string(row.total)});
  bool tapped = false;
  Rect words = room;
  if (narrow(ui, rect.width())) {
    Cutter down(room, Axis::kDown, ui.mm(1.5));
    Cutter low(down.take_end(ui.mm(15)), Axis::kAcross, ui.mm(4));
    const Rect side = ui.left_handed() ? low.take(ui.mm(34)) : low.take_end(ui.mm(34));
    tapped = touch::key(ui, side, act);
    touch::progress(ui, touch::centred(low.rest(), low.rest().width(), ui.mm(5.2)), share,
                    share_words);
    words = down.take_rest();
  } else {
    Cutter across(room, Axis::kAcross, ui.mm(4));
    const float width = std::max(ui.mm(26), room.width() * 0.2F);
    const Rect side = ui.left_handed() ? across.take(width) : across.take_end(width);
    tapped = touch::key(ui, touch::centred(side, width, std::min(side.height(), ui.mm(22))), act);
    words = across.take_rest();
  }
  if (tapped) pen.send(flow::OpenOccasion{row.trial, row.occasion});
  Cutter across(words, Axis::kAcross, ui.mm(4));
  const Rect sign = across.take(ui.mm(8));
  ui.canvas().shape(shape_of(row.state),
                    {sign.left, sign.top, sign.right, sign.top + sign.width()});
  Cutter down(across.take_rest(), Axis::kDown, ui.mm(1));
  if (!narrow(ui, rect.width())) touch::progress(ui, down.take_end(ui.mm(5.2)), share, share_words);
  draw_row_words(pen, down, row);
}

void draw_rows(const Pen& pen, const Rect& rect, const flow::TodayView& view) {
  touch::Ui& ui = pen.ui;
  if (view.due.empty()) {
    if (view.loaded)
      touch::text(ui, rect, {.text = pen.words("today.empty"), .down = Align::kStart, .lines = 4});
    return;
  }
  auto scroll = ui.scroll("due", rect);
  const Rect& area = scroll.area();
  const float height = row_height(ui, area.width());
  float top = area.top;
  for (std::size_t n = 0; n < view.due.size(); ++n) {
    draw_row(pen, {area.left, top, area.right, top + height}, view.due[n], n == 0);
    top += height + ui.gap();
  }
}

std::string age_words(const Pen& pen, std::string_view key, const std::optional<flow::Age>& age) {
  if (!age) return std::string(pen.words(std::string(key) + ".never"));
  return pen.words.fill(std::string(key) + ".ago",
                        {pen.words.count("age." + age->unit, age->count)});
}

// What is not sealed, when it was sealed and copied last.
std::string keeping_words(const Pen& pen, const flow::TodayView& view) {
  std::string text = view.unsealed == 0 ? std::string(pen.words("today.nothing_unsealed"))
                                        : pen.words.count("today.unsealed", view.unsealed);
  text += " " + age_words(pen, "today.sealed", view.last_seal);
  text += " " + age_words(pen, "today.copied", view.last_copy);
  return text;
}

void draw_day_keys(const Pen& pen, const Rect& look, const Rect& dry, const Rect& end,
                   const flow::TodayView& view) {
  if (touch::key(pen.ui, look, {.label = pen.words("key.review")})) pen.send(flow::ShowReview{});
  if (touch::key(pen.ui, dry, {.label = pen.words("key.dry")})) pen.send(flow::ShowDryWeights{});
  touch::Key close{.label = pen.words("key.days_end")};
  const bool nothing_left = std::ranges::all_of(view.due, [](const flow::DueRow& row) {
    return row.state == flow::DueState::kDone || row.state == flow::DueState::kComing;
  });
  if (view.loaded && nothing_left && view.unsealed > 0) close.style = Style::kAction;
  if (touch::key(pen.ui, end, close)) pen.send(flow::ShowDaysEnd{});
}

}  // namespace

void draw_today(const Pen& pen, const flow::TodayView& view) {
  touch::Ui& ui = pen.ui;
  auto group = ui.group("Today");
  Cutter down(ui.page(), Axis::kDown, ui.gap());
  std::string sites;
  for (const std::string& site : view.sites) sites += (sites.empty() ? "" : ", ") + site;
  const std::string note =
      sites.empty() ? view.head.date : pen.words.fill("today.note", {view.head.date, sites});
  if (draw_head(pen, down.take(touch::head_height(ui)),
                {.title = pen.words("today.title"), .note = note, .tablet = true}, view.head))
    pen.send(flow::ShowTablet{});
  const std::string keeping = keeping_words(pen, view);
  if (ui.portrait()) {
    const auto keys = touch::split(down.take_end(ui.key()), Axis::kAcross, 3, ui.gap());
    draw_day_keys(pen, keys[0], keys[1], keys[2], view);
    const float height = touch::text_height(ui, keeping, Font::kBody, down.rest().width());
    touch::text(ui, down.take_end(height), {.text = keeping, .tone = Tone::kInkSoft, .lines = 4});
    draw_rows(pen, down.take_rest(), view);
    return;
  }
  Cutter across(down.take_rest(), Axis::kAcross, ui.mm(5));
  const float width = std::max(ui.mm(42), across.rest().width() * 0.22F);
  Cutter side(ui.left_handed() ? across.take(width) : across.take_end(width), Axis::kDown,
              ui.gap());
  // On low glass the words above keep nearly half of the column.
  const float room = (side.left_over() * 0.55F - 2 * ui.gap()) / 3;
  const float key = std::clamp(room, ui.mm(12.4), ui.mm(20));
  const Rect end = side.take_end(key);
  const Rect dry = side.take_end(key);
  const Rect look = side.take_end(key);
  draw_day_keys(pen, look, dry, end, view);
  touch::text(ui, side.take_rest(),
              {.text = keeping, .tone = Tone::kInkSoft, .down = Align::kStart, .lines = 12});
  draw_rows(pen, across.take_rest(), view);
}

}  // namespace ligule::screens
