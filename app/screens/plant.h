// How a plant is drawn by hand: leaves, stems, heads on a picture of its own size. Inside this room
// only.
#pragma once

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <vector>

#include "app/touch/canvas.h"

namespace ligule::screens {

using touch::Canvas;
using touch::Point;
using touch::Rect;
using touch::Tone;

// One number from 0 to 1 for a place on a grid, always the same.
inline double chance(std::uint32_t x, std::uint32_t y) {
  std::uint32_t h = x * 0x9E3779B1U + y * 0x85EBCA77U + 0x2545F491U;
  h ^= h >> 15U;
  h *= 0x2C1B3C6DU;
  h ^= h >> 12U;
  h *= 0x297A2D39U;
  h ^= h >> 15U;
  return static_cast<double>(h) / 4294967295.0;
}

// A picture whose x runs from -1 to 1 and whose y runs from the ground, 0, up to 1.
class Plant {
 public:
  Plant(const Canvas& paint, const Rect& room) : paint_(paint), room_(room) {
    paint.fill(room, Tone::kCard);
    room_.bottom -= room.height() * 0.06F;
    room_.top += room.height() * 0.04F;
    unit_ = std::min(room_.height(), room_.width() * 1.3F);
    paint.line({room.left + room.width() * 0.12F, room_.bottom},
               {room.right - room.width() * 0.12F, room_.bottom}, Tone::kLine, thick(0.02));
  }

  [[nodiscard]] Point at(double x, double y) const {
    return {room_.centre().x + static_cast<float>(x) * unit_ / 2,
            room_.bottom - static_cast<float>(y) * unit_};
  }
  [[nodiscard]] float thick(double share) const {
    return std::max(1.0F, static_cast<float>(share) * unit_);
  }

  void stem(double x0, double y0, double x1, double y1, double width = 0.035,
            Tone tone = Tone::kDone) const {
    paint_.line(at(x0, y0), at(x1, y1), tone, thick(width));
  }
  // A leaf that rises and bends over, thick at the base.
  void blade(double x, double y, double reach, double rise, double width = 0.06,
             Tone tone = Tone::kDone) const {
    constexpr int kSteps = 8;
    Point last = at(x, y);
    for (int n = 1; n <= kSteps; ++n) {
      const double t = static_cast<double>(n) / kSteps;
      const double px = x + reach * (0.35 * t + 0.65 * t * t);
      const double py = y + rise * (1.7 * t - 0.7 * t * t * (1 + 0.3 * t));
      const Point next = at(px, py);
      const float across = thick(width * (1.05 - 0.85 * t));
      paint_.line(last, next, tone, across);
      paint_.disc(next, across / 2, tone);  // closes the joint
      last = next;
    }
  }
  void dot(double x, double y, double radius, Tone tone) const {
    paint_.disc(at(x, y), thick(radius), tone);
  }
  void ring(double x, double y, double radius, Tone tone) const {
    paint_.disc(at(x, y), thick(radius), Tone::kCard);
    paint_.ring(at(x, y), thick(radius), tone, thick(0.016));
  }
  // An upright lens: a swollen sheath, a head.
  void lens(double x, double low, double high, double half, Tone tone) const {
    std::vector<Point> rim;
    constexpr int kSteps = 8;
    for (int n = 0; n <= kSteps; ++n) rim.push_back(edge(x, low, high, half, n, kSteps));
    for (int n = kSteps - 1; n > 0; --n) rim.push_back(edge(x, low, high, -half, n, kSteps));
    std::ranges::reverse(rim);
    paint_.polygon(rim, tone);
  }

 private:
  [[nodiscard]] Point edge(double x, double low, double high, double half, int n, int steps) const {
    const double t = static_cast<double>(n) / steps;
    return at(x + half * std::sin(t * 3.14159), low + (high - low) * t);
  }

  const Canvas& paint_;
  Rect room_;
  float unit_ = 1;
};

}  // namespace ligule::screens
