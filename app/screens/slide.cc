// Slide: the plots along the path as they are and as they will be, side by side.
#include <algorithm>
#include <array>

#include "app/screens/review_parts.h"

namespace ligule::screens {

using touch::Align;
using touch::Axis;
using touch::Cutter;
using touch::Font;
using touch::Key;
using touch::Point;
using touch::Rect;
using touch::Shape;
using touch::Style;
using touch::Tone;

namespace {

constexpr double kRowMm = 14;
constexpr double kBetweenRowsMm = 2;
constexpr std::string_view kBetweenValues = " \xC2\xB7 ";

std::string text_of(const Pen& pen, const flow::SlideCell& cell) {
  if (cell.mark == flow::Mark::kLater || cell.shown.empty())
    return std::string(pen.words("mark." + std::string(flow::name_of(cell.mark))));
  const std::string shown = shown_code(pen, cell.shown);
  return cell.word.empty() ? shown : shown + " " + std::string(pen.words(cell.word));
}

// The values of a plot, in the order of the card.
std::string values_of(const Pen& pen, const std::vector<flow::SlideCell>& cells,
                      std::string_view between = kBetweenValues) {
  std::string text;
  for (const flow::SlideCell& cell : cells) {
    if (!text.empty()) text += between;
    text += text_of(pen, cell);
  }
  return text;
}

// Values that have no plot, each by its name.
std::string lost_of(const Pen& pen, const std::vector<flow::SlideCell>& cells) {
  std::string text;
  for (const flow::SlideCell& cell : cells) {
    std::string name = measure_name(pen, cell.measure);
    if (!cell.part.empty())
      name = pen.words.fill("history.of_part", {name, std::string(pen.words(cell.part))});
    text += (text.empty() ? "" : ", ") + name + " " + text_of(pen, cell);
  }
  return text;
}

// The signs on a row: a value that is on hold travels as such.
bool holds(const std::vector<flow::SlideCell>& cells, flow::Mark mark) {
  return std::ranges::find(cells, mark, &flow::SlideCell::mark) != cells.end();
}

struct Columns {
  Rect now;
  Rect between;
  Rect then;
};

Columns columns_of(const touch::Ui& ui, const Rect& rect) {
  const float gutter = ui.mm(rect.width() >= ui.mm(120) ? 18 : 11);
  const float half = (rect.width() - gutter) / 2;
  return {{rect.left, rect.top, rect.left + half, rect.bottom},
          {rect.left + half, rect.top, rect.right - half, rect.bottom},
          {rect.right - half, rect.top, rect.right, rect.bottom}};
}

// How the values of a row of that width are written. Five weights on small glass: closer and
// smaller, as on the stakes.
struct Writing {
  float room = 0;  // for the values
  Font font = Font::kBody;
  std::string_view between;
};
Writing writing_of(const Pen& pen, float width, std::string_view plot,
                   const std::vector<flow::SlideCell>& cells) {
  const touch::Ui& ui = pen.ui;
  const float number = std::max(ui.mm(10), touch::text_width(ui, plot, Font::kStrong) + 1);
  float room = width - ui.mm(3.4 + 1.5 + 1.5) - number;
  if (holds(cells, flow::Mark::kOnHold)) room -= ui.mm(5 + 1.5);
  if (room < ui.mm(30)) return {room, Font::kCaption, " "};
  return {room, Font::kBody, kBetweenValues};
}

// As high as its longest values need: every row alike, so that the ways between them stay straight.
float row_height(const Pen& pen, float width, const std::vector<flow::SlideRow>& rows) {
  constexpr std::size_t kMostLines = 4;
  const touch::Ui& ui = pen.ui;
  float height = ui.mm(kRowMm);
  for (const flow::SlideRow& row : rows)
    for (const auto* const cells : {&row.now, &row.then}) {
      const Writing writing = writing_of(pen, width, row.plot, *cells);
      const std::string values = values_of(pen, *cells, writing.between);
      const auto lines = static_cast<float>(
          std::min(kMostLines, touch::wrap(ui, values, writing.font, writing.room).size()));
      height = std::max(height, lines * touch::line_height(ui, writing.font) + ui.mm(2));
    }
  return height;
}

// Number, values and, where it needs one, a sign; on a key or a sheet that is drawn already.
void draw_content(const Pen& pen, const Rect& rect, std::string_view plot,
                  const std::vector<flow::SlideCell>& cells, bool in_key) {
  touch::Ui& ui = pen.ui;
  Cutter across({rect.left + ui.mm(3.4), rect.top, rect.right - ui.mm(1.5), rect.bottom},
                Axis::kAcross, ui.mm(1.5));
  const float number = std::max(ui.mm(10), touch::text_width(ui, plot, Font::kStrong) + 1);
  touch::text(ui, across.take(number), {.text = plot, .font = Font::kStrong, .in_key = in_key});
  if (holds(cells, flow::Mark::kOnHold))
    ui.canvas().shape(Shape::kHeld, touch::centred(across.take_end(ui.mm(5)), ui.mm(5), ui.mm(5)));
  const Writing writing = writing_of(pen, rect.width(), plot, cells);
  const std::string values = values_of(pen, cells, writing.between);
  if (values.empty()) return;
  touch::text(ui, across.take_rest(),
              {.text = values,
               .font = writing.font,
               .across = Align::kEnd,
               .lines = 4,
               .may_cut = true,
               .in_key = in_key});
}

void draw_now(const Pen& pen, const Rect& rect, const flow::SlideRow& row) {
  touch::Ui& ui = pen.ui;
  // The run by a bar along its edge as well as by its ground.
  const auto run = [](const touch::Canvas& canvas, const Rect& room) {
    canvas.fill(room, Tone::kDoneWash, canvas.sizes().mm(1));
    canvas.fill({room.left, room.top, room.left + canvas.sizes().mm(1.8), room.bottom},
                Tone::kAction);
  };
  Key key{.label = row.plot, .halo = ui.mm(kBetweenRowsMm / 2), .icon_only = true};
  if (row.in_run) key.paint = run;
  if (touch::key(ui, rect, key)) pen.send(flow::ChooseSlidePlot{row.plot});
  draw_content(pen, rect, row.plot, row.now, true);
}

void draw_then(const Pen& pen, const Rect& rect, const flow::SlideRow& row) {
  touch::Ui& ui = pen.ui;
  const float round = ui.mm(1.6);
  const bool emptied = row.changed && row.then.empty() && !row.now.empty();
  Tone face = row.changed ? Tone::kDoneWash : Tone::kCard;
  if (emptied) face = Tone::kAttentionWash;
  ui.canvas().fill(rect, face, round);
  ui.canvas().outline(rect, row.changed ? Tone::kInk : Tone::kLine, ui.sizes().border(), round);
  draw_content(pen, rect, row.plot, row.then, false);
}

// From where a plot's values stand to where they go, or to a cross where the path ends.
void draw_way(const Pen& pen, const Rect& between, const flow::SlideRow& row, float from,
              float to) {
  touch::Ui& ui = pen.ui;
  const auto canvas = ui.canvas();
  const float stroke = ui.mm(0.9);
  const float left = between.left + ui.mm(0.8);
  if (row.lost) {
    const float side = ui.mm(6);
    canvas.shape(Shape::kLost, {left, from - side / 2, left + side, from + side / 2});
    return;
  }
  const Point tip{between.right - ui.mm(0.8), to};
  canvas.line({left, from}, {tip.x - ui.mm(1.5), to}, Tone::kInk, stroke);
  const float r = ui.mm(1.7);
  const std::array head{Point{tip.x - r * 1.3F, tip.y - r}, tip,
                        Point{tip.x - r * 1.3F, tip.y + r}};
  canvas.polygon(head, Tone::kInk);
}

void draw_lanes(const Pen& pen, const Rect& rect, const flow::SlideView& view) {
  touch::Ui& ui = pen.ui;
  auto group = ui.group("Plots");
  const float row_high = row_height(
      pen, columns_of(ui, {rect.left, 0, rect.right - ui.mm(3), 1}).now.width(), view.rows);
  const float pitch = row_high + ui.mm(kBetweenRowsMm);
  const float high = touch::line_height(ui, Font::kStrong);
  Cutter down(rect, Axis::kDown, ui.mm(1));
  const Columns heads = columns_of(ui, down.take(high));
  line(pen, heads.now, pen.words("slide.now"), {Font::kStrong});
  line(pen, heads.then, pen.words("slide.then"), {Font::kStrong});
  const Rect room = down.take_rest();
  // The run begins below one plot that stays.
  ui.keep_in_middle("slide rows", view.first_in_run,
                    pitch * (static_cast<float>(view.first_in_run) - 1) + room.height() / 2,
                    room.height());
  auto scroll = ui.scroll("slide rows", room);
  const Rect& area = scroll.area();
  const auto middle = [&](std::size_t n) {
    return area.top + pitch * static_cast<float>(n) + row_high / 2;
  };
  for (std::size_t n = 0; n < view.rows.size(); ++n) {
    const flow::SlideRow& row = view.rows[n];
    const float top = area.top + pitch * static_cast<float>(n);
    // The bar that shows how far one scrolled needs its room.
    const Columns columns = columns_of(ui, {area.left, top, area.right - ui.mm(3), top + row_high});
    if (top + pitch < room.top - pitch || top > room.bottom + pitch) continue;
    draw_now(pen, columns.now, row);
    draw_then(pen, columns.then, row);
    if (row.goes_to || row.lost)
      draw_way(pen, columns.between, row, middle(n), middle(row.goes_to.value_or(n)));
  }
  ui.reach({area.left, area.top + pitch * static_cast<float>(view.rows.size())});
}

// --- what is to be done --------------------------------------------------------------------------

void draw_ends(const Pen& pen, const Rect& rect, const flow::SlideView& view) {
  touch::Ui& ui = pen.ui;
  const auto cells = touch::split(rect, Axis::kAcross, 2, ui.gap());
  const touch::Field from{.label = pen.words("slide.from"),
                          .value = view.from,
                          .focused = !view.choosing_to,
                          .form = touch::FieldForm::kDense};
  if (touch::field(ui, cells[0], from)) pen.send(flow::ChooseSlideEnd{.to = false});
  const touch::Field to{.label = pen.words("slide.to"),
                        .value = view.to,
                        .focused = view.choosing_to,
                        .form = touch::FieldForm::kDense};
  if (touch::field(ui, cells[1], to)) pen.send(flow::ChooseSlideEnd{.to = true});
}

void draw_steps(const Pen& pen, const Rect& rect) {
  touch::Ui& ui = pen.ui;
  const auto cells = touch::split(rect, Axis::kAcross, 2, ui.gap());
  if (touch::key(ui, cells[0], {.label = pen.words("slide.back"), .font = Font::kStrong}))
    pen.send(flow::SlideBy{-1});
  if (touch::key(ui, cells[1], {.label = pen.words("slide.on"), .font = Font::kStrong}))
    pen.send(flow::SlideBy{1});
}

// How far, what is in the way, and what would be lost: read before anything is done.
std::string message_of(const Pen& pen, const flow::SlideView& view) {
  if (view.problem) {
    flow::Words words = *view.problem;
    if (!view.problem_measure.empty())
      words.arguments.push_back(measure_name(pen, view.problem_measure));
    return pen.words.fill(words);
  }
  if (view.by == 0) return std::string(pen.words("slide.choose"));
  const std::string on = view.by > 0 ? "slide.moves_on" : "slide.moves_back";
  const std::string moves = pen.words.count(on, std::abs(view.by));
  if (view.lost.empty()) return moves + " " + std::string(pen.words("slide.none_lost"));
  // What would be lost comes first: it has to be seen before anything is done.
  std::string text(pen.words("slide.lost"));
  for (const flow::SlideLost& lost : view.lost)
    text += "\n" + pen.words.fill("slide.lost_plot", {lost.plot, lost_of(pen, lost.cells)});
  return text + "\n" + moves;
}

// What is to be done, with what would be lost or stands in its way before where one is.
std::string told(const Pen& pen, const flow::SlideView& view, std::string_view where) {
  const std::string message = message_of(pen, view);
  return view.problem || !view.lost.empty() ? message + "\n" + std::string(where)
                                            : std::string(where) + "\n" + message;
}

void draw_message(const Pen& pen, const Rect& rect, const flow::SlideView& view,
                  std::string_view where) {
  touch::Ui& ui = pen.ui;
  const bool ask = view.problem || !view.lost.empty();
  ui.canvas().fill(rect, ask ? Tone::kAttentionWash : Tone::kSunk, ui.mm(1.6));
  const std::string text = told(pen, view, where);
  auto scroll = ui.scroll("slide message", rect.grown(-ui.mm(2)));
  const Rect& area = scroll.area();
  const float high = touch::text_height(ui, text, Font::kBody, area.width());
  touch::text(ui, {area.left, area.top, area.right, area.top + high + 1},
              {.text = text, .down = Align::kStart, .lines = 400});
}

void draw_acts(const Pen& pen, const Rect& rect, const flow::SlideView& view) {
  touch::Ui& ui = pen.ui;
  Cutter across(rect, Axis::kAcross, ui.gap());
  draw_take_back(pen, across.take(ui.mm(24)), view.can_take_back);
  const Key act{.label = pen.words("slide.do"), .style = Style::kAction, .enabled = view.can_do};
  if (touch::key(ui, across.take_rest(), act)) pen.send(flow::DoSlide{});
}

}  // namespace

void draw_slide(const Pen& pen, const Rect& rect, const flow::SlideView& view,
                std::string_view where) {
  touch::Ui& ui = pen.ui;
  auto group = ui.group("Slide");
  const float keys = ui.mm(16);
  if (ui.portrait()) {
    Cutter down(rect, Axis::kDown, ui.gap());
    draw_ends(pen, down.take(keys), view);
    draw_acts(pen, down.take_end(keys), view);
    // What would be lost takes what it needs of half of the lanes' room.
    const float lanes = down.left_over() - keys - 2 * ui.gap();
    const float needed =
        touch::text_height(ui, told(pen, view, where), Font::kBody, rect.width() - ui.mm(8)) +
        ui.mm(5);
    const float usual = std::max(ui.mm(24), rect.height() * 0.16F);
    const float high =
        view.lost.empty() ? usual : std::clamp(needed, usual, std::max(usual, lanes / 2));
    draw_message(pen, down.take_end(high), view, where);
    draw_steps(pen, down.take_end(keys));
    draw_lanes(pen, down.take_rest(), view);
    return;
  }
  Cutter across(rect, Axis::kAcross, ui.gap());
  const float width = std::clamp(rect.width() * 0.36F, ui.mm(62), ui.mm(96));
  Cutter side(ui.left_handed() ? across.take(width) : across.take_end(width), Axis::kDown,
              ui.gap());
  draw_ends(pen, side.take(keys), view);
  draw_steps(pen, side.take(keys));
  draw_acts(pen, side.take_end(keys), view);
  draw_message(pen, side.take_rest(), view, where);
  draw_lanes(pen, across.take_rest(), view);
}

}  // namespace ligule::screens
