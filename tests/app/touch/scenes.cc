#include "tests/app/touch/scenes.h"

#include <array>
#include <vector>

namespace ligule::touch_test {
namespace {

using namespace ligule::touch;  // NOLINT: a test

std::vector<std::string> plot_numbers(std::size_t n) {
  std::vector<std::string> numbers;
  numbers.reserve(n);
  for (std::size_t i = 0; i < n; ++i) numbers.push_back(std::to_string(201 + i));
  return numbers;
}

void lane(Ui& ui, const Rect& rect, SceneState& state) {
  static const auto numbers = plot_numbers(48);
  std::vector<Stake> stakes;
  for (std::size_t n = 0; n < numbers.size(); ++n) {
    Shape shape = n < state.present ? Shape::kDone : Shape::kOpen;
    if (n == state.present) shape = Shape::kNow;
    if (n == 6) shape = Shape::kQuestioned;
    if (n == 5) shape = Shape::kLater;
    if (n == 8) shape = Shape::kHeld;
    if (n == 11) shape = Shape::kLost;
    stakes.push_back({numbers[n], shape, "open"});
  }
  if (const auto n = stake_lane(ui, "stakes", rect, stakes, state.present)) {
    state.present = *n;
    state.tapped = numbers[*n];
  }
}

// A share of the tile in even stripes: stands in for the drawn stand.
Paint stripes(int percent) {
  return [percent](const Canvas& paint, const Rect& room) {
    const float pitch = room.width() / 6;
    for (int n = 0; n < 6; ++n) {
      const float left = room.left + pitch * (static_cast<float>(n) + 0.3F);
      const float height = room.height() * static_cast<float>(percent) / 100;
      paint.fill({left, room.bottom - height, left + pitch * 0.4F, room.bottom}, Tone::kDone);
    }
  };
}

void rate(Ui& ui, SceneState& state) {
  auto group = ui.group("Rate");
  Cutter down(ui.page(), Axis::kDown, ui.gap());
  Cutter top(down.take(ui.mm(20)), Axis::kAcross, ui.gap());
  Key back{.label = "Back", .style = Style::kQuiet};
  back.paint = back_sign();
  back.icon_only = true;
  if (key(ui, top.take(ui.mm(20)), back)) state.tapped = "Back";
  text(ui, top.take(ui.mm(46)), {.text = "210", .font = Font::kPlot});
  Key undo{.label = "Take back", .style = Style::kPlain};
  undo.paint = undo_sign();
  undo.icon_only = true;
  if (key(ui, top.take_end(ui.mm(20)), undo)) state.tapped = "Take back";
  const Rect beside = top.take_rest();
  if (!ui.portrait()) {
    text(ui, {beside.left, beside.top, beside.right, beside.centre().y},
         {.text = "Seedling vigor", .font = Font::kTitle});
    text(ui, {beside.left, beside.centre().y, beside.right, beside.bottom},
         {.text = "Block 2, row 4", .tone = Tone::kInkSoft});
  }
  lane(ui, down.take_end(stake_lane_height(ui)), state);
  const std::array<std::string_view, 5> words{"weakest", "", "", "", "most vigorous"};
  const std::array<std::string_view, 5> labels{"1", "2", "3", "4", "5"};
  std::vector<Tile> tiles;
  tiles.reserve(labels.size());
  for (std::size_t n = 0; n < labels.size(); ++n)
    tiles.push_back(
        {.label = labels[n], .note = words[n], .selected = static_cast<int>(n) + 1 == state.vigor});
  const Rect area = down.take_rest();
  if (const auto n = tile_pad(ui, area, tiles, {.font = Font::kValue, .most_mm = 30})) {
    state.vigor = static_cast<int>(*n) + 1;
    state.tapped = labels[*n];
  }
}

void stand(Ui& ui, SceneState& state) {
  Cutter down(ui.page(), Axis::kDown, ui.gap());
  if (head(ui, down.take(head_height(ui)),
           {.title = "Percent stand", .note = "Plot 210, share of row filled", .back = "Back"}))
    state.tapped = "Back";
  static std::vector<std::string> labels;
  if (labels.empty())
    for (int n = 0; n <= 10; ++n) labels.push_back(std::to_string(n * 10));
  std::vector<Tile> tiles;
  for (int n = 0; n <= 10; ++n)
    tiles.push_back({.label = labels[static_cast<std::size_t>(n)],
                     .paint = stripes(n * 10),
                     .selected = n == 7});
  if (const auto n = tile_pad(ui, down.take_rest(), tiles, {.label_below = true}))
    state.tapped = labels[*n];
}

void harvest(Ui& ui, SceneState& state) {
  const NumberPad pad{.erase = "Erase", .done = "Keep", .decimals = true};
  Cutter across(ui.page(), ui.portrait() ? Axis::kDown : Axis::kAcross, ui.gap());
  const Point size = number_pad_size(ui, pad);
  const Rect side = ui.portrait()      ? across.take_end(size.y)
                    : ui.left_handed() ? across.take(size.x)
                                       : across.take_end(size.x);
  Cutter down(across.take_rest(), Axis::kDown, ui.gap());
  if (head(ui, down.take(head_height(ui)), {.title = "Harvest 210", .back = "Back"}))
    state.tapped = "Back";
  if (field(ui, down.take(ui.mm(22)),
            {.label = "Bag weight",
             .value = state.number,
             .unit = "lb",
             .focused = true,
             .font = Font::kValue}))
    state.tapped = "Bag weight";
  if (field(ui, down.take(ui.mm(20)), {.label = "Bag number", .empty_hint = "tap to enter"}))
    state.tapped = "Bag number";
  const Banner note{.text = "Steady for 2\xC2\xA0s. Tare 1.2\xC2\xA0lb.",
                    .mood = Mood::kDone,
                    .shape = Shape::kDone};
  const Rect rest = down.rest();
  const float height = banner_height(ui, note, rest.width());
  if (height < rest.height()) banner(ui, down.take(height), note);
  for (const PadKey& tap : number_pad(ui, side, pad)) {
    apply(tap, state.number, 8, true);
    state.tapped = tap.text;
  }
}

void stages(Ui& ui, SceneState& state) {
  Cutter down(ui.page(), Axis::kDown, ui.gap());
  if (head(ui, down.take(head_height(ui)), {.title = "Maturity", .note = "Plot 210"})) return;
  const std::array<std::string_view, 8> words{"leaves only", "first node",   "second node",
                                              "flag leaf",   "boot",         "heads emerging",
                                              "flowering",   "seed ripening"};
  const std::array<std::string_view, 8> codes{"1", "2", "3", "4", "5", "6", "7", "8"};
  std::vector<Stage> rungs;
  rungs.reserve(words.size());
  for (std::size_t n = 0; n < words.size(); ++n)
    rungs.push_back({.label = codes[n], .word = words[n], .selected = n == 4});
  if (const auto n = ladder(ui, "maturity", down.take_rest(), rungs)) state.tapped = codes[*n];
}

void note(Ui& ui, SceneState& state) {
  Cutter down(ui.page(), Axis::kDown, ui.gap());
  if (head(ui, down.take(head_height(ui)), {.title = "Note on 210", .back = "Back"}))
    state.tapped = "Back";
  const Rect keys = down.take_end(keyboard_height(ui, ui.page().width()));
  if (field(ui, down.take(ui.mm(20)),
            {.label = "Note",
             .value = state.note,
             .focused = true,
             .font = Font::kStrong,
             .own_words = true}))
    state.tapped = "Note";
  const KeyboardWords words{"space", "Erase", "Done", "Aa", "123", "abc", "\xC3\xA1\xC3\xB1"};
  for (const PadKey& tap : keyboard(ui, keys, words, state.keyboard)) {
    apply(tap, state.note, 40);
    state.tapped = tap.kind == PadKey::Kind::kDone ? "Done" : tap.text;
  }
}

void height(Ui& ui, SceneState& state) {
  Cutter down(ui.page(), Axis::kDown, ui.gap());
  if (head(ui, down.take(head_height(ui)), {.title = "Stubble height", .note = "Plot 210"})) return;
  static std::string value;
  value = std::to_string(state.height);
  state.height += stepper(ui, down.take(ui.mm(24)),
                          {.label = "Height",
                           .less = "Less",
                           .more = "More",
                           .value = value,
                           .unit = "cm",
                           .can_less = state.height > 0});
  progress(ui, down.take(ui.mm(12)), 0.43, "41 of 96");
  if (key(ui, down.take_end(ui.key()), {.label = "Next plot", .style = Style::kAction}))
    state.tapped = "Next plot";
  const auto row = split(down.take(ui.key()), Axis::kAcross, 3, ui.gap());
  if (key(ui, row[0], {.label = "Plain"})) state.tapped = "Plain";
  if (key(ui, row[1], {.label = "Chosen", .selected = true})) state.tapped = "Chosen";
  if (key(ui, row[2], {.label = "Not now", .enabled = false})) state.tapped = "Not now";
}

void today(Ui& ui, SceneState& state) {
  Cutter down(ui.page(), Axis::kDown, ui.gap());
  text(ui, down.take(ui.mm(16)), {.text = "Today", .font = Font::kValue});
  auto scroll = ui.scroll("fields", down.take_rest());
  Cutter rows(scroll.area(), Axis::kDown, ui.gap());
  for (const auto& [name, done] : {std::pair{"North field", 0.8},
                                   {"Creek field", 0.35},
                                   {"Hill field", 0.0},
                                   {"Lane field", 0.0}}) {
    auto group = ui.group(name);
    Cutter card(sheet(ui, rows.take(ui.mm(48))), Axis::kDown, ui.mm(2));
    text(ui, card.take(ui.mm(9)), {.text = name, .font = Font::kTitle});
    progress(ui, card.take(ui.mm(7)), done, done > 0.5 ? "77 of 96" : "34 of 96");
    if (key(ui, card.take_end(ui.key()),
            {.label = "Go on rating", .style = done > 0.5 ? Style::kAction : Style::kPlain}))
      state.tapped = name;
  }
}

void asked(Ui& ui, SceneState& state) {
  rate(ui, state);
  const std::array answers{Key{.label = "Weigh again", .style = Style::kAction},
                           Key{.label = "It is right"}, Key{.label = "Leave it on hold"}};
  if (const auto n = question(
          ui, {.title = "Unusual for this plot",
               .text = "The bag weighs 42.0 lb. Plots of this cutting gave 8 to 16 lb so far. "
                       "Is the bag on the scale alone?",
               .answers = answers}))
    state.tapped = answers[*n].label;
}

constexpr std::array kScenes{Scene{"rate", rate},       Scene{"stand", stand},
                             Scene{"harvest", harvest}, Scene{"stages", stages},
                             Scene{"note", note},       Scene{"height", height},
                             Scene{"today", today},     Scene{"asked", asked}};

}  // namespace

std::span<const Scene> scenes() {
  return kScenes;
}

}  // namespace ligule::touch_test
