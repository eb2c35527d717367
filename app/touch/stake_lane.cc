#include <algorithm>
#include <array>
#include <cmath>
#include <string>

#include "app/touch/body.h"
#include "app/touch/sheets.h"

namespace ligule::touch {
namespace {

constexpr double kPitchMm = 15;
constexpr double kStakeMm = 12.6;
constexpr double kLaneMm = 25;
constexpr double kRaisedMm = 3.6;  // how far the present stake stands out
constexpr double kPointMm = 4;     // the sharpened end
constexpr double kSoilMm = 5;
constexpr double kLowMm = 12.5;

void draw_stake(Ui& ui, const Rect& rect, const Stake& stake, bool present, bool held) {
  const Canvas paint = ui.canvas();
  const float point = ui.mm(kPointMm);
  const auto outline = [&](const Rect& r, float tip) {
    return std::array{Point{r.left, r.top}, Point{r.right, r.top}, Point{r.right, r.bottom - tip},
                      Point{r.centre().x, r.bottom}, Point{r.left, r.bottom - tip}};
  };
  const float border = present ? ui.mm(1.1) : ui.sizes().border();
  paint.polygon(outline(rect, point), present ? Tone::kAction : Tone::kLine);
  Rect inner = rect.grown(-border);
  paint.polygon(outline(inner, point * inner.width() / rect.width()),
                held ? Tone::kPressed : Tone::kCard);
  Cutter down(inner, Axis::kDown, 0);
  const Rect number = down.take(ui.mm(7.4));
  text(ui, number,
       {.text = label_of(stake.label),
        .font = present ? Font::kStrong : Font::kCaption,
        .tone = Tone::kInk,
        .across = Align::kMiddle,
        .in_key = true});
  const float side = ui.mm(6);
  const float top = number.bottom - ui.mm(0.2);
  paint.shape(stake.state,
              {inner.centre().x - side / 2, top, inner.centre().x + side / 2, top + side});
}

// Where there is no height for a stake: a tag, number over state.
void draw_tag(Ui& ui, const Rect& rect, const Stake& stake, bool present, bool held) {
  const Canvas paint = ui.canvas();
  const float border = present ? ui.mm(1.1) : ui.sizes().border();
  const float round = ui.mm(1.6);
  paint.fill(rect, held ? Tone::kPressed : Tone::kCard, round);
  paint.outline(rect, present ? Tone::kAction : Tone::kLine, border, round);
  Cutter down(rect.grown(-ui.mm(0.8)), Axis::kDown, 0);
  text(ui, down.take(rect.height() * 0.44F),
       {.text = label_of(stake.label),
        .font = present ? Font::kStrong : Font::kCaption,
        .across = Align::kMiddle,
        .in_key = true});
  const Rect rest = down.take_rest();
  const float side = std::min(ui.mm(6), rest.height());
  paint.shape(stake.state, centred(rest, side, side));
}

}  // namespace

float stake_lane_height(const Ui& ui) {
  return ui.mm(kLaneMm);
}
float low_lane_height(const Ui& ui) {
  return ui.mm(kLowMm);
}

std::optional<std::size_t> stake_lane(Ui& ui, std::string_view name, const Rect& rect,
                                      std::span<const Stake> stakes, std::size_t present) {
  std::optional<std::size_t> tapped;
  if (rect.empty() || rect.height() < ui.mm(kLowMm) - 1) {
    ui.no_room(name);
    return tapped;
  }
  auto group = ui.group(name);
  float widest = 0;
  for (const Stake& stake : stakes)
    widest = std::max(widest, text_width(ui, label_of(stake.label), Font::kStrong));
  const float stake_width = std::max(ui.mm(kStakeMm), widest + ui.mm(4));
  const float pitch = stake_width + ui.mm(kPitchMm - kStakeMm);
  const bool low = rect.height() < ui.mm(kLaneMm) - 1;
  const float soil_top = rect.bottom - ui.mm(low ? kSoilMm / 2 : kSoilMm);
  ui.canvas().fill({rect.left, soil_top, rect.right, rect.bottom}, Tone::kSunk, ui.mm(1.2));
  const float middle = pitch * (static_cast<float>(present) + 0.5F);
  ui.keep_in_middle(name, present, middle, rect.width());
  auto scroll = ui.scroll(name, rect, Axis::kAcross);
  const Rect& area = scroll.area();
  for (std::size_t n = 0; n < stakes.size(); ++n) {
    const float centre = area.left + pitch * (static_cast<float>(n) + 0.5F);
    // What is out of view is not drawn: a field may have hundreds of plots.
    if (centre + pitch < rect.left || centre - pitch > rect.right) continue;
    const bool is_present = n == present;
    const float half = stake_width / 2;
    float top = is_present ? rect.top : rect.top + ui.mm(kRaisedMm);
    float bottom = is_present ? rect.bottom - ui.mm(2.6) : rect.bottom - ui.mm(1);
    if (low) {
      top = rect.top;
      bottom = rect.bottom;
    }
    Widget widget;
    widget.kind = Kind::kStake;
    widget.drawn = {centre - half, top, centre + half, bottom};
    widget.selected = is_present;
    widget.value = stakes[n].value;
    const Rect drawn = widget.drawn;
    const TouchState state = ui.touch(stakes[n].label, std::move(widget), (pitch - 2 * half) / 2);
    if (low)
      draw_tag(ui, drawn, stakes[n], is_present, state.held);
    else
      draw_stake(ui, drawn, stakes[n], is_present, state.held);
    if (state.tapped) tapped = n;
  }
  ui.reach({area.left + pitch * static_cast<float>(stakes.size()), rect.top});
  return tapped;
}

}  // namespace ligule::touch
