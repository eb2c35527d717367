// Which stake does one see? Lies where values are entered, at every turn of the plot path: the
// number the program expects as one large key, its neighbours beside it.
#include <algorithm>

#include "app/screens/pen.h"

namespace ligule::screens {

using touch::Axis;
using touch::Cutter;
using touch::Font;
using touch::Key;
using touch::Rect;
using touch::Style;

namespace {

// A stake as a key; an empty number is the end of the path: nothing is there.
void draw_stake_key(const Pen& pen, const Rect& rect, std::string_view plot, bool expected) {
  if (plot.empty()) return;
  const bool narrow = touch::text_width(pen.ui, plot, Font::kPlot) > rect.width() - pen.ui.mm(4);
  Key key{.label = plot, .primary = true, .font = Font::kTitle};
  if (expected) {
    key.style = Style::kAction;
    key.font = narrow ? Font::kValue : Font::kPlot;
  }
  if (touch::key(pen.ui, rect, key)) pen.send(flow::NameStake{std::string(plot)});
}

void draw_choices(const Pen& pen, const Rect& rect, const flow::StakeQuestionView& view) {
  touch::Ui& ui = pen.ui;
  const float side = ui.key() * 1.3F;
  if (rect.width() >= 2 * side + 2 * ui.key() + 2 * ui.gap()) {
    // In the order in which one walks past them.
    Cutter across(rect, Axis::kAcross, ui.gap());
    if (!view.before.empty()) draw_stake_key(pen, across.take(side), view.before, false);
    if (!view.after.empty()) draw_stake_key(pen, across.take_end(side), view.after, false);
    draw_stake_key(pen, across.take_rest(), view.expected, true);
    return;
  }
  Cutter down(rect, Axis::kDown, ui.gap());
  // At an end of the path the one neighbour has the whole row.
  const bool both = !view.before.empty() && !view.after.empty();
  const auto low = touch::split(down.take_end(ui.key()), Axis::kAcross, both ? 2 : 1, ui.gap());
  draw_stake_key(pen, low.front(), view.before, false);
  draw_stake_key(pen, low.back(), view.after, false);
  draw_stake_key(pen, down.take_rest(), view.expected, true);
}

void draw_question(const Pen& pen, const Rect& rect, const flow::StakeQuestionView& view) {
  touch::Ui& ui = pen.ui;
  Cutter down(rect, Axis::kDown, ui.mm(3));
  const std::string_view title = pen.words("stake.title");
  const bool wide = touch::text_width(ui, title, Font::kTitle) <= rect.width();
  const Font font = wide ? Font::kTitle : Font::kLabel;
  const float high = touch::text_height(ui, title, font, rect.width());
  touch::text(ui, down.take(high), {.text = title, .font = font, .lines = 2});
  const float low = ui.mm(12.4);
  const float most = down.left_over() - low - ui.mm(3);
  draw_choices(pen, down.take(std::min(most, 3 * ui.key())), view);
  const Key other{.label = pen.words("stake.other"), .font = Font::kStrong};
  if (touch::key(ui, down.take(low), other)) pen.send(flow::OtherStake{});
  // A stake may be scanned, or its number typed on hard keys.
  for (const auto& press : ui.typed()) {
    if (press.key == platform::HardKey::kText) pen.send(flow::KeyText{press.text});
    if (press.key == platform::HardKey::kErase) pen.send(flow::KeyErase{});
    if (press.key == platform::HardKey::kEnter) pen.send(flow::KeyDone{});
  }
}

void draw_slipped(const Pen& pen, const Rect& rect, const flow::SlippedView& view) {
  touch::Ui& ui = pen.ui;
  Cutter down(touch::sheet(ui, rect), Axis::kDown, ui.gap());
  const auto keys = touch::split(down.take_end(ui.mm(16)), Axis::kAcross, 2, ui.gap());
  const Key leave{.label = pen.words("stake.right"), .font = Font::kStrong};
  if (touch::key(ui, keys[0], leave)) pen.send(flow::LeaveSlipped{});
  const Key slide{
      .label = pen.words("stake.slide"), .style = Style::kAction, .font = Font::kStrong};
  if (touch::key(ui, keys[1], slide)) pen.send(flow::SlideSlipped{});
  std::string text = pen.words.fill("stake.elsewhere", {view.named, view.expected});
  text += " " + (view.from == view.to ? pen.words.fill("stake.slipped_one", {view.from})
                                      : pen.words.fill("stake.slipped", {view.from, view.to}));
  touch::text(ui, down.take_rest(), {.text = text, .font = Font::kLabel, .lines = 8});
}

}  // namespace

void leave_card(const Pen& pen, const flow::StakeCard& card) {
  if (card.question && card.question->other)
    pen.send(flow::OtherStake{.open = false});
  else
    pen.send(flow::ShowToday{});
}

void draw_stake_card(const Pen& pen, const Rect& rect, const flow::StakeCard& card) {
  auto group = pen.ui.group("Stake");
  if (card.slipped)
    draw_slipped(pen, rect, *card.slipped);
  else if (card.question)
    draw_question(pen, rect, *card.question);
}

}  // namespace ligule::screens
