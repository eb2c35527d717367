// Today: what is due at this site, how far it is, and what has not been sealed yet.
#include <algorithm>
#include <array>
#include <utility>

#include "app/screens/passages.h"
#include "app/screens/stick_row.h"

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

Shape due_shape(flow::DueState state) {
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
    case flow::DueState::kComing: {
      const std::string in_days = pen.words.count("today.coming", row.days);
      return row.days > 1 ? pen.words.fill("today.place", {in_days, row.due}) : in_days;
    }
    case flow::DueState::kNoDate:
      return std::string(pen.words("today.no_date"));
    case flow::DueState::kDone:
      break;
  }
  return std::string(pen.words("today.done"));
}

// What the key of a row says: the step that comes next.
std::string_view act_words(const Pen& pen, const flow::DueRow& row) {
  if (row.state == flow::DueState::kDone) return pen.words("today.look");
  if (row.done > 0) return pen.words("today.go_on");
  return pen.words(row.job == Job::kHarvest ? "today.weigh" : "today.rate");
}

// Due by now, without a date, or begun: something to do today.
bool is_work(const flow::DueRow& row) {
  if (row.state == flow::DueState::kDone) return false;
  return row.state != flow::DueState::kComing || row.done > 0;
}

// Narrow glass: words over the whole width, the key beside the progress.
bool narrow(const touch::Ui& ui, float width) {
  return width < ui.mm(110);
}

// Millimetres from the row's edges, and of its sign.
constexpr double kRowStart = 4;
constexpr double kRowEnd = 3;
constexpr double kRowSign = 8;
constexpr double kRowAir = 4;

float row_key_width(const touch::Ui& ui, float width) {
  return std::max(ui.mm(26), (width - ui.mm(kRowStart + kRowEnd)) * 0.2F);
}

float row_words_width(const touch::Ui& ui, float width) {
  const float words = width - ui.mm(kRowStart + kRowEnd + kRowSign + kRowAir);
  return narrow(ui, width) ? words : words - row_key_width(ui, width) - ui.mm(kRowAir);
}

// What is due, of which trial, when and where.
std::array<Passage, 3> row_words(const Pen& pen, const flow::DueRow& row) {
  std::string place = pen.words.fill("today.place", {due_words(pen, row), row.field});
  // Who weighs the early ones only is to know it before a plot is looked for.
  if (row.entries > 0)
    place = pen.words.fill(
        "today.place",
        {place, pen.words.fill("today.for_some", {number(row.entries), number(row.of_entries)})});
  return {{{occasion_words(pen.words, row.name), Font::kLabel},
           {pen.words.fill("today.trial", {row.trial_code, row.trial_title}), Font::kBody,
            Tone::kInkSoft},
           {std::move(place)}}};
}

float row_height(const Pen& pen, const flow::DueRow& row, float width) {
  const touch::Ui& ui = pen.ui;
  return ui.mm(6) + passages_height(pen, row_words(pen, row), row_words_width(ui, width)) +
         (narrow(ui, width) ? ui.mm(16.5) : ui.mm(6.2));
}

void draw_row(const Pen& pen, const Rect& rect, const flow::DueRow& row, bool first) {
  touch::Ui& ui = pen.ui;
  auto trial = ui.group(row.trial_code);
  auto occasion = ui.group(row.code);
  (void)touch::sheet(ui, rect);
  const Rect room{rect.left + ui.mm(kRowStart), rect.top + ui.mm(3), rect.right - ui.mm(kRowEnd),
                  rect.bottom - ui.mm(3)};
  const touch::Key act{.label = act_words(pen, row),
                       .style = first && is_work(row) ? Style::kAction : Style::kPlain};
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
    Cutter across(room, Axis::kAcross, ui.mm(kRowAir));
    const float width = row_key_width(ui, rect.width());
    const Rect side = ui.left_handed() ? across.take(width) : across.take_end(width);
    tapped = touch::key(ui, touch::centred(side, width, std::min(side.height(), ui.mm(22))), act);
    words = across.take_rest();
  }
  tapped = touch::sheet_part(ui, words, row_words(pen, row)[0].text) || tapped;
  if (tapped && row.state == flow::DueState::kDone && row.job == Job::kHarvest)
    pen.send(flow::ReviewOccasion{row.trial, row.occasion});  // nothing is left to weigh
  else if (tapped)
    pen.send(flow::OpenOccasion{row.trial, row.occasion});
  Cutter across(words, Axis::kAcross, ui.mm(kRowAir));
  const Rect sign = across.take(ui.mm(kRowSign));
  ui.canvas().shape(due_shape(row.state),
                    {sign.left, sign.top, sign.right, sign.top + sign.width()});
  Cutter down(across.take_rest(), Axis::kDown, ui.mm(1));
  if (!narrow(ui, rect.width())) touch::progress(ui, down.take_end(ui.mm(5.2)), share, share_words);
  draw_passages(pen, down.take_rest(), row_words(pen, row));
}

// The key that folds away what is long past, or brings it back.
void draw_earlier_key(const Pen& pen, const Rect& rect, const flow::TodayView& view) {
  const std::string label =
      view.show_earlier ? std::string(pen.words("today.earlier_hide"))
                        : pen.words.fill("today.earlier", {std::to_string(view.earlier.size())});
  if (touch::key(pen.ui, rect, {.label = label, .font = Font::kStrong}))
    pen.send(flow::ShowEarlier{});
}

// Nothing to do today: when something is. Empty: there is work, or no plan.
std::string none_due_words(const Pen& pen, const flow::TodayView& view) {
  if (!view.loaded || view.due.empty() || std::ranges::any_of(view.due, is_work)) return {};
  std::string words(pen.words("today.none_due"));
  const auto next = std::ranges::find(view.due, flow::DueState::kComing, &flow::DueRow::state);
  if (next != view.due.end()) words += " " + pen.words.fill("today.next_due", {next->due});
  return words;
}

void draw_rows(const Pen& pen, const Rect& rect, const flow::TodayView& view) {
  touch::Ui& ui = pen.ui;
  if (view.due.empty() && view.earlier.empty() && !view.stick.any()) {
    if (view.loaded)
      touch::text(ui, rect, {.text = pen.words("today.empty"), .down = Align::kStart, .lines = 4});
    return;
  }
  auto scroll = ui.scroll("due", rect);
  const Rect& area = scroll.area();
  float top = area.top;
  const auto row = [&](const flow::DueRow& due, bool first) {
    const float height = row_height(pen, due, area.width());
    draw_row(pen, {area.left, top, area.right, top + height}, due, first);
    top += height + ui.gap();
  };
  if (view.stick.any()) {
    const float key = row_key_width(ui, area.width());
    const float height = stick_row_height(pen, view.stick, area.width(), key);
    draw_stick_row(pen, {area.left, top, area.right, top + height}, view.stick, key);
    top += height + ui.gap();
  }
  if (const std::string none = none_due_words(pen, view); !none.empty()) {
    const float height = touch::text_height(ui, none, Font::kStrong, area.width());
    touch::text(ui, {area.left, top, area.right, top + height},
                {.text = none, .font = Font::kStrong, .lines = 4});
    top += height + ui.gap();
  }
  for (std::size_t n = 0; n < view.due.size(); ++n)
    row(view.due[n], n == 0 && view.stick.fresh.empty());
  if (view.earlier.empty()) return;
  draw_earlier_key(pen, {area.left, top, area.right, top + ui.mm(14)}, view);
  top += ui.mm(14) + ui.gap();
  if (!view.show_earlier) return;
  for (const flow::DueRow& due : view.earlier) row(due, false);
}

std::string age_words(const Pen& pen, std::string_view key, const std::optional<flow::Age>& age) {
  if (!age) return std::string(pen.words(std::string(key) + ".never"));
  return pen.words.fill(std::string(key) + ".ago",
                        {pen.words.count("age." + age->unit, age->count)});
}

// The copy that a spare tablet could go on from.
std::string spare_words(const Pen& pen, const flow::SpareView& spare) {
  std::string failed = spare.failed ? std::string(pen.words("today.spare.failed")) : std::string();
  if (spare.age)
    return age_words(pen, "today.spare", spare.age) + (failed.empty() ? "" : " ") + failed;
  if (spare.failed) return failed;
  return std::string(pen.words(spare.place ? "today.spare.never" : "today.spare.no_card"));
}

// What is not sealed, when it was sealed and copied last, and what the machine has left: the
// longest that has room. Empty: not even the shortest, or nobody knows yet.
std::string keeping_words(const Pen& pen, const flow::TodayView& view, const Rect& room) {
  if (!view.loaded) return {};
  const bool none = view.unsealed == 0;
  const auto unsealed = [&](const std::string& key) {
    return none ? std::string(pen.words("today.nothing_unsealed"))
                : pen.words.count(key, view.unsealed);
  };
  const std::string copied = " " + age_words(pen, "today.copied", view.last_copy);
  const std::string spare = " " + spare_words(pen, view.spare);
  const std::string usual = unsealed("today.unsealed") + " " +
                            age_words(pen, "today.sealed", view.last_seal) + copied + spare;
  std::string whole = usual;
  for (const auto& [words, low] : {std::pair{view.supply.battery, view.supply.battery_low},
                                   std::pair{view.supply.storage, view.supply.storage_low}})
    if (words && !low) whole += " " + pen.words.fill(*words);
  const auto fits = [&](const std::string& text, Font font) {
    return touch::text_height(pen.ui, text, font, room.width()) <= room.height();
  };
  const std::string brief = unsealed("today.unsealed.short");
  const std::string both = brief + copied;
  for (const std::string& text : {whole, usual, both + spare, brief + spare}) {
    // Large words may stand in the usual size.
    if (fits(text, Font::kBody) || (pen.ui.look().large_text && fits(text, Font::kCaption)))
      return text;
  }
  return fits(brief, Font::kCaption) ? brief : std::string();
}

// What does not reach for today's work, above everything else.
void draw_low_supply(const Pen& pen, Cutter& down, const flow::SupplyView& supply) {
  for (const auto& [words, low] : {std::pair{supply.battery, supply.battery_low},
                                   std::pair{supply.storage, supply.storage_low}}) {
    if (!words || !low) continue;
    const std::string text = pen.words.fill(*words);
    const touch::Banner banner{
        .text = text, .mood = touch::Mood::kAsk, .shape = Shape::kQuestioned};
    touch::banner(pen.ui, down.take(touch::banner_height(pen.ui, banner, down.rest().width())),
                  banner);
  }
}

// The desk refuses what is signed with a key that it does not know. The longest words that leave
// room for today's work.
void draw_new_key(const Pen& pen, Cutter& down, const std::optional<flow::NewKey>& key) {
  if (!key) return;
  touch::Ui& ui = pen.ui;
  constexpr float kMostOfPage = 0.16F;
  const float width = down.rest().width();
  const std::string usual = pen.words.fill("today.new_key", {key->fingerprint});
  const std::string brief = pen.words.fill("today.new_key.short", {key->fingerprint});
  std::vector<std::string> texts{usual, brief};
  if (key->unsealed > 0) {
    const std::string left = " " + pen.words.count("today.new_key_left", key->unsealed);
    texts = {usual + left, brief + left, brief};
  }
  touch::Banner banner{.mood = touch::Mood::kAsk, .shape = Shape::kQuestioned};
  for (const std::string& text : texts) {
    banner.text = text;
    if (touch::banner_height(ui, banner, width) <= ui.page().height() * kMostOfPage) break;
  }
  touch::banner(ui, down.take(touch::banner_height(ui, banner, width)), banner);
}

std::string no_entry_words(const Pen& pen, const std::vector<flow::NoEntryView>& sprays,
                           std::size_t named) {
  std::string text;
  for (std::size_t n = 0; n < named; ++n) {
    const flow::NoEntryView& spray = sprays[n];
    const std::string where = spray.block.empty()
                                  ? spray.trial
                                  : pen.words.fill("no_entry.place", {spray.trial, spray.block});
    text += (spray.until.empty()
                 ? pen.words.fill("today.no_entry_not_known", {where, spray.field, spray.on})
                 : pen.words.fill("today.no_entry", {where, spray.field, spray.until})) +
            " ";
  }
  if (sprays.size() > named)
    text +=
        pen.words.count("today.no_entry_more", static_cast<std::int64_t>(sprays.size() - named)) +
        " ";
  return text + std::string(pen.words("no_entry.decides"));
}

// Where nobody is to go in: as the label was read, and who decides. Of many as many are named as
// leave room for today's work.
void draw_no_entry(const Pen& pen, Cutter& down, const std::vector<flow::NoEntryView>& sprays) {
  if (sprays.empty()) return;
  touch::Ui& ui = pen.ui;
  constexpr float kMostOfPage = 0.2F;
  const float width = down.rest().width();
  std::string text;
  for (std::size_t named = std::min<std::size_t>(3, sprays.size()); named > 0; --named) {
    text = no_entry_words(pen, sprays, named);
    const touch::Banner tried{.text = text, .shape = Shape::kQuestioned};
    if (touch::banner_height(ui, tried, width) <= ui.page().height() * kMostOfPage) break;
  }
  const touch::Banner banner{.text = text, .mood = touch::Mood::kAsk, .shape = Shape::kQuestioned};
  touch::banner(ui, down.take(touch::banner_height(ui, banner, width)), banner);
}

struct DayKey {
  std::string_view words;
  flow::Intent intent;
  bool next = false;  // the one thing to do now
};

std::vector<DayKey> day_keys(const flow::TodayView& view) {
  const bool nothing_left = std::ranges::all_of(view.due, [](const flow::DueRow& row) {
    return row.state == flow::DueState::kDone || row.state == flow::DueState::kComing;
  });
  // A tablet without work needs a plan first.
  const bool empty = view.due.empty() && view.earlier.empty();
  return {{"key.review", flow::ShowReview{}},
          {"key.dry", flow::ShowDryWeights{}},
          {"key.trials", flow::ShowTrials{}, view.loaded && empty && !view.stick.any()},
          {"key.days_end", flow::ShowDaysEnd{},
           view.loaded && !empty && nothing_left && view.unsealed > 0}};
}

void draw_day_key(const Pen& pen, const Rect& rect, const DayKey& key) {
  touch::Key drawn{.label = pen.words(key.words)};
  if (key.next) drawn.style = Style::kAction;
  if (touch::key(pen.ui, rect, drawn)) pen.out.push_back(key.intent);
}

// Side by side, in two lines when there are more than three.
void draw_day_keys_below(const Pen& pen, Cutter& down, const std::vector<DayKey>& keys) {
  touch::Ui& ui = pen.ui;
  const std::size_t lines = keys.size() > 3 ? 2 : 1;
  const std::size_t columns = (keys.size() + lines - 1) / lines;
  const float each = lines == 1 ? ui.key() : ui.mm(15);
  const auto count = static_cast<float>(lines);
  const Rect room = down.take_end(each * count + ui.gap() * (count - 1));
  const auto rows = touch::split(room, Axis::kDown, lines, ui.gap());
  for (std::size_t n = 0; n < keys.size(); ++n) {
    const auto cells = touch::split(rows[n / columns], Axis::kAcross, columns, ui.gap());
    draw_day_key(pen, cells[n % columns], keys[n]);
  }
}

// One under the other at the end of the column.
void draw_day_keys_beside(const Pen& pen, Cutter& side, const std::vector<DayKey>& keys) {
  touch::Ui& ui = pen.ui;
  const auto count = static_cast<float>(keys.size());
  // The words above keep nearly half of the column.
  const float gap = ui.gap();
  const float room = (side.left_over() * 0.58F - (count - 1) * gap) / count;
  const float each = std::clamp(room, ui.mm(12.4), ui.mm(20));
  const Rect all = side.take_end(each * count + gap * (count - 1));
  const auto rows = touch::split(all, Axis::kDown, keys.size(), gap);
  for (std::size_t n = 0; n < keys.size(); ++n) draw_day_key(pen, rows[n], keys[n]);
}

}  // namespace

void draw_today(const Pen& pen, const flow::TodayView& view) {
  touch::Ui& ui = pen.ui;
  auto group = ui.group("Today");
  Cutter down(ui.page(), Axis::kDown, ui.gap());
  std::string sites;
  for (const std::string& site : view.sites) sites += (sites.empty() ? "" : ", ") + site;
  // Narrow glass: who has the tablet comes before where it is.
  const bool plain =
      sites.empty() || (ui.portrait() && (narrow(ui, ui.page().width()) || ui.look().large_text));
  const std::string note =
      plain ? view.head.date : pen.words.fill("today.note", {view.head.date, sites});
  if (draw_head(pen, down.take(touch::head_height(ui)),
                {.title = pen.words("today.title"), .note = note, .tablet = true}, view.head))
    pen.send(flow::ShowTablet{});
  draw_low_supply(pen, down, view.supply);
  draw_new_key(pen, down, view.new_key);
  if (ui.portrait()) {
    draw_no_entry(pen, down, view.no_entry);
    draw_day_keys_below(pen, down, day_keys(view));
    Rect most = down.rest();
    most.bottom = most.top + 4 * touch::line_height(ui, Font::kBody);
    const std::string keeping = keeping_words(pen, view, most);
    if (!keeping.empty()) {
      const float height = touch::text_height(ui, keeping, Font::kBody, most.width());
      touch::text(ui, down.take_end(height), {.text = keeping, .tone = Tone::kInkSoft, .lines = 4});
    }
    draw_rows(pen, down.take_rest(), view);
    return;
  }
  Cutter across(down.take_rest(), Axis::kAcross, ui.mm(5));
  const float width = std::max(ui.mm(42), across.rest().width() * 0.22F);
  Cutter side(ui.left_handed() ? across.take(width) : across.take_end(width), Axis::kDown,
              ui.gap());
  draw_day_keys_beside(pen, side, day_keys(view));
  const Rect room = side.take_rest();
  const std::string keeping = keeping_words(pen, view, room);
  if (!keeping.empty())
    touch::text(ui, room,
                {.text = keeping, .tone = Tone::kInkSoft, .down = Align::kStart, .lines = 12});
  Cutter work(across.take_rest(), Axis::kDown, ui.gap());
  draw_no_entry(pen, work, view.no_entry);
  draw_rows(pen, work.take_rest(), view);
}

}  // namespace ligule::screens
