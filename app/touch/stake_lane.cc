#include <algorithm>
#include <array>
#include <cmath>
#include <string>

#include "app/touch/body.h"
#include "app/touch/sheets.h"

namespace ligule::touch {
namespace {

constexpr double kStakeMm = 12.1;        // the least width; what is touched is wider
constexpr double kBetweenMm = 0.7;       // between two
constexpr double kBesideNumberMm = 2.6;  // its borders and a little air
constexpr double kEndMm = 1.3;           // for the sign of more
constexpr double kLaneMm = 25;
constexpr double kRaisedMm = 3.6;  // how far the present stake stands out
constexpr double kPointMm = 4;     // the sharpened end
constexpr double kSoilMm = 5;
constexpr double kLowMm = 12.5;

// Of a stake's number in that room.
Font number_font(const Ui& ui, const Rect& room, const Stake& stake, bool present) {
  const bool fits = text_width(ui, label_of(stake.label), Font::kStrong) <= room.width();
  return present && fits ? Font::kStrong : Font::kCaption;
}

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
        .font = number_font(ui, number, stake, present),
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
  const Rect number = down.take(rect.height() * 0.44F);
  text(ui, number,
       {.text = label_of(stake.label),
        .font = number_font(ui, number, stake, present),
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

namespace {

// How stakes share a lane: whole ones only, so many that each is wide enough for a finger and its
// number. What has no room is not drawn; a sign at either end says that there is more.
struct Share {
  std::size_t shown = 0;
  float pitch = 0;
  float width = 0;  // of a stake
};

Share share_lane(const Ui& ui, float room, std::span<const Stake> stakes) {
  const auto widest = [&](Font font) {
    float width = 0;
    for (const Stake& stake : stakes)
      width = std::max(width, text_width(ui, label_of(stake.label), font));
    return std::max(ui.mm(kStakeMm), width + ui.mm(kBesideNumberMm));
  };
  const auto fit = [&](float width) {
    return static_cast<std::size_t>(std::max(0.0F, std::floor(room / (width + ui.mm(kBetweenMm)))));
  };
  float width = widest(Font::kStrong);
  // Numbers give way where they would leave no neighbours.
  const std::size_t wanted = ui.look().large_text ? 3 : 2;
  if (fit(width) < wanted) width = widest(Font::kCaption);
  Share share;
  share.shown = fit(width);
  // The present one stands in the middle.
  if (share.shown > 4 && share.shown % 2 == 0) --share.shown;
  share.shown = std::min(share.shown, stakes.size());
  if (share.shown == 0) return share;
  const float roomy = width * 1.25F + ui.mm(kBetweenMm);
  share.pitch = std::min(room / static_cast<float>(share.shown), roomy);
  share.width = std::min(width * 1.15F, share.pitch - ui.mm(kBetweenMm));
  return share;
}

// The first stake that shows while one is at the present one: where there is no room on both sides
// the way back matters most.
std::size_t first_shown(const Share& share, std::size_t present, std::size_t all) {
  const std::size_t before = std::max<std::size_t>(1, share.shown / 2);
  const std::size_t first = present > before ? present - before : 0;
  return std::min(first, all - share.shown);
}

void draw_more(Ui& ui, Point tip, float turn) {
  const float half = ui.mm(1.5);
  const std::array sign{tip, Point{tip.x - turn * half * 0.8F, tip.y - half},
                        Point{tip.x - turn * half * 0.8F, tip.y + half}};
  if (turn > 0)
    ui.canvas().polygon(std::array{sign[0], sign[2], sign[1]}, Tone::kLine);
  else
    ui.canvas().polygon(sign, Tone::kLine);
}

}  // namespace

std::optional<std::size_t> stake_lane(Ui& ui, std::string_view name, const Rect& rect,
                                      std::span<const Stake> stakes, std::size_t present) {
  std::optional<std::size_t> tapped;
  const float end = ui.mm(kEndMm);  // for the signs of more
  const Share share = share_lane(ui, rect.width() - 2 * end, stakes);
  if (rect.empty() || rect.height() < ui.mm(kLowMm) - 1 || (share.shown == 0 && !stakes.empty())) {
    ui.no_room(name);
    return tapped;
  }
  if (stakes.empty()) return tapped;
  auto group = ui.group(name);
  const bool low = rect.height() < ui.mm(kLaneMm) - 1;
  const float soil_top = rect.bottom - ui.mm(low ? kSoilMm / 2 : kSoilMm);
  ui.canvas().fill({rect.left, soil_top, rect.right, rect.bottom}, Tone::kSunk, ui.mm(1.2));
  const float length = share.pitch * static_cast<float>(share.shown);
  const Rect row = centred(rect, length, rect.height());
  const std::size_t at_rest = first_shown(share, present, stakes.size());
  // With other room the same stake is put into its place again.
  const std::size_t item = present * 64 + share.shown;
  ui.keep_in_middle(name, item, share.pitch * static_cast<float>(at_rest) + length / 2, length);
  std::size_t first = 0;
  {
    auto scroll = ui.scroll(name, row, Axis::kAcross);
    // It is dragged by whole stakes: half of one can be neither read nor hit.
    const float dragged = (row.left - scroll.area().left) / share.pitch;
    first = std::min(static_cast<std::size_t>(std::max(0L, std::lround(dragged))),
                     stakes.size() - share.shown);
    for (std::size_t n = first; n < first + share.shown; ++n) {
      const float centre = row.left + share.pitch * (static_cast<float>(n - first) + 0.5F);
      const bool is_present = n == present;
      const float half = share.width / 2;
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
      const float between = (share.pitch - share.width) / 2;
      const TouchState state = ui.touch(stakes[n].label, std::move(widget), between);
      if (low)
        draw_tag(ui, drawn, stakes[n], is_present, state.held);
      else
        draw_stake(ui, drawn, stakes[n], is_present, state.held);
      if (state.tapped) tapped = n;
    }
    ui.reach({scroll.area().left + share.pitch * static_cast<float>(stakes.size()), rect.top});
  }
  const float sign = end - ui.mm(0.1);
  if (first > 0) draw_more(ui, {row.left - sign, rect.centre().y}, -1);
  if (first + share.shown < stakes.size()) draw_more(ui, {row.right + sign, rect.centre().y}, 1);
  return tapped;
}

}  // namespace ligule::touch
