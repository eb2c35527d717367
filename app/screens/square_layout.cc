// Where the parts of the rating card stand while cells of a frame or digits are tapped. The square
// pad comes first: keys of full size where the glass is that wide, as large as the glass leaves
// elsewhere. Everything else shares a column beside it, or the strips above it.
#include <algorithm>

#include "app/screens/pen.h"
#include "app/screens/rate_layout.h"

namespace ligule::screens {
namespace {

using touch::Axis;
using touch::Cutter;
using touch::Rect;

constexpr double kLargestKeyMm = 26;
constexpr double kSmallKeysMm = 13;
constexpr double kStripMm = 14.6;

float square_of(const touch::Ui& ui, std::size_t keys, float key) {
  const auto n = static_cast<float>(keys);
  return n * key + (n - 1) * ui.gap();
}

// Note, the lock, taking back, later: side by side.
void cut_small_keys(const touch::Ui& ui, const Rect& strip, RateLayout& layout, bool lock) {
  Cutter row(strip, Axis::kAcross, close_gap(ui));
  const auto at = [&](bool hand, double mm) {
    return hand == ui.left_handed() ? row.take(ui.mm(mm)) : row.take_end(ui.mm(mm));
  };
  layout.later = at(true, 17.1);
  layout.take_back = at(true, 12.4);
  if (lock) layout.lock = at(false, 12.4);
  Rect& note = layout.note;
  note = row.take_rest();
  const float widest = std::min(note.width(), ui.mm(24));
  if (ui.left_handed())
    note.left = note.right - widest;
  else
    note.right = note.left + widest;
}

// The number, and as many stakes as there is room for.
void cut_way(const touch::Ui& ui, const Rect& strip, RateLayout& layout) {
  Cutter row(strip, Axis::kAcross, close_gap(ui));
  layout.plot = row.take(std::clamp(row.left_over() * 0.48F, ui.mm(30.5), ui.mm(70)));
  layout.lane = row.take_rest();
}

void square_wide(const touch::Ui& ui, std::size_t keys, RateLayout& layout) {
  Cutter across(full_page(ui), Axis::kAcross, (ui.gap() + close_gap(ui)) / 2);
  const Rect& page = across.rest();
  const float most = std::min(page.height(), square_of(ui, keys, ui.mm(kLargestKeyMm)));
  const float wanted = std::min(most, square_of(ui, keys, ui.key()));
  const float side = std::max(wanted, std::min(most, page.width() - ui.mm(110)));
  layout.pad = ui.left_handed() ? across.take(side) : across.take_end(side);
  Cutter down(across.take_rest(), Axis::kDown, close_gap(ui));
  Cutter top(down.take(ui.mm(kSmallKeysMm)), Axis::kAcross, close_gap(ui));
  layout.back = top.take(ui.mm(13));
  layout.hand = top.take_end(ui.mm(16));
  layout.lock = top.take_end(ui.mm(12.4));
  cut_small_keys(ui, down.take_end(ui.mm(kSmallKeysMm)), layout, false);
  const float chips = touch::dense_field_height(ui) + ui.mm(0.3);
  // Number and stakes have a line each where the column is high.
  const float rest = down.left_over() - chips - ui.mm(36) - 3 * close_gap(ui);
  const float number = ui.mm(22);
  if (rest >= number + touch::low_lane_height(ui)) {
    layout.lane = down.take_end(std::min(rest - number, touch::stake_lane_height(ui)));
    layout.plot = down.take(number);
  } else {
    cut_way(ui, down.take(ui.mm(kStripMm)), layout);
  }
  layout.measures = down.take(chips);
  layout.strip = down.take_rest();
}

void square_tall(const touch::Ui& ui, std::size_t keys, RateLayout& layout) {
  Cutter down(full_page(ui).grown(ui.mm(0.4)), Axis::kDown, close_gap(ui));
  const float chips = touch::dense_field_height(ui);
  const float small_keys = ui.mm(12.1);
  const float least = 2 * ui.mm(kStripMm) + chips + small_keys + 4 * close_gap(ui);
  const float clear = (ui.gap() - close_gap(ui)) / 2;
  const float side = std::min({down.rest().width(), square_of(ui, keys, ui.mm(kLargestKeyMm)),
                               down.left_over() - least - clear});
  Rect pad = down.take_end(side + clear);
  pad.top += clear;
  layout.pad = touch::centred(pad, side, side);
  cut_small_keys(ui, down.take_end(small_keys), layout, true);
  // What is left over makes the strips higher.
  const float over =
      std::max(0.0F, down.left_over() - 2 * ui.mm(kStripMm) - chips - 2 * close_gap(ui));
  Cutter top(down.take(ui.mm(kStripMm) + std::min(over * 0.4F, ui.mm(8))), Axis::kAcross,
             close_gap(ui));
  layout.back = top.take(ui.mm(12.4));
  layout.hand = top.take_end(ui.mm(14));
  cut_way(ui, top.take_rest(), layout);
  layout.measures = down.take(chips + std::min(over * 0.3F, ui.mm(3)));
  layout.strip = down.take_rest();
}

}  // namespace

RateLayout square_layout(const touch::Ui& ui, std::size_t keys) {
  RateLayout layout;
  layout.columns = keys;
  layout.measure_columns = 0;
  if (ui.portrait())
    square_tall(ui, keys, layout);
  else
    square_wide(ui, keys, layout);
  layout.pad_above_keys = layout.pad;
  layout.notice = layout.measures;
  return layout;
}

}  // namespace ligule::screens
