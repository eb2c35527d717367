// Rate: one card a plot with all measures of the rating, a pad for the one that is open, and the
// lane of stakes as the way from plot to plot.
#include <algorithm>
#include <array>

#include "app/screens/measure_pad.h"
#include "app/screens/pen.h"
#include "app/screens/rate_parts.h"

namespace ligule::screens {

using touch::Align;
using touch::Axis;
using touch::Cutter;
using touch::FieldForm;
using touch::Font;
using touch::Rect;
using touch::Shape;
using touch::Style;
using touch::Tone;

namespace {

// The note is no chip of its own: its key stands beside the others.
bool has_chip(const flow::MeasureView& measure) {
  return measure.kind != ScaleKind::kText;
}

// Hardware keys and scanners: text and Enter as typed, left and right along the plot path, up and
// down on the card.
void take_hard_keys(const Pen& pen, const flow::RateView& view) {
  using platform::HardKey;
  for (const auto& press : pen.ui.typed()) {
    if (press.key == HardKey::kText) pen.send(flow::KeyText{press.text});
    if (press.key == HardKey::kErase) pen.send(flow::KeyErase{});
    if (press.key == HardKey::kEnter) pen.send(flow::KeyDone{});
    if (press.key == HardKey::kUp || press.key == HardKey::kDown) {
      const std::size_t n = view.measures.size();
      if (n == 0) continue;
      const std::size_t from = view.focus.value_or(press.key == HardKey::kDown ? n - 1 : 0);
      const std::size_t to = (from + (press.key == HardKey::kDown ? 1 : n - 1)) % n;
      pen.send(flow::FocusMeasure{view.measures[to].measure});
    }
    walk_by_arrow(pen, press.key, view.lane, view.present);
  }
}

// A score that a program defined itself brings its own name.
std::string name_of(const Pen& pen, const flow::MeasureView& measure) {
  return measure.own_name.empty() ? measure_name(pen, measure.measure) : measure.own_name;
}

void tapped_measure(const Pen& pen, const RateLayout& layout, const flow::MeasureView& measure,
                    bool focused) {
  const bool percent = measure.kind == ScaleKind::kPercent;
  // The open percent, tapped again: the single steps around it, and back to the tiles.
  if (focused && percent && !measure.shown.empty())
    pen.send(flow::ShowFine{measure.fine ? std::string() : measure.shown});
  else if (focused && measure.can_fine && layout.fine.empty())
    pen.send(flow::ShowTens{});
  else
    pen.send(flow::FocusMeasure{measure.measure});
}

std::string heading_of(const Pen& pen, const flow::RateView& view,
                       const flow::MeasureView& measure) {
  if (!measure.own_definition.empty()) return measure.own_definition;
  const std::string scale = "scale." + measure.scale;
  if (measure.scale != "percent_stand") return std::string(pen.words(scale + ".definition"));
  return std::string(
      pen.words(scale + (view.drilled ? ".definition.drilled" : ".definition.broadcast")));
}

// A number that is given on the pad itself stands there, larger than a chip has room for.
bool stands_on_pad(const flow::MeasureView& measure) {
  return measure.pad != flow::PadKind::kTiles && measure.pad != flow::PadKind::kLadder;
}

std::vector<std::size_t> with_chips(const flow::RateView& view) {
  std::vector<std::size_t> shown;
  for (std::size_t n = 0; n < view.measures.size(); ++n)
    if (has_chip(view.measures[n])) shown.push_back(n);
  return shown;
}

std::string chip_value(const Pen& pen, const flow::MeasureView& measure, bool focused) {
  const bool typing = focused && !measure.typed.empty() && !stands_on_pad(measure);
  return typing ? measure.typed : shown_code(pen, measure.shown);
}

// A code too long for a chip in the column has free cells of the pad.
bool too_long_for_chip(const Pen& pen, const RateLayout& layout, const flow::MeasureView& measure) {
  return layout.stacked && !stands_on_pad(measure) &&
         touch::dense_field_width(pen.ui, chip_value(pen, measure, true)) > layout.measures.width();
}

// So that its name, and its value beside the sign of its state, stand whole in a dense chip.
float chip_width(const Pen& pen, const flow::MeasureView& measure, bool focused) {
  const touch::Ui& ui = pen.ui;
  const std::string value = chip_value(pen, measure, focused);
  const bool large = focused && !stands_on_pad(measure);
  const float name = touch::text_width(ui, name_of(pen, measure), Font::kCaption);
  // Large words may stand in the usual size.
  const Font beside = ui.look().large_text ? Font::kCaption : Font::kBody;
  const float number = large ? 0 : touch::text_width(ui, value, beside) + ui.mm(5.8);
  return std::max(large ? touch::dense_field_width(ui, value) : 0.0F,
                  std::max(name, number) + ui.mm(3.2));
}

// Where the chips or rows stand, in that order.
std::vector<Rect> chip_places(const Pen& pen, const RateLayout& layout, const flow::RateView& view,
                              const std::vector<std::size_t>& shown, const Rect& room) {
  const touch::Ui& ui = pen.ui;
  const float between = close_gap(ui);
  if (layout.stacked) {
    const auto count = static_cast<float>(shown.size());
    Rect column = room;
    column.bottom = std::min(column.bottom, column.top + count * ui.mm(24) + (count - 1) * between);
    return touch::split(column, Axis::kDown, shown.size(), between);
  }
  std::vector<Rect> places;
  if (layout.measure_columns == 0) {
    std::vector<float> needed;
    for (const std::size_t n : shown) {
      const bool focused = view.focus == n && !view.stake.any();
      needed.push_back(chip_width(pen, view.measures[n], focused));
    }
    return split_by_need(room, needed, between);
  }
  const std::size_t columns = layout.measure_columns;
  const std::size_t rows = (shown.size() + columns - 1) / columns;
  for (const Rect& line : touch::split(room, Axis::kDown, rows, between))
    for (const Rect& cell : touch::split(line, Axis::kAcross, columns, between))
      places.push_back(cell);
  return places;
}

// Whether one of them says what is given, so that the pad need not.
bool draw_chips(const Pen& pen, const RateLayout& layout, const flow::RateView& view,
                const std::vector<std::size_t>& shown, const Rect& room) {
  touch::Ui& ui = pen.ui;
  bool explained = false;
  const bool dense = layout.measure_columns == 0 || layout.stacked;
  const auto places = chip_places(pen, layout, view, shown, room);
  for (std::size_t n = 0; n < shown.size(); ++n) {
    const flow::MeasureView& measure = view.measures[shown[n]];
    const bool focused = view.focus == shown[n] && !view.stake.any();
    const std::string label = name_of(pen, measure);
    const std::string value = chip_value(pen, measure, focused);
    // Without a heading of its own the pad is explained where the value will stand.
    std::string hint;
    if (focused && layout.heading.empty()) hint = heading_of(pen, view, measure);
    const float hint_room = places[n].width() - ui.mm(11);
    if (touch::text_width(ui, hint, Font::kBody) > hint_room) hint.clear();
    explained = explained || (!hint.empty() && value.empty());
    const touch::Field field{
        .label = label,
        .value = value,
        .unit = value.empty() ? std::string_view() : measure.unit,
        .empty_hint = hint,
        .focused = focused,
        .enabled = !view.stake.any(),
        .shape = shape_of(measure.mark),
        .font = dense ? Font::kLabel : Font::kTitle,
        .elsewhere = stands_on_pad(measure) || too_long_for_chip(pen, layout, measure),
        .form = dense ? FieldForm::kDense : FieldForm::kRow};
    if (touch::field(ui, places[n], field)) tapped_measure(pen, layout, measure, focused);
  }
  return explained;
}

// What chips beside a square pad need at least; 0 where they stand otherwise.
float chips_width(const Pen& pen, const RateLayout& layout, const flow::RateView& view,
                  const std::vector<std::size_t>& shown) {
  if (layout.strip.empty()) return 0;
  float width = close_gap(pen.ui) * static_cast<float>(shown.size() - 1);
  for (const std::size_t n : shown)
    width += std::max(pen.ui.mm(12.1),
                      chip_width(pen, view.measures[n], view.focus == n && !view.stake.any()));
  return width;
}

bool draw_measures(const Pen& pen, const RateLayout& layout, const flow::RateView& view) {
  touch::Ui& ui = pen.ui;
  const std::vector<std::size_t> shown = with_chips(view);
  if (shown.empty()) return false;
  auto group = ui.group("Card");
  auto one_size = ui.same_size("card");
  // Too many to stand side by side, or under one another: they are dragged.
  if (const float width = chips_width(pen, layout, view, shown); width > layout.measures.width()) {
    const Rect& room = layout.measures;
    const auto open = std::ranges::find(shown, view.focus.value_or(0));
    const auto place = static_cast<std::size_t>(open - shown.begin());
    const float pitch = width / static_cast<float>(shown.size());
    ui.keep_in_middle("chips", place, pitch * (static_cast<float>(place) + 0.5F), room.width());
    auto scroll = ui.scroll("chips", room, Axis::kAcross);
    const float left = scroll.area().left;
    return draw_chips(pen, layout, view, shown, {left, room.top, left + width, room.bottom});
  }
  const auto count = static_cast<float>(shown.size());
  const float least = touch::dense_field_height(ui) * count + close_gap(ui) * (count - 1);
  if (!layout.stacked || least <= layout.measures.height())
    return draw_chips(pen, layout, view, shown, layout.measures);
  auto scroll = ui.scroll("chips", layout.measures);
  const Rect& area = scroll.area();
  return draw_chips(pen, layout, view, shown, {area.left, area.top, area.right, area.top + least});
}

// A corner turned down: there is a note on this plot.
touch::Paint note_mark() {
  return [](const touch::Canvas& paint, const Rect& room) {
    const float side = paint.sizes().mm(4.4);
    const std::array corner{touch::Point{room.right - side, room.top},
                            touch::Point{room.right, room.top},
                            touch::Point{room.right, room.top + side}};
    paint.polygon(corner, Tone::kAction);
  };
}

void draw_keys(const Pen& pen, const RateLayout& layout, const flow::RateView& view) {
  touch::Ui& ui = pen.ui;
  auto one_size = ui.same_size("keys");
  touch::Key note{.label = pen.words("key.note"), .enabled = view.can_enter};
  if (!view.notes.empty()) note.paint = note_mark();
  if (touch::key(ui, layout.note, note)) pen.send(flow::OpenNote{});
  draw_lock_key(pen, layout.lock);
  draw_take_back(pen, layout.take_back, view.can_take_back);
  const bool open = std::ranges::any_of(view.measures, [](const flow::MeasureView& measure) {
    return has_chip(measure) && measure.mark == flow::Mark::kOpen;
  });
  if (view.can_close) {
    if (touch::key(ui, layout.later, {.label = pen.words("key.close")}))
      pen.send(flow::DeclareDone{});
    return;
  }
  if (touch::key(ui, layout.later,
                 {.label = pen.words("key.later"), .enabled = view.can_enter && open}))
    pen.send(flow::PutOff{});
}

// What the pad's place says while no measure is open.
void draw_nothing_open(const Pen& pen, const Rect& rect, const flow::RateView& view) {
  touch::Ui& ui = pen.ui;
  Cutter down(touch::sheet(ui, rect), Axis::kDown, ui.mm(4));
  if (view.all_done && !view.closed) {
    const touch::Key close{
        .label = pen.words("rate.close"), .style = Style::kAction, .enabled = view.can_enter};
    if (touch::key(ui, down.take_end(ui.key()), close)) pen.send(flow::DeclareDone{});
  }
  if (!view.all_done && !view.closed && !view.next_open.empty()) {
    const std::string label = pen.words.fill("rate.next_open", {view.next_open});
    const touch::Key onward{.label = label, .style = Style::kAction, .enabled = view.can_enter};
    if (touch::key(ui, down.take_end(ui.key()), onward)) pen.send(flow::GoToPlot{view.next_open});
  }
  const Rect room = down.take_rest();
  Cutter across(room, Axis::kAcross, ui.mm(5));
  const Rect sign = across.take(std::min(ui.mm(16), room.height()));
  ui.canvas().shape(Shape::kDone, touch::centred(sign, ui.mm(16), ui.mm(16)));
  const std::string text = view.all_done ? pen.words.fill("rate.all_done", {number(view.plots)})
                                         : std::string(pen.words("rate.plot_done"));
  touch::text(ui, across.take_rest(), {.text = text, .font = Font::kLabel, .lines = 6});
}

// A stake's number takes the place of the plot's until it is found.
flow::FieldView stake_field(const flow::StakeQuestionView& question) {
  return {flow::Field::kPlot, question.typed, "", true};
}

// As high as what is typed needs; the page's margin is air enough above it.
Rect stake_place(const touch::Ui& ui, const Rect& plot) {
  Rect place = touch::centred(plot, plot.width(), std::min(plot.height(), ui.mm(15)));
  place.top = std::min(place.top, place.bottom - touch::dense_field_height(ui));
  return place;
}

void draw_stake_number(const Pen& pen, const RateLayout& layout) {
  auto group = pen.ui.group("Stake");
  send_keys(pen, touch::number_pad(pen.ui, layout.pad,
                                   {.erase = pen.words("keyboard.erase"),
                                    .done = pen.words("harvest.go"),
                                    .erase_place = layout.aside}));
}

// Digits stand in one order on every tablet, four keys square; for gloves on small glass the usual
// composition has it, or three rows of them where four do not fit.
RateLayout layout_of(const touch::Ui& ui, const flow::RateView& view, std::size_t chips) {
  const flow::MeasureView* const open = view.focus ? &view.measures[*view.focus] : nullptr;
  const bool asked = view.stake.any();
  const bool typing = view.stake.question && view.stake.question->other;
  const bool readings = open != nullptr && open->pad == flow::PadKind::kAmount && open->gather;
  if (open != nullptr && open->pad == flow::PadKind::kCells && !asked)
    return square_layout(ui, kFrameSide);
  if ((typing || (readings && !asked)) && !small_for_gloves(ui))
    return square_layout(ui, kDigitsSide);
  return rate_layout(ui, chips);
}

// What the three keys leave of the lowest row of the pad.
Rect spare_cell(const touch::Ui& ui, const RateLayout& layout) {
  if (layout.rows > 0 || !layout.strip.empty()) return layout.spare;
  const bool inside =
      layout.note.bottom <= layout.pad.bottom + 1 && layout.note.top > layout.pad_above_keys.bottom;
  const float keys_left = layout.lock.top == layout.note.top
                              ? std::min(layout.lock.left, layout.later.left)
                              : layout.note.left;
  const Rect rest{layout.pad.left, layout.note.top, keys_left - ui.gap(), layout.note.bottom};
  return inside && rest.width() >= ui.mm(20) ? rest : Rect{};
}

// Trial and rating, or the entry's name, beside what the pad says of itself where that leaves room.
void draw_where(const Pen& pen, const RateLayout& layout, const flow::RateView& view,
                std::string_view heading) {
  touch::Ui& ui = pen.ui;
  Rect rest = layout.heading;
  rest.left += touch::text_width(ui, heading, Font::kStrong) + ui.mm(6);
  if (rest.width() < ui.mm(22)) return;
  const bool named = !view.names.empty() && !name_under_number(ui, layout);
  std::string where = named ? view.names : where_words(pen, view);
  // The chips say what is rated: the trial alone where both have no room.
  if (!named && touch::text_width(ui, where, Font::kBody) > rest.width())
    where = trial_words(pen, view);
  touch::text(ui, rest,
              {.text = where, .tone = Tone::kInkSoft, .across = Align::kEnd, .may_cut = named});
}

// explained: what is given is said above it.
void draw_pad(const Pen& pen, const RateLayout& layout, const flow::RateView& view,
              bool explained) {
  touch::Ui& ui = pen.ui;
  if (!view.focus || !has_chip(view.measures[*view.focus])) {
    draw_nothing_open(pen, layout.pad_above_keys, view);
    return;
  }
  const flow::MeasureView& measure = view.measures[*view.focus];
  if (!layout.heading.empty()) {
    const std::string heading = heading_of(pen, view, measure);
    touch::text(
        ui, layout.heading,
        {.text = heading, .font = Font::kStrong, .may_cut = !measure.own_definition.empty()});
    draw_where(pen, layout, view, heading);
  }
  auto group = ui.group(name_of(pen, measure));
  draw_measure_pad(
      pen,
      {.grid = layout.pad,
       .area = layout.pad_above_keys,
       .spare = spare_cell(ui, layout),
       .fine = layout.fine,
       .aside = layout.aside,
       .strip = layout.strip,
       .columns = layout.columns,
       .rows = layout.rows,
       .plot = view.plot,
       .definition =
           layout.heading.empty() && !explained ? heading_of(pen, view, measure) : std::string(),
       .long_value = too_long_for_chip(pen, layout, measure) ? chip_value(pen, measure, true) : "",
       .drilled = view.drilled,
       .enabled = view.can_enter},
      measure);
}

}  // namespace

void draw_rate(const Pen& pen, const flow::RateView& view) {
  touch::Ui& ui = pen.ui;
  auto group = ui.group("Rate");
  stand_close(ui);
  if (view.note) {
    draw_note(pen, view, *view.note);
    return;
  }
  const bool typing = view.stake.question && view.stake.question->other;
  if (!typing) take_hard_keys(pen, view);  // the number pad takes them itself
  const auto chips = static_cast<std::size_t>(std::ranges::count_if(view.measures, has_chip));
  const RateLayout layout = layout_of(ui, view, chips);
  const bool notice = has_notice(pen);
  touch::Key out{.label = pen.words("key.back")};
  out.paint = touch::back_sign();
  out.icon_only = true;
  if (touch::key(ui, layout.back, out)) leave_card(pen, view.stake);
  ui.flash_at(layout.back);
  if (typing)
    draw_field(pen, stake_place(ui, layout.plot), stake_field(*view.stake.question),
               layout.plot.width() < ui.mm(50) ? FieldForm::kDense : FieldForm::kRow);
  else if (!notice || !layout.notice.overlaps(layout.plot))
    draw_plot_and_place(pen, layout, view);
  draw_hand_key(pen, layout.hand, view.head.initials);
  flow::HeadView clock = view.head;
  clock.initials.clear();  // they have a key of their own
  if (!layout.status.empty()) draw_short_status(pen, layout.status, clock);
  bool explained = false;
  if (!notice || !layout.notice.overlaps(layout.measures))
    explained = draw_measures(pen, layout, view);
  if (typing)
    draw_stake_number(pen, layout);
  else if (view.stake.any())
    draw_stake_card(pen, layout.pad_above_keys, view.stake);
  else
    draw_pad(pen, layout, view, explained);
  if (!notice || !layout.notice.overlaps(layout.lane))
    draw_lane(pen, layout.lane, view.lane, view.present);
  // The number pad takes the row of the keys where they share its grid.
  const bool no_keys = typing && layout.pad.overlaps(layout.later);
  if (!no_keys) draw_keys(pen, layout, view);
  if (notice) draw_notice(pen, layout.notice);
}

}  // namespace ligule::screens
