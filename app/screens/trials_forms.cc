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

namespace {

// Millimetres beside and above two lines of words: the tick of a chosen one has its room there.
constexpr double kTwoLinesAir = 11;
constexpr double kTwoLinesFrame = 6.5;

float width_on_one(const touch::Ui& ui, std::string_view words) {
  return touch::text_width(ui, words, Font::kStrong);
}

// The least in which words stand on two lines.
float width_on_two(const touch::Ui& ui, std::string_view words) {
  float width = width_on_one(ui, words);
  for (std::size_t at = words.find(' '); at < words.size(); at = words.find(' ', at + 1))
    width = std::min(width, std::max(width_on_one(ui, words.substr(0, at)),
                                     width_on_one(ui, words.substr(at + 1))));
  return width;
}

using WidthOf = float (*)(const touch::Ui& ui, std::string_view words);

// How many stand beside each other: those that fit, with as few rows as there must be, each as full
// as the others.
std::size_t chips_in_a_row(const touch::Ui& ui, float room, const std::vector<Chip>& all,
                           float least, float air, WidthOf width_of) {
  float widest = least;
  for (const Chip& chip : all)
    widest = std::max(widest, width_of(ui, touch::label_of(chip.label)) + air);
  const auto fit = std::clamp<std::size_t>(
      static_cast<std::size_t>((room + ui.gap()) / (widest + ui.gap())), 1, all.size());
  const std::size_t rows = (all.size() + fit - 1) / fit;
  return (all.size() + rows - 1) / rows;
}

}  // namespace

std::optional<std::size_t> chips(const Pen& pen, Cutter& down, const std::vector<Chip>& all,
                                 double least_mm, double height_mm, double air_mm) {
  touch::Ui& ui = pen.ui;
  const float room = down.rest().width();
  const float least = ui.mm(least_mm);
  std::size_t columns = chips_in_a_row(ui, room, all, least, ui.mm(air_mm), width_on_one);
  float height = ui.mm(height_mm);
  // Large letters would reach the tick.
  if (columns == 1 && all.size() > 1 && !ui.look().large_text) {
    columns = chips_in_a_row(ui, room, all, least, ui.mm(kTwoLinesAir), width_on_two);
    const float lines = 2 * touch::line_height(ui, Font::kStrong) + ui.mm(kTwoLinesFrame);
    if (columns > 1) height = std::max(height, lines);
  }
  std::optional<std::size_t> tapped;
  std::vector<Rect> cells;
  for (std::size_t n = 0; n < all.size(); ++n) {
    if (n % columns == 0) cells = touch::split(down.take(height), Axis::kAcross, columns, ui.gap());
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

Rect draw_digits(const Pen& pen, Cutter& down, const touch::NumberPad& pad) {
  touch::Ui& ui = pen.ui;
  // Small glass has no room for gloved digits below a head; the keyboard has them too.
  if (small_for_gloves(ui)) {
    // The page that the keyboard shows of words stays theirs.
    const touch::KeyboardState words = pen.scratch.keyboard;
    pen.scratch.keyboard.page = touch::KeyboardPage::kDigits;
    draw_keyboard(pen, down.take_end(touch::keyboard_height(ui, down.rest().width())), pad.done);
    pen.scratch.keyboard = words;
    return down.take_rest();
  }
  // Low glass takes two rows of digits below what is typed.
  const bool low = down.rest().height() < 4 * ui.key() + 3 * ui.gap();
  Rect keys;
  Rect room;
  if (ui.portrait() || low) {
    const float least = low ? 2 * ui.key() + ui.gap() : 4 * ui.key() + 3 * ui.gap();
    keys = down.take_end(low ? least : std::max(least, down.rest().height() * 0.5F));
    room = down.take_rest();
  } else {
    Cutter across(down.take_rest(), Axis::kAcross, ui.mm(5));
    const float width = std::max(own_pad(ui), across.rest().width() * 0.55F);
    keys = ui.left_handed() ? across.take(width) : across.take_end(width);
    room = across.take_rest();
  }
  send_keys(pen, touch::number_pad(ui, keys, pad));
  return room;
}

namespace {

constexpr std::size_t kExchanged = 1;  // its place among the chips

void draw_statuses(const Pen& pen, Cutter& rows, const flow::SownFormView& view) {
  auto group = pen.ui.group("Status");
  std::vector<Chip> statuses;
  statuses.reserve(kSownStatuses.size() + 1);
  for (const AsSownStatus status : kSownStatuses)
    statuses.push_back(
        {std::string(pen.words(sown_key(status))), view.status == status && !view.exchanged});
  statuses.insert(statuses.begin() + kExchanged,
                  {std::string(pen.words("sown.exchanged")), view.exchanged});
  const auto n = chips(pen, rows, statuses, 30, 13, 4);
  if (!n) return;
  if (*n == kExchanged)
    pen.send(flow::StateExchanged{});
  else
    pen.send(flow::StateSown{.status = kSownStatuses[*n > kExchanged ? *n - 1 : *n]});
}

// Those that lie near, one that was typed, and the way to type another.
void draw_others(const Pen& pen, Cutter& rows, const flow::SownFormView& view) {
  heading(pen, rows, "sown.with");
  auto group = pen.ui.group("With");
  std::vector<std::string> numbers = view.near;
  const bool near = std::ranges::find(numbers, view.other) != numbers.end();
  if (!near && !view.other.empty()) numbers.push_back(view.other);
  std::vector<Chip> plots;
  plots.reserve(numbers.size());
  for (const std::string& number : numbers) plots.push_back({number, number == view.other});
  // Words among the numbers would make all of them as wide.
  if (!plots.empty())
    if (const auto n = chips(pen, rows, plots, 18))
      pen.send(flow::StateExchanged{.with = numbers[*n]});
  if (chips(pen, rows, {{std::string(pen.words("sown.other_plot"))}}, 18))
    pen.send(flow::StateExchanged{.typing = true});
}

void draw_entries_to_choose(const Pen& pen, Cutter& rows, const flow::SownFormView& view) {
  heading(pen, rows, "sown.which");
  auto group = pen.ui.group("Entry");
  std::vector<Chip> entries;
  entries.reserve(view.entries.size());
  for (const std::string& code : view.entries) entries.push_back({code, code == view.entry});
  if (const auto n = chips(pen, rows, entries, 18))
    pen.send(flow::StateSown{.status = {}, .entry = view.entries[*n]});
}

// From when on it counts: mostly the day of sowing, or today.
void draw_from(const Pen& pen, Cutter& rows, const flow::SownFormView& view) {
  const std::string since = pen.words.fill("sown.since_day", {view.since});
  touch::text(pen.ui,
              rows.take(touch::text_height(pen.ui, since, Font::kBody, rows.rest().width())),
              {.text = since, .tone = Tone::kInkSoft, .down = touch::Align::kStart, .lines = 3});
  {
    auto group = pen.ui.group("From");
    const std::vector<Chip> choices{{std::string(pen.words("sown.from_sowing")), view.from_sowing},
                                    {std::string(pen.words("sown.from_today")), view.from_today},
                                    {std::string(pen.words("sown.from_day")), view.by_day}};
    constexpr flow::SownFrom kFrom[] = {flow::SownFrom::kSowing, flow::SownFrom::kToday,
                                        flow::SownFrom::kDay};
    if (const auto n = chips(pen, rows, choices, 30)) pen.send(flow::SaySownFrom{kFrom[*n]});
  }
  if (view.by_day) draw_day(pen, rows, "sown.since", view.since, view.can_later);
}

// The number of the plot it was exchanged with.
void draw_typing(const Pen& pen, Cutter& down, const std::string& typed) {
  touch::Ui& ui = pen.ui;
  Rect room = draw_digits(
      pen, down, {.erase = pen.words("keyboard.erase"), .done = pen.words("event.written")});
  room.bottom = std::min(room.bottom, room.top + ui.mm(30));
  (void)touch::field(
      ui, room,
      {.label = pen.words("sown.with"),
       .value = typed,
       .focused = true,
       .font = Font::kValue,
       .form = room.height() < ui.mm(27) ? touch::FieldForm::kDense : touch::FieldForm::kTall});
}

}  // namespace

void draw_sown_form(const Pen& pen, Cutter& down, const flow::SownFormView& view) {
  touch::Ui& ui = pen.ui;
  if (view.typing) return draw_typing(pen, down, *view.typing);
  auto scroll = ui.scroll("sown", down.take_rest());
  Cutter rows(scroll.area(), Axis::kDown, ui.gap());
  if (!sown_head_has_room(ui)) {
    const std::string stated = sown_stated(pen.words, view);
    touch::text(ui, rows.take(touch::text_height(ui, stated, Font::kBody, rows.rest().width())),
                {.text = stated, .down = touch::Align::kStart, .lines = 3});
  }
  draw_statuses(pen, rows, view);
  if (view.exchanged)
    draw_others(pen, rows, view);
  else if (view.status == AsSownStatus::kHolds)
    draw_entries_to_choose(pen, rows, view);
  draw_from(pen, rows, view);
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
