#include "app/screens/rate_layout.h"

#include <algorithm>

#include "app/screens/pen.h"

namespace ligule::screens {
namespace {

using touch::Axis;
using touch::Cutter;
using touch::Rect;

constexpr std::size_t kKeys = 3;  // note, take back, later: the last cells of its grid

// Keys of the pad.
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
  const std::size_t rows = (kPercentTiles + kKeys + layout.columns - 1) / layout.columns;
  const auto lines = touch::split(layout.pad, Axis::kDown, rows, keys.gap);
  const auto cells = touch::split(lines.back(), Axis::kAcross, layout.columns, keys.gap);
  layout.later = cells[layout.columns - 1];
  layout.take_back = cells[layout.columns - 2];
  layout.note = cells[layout.columns - 3];
  if (rows * layout.columns > kPercentTiles + kKeys)
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

// As high as the value being entered needs, and a little air where usual text leaves it.
float chips_height(const touch::Ui& ui) {
  return touch::dense_field_height(ui) + ui.mm(ui.look().large_text ? 0 : 0.3);
}

// Wide and small: the pad takes the whole width; number, stakes, chips and keys in two strips.
void compact_wide(const touch::Ui& ui, const Keys& keys, RateLayout& layout) {
  Cutter down(full_page(ui), Axis::kDown, close_gap(ui));
  layout.columns = 7;
  layout.pad = down.take_end(block(keys, 3) + clear_of_pad(ui));
  layout.pad.top += clear_of_pad(ui);
  layout.pad_above_keys = layout.pad;
  const Rect strip = down.take_end(chips_height(ui));
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
  // The only place as wide as a sentence; what was tapped last can still be taken back.
  layout.notice = layout.measures;
}

// Upright and small: way out, number, stakes, who holds the tablet.
void tight_top(const touch::Ui& ui, const Rect& strip, RateLayout& layout) {
  Cutter top(strip, Axis::kAcross, close_gap(ui));
  layout.back = top.take(ui.mm(12.4));
  layout.hand = top.take_end(ui.mm(14));
  layout.plot = top.take(ui.mm(36.5));
  layout.lane = top.take_rest();
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
  layout.measures = down.take_end(chips_height(ui));
  layout.measure_columns = 0;
  layout.notice = layout.measures;
  tight_top(ui, down.take_rest(), layout);
}

// Gloves, wide and small: stakes and small keys in the strip above, chips in the column beside the
// pad of three rows.
void gloved_wide(const touch::Ui& ui, const Keys& keys, RateLayout& layout) {
  const float clear = (keys.gap + close_gap(ui)) / 2;
  // The measures' names need the margin at the pad's side too.
  Rect page = full_page(ui);
  (ui.left_handed() ? page.left : page.right) += ui.mm(ui.left_handed() ? -1.2 : 1.2);
  Cutter down(page, Axis::kDown, clear);
  layout.columns = 5;
  layout.rows = 3;
  Cutter low(down.take_end(block(keys, layout.rows)), Axis::kAcross, clear);
  const float width = block(keys, layout.columns);
  layout.pad = ui.left_handed() ? low.take(width) : low.take_end(width);
  layout.pad_above_keys = layout.pad;
  // The last cell: half of a percent's tiles leave three.
  layout.fine = {layout.pad.right - keys.side, layout.pad.bottom - keys.side, layout.pad.right,
                 layout.pad.bottom};
  Cutter side(outwards(ui, low.take_rest()), Axis::kDown, close_gap(ui));
  layout.where = side.take_end(ui.mm(15));
  layout.spare = layout.where;
  layout.measures = side.take_rest();
  layout.stacked = true;
  Cutter top(down.take_rest(), Axis::kAcross, close_gap(ui));
  layout.back = top.take(ui.mm(13));
  layout.hand = top.take_end(ui.mm(16));
  layout.lock = top.take_end(ui.mm(12.4));
  layout.later = top.take_end(ui.mm(17.1));
  layout.take_back = top.take_end(ui.mm(12.4));
  layout.note = top.take_end(ui.mm(14.6));
  layout.plot = top.take(ui.mm(31));
  layout.lane = top.take_rest();
  layout.notice = {layout.plot.left, layout.plot.top, layout.lane.right, layout.plot.bottom};
}

// Gloves, upright and small: number and stakes, chips, and room for a pad's words above; small keys
// in the column beside the pad of three columns.
void gloved_tall(const touch::Ui& ui, const Keys& keys, RateLayout& layout) {
  const float clear = (keys.gap + close_gap(ui)) / 2;
  Cutter down(full_page(ui).grown(ui.mm(0.4)), Axis::kDown, clear);
  layout.columns = 3;
  layout.rows = 4;
  Cutter low(down.take_end(block(keys, layout.rows)), Axis::kAcross, clear);
  const float width = block(keys, layout.columns);
  layout.pad = ui.left_handed() ? low.take(width) : low.take_end(width);
  layout.pad_above_keys = layout.pad;
  const auto side = touch::split(outwards(ui, low.take_rest()), Axis::kDown, 6, close_gap(ui));
  layout.lock = side[0];
  layout.aside = {side[1].left, side[1].top, side[2].right, side[2].bottom};
  layout.fine = side[2];
  layout.note = side[3];
  layout.take_back = side[4];
  layout.later = side[5];
  Cutter above(down.take_rest(), Axis::kDown, close_gap(ui));
  const float top = above.left_over() - touch::dense_field_height(ui) - 2 * close_gap(ui);
  tight_top(ui, above.take(std::max(ui.mm(14.6), top - ui.mm(17.6))), layout);
  layout.measures = above.take(touch::dense_field_height(ui));
  layout.measure_columns = 0;
  layout.spare = above.take_rest();
  layout.notice = layout.measures;
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
  const Keys keys{ui.key(), ui.gap()};
  RateLayout layout;
  layout.roomy = roomy_fits(ui, keys, measures);
  const bool whole = layout.roomy || compact_fits(ui, keys);
  if (layout.roomy && ui.portrait())
    roomy_tall(ui, keys, layout, measures);
  else if (layout.roomy)
    roomy_wide(ui, keys, layout, measures);
  else if (ui.portrait())
    whole ? compact_tall(ui, keys, layout) : gloved_tall(ui, keys, layout);
  else
    whole ? compact_wide(ui, keys, layout) : gloved_wide(ui, keys, layout);
  return layout;
}

}  // namespace ligule::screens
