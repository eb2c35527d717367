#include "app/screens/rate_layout.h"

#include <algorithm>

#include "app/screens/pen.h"

namespace ligule::screens {
namespace {

using touch::Axis;
using touch::Cutter;
using touch::Rect;

constexpr std::size_t kTiles = 21;  // percent in steps of five: the largest pad
constexpr std::size_t kKeys = 3;    // note, take back, later: the last cells of its grid

// Keys of the pad: for gloves where they fit, plain ones on smaller glass.
struct Keys {
  float side = 0;
  float gap = 0;
};

float block(const Keys& keys, std::size_t n) {
  const auto count = static_cast<float>(n);
  return count * keys.side + (count - 1) * keys.gap;
}

// No cell of its own is left for the single points: four keys share the cells of three.
void share_cells(const touch::Ui& ui, const Keys& keys, RateLayout& layout) {
  Cutter row({layout.note.left, layout.note.top, layout.later.right, layout.note.bottom},
             Axis::kAcross, keys.gap);
  const float each = (row.left_over() - 3 * keys.gap) / 4;
  // Signs need less than words.
  const float sign = each < ui.mm(18.5) ? ui.mm(13) : each;
  layout.fine = row.take(sign);
  const float words = row.left_over() - sign - 2 * keys.gap;
  layout.note = row.take(words * 0.46F);  // "Luego" is longer than "Nota"
  layout.take_back = row.take(sign);
  layout.later = row.take_rest();
}

// The last cells of the grid become keys; what is above their row is for other pads.
void share_grid(const touch::Ui& ui, const Keys& keys, RateLayout& layout) {
  const std::size_t rows = (kTiles + kKeys + layout.columns - 1) / layout.columns;
  const auto lines = touch::split(layout.pad, Axis::kDown, rows, keys.gap);
  const auto cells = touch::split(lines.back(), Axis::kAcross, layout.columns, keys.gap);
  layout.later = cells[layout.columns - 1];
  layout.take_back = cells[layout.columns - 2];
  layout.note = cells[layout.columns - 3];
  if (rows * layout.columns > kTiles + kKeys)
    layout.fine = cells[layout.columns - kKeys - 1];
  else
    share_cells(ui, keys, layout);
  layout.pad_above_keys = layout.pad;
  layout.pad_above_keys.bottom = lines.back().top - ui.gap();
}

// Way out left; who holds the tablet and the lock right.
void cut_own_keys(const touch::Ui& ui, Cutter& top, RateLayout& layout) {
  layout.back = top.take(ui.mm(16));
  layout.hand = top.take_end(ui.mm(16));
  layout.lock = top.take_end(ui.mm(13));
}

// Wide and large: card at the free hand, pad at the tapping hand, stakes along the bottom.
void roomy_wide(const touch::Ui& ui, const Keys& keys, RateLayout& layout, std::size_t measures) {
  Cutter down(ui.page(), Axis::kDown, ui.gap());
  layout.lane = down.take_end(touch::stake_lane_height(ui));
  Cutter across(down.take_rest(), Axis::kAcross, ui.mm(4));
  const float beside_pad = across.rest().width() - block(keys, 6) - ui.mm(4.2);
  const float card =
      std::min(std::clamp(across.rest().width() * 0.34F, ui.mm(58), ui.mm(92)), beside_pad);
  Cutter left(ui.left_handed() ? across.take_end(card) : across.take(card), Axis::kDown, ui.mm(2));
  Cutter right(across.take_rest(), Axis::kDown, ui.mm(1.5));
  Cutter top(left.take(ui.mm(13)), Axis::kAcross, ui.gap());
  cut_own_keys(ui, top, layout);
  layout.status = top.take_rest();
  const auto rows = static_cast<float>(std::max<std::size_t>(1, measures));
  const float row =
      std::clamp((left.left_over() - ui.mm(22)) / rows - ui.mm(2.5), ui.mm(12.2), ui.mm(17));
  layout.measures = left.take_end(rows * row + (rows - 1) * ui.mm(2.5));
  layout.plot = left.take_rest();
  layout.columns = 6;
  const float least = block(keys, 4) + ui.mm(0.2);
  const float heading = std::min(ui.mm(9), right.left_over() - least - ui.mm(1.5));
  layout.heading = right.take(heading);
  layout.pad = right.take_rest();
  share_grid(ui, keys, layout);
  layout.notice = layout.lane;
}

// Upright and large: card above, pad at the thumbs, stakes along the bottom.
void roomy_tall(const touch::Ui& ui, const Keys& keys, RateLayout& layout, std::size_t measures) {
  Cutter down(ui.page(), Axis::kDown, ui.gap());
  layout.lane = down.take_end(touch::stake_lane_height(ui));
  layout.columns = 5;
  const float widest = down.rest().width();
  const std::size_t lines = (measures + 1) / 2;
  const auto count = static_cast<float>(std::max<std::size_t>(1, lines));
  const float upper = ui.mm(18 + 10) + count * ui.mm(13) + (count + 2) * ui.gap();
  const float most = std::min(widest, down.left_over() - upper);
  layout.pad = down.take_end(std::max(block(keys, 5), most));
  share_grid(ui, keys, layout);
  layout.heading = down.take_end(ui.mm(8));
  Cutter top(down.take(ui.mm(17)), Axis::kAcross, ui.gap());
  cut_own_keys(ui, top, layout);
  layout.plot = top.take(std::max(ui.mm(44), top.left_over() - ui.mm(18)));
  layout.status = top.take_rest();
  layout.measures = down.take_rest();
  layout.measure_columns = 2;
  layout.notice = layout.lane;
}

// Tiles answer half a gap beyond their edge: so much more stands between them and close pieces.
float clear_of_pad(const touch::Ui& ui) {
  return (ui.gap() - close_gap(ui)) / 2;
}

// Wide and small: the pad takes the whole width; number, stakes, chips and keys in two strips.
void compact_wide(const touch::Ui& ui, const Keys& keys, RateLayout& layout) {
  Cutter down(full_page(ui), Axis::kDown, close_gap(ui));
  layout.columns = 7;
  layout.pad = down.take_end(block(keys, 3) + clear_of_pad(ui));
  layout.pad.top += clear_of_pad(ui);
  layout.pad_above_keys = layout.pad;
  const Rect strip = down.take_end(ui.mm(12.4));
  Cutter chips(strip, Axis::kAcross, close_gap(ui));
  // Keys lie at the hand that taps.
  const auto at_hand = [&](Cutter& cut, double mm) {
    return ui.left_handed() ? cut.take(ui.mm(mm)) : cut.take_end(ui.mm(mm));
  };
  layout.later = at_hand(chips, 16.8);
  layout.take_back = at_hand(chips, 12.1);
  layout.note = at_hand(chips, 14.2);
  layout.fine = at_hand(chips, 12.1);
  layout.measures = chips.take_rest();
  layout.measure_columns = 0;
  Cutter top(down.take_rest(), Axis::kAcross, close_gap(ui));
  layout.back = top.take(ui.mm(13));
  layout.hand = top.take_end(ui.mm(16));
  layout.lock = top.take_end(ui.mm(12.4));
  layout.plot = top.take(ui.mm(70.5));
  layout.lane = top.take_rest();
  layout.notice = strip;  // the only place as wide as a sentence
}

// Upright and small: number and stakes, chips, and the pad with the keys in its last row.
void compact_tall(const touch::Ui& ui, const Keys& keys, RateLayout& layout) {
  Cutter down(full_page(ui).grown(ui.mm(0.4)), Axis::kDown, close_gap(ui));
  layout.columns = 4;
  layout.pad = down.take_end(block(keys, 6) + clear_of_pad(ui));
  layout.pad.top += clear_of_pad(ui);
  share_grid(ui, keys, layout);
  // Three keys, the lock and the single points share their cells of the last row.
  // As close to the last tile as their answers allow: "Nota" and "Luego" need every millimetre.
  const float left = layout.fine.left - (keys.gap / 2 - close_gap(ui) / 2);
  Cutter keys_row({left, layout.note.top, layout.later.right, layout.note.bottom}, Axis::kAcross,
                  close_gap(ui));
  const auto at = [&](bool hand, double mm) {
    return hand == ui.left_handed() ? keys_row.take(ui.mm(mm)) : keys_row.take_end(ui.mm(mm));
  };
  layout.later = at(true, 17.1);
  layout.take_back = at(true, 12.05);
  layout.fine = at(false, 12.05);
  layout.lock = at(false, 12.05);
  layout.note = keys_row.take_rest();
  layout.measures = down.take_end(ui.mm(12.2));
  layout.measure_columns = 0;
  Cutter top(down.take_rest(), Axis::kAcross, close_gap(ui));
  layout.back = top.take(ui.mm(12.4));
  layout.hand = top.take_end(ui.mm(14));
  layout.plot = top.take(ui.mm(36.5));
  layout.lane = top.take_rest();
}

// Whether the large composition has room with such keys.
bool roomy_fits(const touch::Ui& ui, const Keys& keys, std::size_t measures) {
  const Rect page = ui.page();
  const float lane = touch::stake_lane_height(ui) + ui.gap();
  if (!ui.portrait())
    return page.width() >= block(keys, 6) + ui.mm(62) &&
           page.height() >= block(keys, 4) + lane + ui.mm(6);
  const std::size_t pairs = (measures + 1) / 2;
  const auto lines = static_cast<float>(pairs);
  return page.width() >= block(keys, 5) &&
         page.height() >= block(keys, 5) + lane + ui.mm(18 + 10) + lines * ui.mm(16);
}

bool compact_fits(const touch::Ui& ui, const Keys& keys) {
  const Rect page = full_page(ui);
  if (!ui.portrait())
    return page.width() >= block(keys, 7) && page.height() >= block(keys, 3) + ui.mm(31);
  return page.width() >= block(keys, 4) && page.height() >= block(keys, 6) + ui.mm(30);
}

}  // namespace

RateLayout rate_layout(const touch::Ui& ui, std::size_t measures) {
  const Keys wanted{ui.key(), ui.gap()};
  const Keys plain{ui.mm(20), ui.mm(3)};
  RateLayout layout;
  Keys keys = plain;
  if (roomy_fits(ui, wanted, measures)) {
    layout.roomy = true;
    keys = wanted;
  } else if (compact_fits(ui, wanted)) {
    keys = wanted;
  } else if (roomy_fits(ui, plain, measures)) {
    layout.roomy = true;
  }
  if (ui.portrait()) {
    if (layout.roomy)
      roomy_tall(ui, keys, layout, measures);
    else
      compact_tall(ui, keys, layout);
  } else {
    if (layout.roomy)
      roomy_wide(ui, keys, layout, measures);
    else
      compact_wide(ui, keys, layout);
  }
  if (layout.notice.empty())  // over the keys: the tap that ends it needs no key of its own
    layout.notice = {std::min({layout.note.left, layout.lock.left, layout.later.left}),
                     layout.note.top, std::max(layout.later.right, layout.lock.right),
                     layout.later.bottom};
  return layout;
}

}  // namespace ligule::screens
