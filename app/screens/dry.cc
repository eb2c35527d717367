// Dry weights: which bags are still in the oven, and the weight of the one on the scale.
#include <algorithm>

#include "app/screens/pen.h"

namespace ligule::screens {

using touch::Align;
using touch::Axis;
using touch::Cutter;
using touch::FieldForm;
using touch::Font;
using touch::Rect;
using touch::Tone;

namespace {

void draw_bag(const Pen& pen, const Rect& rect, const flow::BagRow& bag) {
  touch::Ui& ui = pen.ui;
  const std::string label = bag.number + "##" + bag.trial_code + bag.plot + bag.number;
  const std::string note =
      pen.words.fill("dry.bag", {bag.plot, bag.trial_code, pen.words.count("age.days", bag.days)});
  touch::Key key{.label = label, .note = note, .selected = bag.chosen, .font = Font::kTitle};
  if (bag.on_hold)
    key.paint = [](const touch::Canvas& paint, const Rect& room) {
      const float side = paint.sizes().mm(6);
      const float edge = paint.sizes().mm(1.6);
      paint.shape(touch::Shape::kHeld, {room.left + edge, room.top + edge, room.left + edge + side,
                                        room.top + edge + side});
    };
  auto group = ui.group("Bag");
  if (touch::key(ui, rect, key)) pen.send(flow::ChooseBag{bag.bag});
}

void draw_bags(const Pen& pen, const Rect& room, const flow::DryView& view) {
  touch::Ui& ui = pen.ui;
  if (view.bags.empty()) {
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
  for (std::size_t n = 0; n < view.bags.size(); ++n) {
    const std::size_t above = n / columns;
    const auto row = static_cast<float>(above);
    const float top = area.top + row * (height + ui.gap());
    const auto cells =
        touch::split({area.left, top, area.right, top + height}, Axis::kAcross, columns, ui.gap());
    draw_bag(pen, cells[n % columns], view.bags[n]);
  }
}

void draw_pad(const Pen& pen, const Rect& rect, const Rect& erase, const flow::DryView& view) {
  const auto focused =
      std::ranges::find_if(view.fields, [](const flow::FieldView& field) { return field.focused; });
  const bool on_weight = focused != view.fields.end() && focused->field == flow::Field::kDryWeight;
  const touch::NumberPad keys{.erase = pen.words("keyboard.erase"),
                              .done = pen.words(on_weight ? "dry.keep" : "key.next"),
                              .decimals = on_weight,
                              .can_done = on_weight ? view.can_keep && view.can_enter : true,
                              .erase_place = erase};
  for (const touch::PadKey& key : touch::number_pad(pen.ui, rect, keys)) {
    if (key.kind == touch::PadKey::Kind::kDone && on_weight)
      pen.send(flow::KeepDry{});
    else
      send_keys(pen, {key});
  }
}

// What is known of the chosen bag, or how many are left.
std::string state_words(const Pen& pen, const flow::DryView& view) {
  const bool chosen =
      std::ranges::any_of(view.bags, [](const flow::BagRow& bag) { return bag.chosen; });
  std::string text;
  if (chosen)
    text = view.fresh.empty() ? std::string(pen.words("dry.no_fresh"))
                              : pen.words.fill("dry.fresh", {view.fresh, view.fresh_unit});
  else if (view.in_oven == 0)
    text = pen.words("dry.none_in_oven");
  else
    text = pen.words.count("dry.in_oven", static_cast<int>(view.in_oven));
  if (!chosen && view.done > 0)
    text += " " + pen.words.count("dry.done", static_cast<int>(view.done));
  return text;
}

void draw_state(const Pen& pen, const Rect& rect, const flow::DryView& view) {
  touch::Ui& ui = pen.ui;
  Cutter across(rect, Axis::kAcross, ui.gap());
  draw_take_back(pen, across.take_end(ui.mm(20)), view.can_take_back);
  const std::string text = state_words(pen, view);
  touch::text(ui, across.take_rest(), {.text = text, .font = Font::kStrong, .lines = 2});
}

// Small glass and gloves: words beside the pad, upright above it and keys beside it.
void draw_gloved(const Pen& pen, const flow::DryView& view) {
  touch::Ui& ui = pen.ui;
  const float gap = close_gap(ui);
  const GlovePage page = glove_page(ui);
  Cutter above(page.above, Axis::kDown, gap);
  const Rect head = ui.portrait() ? above.take(ui.mm(14)) : page.above;
  if (draw_head(pen, head, {.title = pen.words("dry.title"), .back = true}, view.head))
    pen.send(flow::ShowToday{});
  Cutter room(ui.portrait() ? above.take_rest() : page.beside, Axis::kDown, gap);
  const float field = touch::dense_field_height(ui) + ui.mm(1.2);
  Rect erase;
  if (ui.portrait()) {
    const auto keys = touch::split(page.beside, Axis::kDown, 4, gap);
    draw_take_back(pen, keys[2], view.can_take_back);
    erase = keys[3];
    draw_fields(pen, room.take_end(field), view.fields, {view.fields.size()});
  } else {
    Cutter low(room.take_end(ui.mm(14)), Axis::kAcross, gap);
    draw_take_back(pen, low.take(ui.mm(20)), view.can_take_back);
    erase = low.take_rest();
    draw_fields(pen, room.take_end(2 * field + gap), view.fields,
                std::vector<std::size_t>(view.fields.size(), 1));
  }
  draw_pad(pen, page.pad, erase, view);
  const std::string text = state_words(pen, view);
  const float high =
      touch::text_height(ui, text, Font::kBody, room.rest().width() * 0.98F) + ui.mm(0.2);
  touch::text(ui, room.take(std::min(high, room.left_over())), {.text = text, .lines = 3});
  if (room.left_over() >= ui.mm(12)) draw_bags(pen, room.take_rest(), view);
}

}  // namespace

void draw_dry(const Pen& pen, const flow::DryView& view) {
  touch::Ui& ui = pen.ui;
  auto group = ui.group("Dry weights");
  stand_close(ui);
  if (small_for_gloves(ui)) return draw_gloved(pen, view);
  const float gap = close_gap(ui);
  Rect words;
  Rect pad;
  if (ui.portrait()) {
    Cutter down(full_page(ui), Axis::kDown, gap);
    pad = down.take_end(std::clamp(down.left_over() * 0.5F, own_pad(ui), own_pad(ui) + ui.mm(16)));
    words = down.take_rest();
    words.bottom -= ui.gap() - gap;
  } else {
    const PadBeside beside = pad_beside(ui);
    pad = beside.pad;
    words = beside.words;
  }
  Cutter down(words, Axis::kDown, gap);
  if (draw_head(pen, down.take(ui.mm(16.2)), {.title = pen.words("dry.title"), .back = true},
                view.head))
    pen.send(flow::ShowToday{});
  draw_pad(pen, pad, {}, view);
  draw_fields(pen, down.take_end(ui.mm(18)), view.fields, {view.fields.size()});
  draw_state(pen, down.take(ui.mm(12.4)), view);
  draw_bags(pen, down.take_rest(), view);
}

}  // namespace ligule::screens
