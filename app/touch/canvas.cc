#include "app/touch/canvas.h"

#include <imgui.h>

#include <algorithm>
#include <array>
#include <numbers>
#include <vector>

namespace ligule::touch {
namespace {

ImU32 colour(std::uint32_t rgb) {
  return IM_COL32((rgb >> 16U) & 0xFFU, (rgb >> 8U) & 0xFFU, rgb & 0xFFU, 0xFFU);
}
ImVec2 vec(Point p) {
  return {p.x, p.y};
}

// Points of the sign, given in a square from -1 to 1.
template <std::size_t N>
std::array<Point, N> placed(const std::array<Point, N>& unit, Point centre, float radius) {
  std::array<Point, N> points{};
  for (std::size_t i = 0; i < N; ++i)
    points[i] = {centre.x + unit[i].x * radius, centre.y + unit[i].y * radius};
  return points;
}

}  // namespace

void Canvas::fill(const Rect& rect, Tone tone, float radius) const {
  if (rect.empty()) return;
  list_->AddRectFilled({rect.left, rect.top}, {rect.right, rect.bottom}, colour(rgb(tone)), radius);
}

void Canvas::band(const Rect& rect, Tone tone, float radius, Side side) const {
  const ImDrawFlags corners =
      side == Side::kTop ? ImDrawFlags_RoundCornersTop : ImDrawFlags_RoundCornersLeft;
  list_->AddRectFilled({rect.left, rect.top}, {rect.right, rect.bottom}, colour(rgb(tone)), radius,
                       corners);
}

void Canvas::fill_rgb(const Rect& rect, std::uint32_t rgb) const {
  if (rect.empty()) return;
  list_->AddRectFilled({rect.left, rect.top}, {rect.right, rect.bottom}, colour(rgb));
}

void Canvas::outline(const Rect& rect, Tone tone, float thickness, float radius) const {
  if (rect.empty()) return;
  const Rect middle = rect.grown(-thickness / 2);
  list_->AddRect({middle.left, middle.top}, {middle.right, middle.bottom}, colour(rgb(tone)),
                 std::max(0.0F, radius - thickness / 2), 0, thickness);
}

void Canvas::line(Point from, Point to, Tone tone, float thickness) const {
  list_->AddLine(vec(from), vec(to), colour(rgb(tone)), thickness);
}

void Canvas::polyline(std::span<const Point> points, Tone tone, float thickness,
                      bool closed) const {
  std::vector<ImVec2> vertices;
  for (const Point& p : points) vertices.push_back(vec(p));
  list_->AddPolyline(vertices.data(), static_cast<int>(vertices.size()), colour(rgb(tone)),
                     closed ? ImDrawFlags_Closed : ImDrawFlags_None, thickness);
}

void Canvas::polygon(std::span<const Point> points, Tone tone) const {
  std::vector<ImVec2> vertices;
  for (const Point& p : points) vertices.push_back(vec(p));
  list_->AddConvexPolyFilled(vertices.data(), static_cast<int>(vertices.size()), colour(rgb(tone)));
}

void Canvas::disc(Point centre, float radius, Tone tone) const {
  list_->AddCircleFilled(vec(centre), radius, colour(rgb(tone)));
}

void Canvas::ring(Point centre, float radius, Tone tone, float thickness) const {
  list_->AddCircle(vec(centre), radius - thickness / 2, colour(rgb(tone)), 0, thickness);
}

void Canvas::clip(const Rect& rect) const {
  list_->PushClipRect({rect.left, rect.top}, {rect.right, rect.bottom}, true);
}
void Canvas::unclip() const {
  list_->PopClipRect();
}

void Canvas::shape(Shape shape, const Rect& rect) const {
  const Point c = rect.centre();
  const float r = std::min(rect.width(), rect.height()) / 2;
  if (r <= 0) return;
  const float stroke = r * 0.24F;
  constexpr float kPi = std::numbers::pi_v<float>;
  switch (shape) {
    case Shape::kDone: {
      disc(c, r, Tone::kDone);
      const auto check = placed<3>({{{-0.46F, 0.02F}, {-0.12F, 0.38F}, {0.48F, -0.36F}}}, c, r);
      polyline(check, Tone::kOnState, stroke, false);
      break;
    }
    case Shape::kNow:
      disc(c, r, Tone::kOpen);
      ring(c, r, Tone::kInk, stroke);
      disc(c, r * 0.44F, Tone::kInk);
      break;
    case Shape::kOpen:
      disc(c, r, Tone::kOpen);
      ring(c, r, Tone::kLine, stroke * 0.8F);
      break;
    case Shape::kQuestioned: {
      const auto outer = placed<3>({{{0, -0.98F}, {1.04F, 0.84F}, {-1.04F, 0.84F}}}, c, r);
      polygon(outer, Tone::kAttention);
      const auto rim = placed<3>({{{0, -0.86F}, {0.92F, 0.76F}, {-0.92F, 0.76F}}}, c, r);
      polyline(rim, Tone::kInk, stroke * 0.5F, true);
      line({c.x, c.y - r * 0.36F}, {c.x, c.y + r * 0.26F}, Tone::kOnAttention, stroke);
      disc({c.x, c.y + r * 0.52F}, stroke * 0.62F, Tone::kOnAttention);
      break;
    }
    case Shape::kHeld: {
      const Rect box{c.x - r * 0.88F, c.y - r * 0.88F, c.x + r * 0.88F, c.y + r * 0.88F};
      fill(box, Tone::kAttention, r * 0.16F);
      outline(box, Tone::kInk, stroke * 0.5F, r * 0.16F);
      for (const float side : {-0.27F, 0.27F})
        line({c.x + r * side, c.y - r * 0.42F}, {c.x + r * side, c.y + r * 0.42F},
             Tone::kOnAttention, stroke);
      break;
    }
    case Shape::kLater:
      disc(c, r, Tone::kOpen);
      list_->PathArcTo(vec(c), r * 0.92F, kPi / 2, kPi * 1.5F);
      list_->PathFillConvex(colour(rgb(Tone::kLine)));
      ring(c, r, Tone::kLine, stroke * 0.8F);
      break;
    case Shape::kLost:
      for (const float side : {-1.0F, 1.0F})
        line({c.x - r * 0.72F, c.y - side * r * 0.72F}, {c.x + r * 0.72F, c.y + side * r * 0.72F},
             Tone::kInk, stroke);
      break;
    case Shape::kStruck:
      outline({c.x - r * 0.8F, c.y - r * 0.8F, c.x + r * 0.8F, c.y + r * 0.8F}, Tone::kInk,
              stroke * 0.8F);
      line({c.x - r * 0.8F, c.y + r * 0.8F}, {c.x + r * 0.8F, c.y - r * 0.8F}, Tone::kInk,
           stroke * 0.8F);
      break;
    case Shape::kDash:
      line({c.x - r * 0.7F, c.y}, {c.x + r * 0.7F, c.y}, Tone::kInk, stroke);
      break;
    case Shape::kOther:
      for (const float way : {1.0F, -1.0F}) {
        const float y = -0.46F * way;
        const auto head =
            placed<3>({{{0.4F * way, y - 0.42F}, {0.88F * way, y}, {0.4F * way, y + 0.42F}}}, c, r);
        line({c.x - r * 0.88F * way, c.y + r * y}, {c.x + r * 0.8F * way, c.y + r * y}, Tone::kInk,
             stroke);
        polyline(head, Tone::kInk, stroke, false);
      }
      break;
    case Shape::kCard: {
      const auto card = placed<5>(
          {{{-0.7F, -0.94F}, {0.24F, -0.94F}, {0.7F, -0.46F}, {0.7F, 0.94F}, {-0.7F, 0.94F}}}, c,
          r);
      polygon(card, Tone::kOpen);
      polyline(card, Tone::kInk, stroke, true);
      for (const float x : {-0.36F, -0.04F, 0.28F})
        line({c.x + r * x, c.y - r * 0.5F}, {c.x + r * x, c.y - r * 0.1F}, Tone::kInk, stroke);
      break;
    }
    case Shape::kFlag: {
      const auto cloth = placed<3>({{{-0.5F, -0.94F}, {0.84F, -0.46F}, {-0.5F, 0.06F}}}, c, r);
      polygon(cloth, Tone::kAction);
      line({c.x - r * 0.56F, c.y - r * 0.96F}, {c.x - r * 0.56F, c.y + r * 0.98F}, Tone::kInk,
           stroke);
      break;
    }
  }
}

}  // namespace ligule::touch
