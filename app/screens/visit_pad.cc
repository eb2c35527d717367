// Dates reached: the plots of a block, one tap for each that reached the stage today.
#include <algorithm>

#include "app/screens/measure_pad.h"

namespace ligule::screens {

using touch::Axis;
using touch::Cutter;
using touch::Font;
using touch::Rect;
using touch::Shape;
using touch::Style;

namespace {

Shape sign_of(const flow::VisitView& plot) {
  if (plot.reached) return Shape::kDone;
  return plot.today ? Shape::kLater : Shape::kOpen;
}

void draw_plots(const Pen& pen, const Rect& rect, const flow::VisitsView& visits, bool enabled) {
  touch::Ui& ui = pen.ui;
  auto group = ui.group("Plots");
  std::vector<touch::Tile> tiles;
  for (const flow::VisitView& plot : visits.plots) {
    const Shape sign = sign_of(plot);
    touch::Tile tile{.label = plot.plot,
                     .selected = plot.reached && plot.today,
                     .enabled = enabled && (!plot.reached || plot.today)};
    tile.paint = [sign](const touch::Canvas& paint, const Rect& room) { paint.shape(sign, room); };
    tiles.push_back(std::move(tile));
  }
  const auto draw = [&](const Rect& room, std::size_t columns) {
    const auto tapped = touch::tile_pad(ui, room, tiles, {.columns = columns, .label_below = true});
    if (tapped) pen.send(flow::MarkReached{visits.plots[*tapped].plot});
  };
  const float least = ui.key();
  const touch::Grid grid = touch::fit_grid(rect, tiles.size(), least, ui.mm(34), ui.gap());
  if (grid.columns > 0) return draw(rect, grid.columns);
  // More plots than fit under a finger: they scroll.
  auto scroll = ui.scroll("plots", rect);
  Rect sheet = scroll.area();
  const float step = ui.key() + ui.gap();
  const auto columns = static_cast<std::size_t>(std::max(1.0F, (sheet.width() + ui.gap()) / step));
  const std::size_t lines = (tiles.size() + columns - 1) / columns;
  sheet.bottom = sheet.top + static_cast<float>(lines) * step;
  draw(sheet, columns);
}

}  // namespace

void draw_visit_pad(const Pen& pen, const PadRoom& room, const flow::VisitsView& visits) {
  touch::Ui& ui = pen.ui;
  Cutter down(room.area, Axis::kDown, ui.gap());
  // Its chip shows how many plots have a date.
  if (!room.definition.empty()) {
    // Large words may stand in the usual size.
    const Font font = ui.look().large_text ? Font::kCaption : Font::kBody;
    const float lines = touch::text_height(ui, room.definition, font, room.area.width()) -
                        touch::line_height(ui, font);
    touch::text(ui, down.take(ui.mm(4.6) + lines), {.text = room.definition, .lines = 2});
  }
  Cutter strip(down.take(ui.mm(14)), Axis::kAcross, ui.gap());
  const auto here = std::ranges::find(visits.blocks, visits.block);
  const bool before = here != visits.blocks.end() && here != visits.blocks.begin();
  const bool after = here != visits.blocks.end() && here + 1 != visits.blocks.end();
  touch::Key back{.label = pen.words("visits.before"), .enabled = before, .icon_only = true};
  back.paint = touch::back_sign();
  if (touch::key(ui, strip.take(ui.mm(16)), back)) pen.send(flow::ShowBlock{*(here - 1)});
  const std::string block = pen.words.fill("visits.block", {std::to_string(visits.block)});
  line(pen, strip.take(touch::text_width(ui, block, Font::kLabel) + ui.mm(1)), block,
       {.font = Font::kLabel});
  touch::Key on{.label = pen.words("visits.after"), .enabled = after, .icon_only = true};
  on.paint = touch::onward_sign();
  if (touch::key(ui, strip.take(ui.mm(16)), on)) pen.send(flow::ShowBlock{*(here + 1)});
  const Rect rest = strip.take_rest();
  Rect place = room.spare;
  if (place.width() < ui.mm(50)) place = rest.width() < ui.mm(50) ? down.take_end(ui.mm(14)) : rest;
  const std::string others =
      pen.words.count("visits.others", static_cast<std::int64_t>(visits.unsaid));
  const touch::Key key{.label = others,
                       .style = visits.unsaid > 0 ? Style::kAction : Style::kPlain,
                       .enabled = room.enabled && visits.unsaid > 0,
                       .font = Font::kStrong};
  if (touch::key(ui, place, key)) pen.send(flow::OthersNotYet{});
  draw_plots(pen, down.take_rest(), visits, room.enabled);
}

}  // namespace ligule::screens
