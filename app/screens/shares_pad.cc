// Shares of a whole, part by part, kept as one act.
#include <algorithm>
#include <utility>

#include "app/screens/measure_pad.h"

namespace ligule::screens {

using touch::Axis;
using touch::Cutter;
using touch::Font;
using touch::Rect;

namespace {

struct SharesPlan {
  Rect parts;
  std::vector<Rect> steps;  // less, more, keep
  Rect tiles;
};

// Gloves on small glass. Wide: parts and keys in one strip above two rows of tiles; upright: the
// keys that step beside the pad.
SharesPlan gloved_shares(const touch::Ui& ui, const PadRoom& room) {
  SharesPlan plan;
  const bool upright = !room.aside.empty();
  Cutter down(room.area, Axis::kDown, ui.gap());
  Cutter strip(upright ? room.spare : down.take(ui.mm(kPadStripMm)), Axis::kAcross, close_gap(ui));
  const auto at_hand = [&](double width) {
    return ui.left_handed() ? strip.take(ui.mm(width)) : strip.take_end(ui.mm(width));
  };
  const Rect keep = at_hand(upright ? 19 : 24);
  if (upright) {
    plan.steps = touch::split(room.aside, Axis::kDown, 2, close_gap(ui));
  } else {
    plan.steps = {at_hand(14), at_hand(14)};
    if (!ui.left_handed()) std::swap(plan.steps[0], plan.steps[1]);
  }
  plan.steps.push_back(keep);
  plan.parts = strip.take_rest();
  plan.tiles = down.take_rest();
  return plan;
}

SharesPlan shares_plan(const touch::Ui& ui, const PadRoom& room) {
  if (room.rows > 0) return gloved_shares(ui, room);
  SharesPlan plan;
  Cutter down(room.area, Axis::kDown, ui.gap());
  // Above three rows of tiles, and one of steps where those have no other place, the parts take
  // what is left.
  const float least = ui.mm(kPadStripMm);
  const float rows = room.spare.width() >= 2 * ui.mm(20) ? 3 : 4;
  const float free = room.area.height() - rows * (ui.key() + ui.gap());
  const Rect parts = down.take(std::clamp(free, least, std::max(least, ui.mm(18))));
  const float small = ui.mm(16);
  Cutter across(parts, Axis::kAcross, ui.gap());
  const auto at_hand = [&](float width) {
    return ui.left_handed() ? across.take(width) : across.take_end(width);
  };
  if (room.spare.width() >= 3 * ui.mm(20) + 2 * ui.gap()) {
    plan.steps = touch::split(room.spare, Axis::kAcross, 3, ui.gap());
  } else if (room.spare.width() >= 2 * ui.mm(20)) {
    plan.steps = touch::split(room.spare, Axis::kAcross, 2, ui.gap());
    plan.steps.push_back(at_hand(ui.mm(24)));
  } else if (parts.width() >= ui.mm(150)) {
    Cutter end(at_hand(2 * small + ui.mm(24) + 2 * ui.gap()), Axis::kAcross, ui.gap());
    plan.steps = {end.take(small), end.take(small), end.take_rest()};
  } else {
    plan.steps = touch::split(down.take_end(ui.mm(20)), Axis::kAcross, 3, ui.gap());
  }
  plan.parts = across.take_rest();
  plan.tiles = down.take_rest();
  return plan;
}

// Every second step as a tile; the step keys reach those between, and the last one where gloves on
// low glass leave ten cells.
std::vector<const flow::ChoiceView*> share_choices(const touch::Ui& ui, const PadRoom& room,
                                                   const flow::MeasureView& measure,
                                                   const Rect& tiles) {
  std::vector<const flow::ChoiceView*> shown;
  for (std::size_t n = 0; n < measure.choices.size(); n += 2) shown.push_back(&measure.choices[n]);
  const float lines = (tiles.height() + ui.gap()) / (ui.key() + ui.gap());
  const std::size_t cells = room.columns * static_cast<std::size_t>(lines + 0.01F);
  if (room.rows > 0 && shown.size() > cells) shown.resize(cells);
  return shown;
}

}  // namespace

void draw_shares_pad(const Pen& pen, const PadRoom& room, const flow::MeasureView& measure,
                     const flow::GatherView& gather) {
  touch::Ui& ui = pen.ui;
  const SharesPlan plan = shares_plan(ui, room);
  std::vector<float> needed;
  needed.reserve(gather.parts.size());
  for (const flow::PartView& part : gather.parts)
    needed.push_back(part.active ? touch::dense_field_width(ui, "100") : ui.mm(14));
  const auto rooms = split_by_need(plan.parts, needed, close_gap(ui));
  for (std::size_t n = 0; n < gather.parts.size(); ++n) {
    const flow::PartView& part = gather.parts[n];
    const std::string name(pen.words(part.word));
    const touch::Field field{.label = name,
                             .value = part.number,
                             .unit = part.number.empty() ? std::string_view() : measure.unit,
                             .focused = part.active,
                             .enabled = room.enabled,
                             .font = Font::kLabel,
                             .form = touch::FieldForm::kDense};
    if (touch::field(ui, rooms[n], field)) pen.send(flow::FocusShare{part.code});
  }
  const bool can_step = room.enabled && gather.can_drop;
  if (touch::key(ui, plan.steps[0],
                 {.label = pen.words.fill("gather.less", {gather.step}), .enabled = can_step}))
    pen.send(flow::StepShare{-1});
  if (touch::key(ui, plan.steps[1],
                 {.label = pen.words.fill("gather.more", {gather.step}), .enabled = can_step}))
    pen.send(flow::StepShare{1});
  draw_keep_gathered(pen, plan.steps[2], room.enabled && gather.can_keep);
  const auto shown = share_choices(ui, room, measure, plan.tiles);
  std::vector<touch::Tile> tiles;
  tiles.reserve(shown.size());
  for (const flow::ChoiceView* const choice : shown)
    tiles.push_back({.label = choice->entered, .enabled = room.enabled && choice->enabled});
  if (const auto n = touch::tile_pad(ui, plan.tiles, tiles, {.most_mm = 46}))
    pen.send(flow::SetShare{shown[*n]->entered});
}

}  // namespace ligule::screens
