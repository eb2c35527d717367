// The parts of a screen that a finger drags.
#include <imgui.h>

#include <algorithm>
#include <cmath>

#include "app/touch/hands.h"

namespace ligule::touch {
namespace {

constexpr double kBarMm = 3;  // kept free for the bar that shows where one is
constexpr float kEndless = 1e6F;

float along(Point p, bool sideways) {
  return sideways ? p.x : p.y;
}

}  // namespace

Ui::Scroll Ui::scroll(std::string_view name, const Rect& rect, Axis axis) {
  const bool sideways = axis == Axis::kAcross;
  Hands::ScrollState& state = hands_->scrolls[std::string(name)];
  const float length = sideways ? rect.width() : rect.height();
  if (state.show) {
    const auto [from, to] = *state.show;
    // What is not learned yet can't limit: end_scroll does.
    if (from < state.offset) state.offset = from;
    if (to > state.offset + length) state.offset = to - length;
    state.show.reset();
  }
  if (state.middle) {
    // How far it reaches may have changed with its items: end_scroll limits it.
    state.offset = std::max(0.0F, *state.middle - length / 2);
    state.middle.reset();
  }
  Rect area = rect;
  if (sideways) {
    area.left -= std::round(state.offset);
    area.right = area.left + kEndless;
  } else {
    area.top -= std::round(state.offset);
    area.bottom = area.top + kEndless;
    area.right -= mm(kBarMm);
  }
  begin_sizes(std::string(name), true);
  hands_->open.push_back({std::string(name), rect, area, sideways, 0});
  seen_.scrollers.push_back({std::string(name), rect, sideways, static_cast<int>(hands_->layer)});
  const Rect clip = this->clip().common(rect);
  hands_->clips.push_back(clip);
  ImGui::PushClipRect({clip.left, clip.top}, {clip.right, clip.bottom}, true);
  return {*this, area};
}
Ui::Scroll::~Scroll() {
  ui_->end_scroll();
}

void Ui::end_scroll() {
  end_sizes();
  const Hands::Open part = hands_->open.back();
  hands_->open.pop_back();
  hands_->clips.pop_back();
  ImGui::PopClipRect();
  Hands::ScrollState& state = hands_->scrolls[part.name];
  const float length = part.sideways ? part.rect.width() : part.rect.height();
  const float start = part.sideways ? part.area.left : part.area.top;
  state.limit = std::max(0.0F, part.extent - start - length);
  const float held = std::clamp(state.offset, 0.0F, state.limit);
  if (std::abs(held - state.offset) > 0.5F) another_frame_ = true;
  state.offset = held;
  if (part.sideways || state.limit <= 0) return;
  const Rect track{part.rect.right - mm(1.4), part.rect.top, part.rect.right, part.rect.bottom};
  const float whole = length + state.limit;
  const float thumb = std::max(mm(6), track.height() * length / whole);
  const float top = track.top + (track.height() - thumb) * held / state.limit;
  canvas().fill(track, Tone::kSunk, track.width() / 2);
  canvas().fill({track.left, top, track.right, top + thumb}, Tone::kLine, track.width() / 2);
}

void Ui::reach(Point to) {
  if (hands_->open.empty()) return;
  Hands::Open& part = hands_->open.back();
  part.extent = std::max(part.extent, along(to, part.sideways));
}

void Ui::scroll_to(std::string_view name, float from, float to) {
  hands_->scrolls[std::string(name)].show = {from, to};
}

void Ui::keep_in_middle(std::string_view name, std::size_t item, float place, float length) {
  Hands::ScrollState& state = hands_->scrolls[std::string(name)];
  if (state.item == item && state.length == length) return;
  state.item = item;
  state.length = length;
  state.middle = place;
}

}  // namespace ligule::touch
