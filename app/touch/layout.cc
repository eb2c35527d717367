#include "app/touch/layout.h"

#include <algorithm>
#include <cmath>

namespace ligule::touch {

float Cutter::left_over() const {
  return std::max(0.0F, axis_ == Axis::kDown ? rest_.height() : rest_.width());
}

Rect Cutter::take(float thickness) {
  const float taken = std::clamp(thickness, 0.0F, left_over());
  Rect strip = rest_;
  if (axis_ == Axis::kDown) {
    strip.bottom = rest_.top + taken;
    rest_.top = std::min(rest_.bottom, strip.bottom + gap_);
  } else {
    strip.right = rest_.left + taken;
    rest_.left = std::min(rest_.right, strip.right + gap_);
  }
  return strip;
}

Rect Cutter::take_end(float thickness) {
  const float taken = std::clamp(thickness, 0.0F, left_over());
  Rect strip = rest_;
  if (axis_ == Axis::kDown) {
    strip.top = rest_.bottom - taken;
    rest_.bottom = std::max(rest_.top, strip.top - gap_);
  } else {
    strip.left = rest_.right - taken;
    rest_.right = std::max(rest_.left, strip.left - gap_);
  }
  return strip;
}

Rect Cutter::take_rest() {
  return take(left_over());
}

std::vector<Rect> split(const Rect& area, Axis axis, std::size_t n, float gap) {
  std::vector<Rect> strips;
  if (n == 0) return strips;
  const float whole = axis == Axis::kDown ? area.height() : area.width();
  const float each = (whole - gap * static_cast<float>(n - 1)) / static_cast<float>(n);
  for (std::size_t i = 0; i < n; ++i) {
    const float start = static_cast<float>(i) * (each + gap);
    strips.push_back(
        axis == Axis::kDown
            ? Rect{area.left, area.top + start, area.right, area.top + start + each}
            : Rect{area.left + start, area.top, area.left + start + each, area.bottom});
  }
  return strips;
}

Rect Grid::cell(std::size_t n) const {
  if (columns == 0 || n >= columns * rows) return {};
  const std::size_t row = n / columns;
  const float left = area.left + static_cast<float>(n % columns) * (cell_width + gap);
  const float top = area.top + static_cast<float>(row) * (cell_height + gap);
  return {left, top, left + cell_width, top + cell_height};
}

Grid fit_grid(const Rect& area, std::size_t n, float least, float most, float gap,
              std::size_t columns) {
  Grid best;
  if (n == 0 || area.empty()) return best;
  float best_side = -1;
  const std::size_t from = columns == 0 ? 1 : columns;
  const std::size_t to = columns == 0 ? n : columns;
  for (std::size_t across = from; across <= to; ++across) {
    const std::size_t down = (n + across - 1) / across;
    const float width =
        (area.width() - gap * static_cast<float>(across - 1)) / static_cast<float>(across);
    const float height =
        (area.height() - gap * static_cast<float>(down - 1)) / static_cast<float>(down);
    // Nearest to a large square wins; a short last row costs a little.
    const float full = static_cast<float>(n) / static_cast<float>(across * down);
    const float side = std::min({width, height, most}) * (0.8F + 0.2F * full);
    if (side <= best_side) continue;
    best_side = side;
    best = {across, down, std::min(width, most * 1.6F), std::min(height, most), gap, {}};
  }
  if (std::min(best.cell_width, best.cell_height) < least * 0.999F) return {};
  best.area = {area.left, area.top,
               area.left + best.cell_width * static_cast<float>(best.columns) +
                   gap * static_cast<float>(best.columns - 1),
               area.top + best.cell_height * static_cast<float>(best.rows) +
                   gap * static_cast<float>(best.rows - 1)};
  return best;
}

Rect centred(const Rect& area, float width, float height) {
  const float w = std::min(width, area.width());
  const float h = std::min(height, area.height());
  const Point middle = area.centre();
  return {middle.x - w / 2, middle.y - h / 2, middle.x + w / 2, middle.y + h / 2};
}

}  // namespace ligule::touch
