// Points and rectangles on the glass, in pixels of the drawn picture.
//
// Plain values for platform, touch and screens, so that a screen can lay itself out without the
// drawing library. y grows downwards.
#pragma once

#include <algorithm>

namespace ligule::platform {

struct Point {
  float x = 0;
  float y = 0;
  bool operator==(const Point&) const = default;
};

struct Size {
  int width = 0;
  int height = 0;
  bool operator==(const Size&) const = default;
};

// left/top are inside, right/bottom just outside.
struct Rect {
  float left = 0;
  float top = 0;
  float right = 0;
  float bottom = 0;

  [[nodiscard]] float width() const { return right - left; }
  [[nodiscard]] float height() const { return bottom - top; }
  [[nodiscard]] bool empty() const { return right <= left || bottom <= top; }
  [[nodiscard]] Point centre() const { return {(left + right) / 2, (top + bottom) / 2}; }
  [[nodiscard]] float area() const { return empty() ? 0.0F : width() * height(); }
  [[nodiscard]] bool contains(Point p) const {
    return p.x >= left && p.x < right && p.y >= top && p.y < bottom;
  }
  // Touching edges do not count as overlap.
  [[nodiscard]] bool overlaps(const Rect& other) const { return !common(other).empty(); }
  [[nodiscard]] Rect common(const Rect& other) const {
    return {std::max(left, other.left), std::max(top, other.top), std::min(right, other.right),
            std::min(bottom, other.bottom)};
  }
  // Grown by so much on every side; a negative amount shrinks.
  [[nodiscard]] Rect grown(float by) const {
    return {left - by, top - by, right + by, bottom + by};
  }
  [[nodiscard]] Rect moved(float dx, float dy) const {
    return {left + dx, top + dy, right + dx, bottom + dy};
  }
  bool operator==(const Rect&) const = default;
};

}  // namespace ligule::platform
