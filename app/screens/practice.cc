// Practice: a drawn stand as large as the glass leaves, and the percent's numbers without their
// pictures, since those would be matched by eye; after the last one how far off somebody rates.
#include <algorithm>

#include "app/screens/art.h"
#include "app/screens/measure_pad.h"
#include "app/screens/rate_layout.h"

namespace ligule::screens {

using touch::Align;
using touch::Axis;
using touch::Cutter;
using touch::Font;
using touch::Rect;
using touch::Style;
using touch::Tone;

namespace {

constexpr std::size_t kMostColumns = 7;
constexpr double kLeastStripMm = 27;  // two keys one under the other

touch::Paint picture(bool drilled, const flow::DrawnStand& stand) {
  return drilled ? stand_picture(stand.percent, stand.lie)
                 : ground_picture(stand.percent, stand.lie);
}

// Where the parts stand while somebody rates.
struct Parts {
  Rect pad;
  std::size_t columns = 0;
  std::size_t rows = 0;  // of the pad in halves; 0: it is whole
  Rect back;
  Rect take_back;
  Rect words;
  Rect stand;
};

// The two keys in a column at the left, words and stand beside them.
void place_above(const touch::Ui& ui, const Rect& strip, Parts& parts) {
  Cutter across(strip, Axis::kAcross, ui.mm(4));
  const Rect column = across.take(ui.mm(15));
  const float tall = std::min(ui.mm(15), (column.height() - ui.mm(3)) / 2);
  parts.back = {column.left, column.top, column.right, column.top + tall};
  parts.take_back = {column.left, column.bottom - tall, column.right, column.bottom};
  Cutter down(across.take_rest(), Axis::kDown, ui.mm(1.5));
  if (!parts.words.empty()) {  // they have a place of their own
    parts.stand = down.take_rest();
    return;
  }
  // One line where both have room beside each other, else two.
  const float line = touch::line_height(ui, Font::kStrong);
  const bool wide = down.rest().width() >= ui.mm(ui.look().large_text ? 130 : 110);
  parts.words = down.take(wide ? line : 2 * line);
  parts.stand = down.take_rest();
}

float block(const touch::Ui& ui, std::size_t keys) {
  const auto n = static_cast<float>(keys);
  return n * ui.key() + (n - 1) * ui.gap();
}

// What the last row of tiles leaves free; empty: less than words need.
Rect free_cells(const touch::Ui& ui, const Parts& parts) {
  const touch::Grid grid =
      touch::fit_grid(parts.pad, kPercentTiles, ui.key(), ui.mm(46), ui.gap(), parts.columns);
  const std::size_t cells = grid.columns * grid.rows;
  constexpr std::size_t kLeastFree = 3;
  if (cells < kPercentTiles + kLeastFree) return {};
  const Rect from = grid.cell(kPercentTiles);
  const Rect to = grid.cell(cells - 1);
  return {from.left, from.top, to.right, to.bottom};
}

// Gloves on small glass: the pad in halves, twelve keys.
Parts glove_parts(const touch::Ui& ui) {
  const GlovePage page = glove_page(ui);
  Parts parts;
  parts.pad = page.pad;
  parts.columns = ui.portrait() ? 3 : 4;
  parts.rows = ui.portrait() ? 4 : 3;
  if (ui.portrait()) {
    place_above(ui, page.above, parts);
    return parts;
  }
  // The column beside the pad goes on up to the top of the page; words have the strip above it.
  const Rect column{page.beside.left, full_page(ui).top, page.beside.right, page.beside.bottom};
  Cutter down(column, Axis::kDown, ui.mm(2));
  Cutter keys(down.take(ui.mm(15)), Axis::kAcross, ui.gap());
  parts.back = keys.take(ui.mm(15));
  parts.take_back = keys.take_end(ui.mm(15));
  parts.words = {page.pad.left, page.above.top, page.pad.right, page.above.bottom};
  parts.stand = down.take_rest();
  return parts;
}

Parts parts_of(const touch::Ui& ui) {
  const Rect page = full_page(ui);
  Parts parts;
  const auto fit = static_cast<std::size_t>((page.width() + ui.gap()) / (ui.key() + ui.gap()));
  parts.columns = std::clamp<std::size_t>(fit, 1, kMostColumns);
  const std::size_t rows = (kPercentTiles + parts.columns - 1) / parts.columns;
  const float least = block(ui, rows);
  if (page.height() - least - ui.gap() < ui.mm(kLeastStripMm)) return glove_parts(ui);
  Cutter down(page, Axis::kDown, ui.gap());
  // Keys grow with the glass, the stand grows more.
  const float grown = std::max(least, std::min(page.height() * 0.5F, least * 1.25F));
  const bool room = page.height() - grown - ui.gap() >= ui.mm(kLeastStripMm);
  parts.pad = down.take_end(room ? grown : least);
  parts.words = free_cells(ui, parts);
  place_above(ui, down.take_rest(), parts);
  return parts;
}

void draw_words(const Pen& pen, const Rect& rect, const flow::PracticeView& view) {
  touch::Ui& ui = pen.ui;
  const std::string place =
      pen.words.fill("practice.place", {number(view.place), number(view.stands)});
  const std::string scale = "scale.percent_stand.definition.";
  const std::string_view definition = pen.words(scale + (view.drilled ? "drilled" : "broadcast"));
  const float line_room = touch::line_height(ui, Font::kStrong);
  if (rect.height() < line_room * 1.5F) {
    Cutter across(rect, Axis::kAcross, ui.mm(4));
    const float width = touch::text_width(ui, place, Font::kStrong) + ui.mm(1);
    touch::text(ui, across.take(width), {.text = place, .font = Font::kStrong});
    touch::text(ui, across.take_rest(),
                {.text = definition, .tone = Tone::kInkSoft, .across = Align::kEnd});
    return;
  }
  const float height = line_room + touch::text_height(ui, definition, Font::kBody, rect.width());
  Cutter down(touch::centred(rect, rect.width(), height), Axis::kDown, 0);
  touch::text(ui, down.take(line_room), {.text = place, .font = Font::kStrong});
  touch::text(ui, down.take_rest(),
              {.text = definition, .tone = Tone::kInkSoft, .down = Align::kStart, .lines = 3});
}

void draw_stand(const Pen& pen, const Rect& rect, const flow::PracticeView& view) {
  picture(view.drilled, view.stand)(pen.ui.canvas(), rect);
  touch::Widget widget;
  widget.kind = touch::Kind::kShape;
  widget.label = "stand";
  widget.drawn = rect;
  pen.ui.enter(std::move(widget));
}

// The rating card's pad, without pictures.
void draw_pad(const Pen& pen, const Parts& parts, const flow::PracticeView& view) {
  flow::MeasureView measure;
  measure.measure = "percent_stand";
  measure.scale = measure.measure;
  measure.kind = ScaleKind::kPercent;
  measure.direction = Direction::kHighIsBest;
  for (const flow::PercentChoice& choice : view.choices)
    measure.choices.push_back(
        {choice.entered, "", choice.value, choice.entered == view.stand.given});
  PadRoom room;
  room.grid = parts.pad;
  room.area = parts.pad;
  room.columns = parts.columns;
  room.rows = parts.rows;
  room.plot = "practice " + number(view.place);
  room.enabled = view.can_enter;
  room.plain = true;
  auto group = pen.ui.group(measure_name(pen, measure.measure));
  draw_measure_pad(pen, room, measure);
}

void draw_rating(const Pen& pen, const flow::PracticeView& view) {
  touch::Ui& ui = pen.ui;
  stand_close(ui);
  const Parts parts = parts_of(ui);
  touch::Key out{.label = pen.words("key.back")};
  out.paint = touch::back_sign();
  out.icon_only = true;
  if (touch::key(ui, parts.back, out)) pen.send(flow::ShowToday{});
  touch::Key undo{.label = pen.words("key.take_back"), .enabled = view.can_take_back};
  undo.paint = touch::undo_sign();
  undo.icon_only = true;
  if (touch::key(ui, parts.take_back, undo)) pen.send(flow::TakeBack{});
  ui.flash_at(parts.back);
  if (has_notice(pen)) pen.scratch.notice_on_card = true;  // no strip here is high enough
  draw_words(pen, parts.words, view);
  draw_stand(pen, parts.stand, view);
  draw_pad(pen, parts, view);
}

std::string result_words(const Pen& pen, const flow::PracticeResult& result) {
  std::string off;
  if (result.how == flow::RatesHow::kNear)
    off = pen.words("practice.near");
  else
    off = pen.words.count(result.how == flow::RatesHow::kHigh ? "practice.high" : "practice.low",
                          result.points);
  return pen.words.fill("practice.give_or_take", {off, std::to_string(result.give_or_take)});
}

// A stand small, with what was drawn and what was said.
void draw_answer(const Pen& pen, const Rect& rect, bool drilled, const flow::DrawnStand& stand) {
  touch::Ui& ui = pen.ui;
  const float line = touch::line_height(ui, Font::kBody);
  Cutter down(rect, Axis::kDown, ui.mm(0.8));
  const Rect said = down.take_end(line);
  const Rect drawn = down.take_end(line);
  picture(drilled, stand)(ui.canvas(), down.take_rest());
  const std::string percent = pen.words.fill("practice.drawn", {std::to_string(stand.percent)});
  const std::string given = pen.words.fill("practice.given", {stand.given});
  touch::text(ui, drawn, {.text = percent, .tone = Tone::kInkSoft});
  touch::text(ui, said, {.text = given});
}

void draw_answers(const Pen& pen, const Rect& rect, bool drilled,
                  const flow::PracticeResult& result) {
  touch::Ui& ui = pen.ui;
  const auto& stands = result.stands;
  float widest = 0;
  for (const flow::DrawnStand& stand : stands) {
    widest = std::max(
        {widest,
         touch::text_width(ui, pen.words.fill("practice.given", {stand.given}), Font::kBody),
         touch::text_width(ui, pen.words.fill("practice.drawn", {std::to_string(stand.percent)}),
                           Font::kBody)});
  }
  const float gap = ui.mm(3);
  const float each = std::max(widest + ui.mm(1), ui.mm(28));
  auto columns = static_cast<std::size_t>((rect.width() + gap) / (each + gap));
  columns = columns >= 5 ? 5 : 2;  // whole rows of the ten
  const std::size_t rows = (stands.size() + columns - 1) / columns;
  const auto count = static_cast<float>(rows);
  const float least = ui.mm(9.6) + 2 * touch::line_height(ui, Font::kBody);
  const float room = (rect.height() - (count - 1) * gap) / count;
  const float tall = std::clamp(room, least, least + ui.mm(30));
  auto one_size = ui.same_size("answers");
  const auto draw = [&](const Rect& area) {
    const Rect all{area.left, area.top, area.right, area.top + count * tall + (count - 1) * gap};
    const auto lines = touch::split(all, Axis::kDown, rows, gap);
    for (std::size_t n = 0; n < stands.size(); ++n) {
      const auto cells = touch::split(lines[n / columns], Axis::kAcross, columns, gap);
      draw_answer(pen, cells[n % columns], drilled, stands[n]);
    }
  };
  if (room >= least) return draw(rect);
  auto scroll = ui.scroll("answers", rect);
  draw(scroll.area());
}

void draw_result(const Pen& pen, const flow::PracticeView& view,
                 const flow::PracticeResult& result) {
  touch::Ui& ui = pen.ui;
  Cutter down(ui.page(), Axis::kDown, ui.gap());
  const std::string note = pen.words.fill("practice.counts", {view.trial_code});
  const Title title{.title = pen.words("practice.title"), .note = note, .back = true};
  if (draw_head(pen, down.take(touch::head_height(ui)), title, view.head))
    pen.send(flow::ShowToday{});
  const auto low = touch::split(down.take_end(ui.mm(15)), Axis::kAcross, 2, ui.gap());
  const bool left = ui.left_handed();
  if (touch::key(ui, low[left ? 0 : 1],
                 {.label = pen.words("practice.done"), .style = Style::kAction}))
    pen.send(flow::ShowToday{});
  if (touch::key(ui, low[left ? 1 : 0], {.label = pen.words("practice.again")}))
    pen.send(flow::ShowPractice{view.trial, view.occasion});
  const std::string said = result_words(pen, result);
  const float width = down.rest().width();
  touch::text(ui, down.take(touch::text_height(ui, said, Font::kTitle, width)),
              {.text = said, .font = Font::kTitle, .lines = 3});
  draw_answers(pen, down.take_rest(), view.drilled, result);
}

}  // namespace

void draw_practice(const Pen& pen, const flow::PracticeView& view) {
  auto group = pen.ui.group("Practice");
  if (view.result) return draw_result(pen, view, *view.result);
  draw_rating(pen, view);
}

}  // namespace ligule::screens
