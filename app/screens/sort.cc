// Sorting samples: which one lies on the table, then the whole of it and its parts, each with the
// number of its bag and its fresh weight.
#include <algorithm>
#include <cmath>

#include "app/screens/pen.h"

namespace ligule::screens {

using touch::Axis;
using touch::Cutter;
using touch::Font;
using touch::Rect;
using touch::Shape;

namespace {

constexpr double kLeastKeyMm = 12.6;

std::string title_of(const Pen& pen, const flow::SortingView& view) {
  return view.plot.empty() ? std::string(pen.words("sort.title"))
                           : pen.words.fill("sort.title_plot", {view.plot});
}

std::string place_of(const Pen& pen, const flow::SortingView& view) {
  return pen.words.fill("sort.place",
                        {view.trial_code, std::to_string(view.cutting), std::to_string(view.year)});
}

touch::Paint corner_sign(Shape sign) {
  return [sign](const touch::Canvas& paint, const Rect& room) {
    const float side = paint.sizes().mm(6);
    const float edge = paint.sizes().mm(1.6);
    paint.shape(
        sign, {room.left + edge, room.top + edge, room.left + edge + side, room.top + edge + side});
  };
}

std::size_t columns_in(const touch::Ui& ui, const Rect& area, float least) {
  const float gap = close_gap(ui);
  return static_cast<std::size_t>(std::max(1.0F, std::floor((area.width() + gap) / (least + gap))));
}

// Keys of one height in as many columns as have room, row by row; calls `draw` with each place.
template <class Draw>
void in_columns(const touch::Ui& ui, const Rect& area, std::size_t n, float least, float height,
                const Draw& draw) {
  const float gap = close_gap(ui);
  const std::size_t columns = columns_in(ui, area, least);
  for (std::size_t at = 0; at < n; ++at) {
    const std::size_t row = at / columns;
    const float top = area.top + static_cast<float>(row) * (height + gap);
    const auto cells =
        touch::split({area.left, top, area.right, top + height}, Axis::kAcross, columns, gap);
    draw(at, cells[at % columns]);
  }
}

std::string state_of(const Pen& pen, const flow::SortPlotRow& plot) {
  if (plot.whole) return std::string(pen.words("sort.plot_done"));
  if (plot.begun) return pen.words.fill("sort.plot_begun", {std::to_string(plot.stated)});
  return std::string(pen.words("sort.plot_open"));
}

void draw_plots(const Pen& pen, const Rect& rect, const flow::SortingView& view) {
  touch::Ui& ui = pen.ui;
  auto group = ui.group("Plot");
  auto scroll = ui.scroll("plots", rect);
  const float height = ui.mm(ui.look().large_text ? 25 : 17);
  in_columns(ui, scroll.area(), view.plots.size(), ui.mm(30), height,
             [&](std::size_t n, const Rect& place) {
               const flow::SortPlotRow& plot = view.plots[n];
               const std::string note = state_of(pen, plot);
               touch::Key key{.label = plot.plot, .note = note, .font = Font::kTitle};
               if (plot.begun)
                 key.paint =
                     corner_sign(plot.whole || plot.mark != flow::Mark::kKept ? shape_of(plot.mark)
                                                                              : Shape::kLater);
               if (touch::key(ui, place, key)) pen.send(flow::SortPlot{plot.plot});
             });
}

// "bag 31, 84.2 g", "nothing", or nothing yet.
std::string note_of(const Pen& pen, const flow::PartRow& part) {
  if (part.none) return std::string(pen.words("sort.none"));
  if (part.bag.empty()) return part.fresh;
  return part.fresh.empty() ? part.bag : pen.words.fill("history.of_part", {part.bag, part.fresh});
}

// Where not all of them have room the one that is weighed stands first and those after it follow:
// nobody weighs a part whose name is out of sight.
std::size_t first_shown(const touch::Ui& ui, const Rect& rect, const flow::SortingView& view,
                        float least, float height) {
  const std::size_t columns = columns_in(ui, rect, least);
  const std::size_t rows = (view.parts.size() + columns - 1) / columns;
  const float needed =
      static_cast<float>(rows) * height + static_cast<float>(rows - 1) * close_gap(ui);
  if (needed <= rect.height()) return 0;
  const auto chosen = std::ranges::find(view.parts, true, &flow::PartRow::chosen);
  return chosen == view.parts.end() ? 0 : static_cast<std::size_t>(chosen - view.parts.begin());
}

float part_height(const touch::Ui& ui) {
  return ui.mm(ui.look().large_text ? 25 : 17);
}

void draw_parts(const Pen& pen, const Rect& rect, const flow::SortingView& view) {
  touch::Ui& ui = pen.ui;
  auto group = ui.group("Part");
  auto scroll = ui.scroll("parts", rect);
  // Words in the middle, clear of the sign in the corner.
  float least = ui.mm(33);
  for (const flow::PartRow& part : view.parts)
    least = std::max({least, touch::text_width(ui, pen.words(part.word), Font::kStrong) + ui.mm(18),
                      touch::text_width(ui, note_of(pen, part), Font::kBody) + ui.mm(6)});
  const float height = part_height(ui);
  const std::size_t first = first_shown(ui, rect, view, least, height);
  in_columns(ui, scroll.area(), view.parts.size(), least, height,
             [&](std::size_t n, const Rect& place) {
               const flow::PartRow& part = view.parts[(first + n) % view.parts.size()];
               const std::string note = note_of(pen, part);
               touch::Key key{.label = pen.words(part.word),
                              .note = note,
                              .selected = part.chosen,
                              .font = Font::kStrong};
               if (part.mark != flow::Mark::kOpen) key.paint = corner_sign(shape_of(part.mark));
               if (touch::key(ui, place, key)) pen.send(flow::SortPart{part.part});
             });
}

std::string state_words(const Pen& pen, const flow::SortingView& view) {
  if (!view.plot.empty()) {
    if (view.open > 0)
      return pen.words.count("sort.open_parts", view.open) + " " +
             std::string(pen.words("sort.with_bag"));
    return view.percent.empty() ? std::string(pen.words("sort.all"))
                                : pen.words.fill("sort.percent", {view.percent});
  }
  std::string text(pen.words("sort.which"));
  if (view.begun > 0) text += " " + pen.words.count("sort.begun", static_cast<int>(view.begun));
  if (view.whole > 0) text += " " + pen.words.count("sort.done", static_cast<int>(view.whole));
  return text;
}

void draw_pad(const Pen& pen, const Rect& rect, const Rect& erase, const flow::SortingView& view) {
  const auto focused =
      std::ranges::find_if(view.fields, [](const flow::FieldView& field) { return field.focused; });
  const flow::Field field = focused == view.fields.end() ? flow::Field::kSortPlot : focused->field;
  const bool weight = field == flow::Field::kSortWhole || field == flow::Field::kSortFresh;
  const bool typed = focused != view.fields.end() && !focused->text.empty();
  const bool nothing_open = !view.plot.empty() && view.fields.empty();
  const touch::NumberPad keys{
      .erase = pen.words("keyboard.erase"),
      .done = pen.words(nothing_open ? "sort.next_plot" : (weight ? "dry.keep" : "key.next")),
      .decimals = weight,
      .can_done = nothing_open || (weight ? view.can_keep : typed),
      .erase_place = erase};
  for (const touch::PadKey& key : touch::number_pad(pen.ui, rect, keys)) {
    // A hard Enter may end what a scanner sent.
    if (key.kind == touch::PadKey::Kind::kDone && key.text.empty() && weight)
      pen.send(flow::KeepSorted{});
    else
      send_keys(pen, {key});
  }
}

void draw_none_key(const Pen& pen, const Rect& rect, const flow::SortingView& view) {
  if (touch::key(
          pen.ui, rect,
          {.label = pen.words("sort.none_key"), .enabled = view.can_say_none, .font = Font::kBody}))
    pen.send(flow::SayNoneOfPart{});
}

constexpr double kTakeBackMm = 20;

float state_height(const Pen& pen, float width, const flow::SortingView& view) {
  const touch::Ui& ui = pen.ui;
  const float words = width - ui.mm(kTakeBackMm) - ui.gap();
  return std::max(ui.mm(kLeastKeyMm),
                  touch::text_height(ui, state_words(pen, view), Font::kBody, words));
}

// What is known as a line of words, with the key that takes back.
void draw_state(const Pen& pen, Cutter& down, const flow::SortingView& view) {
  touch::Ui& ui = pen.ui;
  Cutter across(down.take(state_height(pen, down.rest().width(), view)), Axis::kAcross, ui.gap());
  draw_take_back(pen, across.take_end(ui.mm(kTakeBackMm)), view.can_take_back);
  touch::text(ui, across.take_rest(),
              {.text = state_words(pen, view), .font = Font::kBody, .lines = 8});
}

bool of_part(const flow::SortingView& view) {
  return view.fields.size() > 1;
}

// Small glass and gloves: the words go with the list that is dragged.
void draw_gloved(const Pen& pen, const flow::SortingView& view) {
  touch::Ui& ui = pen.ui;
  const float gap = close_gap(ui);
  const GlovePage page = glove_page(ui);
  Cutter above(page.above, Axis::kDown, gap);
  const Rect head = ui.portrait() ? above.take(ui.mm(14)) : page.above;
  if (draw_head(pen, head, {.title = title_of(pen, view), .back = true}, view.head))
    pen.send(flow::SortBack{});
  Cutter room(ui.portrait() ? above.take_rest() : page.beside, Axis::kDown, gap);
  const float field = touch::dense_field_height(ui) + ui.mm(1.2);
  Rect erase;
  if (ui.portrait()) {
    const auto keys = touch::split(page.beside, Axis::kDown, 4, gap);
    if (of_part(view)) draw_none_key(pen, keys[1], view);
    draw_take_back(pen, keys[2], view.can_take_back);
    erase = keys[3];
    if (!view.fields.empty())
      draw_fields(pen, room.take_end(field), view.fields, {view.fields.size()});
  } else {
    Cutter low(room.take_end(ui.mm(14)), Axis::kAcross, gap);
    draw_take_back(pen, low.take(ui.mm(20)), view.can_take_back);
    erase = low.take_rest();
    const std::vector<std::size_t> lines(view.fields.size(), 1);
    const auto rows = static_cast<float>(lines.size());
    if (!lines.empty())
      draw_fields(pen, room.take_end(rows * field + (rows - 1) * gap), view.fields, lines);
    if (of_part(view)) draw_none_key(pen, room.take_end(ui.mm(kLeastKeyMm)), view);
  }
  draw_pad(pen, page.pad, erase, view);
  if (view.plot.empty())
    draw_plots(pen, room.take_rest(), view);
  else
    draw_parts(pen, room.take_rest(), view);
}

}  // namespace

void draw_sorting(const Pen& pen, const flow::SortingView& view) {
  touch::Ui& ui = pen.ui;
  auto group = ui.group("Sort samples");
  stand_close(ui);
  if (small_for_gloves(ui)) return draw_gloved(pen, view);
  const float gap = close_gap(ui);
  const auto [pad, words] = pad_and_words(ui);
  Cutter down(words, Axis::kDown, gap);
  const std::string title = title_of(pen, view);
  const std::string place = place_of(pen, view);
  if (draw_head(pen, down.take(ui.mm(16.2)), {.title = title, .note = place, .back = true},
                view.head))
    pen.send(flow::SortBack{});
  draw_pad(pen, pad, {}, view);
  if (!view.fields.empty())
    draw_fields(pen, down.take_end(ui.mm(18)), view.fields, {view.fields.size()});
  const float none = of_part(view) ? ui.mm(kLeastKeyMm) + gap : 0;
  // On low glass the part on the table goes before words about the others.
  const bool low = none > 0 && down.left_over() < none + state_height(pen, words.width(), view) +
                                                      gap + part_height(ui);
  if (none > 0) {
    Cutter keys(down.take_end(ui.mm(kLeastKeyMm)), Axis::kAcross, ui.gap());
    if (low) draw_take_back(pen, keys.take_end(ui.mm(kTakeBackMm)), view.can_take_back);
    draw_none_key(pen, keys.take_rest(), view);
  }
  if (!low) draw_state(pen, down, view);
  if (view.plot.empty())
    draw_plots(pen, down.take_rest(), view);
  else
    draw_parts(pen, down.take_rest(), view);
}

}  // namespace ligule::screens
