// Dry weights: which bags are still in the oven, and the weight of the one on the scale.
#include <algorithm>
#include <cmath>
#include <optional>

#include "app/screens/pen.h"

namespace ligule::screens {

using touch::Align;
using touch::Axis;
using touch::Cutter;
using touch::Font;
using touch::Rect;
using touch::Tone;

namespace {

constexpr double kLeastKeyMm = 12.6;

// The sign of a bag that is not just in the oven.
std::optional<touch::Shape> sign_of(const flow::BagRow& bag) {
  if (!bag.gone.empty()) return touch::Shape::kLost;
  if (bag.on_hold) return touch::Shape::kHeld;
  if (bag.drying) return touch::Shape::kLater;
  if (bag.done) return touch::Shape::kDone;
  if (bag.no_fresh) return touch::Shape::kOpen;
  return std::nullopt;
}

// "107 +3": of a composite the first plot; all of them are told once it is chosen.
std::string plot_words(const std::string& plots) {
  const std::size_t first = plots.find(',');
  if (first == std::string::npos) return plots;
  return plots.substr(0, first) + " +" + std::to_string(std::ranges::count(plots, ','));
}

std::string note_of(const Pen& pen, const flow::BagRow& bag) {
  const std::string plot = plot_words(bag.plot);
  if (!bag.gone.empty())
    return pen.words.fill("dry.bag_gone", {plot, pen.words("dry.gone." + bag.gone)});
  if (!bag.part.empty())
    return pen.words.fill("history.of_part", {plot, std::string(pen.words(bag.part))});
  if (plot != bag.plot) return pen.words.fill("dry.bag_shared", {plot, bag.trial_code});
  return pen.words.fill("dry.bag", {plot, bag.trial_code, pen.words.count("age.days", bag.days)});
}

void draw_bag(const Pen& pen, const Rect& rect, const flow::BagRow& bag) {
  touch::Ui& ui = pen.ui;
  const std::string label = bag.number + "##" + bag.trial_code + bag.plot + bag.number + bag.filled;
  const std::string note = note_of(pen, bag);
  touch::Key key{.label = label, .note = note, .selected = bag.chosen, .font = Font::kTitle};
  if (const auto sign = sign_of(bag))
    key.paint = [sign](const touch::Canvas& paint, const Rect& room) {
      const float side = paint.sizes().mm(6);
      const float edge = paint.sizes().mm(1.6);
      paint.shape(*sign, {room.left + edge, room.top + edge, room.left + edge + side,
                          room.top + edge + side});
    };
  auto group = ui.group("Bag");
  if (touch::key(ui, rect, key)) pen.send(flow::ChooseBag{bag.bag});
}

std::string oven_words(const Pen& pen, const flow::DryView& view) {
  std::string text;
  const auto add = [&text](const std::string& more) { text += (text.empty() ? "" : ", ") + more; };
  if (!view.celsius.empty()) add(pen.words.fill("dry.oven_at", {view.celsius}));
  if (!view.hours.empty()) add(pen.words.fill("dry.oven_for", {view.hours}));
  if (view.until_constant) add(std::string(pen.words("dry.oven_again")));
  if (text.empty()) text = pen.words("dry.oven_open");
  return text;
}

// The way to sorting a sample, in the place of the second bag.
void draw_sort_tile(const Pen& pen, const Rect& rect) {
  auto group = pen.ui.group("Sort");
  if (touch::key(pen.ui, rect,
                 {.label = pen.words("sort.open"),
                  .note = pen.words("sort.open_note"),
                  .font = Font::kTitle}))
    pen.send(flow::ShowSorting{});
}

// Which cutting's samples? In the place of the bags.
void draw_cuttings(const Pen& pen, const Rect& room, const flow::DryView& view) {
  touch::Ui& ui = pen.ui;
  auto group = ui.group("Cuttings");
  auto scroll = ui.scroll("cuttings", room);
  Cutter down(scroll.area(), Axis::kDown, close_gap(ui));
  for (const flow::SortRow& row : view.cuttings) {
    const std::string label = pen.words.fill(
        "sort.cutting", {row.trial_code, std::to_string(row.cutting), std::to_string(row.year)});
    const std::string_view note = row.planned ? pen.words("sort.planned") : std::string_view();
    // In a narrow column its words take two lines.
    const bool long_one =
        touch::text_width(ui, label, Font::kStrong) > down.rest().width() - ui.mm(6);
    const float height = ui.mm(ui.look().large_text ? 27 : (long_one ? 23 : 17));
    if (touch::key(ui, down.take(height), {.label = label, .note = note, .font = Font::kStrong}))
      pen.send(flow::SortCutting{row.trial, row.occasion});
  }
  if (touch::key(ui, down.take(ui.mm(kLeastKeyMm)),
                 {.label = pen.words("sort.not_now"), .font = Font::kStrong}))
    pen.send(flow::ShowSorting{});
}

// How the samples are dried, in the place of the first bag.
void draw_oven_tile(const Pen& pen, const Rect& rect, const flow::DryView& view) {
  auto group = pen.ui.group("Oven");
  const std::string note = oven_words(pen, view);
  if (touch::key(pen.ui, rect,
                 {.label = pen.words("dry.oven"), .note = note, .font = Font::kTitle}))
    pen.send(flow::ShowOven{});
}

void draw_bags(const Pen& pen, const Rect& room, const flow::DryView& view) {
  touch::Ui& ui = pen.ui;
  if (!view.cuttings.empty()) return draw_cuttings(pen, room, view);
  const bool typed = !view.fields.front().text.empty();
  if (typed && view.bags.empty()) {
    if (view.in_oven > 0)
      touch::text(ui, room,
                  {.text = pen.words("dry.no_such_bag"),
                   .tone = Tone::kInkSoft,
                   .down = Align::kStart,
                   .lines = 3});
    return;
  }
  auto scroll = ui.scroll("bags", room);
  const Rect& area = scroll.area();
  const float height = ui.mm(ui.look().large_text ? 25 : 17);
  const auto columns = static_cast<std::size_t>(
      std::max(1.0F, std::floor((area.width() + ui.gap()) / (ui.mm(44) + ui.gap()))));
  // While a number is typed the bags that match stand alone.
  const std::size_t before = typed ? 0 : (view.can_sort ? 2 : 1);
  for (std::size_t n = 0; n < view.bags.size() + before; ++n) {
    const std::size_t above = n / columns;
    const auto row = static_cast<float>(above);
    const float top = area.top + row * (height + ui.gap());
    const auto cells =
        touch::split({area.left, top, area.right, top + height}, Axis::kAcross, columns, ui.gap());
    if (n < before && n == 0)
      draw_oven_tile(pen, cells[n % columns], view);
    else if (n < before)
      draw_sort_tile(pen, cells[n % columns]);
    else
      draw_bag(pen, cells[n % columns], view.bags[n - before]);
  }
}

void draw_pad(const Pen& pen, const Rect& rect, const Rect& erase, const flow::DryView& view) {
  const auto& fields = view.oven ? view.oven->fields : view.fields;
  const auto focused =
      std::ranges::find_if(fields, [](const flow::FieldView& field) { return field.focused; });
  const flow::Field field = focused == fields.end() ? flow::Field::kDryBag : focused->field;
  const bool on_weight = field == flow::Field::kDryFresh || field == flow::Field::kDryWeight;
  const bool keeps = on_weight || field == flow::Field::kOvenHours;
  const touch::NumberPad keys{.erase = pen.words("keyboard.erase"),
                              .done = pen.words(keeps ? "dry.keep" : "key.next"),
                              .decimals = field != flow::Field::kDryBag,
                              .can_done = on_weight ? view.can_keep && view.can_enter : true,
                              .erase_place = erase};
  for (const touch::PadKey& key : touch::number_pad(pen.ui, rect, keys)) {
    // A hard Enter may end what a scanner sent.
    if (key.kind == touch::PadKey::Kind::kDone && key.text.empty() && on_weight)
      pen.send(flow::KeepDry{});
    else
      send_keys(pen, {key});
  }
}

std::string in_oven_words(const Pen& pen, const flow::DryView& view) {
  if (view.in_oven == 0) return std::string(pen.words("dry.none_in_oven"));
  std::string text = pen.words.count("dry.in_oven", static_cast<int>(view.in_oven));
  if (!view.oldest.empty()) text += ", " + pen.words.fill("dry.oldest", {view.oldest});
  if (view.no_fresh > 0)
    text += "; " + pen.words.count("dry.without_fresh", static_cast<int>(view.no_fresh));
  return text;
}

std::string bag_words(const Pen& pen, const flow::DryView& view, const flow::BagRow& bag) {
  std::string text;
  const auto add = [&text](std::string_view more) {
    text += (text.empty() || more.empty() ? "" : " ") + std::string(more);
  };
  if (bag.plot.find(',') != std::string::npos)
    add(pen.words.fill("dry.plots", {bag.plot}));
  else if (!bag.part.empty() && bag.gone.empty())
    text = pen.words.fill("dry.bag_part",
                          {bag.plot, bag.trial_code, std::string(pen.words(bag.part))}) +
           ".";
  else
    text = note_of(pen, bag) + ".";
  if (!bag.gone.empty()) add(pen.words.fill("dry.found", {pen.words("reason." + bag.gone)}));
  if (bag.drying) add(pen.words.fill("dry.weighed_last", {view.weighed, view.weighed_unit}));
  if (bag.done) add(pen.words("dry.weighed_done"));
  if (bag.no_fresh) add(pen.words("dry.no_fresh"));
  return text;
}

const flow::BagRow* chosen_bag(const flow::DryView& view) {
  const auto at =
      std::ranges::find_if(view.bags, [](const flow::BagRow& bag) { return bag.chosen; });
  return at == view.bags.end() ? nullptr : &*at;
}

// What is known of the chosen bag, or how many are left.
std::string state_words(const Pen& pen, const flow::DryView& view) {
  const flow::BagRow* const chosen = chosen_bag(view);
  if (chosen != nullptr) return bag_words(pen, view, *chosen);
  std::string text = in_oven_words(pen, view);
  if (view.done > 0)
    text +=
        (view.in_oven == 0 ? " " : "; ") + pen.words.count("dry.done", static_cast<int>(view.done));
  return text;
}

// As tall as its words; the list below gets what is left.
void draw_state(const Pen& pen, Cutter& down, const flow::DryView& view) {
  touch::Ui& ui = pen.ui;
  const float key = ui.mm(20);
  const std::string text = state_words(pen, view);
  const float width = down.rest().width() - key - ui.gap();
  const float tall = touch::text_height(ui, text, Font::kBody, width);
  Cutter across(down.take(std::max(ui.mm(12.4), tall)), Axis::kAcross, ui.gap());
  draw_take_back(pen, across.take_end(key), view.can_take_back);
  touch::text(ui, across.take_rest(), {.text = text, .font = Font::kBody, .lines = 8});
}

// Why the chosen bag will have no weight: each key as wide as its word asks, and its share of what
// is left; below each other where there is no such room.
void draw_statements(const Pen& pen, Cutter& down, const flow::DryView& view) {
  if (view.gone_reasons.empty()) return;
  touch::Ui& ui = pen.ui;
  auto group = ui.group("No dried weight");
  const auto word = [&](const std::string& reason) { return pen.words("dry.gone." + reason); };
  const auto count = static_cast<float>(view.gone_reasons.size());
  float left = down.rest().width() - (count - 1) * close_gap(ui);
  std::vector<float> widths;
  widths.reserve(view.gone_reasons.size());
  for (const std::string& reason : view.gone_reasons) {
    widths.push_back(touch::text_width(ui, word(reason), Font::kBody) + ui.mm(5));
    left -= widths.back();
  }
  // On one line the words give way; where the list is dragged each has a line of its own.
  const bool beside = left >= 0 || down.left_over() < 2 * ui.mm(kLeastKeyMm);
  Rect line = beside ? down.take(ui.mm(kLeastKeyMm)) : Rect{};
  Cutter across(line, Axis::kAcross, close_gap(ui));
  for (std::size_t n = 0; n < widths.size(); ++n) {
    const std::string& reason = view.gone_reasons[n];
    const Rect place =
        beside ? across.take(widths[n] + left / count) : down.take(ui.mm(kLeastKeyMm));
    if (touch::key(ui, place, {.label = word(reason), .font = Font::kBody}))
      pen.send(flow::SayBagGone{reason});
  }
}

std::string_view oven_remark(const Pen& pen, const flow::OvenView& oven) {
  return pen.words(oven.remark.empty() ? std::string_view("dry.oven_how")
                                       : std::string_view(oven.remark));
}

// Weighed once, or again until they are dry; beside each other where both words have room.
float until_height(const touch::Ui& ui, float width) {
  constexpr double kBesideMm = 80;
  return width >= ui.mm(kBesideMm) ? ui.mm(kLeastKeyMm) : 2 * ui.mm(kLeastKeyMm) + close_gap(ui);
}
void draw_until(const Pen& pen, const Rect& rect, const flow::OvenView& oven) {
  touch::Ui& ui = pen.ui;
  const bool beside = rect.height() < 2 * ui.mm(kLeastKeyMm);
  const auto cells = touch::split(rect, beside ? Axis::kAcross : Axis::kDown, 2, close_gap(ui));
  for (const bool again : {false, true}) {
    const touch::Key key{.label = pen.words(again ? "dry.again" : "dry.once"),
                         .selected = oven.until_constant == again,
                         .font = Font::kStrong};
    if (touch::key(ui, cells[again ? 1 : 0], key)) pen.send(flow::WeighUntilConstant{again});
  }
}

void draw_long(const Pen& pen, Cutter& down, std::string_view text) {
  const float width = down.rest().width();
  touch::text(pen.ui, down.take(touch::text_height(pen.ui, text, Font::kBody, width)),
              {.text = text, .down = Align::kStart, .lines = 12});
}

// How the samples are dried is being stated.
void draw_oven(const Pen& pen, const Rect& rect, const flow::OvenView& oven) {
  touch::Ui& ui = pen.ui;
  auto group = ui.group("Oven");
  Cutter down(rect, Axis::kDown, close_gap(ui));
  draw_fields(pen, down.take_end(ui.mm(18)), oven.fields, {oven.fields.size()});
  draw_until(pen, down.take_end(until_height(ui, rect.width())), oven);
  auto scroll = ui.scroll("how", down.take_rest());
  Cutter words(scroll.area(), Axis::kDown, 0);
  draw_long(pen, words, oven_remark(pen, oven));
}

void leave(const Pen& pen, const flow::DryView& view) {
  if (view.oven)
    pen.send(flow::ShowOven{false});
  else
    pen.send(flow::ShowToday{});
}

// What has no room beside a gloved pad is dragged: of the oven how it dries, of a bag what is known
// of it and why it may have no weight.
void draw_dragged(const Pen& pen, const Rect& rect, const flow::DryView& view) {
  touch::Ui& ui = pen.ui;
  auto scroll = ui.scroll("dry", rect);
  Cutter down(scroll.area(), Axis::kDown, close_gap(ui));
  if (view.oven) {
    auto group = ui.group("Oven");
    draw_until(pen, down.take(until_height(ui, down.rest().width())), *view.oven);
    return draw_long(pen, down, oven_remark(pen, *view.oven));
  }
  draw_long(pen, down, state_words(pen, view));
  draw_statements(pen, down, view);
}

// Small glass and gloves: words beside the pad, upright above it and keys beside it.
void draw_gloved(const Pen& pen, const flow::DryView& view) {
  touch::Ui& ui = pen.ui;
  const float gap = close_gap(ui);
  const GlovePage page = glove_page(ui);
  Cutter above(page.above, Axis::kDown, gap);
  const Rect head = ui.portrait() ? above.take(ui.mm(14)) : page.above;
  if (draw_head(pen, head, {.title = pen.words("dry.title"), .back = true}, view.head))
    leave(pen, view);
  Cutter room(ui.portrait() ? above.take_rest() : page.beside, Axis::kDown, gap);
  const auto& fields = view.oven ? view.oven->fields : view.fields;
  const float field = touch::dense_field_height(ui) + ui.mm(1.2);
  Rect erase;
  if (ui.portrait()) {
    const auto keys = touch::split(page.beside, Axis::kDown, 4, gap);
    draw_take_back(pen, keys[2], view.can_take_back);
    erase = keys[3];
    draw_fields(pen, room.take_end(field), fields, {fields.size()});
  } else {
    Cutter low(room.take_end(ui.mm(14)), Axis::kAcross, gap);
    draw_take_back(pen, low.take(ui.mm(20)), view.can_take_back);
    erase = low.take_rest();
    // The bag's number on a line of its own, the weights below it.
    const std::vector<std::size_t> lines =
        view.oven ? std::vector<std::size_t>{1, 1} : std::vector<std::size_t>{1, fields.size() - 1};
    draw_fields(pen, room.take_end(2 * field + gap), fields, lines);
  }
  draw_pad(pen, page.pad, erase, view);
  if (view.oven || !view.gone_reasons.empty()) return draw_dragged(pen, room.take_rest(), view);
  const std::string text = state_words(pen, view);
  const float high =
      touch::text_height(ui, text, Font::kBody, room.rest().width() * 0.98F) + ui.mm(0.2);
  if (high + gap + ui.mm(12) > room.left_over()) {
    if (chosen_bag(view) != nullptr) return draw_dragged(pen, room.take_rest(), view);
    return draw_bags(pen, room.take_rest(), view);
  }
  touch::text(ui, room.take(high), {.text = text, .lines = 3});
  draw_bags(pen, room.take_rest(), view);
}

}  // namespace

void draw_dry(const Pen& pen, const flow::DryView& view) {
  touch::Ui& ui = pen.ui;
  auto group = ui.group("Dry weights");
  stand_close(ui);
  if (small_for_gloves(ui)) return draw_gloved(pen, view);
  const float gap = close_gap(ui);
  const auto [pad, words] = pad_and_words(ui);
  Cutter down(words, Axis::kDown, gap);
  if (draw_head(pen, down.take(ui.mm(16.2)), {.title = pen.words("dry.title"), .back = true},
                view.head))
    leave(pen, view);
  draw_pad(pen, pad, {}, view);
  if (view.oven) return draw_oven(pen, down.take_rest(), *view.oven);
  // In a narrow column of large text the bag's number stands on a line of its own.
  const bool narrow =
      ui.look().large_text && down.rest().width() < ui.mm(90) && view.fields.size() > 2;
  const float line = touch::dense_field_height(ui) + ui.mm(1.2);
  if (narrow)
    draw_fields(pen, down.take_end(2 * line + gap), view.fields, {1, view.fields.size() - 1});
  else
    draw_fields(pen, down.take_end(ui.mm(18)), view.fields, {view.fields.size()});
  Cutter reasons(view.gone_reasons.empty() ? Rect{} : down.take_end(ui.mm(kLeastKeyMm)),
                 Axis::kDown, gap);
  draw_statements(pen, reasons, view);
  draw_state(pen, down, view);
  // What is known of a bag that stands alone is said above.
  if (chosen_bag(view) == nullptr || view.bags.size() > 1) draw_bags(pen, down.take_rest(), view);
}

}  // namespace ligule::screens
