// Harvest: the head of a run once, then weights plot by plot.
#include <algorithm>

#include "app/screens/load.h"
#include "app/screens/pen.h"
#include "app/screens/plot_stands.h"

namespace ligule::screens {

using touch::Axis;
using touch::Cutter;
using touch::FieldForm;
using touch::Font;
using touch::Rect;
using touch::Style;

namespace {

const flow::FieldView* focused_of(const std::vector<flow::FieldView>& fields) {
  const auto found =
      std::ranges::find_if(fields, [](const flow::FieldView& field) { return field.focused; });
  return found == fields.end() ? nullptr : &*found;
}

touch::NumberPad pad_of(const Pen& pen, const flow::FieldView* field, std::string_view done,
                        bool can_done) {
  const bool decimals = field == nullptr || flow::kind_of(field->field) != flow::FieldKind::kLabel;
  return {.erase = pen.words("keyboard.erase"),
          .done = done,
          .decimals = decimals,
          .can_done = can_done};
}

// --- the head of a run -------------------------------------------------------------------------

void draw_chips(const Pen& pen, const Rect& rect, const std::vector<std::string>& labels,
                std::size_t selected, const std::function<void(std::size_t)>& tapped) {
  touch::Ui& ui = pen.ui;
  if (labels.empty()) return;
  const auto cells = touch::split(rect, Axis::kAcross, labels.size(), close_gap(ui));
  for (std::size_t n = 0; n < labels.size(); ++n)
    if (touch::key(ui, cells[n],
                   {.label = labels[n], .selected = n == selected, .font = Font::kStrong}))
      tapped(n);
}

void draw_surfaces(const Pen& pen, const Rect& rect, const flow::RunHeadView& view) {
  auto group = pen.ui.group("Surface");
  std::vector<std::string> labels;
  labels.reserve(view.surfaces.size());
  std::size_t selected = view.surfaces.size();
  for (std::size_t n = 0; n < view.surfaces.size(); ++n) {
    labels.push_back(std::string(pen.words("surface." + view.surfaces[n])) + "##" +
                     view.surfaces[n]);
    if (view.surfaces[n] == view.surface) selected = n;
  }
  draw_chips(pen, rect, labels, selected,
             [&](std::size_t n) { pen.send(flow::ChooseSurface{view.surfaces[n]}); });
}

void draw_machines(const Pen& pen, const Rect& rect, const flow::RunHeadView& view) {
  auto group = pen.ui.group("Machines");
  constexpr std::size_t kMost = 3;
  std::vector<std::string> labels(
      view.machines.begin(),
      view.machines.begin() + static_cast<std::ptrdiff_t>(std::min(kMost, view.machines.size())));
  std::string machine;
  for (const flow::FieldView& field : view.fields)
    if (field.field == flow::Field::kMachine) machine = field.text;
  const auto found = std::ranges::find(labels, machine);
  draw_chips(pen, rect, labels, static_cast<std::size_t>(found - labels.begin()),
             [&](std::size_t n) {
               pen.send(flow::FocusField{flow::Field::kMachine});
               for (std::size_t letters = 0; letters < machine.size(); ++letters)
                 pen.send(flow::KeyErase{});
               pen.send(flow::KeyText{view.machines[n]});
             });
}

// Machine, cut width, stubble: side by side, or the machine on a line of its own.
void draw_run_fields(const Pen& pen, const Rect& rect, const flow::RunHeadView& view) {
  const bool wide = rect.width() >= pen.ui.mm(140);
  const std::vector<std::size_t> lines = wide ? std::vector<std::size_t>{view.fields.size()}
                                              : std::vector<std::size_t>{1, view.fields.size() - 1};
  draw_fields(pen, rect, view.fields, lines, Font::kTitle);
}

std::string title_of(const Pen& pen, const flow::HarvestView& view) {
  return pen.words.fill("harvest.title", {std::to_string(view.cutting), view.trial_code});
}

void draw_start(const Pen& pen, const Rect& rect, const flow::RunHeadView& step) {
  const touch::Key start{.label = pen.words("harvest.start"),
                         .style = Style::kAction,
                         .enabled = step.can_start,
                         .font = Font::kStrong};
  if (touch::key(pen.ui, rect, start)) pen.send(flow::StartRun{});
}

// Lengths come with their units, so every field takes letters.
void draw_run_head(const Pen& pen, const flow::HarvestView& view, const flow::RunHeadView& step) {
  touch::Ui& ui = pen.ui;
  const float gap = close_gap(ui);
  Cutter down(full_page(ui), Axis::kDown, gap);
  draw_keyboard(pen, down.take_end(touch::keyboard_height(ui, down.rest().width())),
                pen.words("key.next"));
  const float strip = ui.mm(12.1);
  const bool wide = down.rest().width() >= ui.mm(140);
  // High glass lets label and value stand apart.
  const float dense = touch::dense_field_height(ui);
  const float taken = touch::head_height(ui) + 2 * strip + 4 * gap;
  const float field =
      std::clamp((down.left_over() - taken) / 2, dense, std::max(dense, ui.mm(19.5)));
  const float fields_height = wide ? ui.mm(16) : 2 * field + gap;
  const bool roomy =
      down.left_over() >= touch::head_height(ui) + fields_height + 2 * strip + 3 * gap;
  const std::string title = title_of(pen, view);
  if (draw_head(pen, down.take(roomy ? touch::head_height(ui) : ui.mm(12.05)),
                {.title = title,
                 .note = pen.words(step.again ? "harvest.note.again" : "harvest.note"),
                 .back = true},
                view.head)) {
    if (step.again)
      pen.send(flow::OtherRun{.open = false});
    else
      pen.send(flow::ShowToday{});
  }
  Cutter low(down.take_end(strip), Axis::kAcross, ui.gap());
  const float start_width = std::max(ui.mm(30), low.rest().width() * 0.32F);
  draw_start(pen, low.take_end(start_width), step);
  draw_surfaces(pen, low.take_rest(), step);
  if (roomy && !step.machines.empty()) {
    draw_run_fields(pen, down.take(fields_height), step);
    draw_machines(pen, down.take(strip), step);
    return;
  }
  Rect fields = down.take_rest();
  fields.bottom = std::min(fields.bottom, fields.top + 2 * field + gap);
  draw_run_fields(pen, fields, step);
}

// --- weighing ------------------------------------------------------------------------------------

struct WeighLayout {
  Rect head;   // title and status, where there is room for them; empty: none
  Rect where;  // trial, cutting and block, where there is no head
  Rect gauge;  // between number and weights; over `where`
  Rect back, plot, hand, lock, more, fields, lane, take_back, later, pad;
  Rect erase;   // where gloves leave its key no cell in the pad; empty: it has one
  Rect notice;  // empty: the head
  std::vector<std::size_t> lines;  // how many fields stand side by side; empty: two
};

// What the words of two keys need.
struct KeyWidths {
  float more;
  float later;
};
KeyWidths key_widths(const Pen& pen) {
  const auto width = [&](std::string_view key, Font font) {
    return touch::text_width(pen.ui, pen.words(key), font) + pen.ui.mm(5);
  };
  return {std::max(pen.ui.mm(17), width("key.more", Font::kStrong)),
          std::max(pen.ui.mm(18), width("key.later", Font::kStrong))};
}

// The strip of keys beside or above the pad.
void cut_keys(const touch::Ui& ui, const KeyWidths& wanted, const Rect& strip,
              WeighLayout& layout) {
  Cutter low(strip, Axis::kAcross, ui.gap());
  layout.lock = low.take(ui.mm(12.4));
  // A sign needs less room than a word; what two words leave is shared as they need it.
  const bool wide = strip.width() >= ui.mm(100);
  const float back = wide ? strip.width() * 0.24F : ui.mm(13);
  const float rest = low.left_over() - back - 2 * ui.gap();
  layout.later = low.take_end(rest * wanted.later / (wanted.more + wanted.later));
  layout.take_back = low.take_end(back);
  layout.more = low.take_rest();
}

// Small glass and gloves, held wide: number and stakes above, fields and keys beside the pad.
WeighLayout gloved_wide(const touch::Ui& ui, const KeyWidths& wanted) {
  WeighLayout layout;
  const float gap = close_gap(ui);
  const GlovePage page = glove_page(ui);
  layout.pad = page.pad;
  Cutter top(page.above, Axis::kAcross, gap);
  layout.back = top.take(ui.mm(13));
  layout.hand = top.take_end(ui.mm(16));
  layout.lock = top.take_end(ui.mm(12.4));
  layout.later = top.take_end(wanted.later);
  layout.plot = top.take(ui.mm(41));
  layout.lane = top.take_rest();
  layout.notice = {layout.lane.left, layout.lane.top, layout.later.right, layout.lane.bottom};
  Cutter side(page.beside, Axis::kDown, gap);
  layout.where = layout.gauge = side.take(ui.mm(10.6));
  Cutter low(side.take_end(ui.mm(14)), Axis::kAcross, gap);
  layout.take_back = low.take(ui.mm(13));
  layout.erase = low.take_end(ui.mm(15.4));
  layout.more = low.take_rest();
  layout.fields = side.take_rest();
  layout.lines = {1, 2, 1};
  return layout;
}

// The same upright: words and fields above the pad, keys in the column beside it.
WeighLayout gloved_tall(const touch::Ui& ui) {
  WeighLayout layout;
  const GlovePage page = glove_page(ui);
  layout.pad = page.pad;
  Cutter down(page.above, Axis::kDown, ui.mm(1.2));
  const float air = ui.look().large_text ? 0 : ui.mm(0.8);
  const float fields = 2 * (touch::dense_field_height(ui) + air) + close_gap(ui);
  layout.fields = down.take_end(fields);
  layout.where = layout.gauge = down.take_end(ui.mm(4.6));
  Cutter top(down.take_rest(), Axis::kAcross, close_gap(ui));
  layout.back = top.take(ui.mm(12.4));
  layout.hand = top.take_end(ui.mm(14));
  layout.plot = top.take(ui.mm(34));
  layout.lane = top.take_rest();
  layout.notice = {layout.plot.left, layout.plot.top, layout.lane.right, layout.plot.bottom};
  const auto keys = touch::split(page.beside, Axis::kDown, 5, close_gap(ui));
  layout.lock = keys[0];
  layout.erase = keys[1];
  layout.more = keys[2];
  layout.take_back = keys[3];
  layout.later = keys[4];
  return layout;
}

WeighLayout weigh_layout(const touch::Ui& ui, const KeyWidths& wanted) {
  if (small_for_gloves(ui)) return ui.portrait() ? gloved_tall(ui) : gloved_wide(ui, wanted);
  WeighLayout layout;
  const float gap = close_gap(ui);
  Rect words;
  if (ui.portrait()) {
    Cutter down(full_page(ui), Axis::kDown, gap);
    const float free = down.left_over() - ui.mm(14 + 36 + 25 + 13) - 5 * gap;
    const float most = 4 * ui.mm(28) + 3 * ui.gap();
    layout.pad = down.take_end(std::clamp(free, own_pad(ui), std::max(own_pad(ui), most)));
    words = down.take_rest();
    words.bottom -= ui.gap() - gap;
  } else {
    const PadBeside beside = pad_beside(ui);
    layout.pad = beside.pad;
    words = beside.words;
  }
  Cutter down(words, Axis::kDown, gap);
  // Low glass: tags for stakes, and everything closer together.
  const float full = ui.mm(14 + 5.4 + 12.2 + 2 * 16.4) + touch::stake_lane_height(ui) + 5 * gap;
  const bool tall = down.left_over() >= full;
  Cutter top(down.take(ui.mm(14)), Axis::kAcross, ui.mm(3));
  layout.where = down.take(ui.mm(5.4));
  layout.gauge = layout.where;
  layout.back = top.take(ui.mm(15));
  layout.back.bottom = std::min(layout.back.bottom, layout.back.top + ui.mm(15));
  layout.hand = top.take_end(ui.mm(16));
  if (ui.portrait() && !tall) {
    // Upright and small: keys beside the stakes, so that the weights stay large.
    layout.lock = top.take_end(ui.mm(12.4));
    layout.more = top.take_end(wanted.more);
    layout.plot = top.take_rest();
    Cutter low(down.take_end(touch::low_lane_height(ui)), Axis::kAcross, ui.gap());
    layout.take_back = low.take(ui.mm(16));
    layout.later = low.take_end(std::max(ui.mm(20), wanted.later));
    layout.lane = low.take_rest();
    layout.fields = down.take_rest();
    // The tap that ends it needs no key of its own; what was done last can still be taken back.
    layout.notice = {layout.lane.left, layout.lane.top, layout.later.right, layout.lane.bottom};
    return layout;
  }
  layout.plot = top.take_rest();
  cut_keys(ui, wanted, down.take_end(ui.mm(12.2)), layout);
  layout.lane = down.take_end(tall ? touch::stake_lane_height(ui) : touch::low_lane_height(ui));
  layout.fields = down.take_rest();
  const float most = 2 * ui.mm(22) + gap;
  layout.notice = layout.lane;
  const float slack = layout.fields.height() - most;
  if (slack <= 0) return layout;
  // In large text the head is higher than the room the number leaves it.
  const float head = ui.look().large_text ? touch::head_height(ui) + ui.mm(8) : 0;
  if (slack < std::max(ui.mm(20), head)) return layout;
  // The number stays with its weights; what is free above goes to a head.
  layout.fields.top += slack;
  layout.gauge.top += slack;
  layout.gauge.bottom += slack;
  layout.head = {words.left, words.top, words.right, words.top + touch::head_height(ui)};
  layout.plot.left = words.left;
  layout.plot.right = words.right;
  layout.back = layout.hand = layout.where = layout.notice = {};
  const float tall_plot = std::min(slack, ui.mm(6));
  layout.plot.top += slack - tall_plot;
  layout.plot.bottom += slack;
  return layout;
}

// told: block and progress stand on a line of their own.
void draw_plot_place(const Pen& pen, const Rect& rect, const flow::WeighingView& step, bool told) {
  // Typing a stake's number takes the place of the number until it is found.
  const auto find = std::ranges::find_if(
      step.fields, [](const flow::FieldView& field) { return field.field == flow::Field::kPlot; });
  if (find != step.fields.end() && find->focused) {
    Rect place = rect;
    place.top = std::min(place.top, place.bottom - touch::dense_field_height(pen.ui));
    draw_field(pen, place, *find,
               rect.width() < pen.ui.mm(52) ? FieldForm::kDense : FieldForm::kRow);
    return;
  }
  std::string place;
  if (!told)
    place = pen.words.fill(
        "harvest.place", {std::to_string(step.block), number(step.done), number(step.lane.size())});
  if (step.all_done) place = pen.words.fill("harvest.all_done", {number(step.lane.size())});
  if (!step.names.empty()) place = step.names;
  if (step.warning) place = pen.words.fill(*step.warning);
  stands_part(pen, rect, step.stands);
  draw_plot(pen, rect, step.plot, place, step.stands);
}

// How far it is goes first where the line has no room: the stakes tell that too.
void draw_where(const Pen& pen, const Rect& rect, const flow::HarvestView& view,
                const flow::WeighingView& step) {
  const std::string cutting = std::to_string(view.cutting);
  const std::string block = std::to_string(step.block);
  std::string where = pen.words.fill(
      "harvest.where",
      {view.trial_code, cutting, block, number(step.done), number(step.lane.size())});
  if (touch::text_width(pen.ui, where, Font::kBody) > rect.width())
    where = pen.words.fill("harvest.where.short", {view.trial_code, cutting, block});
  touch::text(pen.ui, rect, {.text = where, .lines = 2});
}

// How many fields stand side by side, line by line.
std::vector<std::size_t> lines_of(const WeighLayout& layout, std::size_t fields) {
  std::size_t placed = 0;
  for (const std::size_t line : layout.lines) placed += line;
  if (placed == fields) return layout.lines;
  if (!layout.lines.empty()) return std::vector<std::size_t>(fields, 1);
  std::vector<std::size_t> pairs;
  for (; fields > 0; fields -= std::min<std::size_t>(2, fields))
    pairs.push_back(std::min<std::size_t>(2, fields));
  return pairs;
}

// Which bag of the plot it is and what the others weigh, and what was said of them.
std::string said_of(const Pen& pen, const flow::WeighingView& step) {
  std::string said;
  if (step.bag > 1 && !step.together.empty())
    said = pen.words.fill("harvest.bags", {std::to_string(step.bag), step.together});
  else if (step.bag > 1)
    said = pen.words.fill("harvest.bag", {std::to_string(step.bag)});
  if (step.weeds_only) said += (said.empty() ? "" : "; ") + std::string(pen.words("more.weeds"));
  return said;
}

// The same without its total, where both have no room.
std::string said_in(const Pen& pen, const flow::WeighingView& step, const Rect& room) {
  std::string said = said_of(pen, step);
  const Font least = pen.ui.look().large_text ? Font::kCaption : Font::kBody;
  const std::size_t lines = room.height() >= 2 * touch::line_height(pen.ui, least) ? 2 : 1;
  if (touch::wrap(pen.ui, said, least, room.width()).size() <= lines) return said;
  flow::WeighingView shorter = step;
  shorter.together.clear();
  return said_of(pen, shorter);
}

void draw_weighing(const Pen& pen, const flow::HarvestView& view, const flow::WeighingView& step) {
  touch::Ui& ui = pen.ui;
  const WeighLayout layout = weigh_layout(ui, key_widths(pen));
  if (layout.head.empty()) {
    touch::Key out{.label = pen.words("key.back")};
    out.paint = touch::back_sign();
    out.icon_only = true;
    if (touch::key(ui, layout.back, out)) leave_card(pen, step.stake);
    ui.flash_at(layout.back);
  } else if (draw_head(pen, layout.head,
                       {.title = title_of(pen, view), .note = step.machine, .back = true},
                       view.head)) {
    leave_card(pen, step.stake);
  }
  if (step.check && step.check->due != flow::CheckDue::kNone) {
    const std::string due = "check_due." + std::string(name_of(step.check->due));
    touch::text(ui, layout.gauge, {.text = pen.words(due), .lines = 2});
  } else if (const std::string said = said_in(pen, step, layout.gauge);
             !said.empty() && !step.gauge) {
    touch::text(ui, layout.gauge, {.text = said, .lines = 2});
  } else if (step.gauge) {
    draw_gauge(pen, layout.gauge, *step.gauge);
  } else if (!layout.where.empty()) {
    draw_where(pen, layout.where, view, step);
  }
  if (!layout.hand.empty()) draw_hand_key(pen, layout.hand, view.head.initials);
  draw_lock_key(pen, layout.lock);
  const flow::FieldView* focused = focused_of(step.fields);
  const bool finding = focused != nullptr && focused->field == flow::Field::kPlot;
  // Beside the number, the key that asked for it gives way to what is typed.
  const bool over_key = finding && layout.more.top == layout.plot.top;
  Rect plot = layout.plot;
  if (over_key) plot.right = layout.more.right;
  const bool notice = has_notice(pen) && !layout.notice.empty();
  const auto hidden = [&](const Rect& part) { return notice && layout.notice.overlaps(part); };
  if (!hidden(plot)) draw_plot_place(pen, plot, step, !layout.where.empty());

  std::vector<flow::FieldView> fields;
  if (step.check) fields = step.check->fields;
  for (const flow::FieldView& field : step.fields)
    if (!step.check && field.field != flow::Field::kPlot) fields.push_back(field);
  const bool swath = !step.swath.empty();
  if (swath) {
    draw_swath(pen, layout.fields, step.swath, step.block, step.can_enter);
    focused = focused_of(step.swath);
  } else {
    draw_fields(pen, layout.fields, fields, lines_of(layout, fields.size()));
  }

  // Before anything is weighed the key says that nothing will be.
  const bool nothing = !finding && !step.can_keep && focused != nullptr &&
                       focused->field == flow::Field::kGross && focused->text.empty();
  const bool weeds = step.page == flow::PlotPage::kWeeds;
  const std::string_view done =
      pen.words(weeds     ? "dry.keep"
                : swath   ? "key.next"
                : finding ? "harvest.go"
                          : (nothing ? "no_weight.open" : "harvest.keep"));
  const bool naming = step.stake.any() && !finding;
  if (naming) draw_stake_card(pen, layout.pad, step.stake);
  auto pad = pad_of(pen, focused, done,
                    swath || finding || ((step.can_keep || nothing) && step.can_enter));
  pad.erase_place = layout.erase;
  const bool page = step.page != flow::PlotPage::kPad && !swath && !naming;
  if (page && !step.no_weight.empty())
    draw_no_weight(pen, layout.pad, step.no_weight);
  else if (page && step.more)
    draw_more(pen, layout.pad, *step.more);
  else if (page)
    draw_bag_kinds(pen, layout.pad, step.bag_kinds);
  const bool scale = !page && !swath && (step.check || (step.weigh && step.load)) && !naming;
  if (scale && step.check)
    draw_check_pad(pen, layout.pad, layout.erase, *step.check);
  else if (scale)
    draw_load_pad(pen, layout.pad, *step.load, step.check_due);
  const auto keys = naming || scale || page ? std::vector<touch::PadKey>{}
                                            : touch::number_pad(ui, layout.pad, pad);
  for (const touch::PadKey& key : keys) {
    // A hard Enter walks on through the form; only the key that says so keeps a part of a plot.
    const bool keeps = key.kind == touch::PadKey::Kind::kDone && key.text.empty() && !swath;
    if (keeps && nothing)
      pen.send(flow::ShowPage{flow::PlotPage::kNoWeight});
    else if (keeps && !finding)
      pen.send(flow::KeepPlot{});
    else
      send_keys(pen, {key});
  }
  for (const auto& press : ui.typed()) walk_by_arrow(pen, press.key, step.lane, step.present);
  if (!over_key && touch::key(ui, layout.more,
                              {.label = pen.words("key.more"),
                               .selected = step.page != flow::PlotPage::kPad,
                               .font = Font::kStrong}))
    pen.send(flow::ShowPage{step.page == flow::PlotPage::kPad ? flow::PlotPage::kMore
                                                              : flow::PlotPage::kPad});
  if (!hidden(layout.lane)) draw_lane(pen, layout.lane, step.lane, step.present);
  if (notice) draw_notice(pen, layout.notice);
  draw_take_back(pen, layout.take_back, step.can_take_back);
  const touch::Key later{
      .label = pen.words("key.later"), .enabled = step.can_enter, .font = Font::kStrong};
  if (!hidden(layout.later) && touch::key(ui, layout.later, later)) pen.send(flow::PutOff{});
}

}  // namespace

void draw_harvest(const Pen& pen, const flow::HarvestView& view) {
  auto group = pen.ui.group("Harvest");
  stand_close(pen.ui);
  if (const auto* weighing = std::get_if<flow::WeighingView>(&view.step))
    draw_weighing(pen, view, *weighing);
  else
    draw_run_head(pen, view, std::get<flow::RunHeadView>(view.step));
}

}  // namespace ligule::screens
