// What else can be said of the plot that is being weighed, in the place of its pad: another bag,
// what it hangs in, how large the strip was, that there is no weight.
#include <algorithm>

#include "app/screens/load.h"

namespace ligule::screens {

using touch::Axis;
using touch::Cutter;
using touch::Font;
using touch::Rect;

namespace {

constexpr double kLeastMm = 12.6;

struct Choice {
  touch::Key key;
  flow::Intent intent;
  bool finds = false;  // opens a field over the number
};

float width_of(const Pen& pen, const touch::Key& key) {
  return std::max(touch::text_width(pen.ui, key.label, key.font),
                  touch::text_width(pen.ui, key.note, Font::kBody)) +
         pen.ui.mm(6);
}

// Keys as high as the place allows, two across where their words have room; the way back below.
void draw_choices(const Pen& pen, const Rect& rect, const std::vector<Choice>& choices,
                  std::string_view scroll_name) {
  touch::Ui& ui = pen.ui;
  const float gap = close_gap(ui);
  Cutter down(rect, Axis::kDown, ui.gap());
  if (touch::key(ui, down.take_end(ui.mm(kLeastMm)),
                 {.label = pen.words("no_weight.back"), .font = Font::kStrong}))
    pen.send(flow::ShowPage{});
  float widest = 0;
  for (const Choice& choice : choices) widest = std::max(widest, width_of(pen, choice.key));
  auto scroll = ui.scroll(scroll_name, down.take_rest());
  const Rect& area = scroll.area();
  const std::size_t across = 2 * widest + gap <= area.width() ? 2 : 1;
  const std::size_t lines = (choices.size() + across - 1) / across;
  const float free =
      (rect.height() - ui.mm(kLeastMm) - ui.gap() - static_cast<float>(lines - 1) * gap) /
      static_cast<float>(lines);
  const float lacks_note = ui.mm(ui.look().large_text ? 27 : 15);
  const float least = std::max(ui.mm(kLeastMm), lacks_note);
  const float height = std::clamp(free, least, std::max(least, ui.mm(22)));
  Cutter list(area, Axis::kDown, gap);
  for (std::size_t at = 0; at < choices.size(); at += across) {
    const auto places = touch::split(list.take(height), Axis::kAcross, across, gap);
    for (std::size_t n = 0; n < across && at + n < choices.size(); ++n) {
      const Choice& choice = choices[at + n];
      if (!touch::key(ui, places[n], choice.key)) continue;
      pen.out.push_back(choice.intent);
      if (choice.finds) pen.send(flow::FocusField{flow::Field::kPlot});
    }
  }
}

}  // namespace

void draw_more(const Pen& pen, const Rect& rect, const flow::MoreView& view) {
  auto group = pen.ui.group("More");
  const std::string kind =
      view.kind.empty() ? std::string() : std::string(pen.words("bag_kind." + view.kind));
  const auto key = [&](std::string_view word, std::string_view note = {}) {
    return touch::Key{.label = pen.words(word), .note = note, .font = Font::kStrong};
  };
  std::vector<Choice> choices{
      {key("more.bag"), flow::MoreBag{}},
      {key("more.weeds"), flow::SayWeedsOnly{}},
      {key("more.kind", kind), flow::ShowPage{flow::PlotPage::kBagKinds}},
      {key("more.swath", view.swath), flow::ShowPage{flow::PlotPage::kSwath}},
      {key("more.weeds_by_eye", view.weeds), flow::ShowPage{flow::PlotPage::kWeeds}},
      {key("no_weight.open"), flow::ShowPage{flow::PlotPage::kNoWeight}},
      {key("more.run", view.machine), flow::OtherRun{}},
      {key("key.find"), flow::ShowPage{}, true}};
  choices[0].key.enabled = view.can_add_bag;
  choices[1].key.selected = view.weeds_only;
  choices[5].key.enabled = view.can_have_none;
  if (!view.asks_weeds) choices.erase(choices.begin() + 4);
  draw_choices(pen, rect, choices, "more");
}

void draw_bag_kinds(const Pen& pen, const Rect& rect, const std::vector<flow::BagKindView>& kinds) {
  auto group = pen.ui.group("Kinds");
  std::vector<Choice> choices;
  choices.reserve(kinds.size());
  for (const flow::BagKindView& kind : kinds)
    choices.push_back({{.label = pen.words("bag_kind." + kind.code),
                        .note = kind.tare.empty() ? pen.words("more.no_tare") : kind.tare,
                        .selected = kind.chosen,
                        .font = Font::kStrong},
                       flow::ChooseBagKind{kind.code}});
  draw_choices(pen, rect, choices, "kinds");
}

void draw_swath(const Pen& pen, const Rect& rect, const std::vector<flow::FieldView>& swath,
                int block, bool can_keep) {
  touch::Ui& ui = pen.ui;
  auto group = ui.group("Swath");
  // In a narrow column one under the other.
  const bool narrow = rect.width() < ui.mm(60);
  const std::vector<std::size_t> fields =
      narrow ? std::vector<std::size_t>(swath.size(), 1) : std::vector<std::size_t>{swath.size()};
  const auto rows = static_cast<float>(fields.size() + 1);
  Cutter down(rect, Axis::kDown, close_gap(ui));
  const float row = (rect.height() - (rows - 1) * close_gap(ui)) / rows;
  const Rect low = down.take_end(row);
  // What was seen of one plot holds for no other: the pad's own key keeps it.
  if (swath.front().field == flow::Field::kWeedsByEye)
    return draw_fields(pen, down.take_rest(), swath, fields);
  draw_fields(pen, down.take_rest(), swath, fields);
  const auto keys = touch::split(low, Axis::kAcross, 2, close_gap(ui));
  const std::string for_block = pen.words.fill("swath.block", {std::to_string(block)});
  if (touch::key(ui, keys[0],
                 {.label = pen.words("swath.plot"),
                  .style = touch::Style::kAction,
                  .enabled = can_keep,
                  .font = Font::kStrong}))
    pen.send(flow::KeepSwath{false});
  if (touch::key(ui, keys[1], {.label = for_block, .enabled = can_keep, .font = Font::kStrong}))
    pen.send(flow::KeepSwath{true});
}

}  // namespace ligule::screens
