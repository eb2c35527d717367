#include "app/platform/raster.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

namespace ligule::platform {
namespace {

std::uint32_t channel(ImU32 colour, int shift) {
  return (colour >> shift) & 0xFFU;
}

// Where an edge crosses the middle of a row. Always computed from the upper end, so that two
// triangles that share an edge agree on every pixel along it.
float crossing(const ImVec2& p, const ImVec2& q, float y) {
  const ImVec2& upper = p.y < q.y || (p.y == q.y && p.x < q.x) ? p : q;
  const ImVec2& lower = &upper == &p ? q : p;
  return upper.x + (y - upper.y) * (lower.x - upper.x) / (lower.y - upper.y);
}

// First pixel whose middle is at or right of x.
int first_pixel(float x) {
  return static_cast<int>(std::ceil(x - 0.5F));
}

// A channel's value as a plane over the triangle.
struct Plane {
  float at_origin = 0;
  float per_x = 0;
  float per_y = 0;
  [[nodiscard]] float at(float x, float y) const { return at_origin + per_x * x + per_y * y; }
};

Plane plane(const std::array<ImVec2, 3>& p, float double_area, float a, float b, float c) {
  Plane out;
  out.per_x = ((b - a) * (p[2].y - p[0].y) - (c - a) * (p[1].y - p[0].y)) / double_area;
  out.per_y = ((c - a) * (p[1].x - p[0].x) - (b - a) * (p[2].x - p[0].x)) / double_area;
  out.at_origin = a - out.per_x * p[0].x - out.per_y * p[0].y;
  return out;
}

std::uint32_t to_byte(float value) {
  return static_cast<std::uint32_t>(std::clamp(value + 0.5F, 0.0F, 255.0F));
}

}  // namespace

void Raster::set_letters(std::span<const std::uint8_t> alpha, Size size, ImVec2 white) {
  letters_.assign(alpha.begin(), alpha.end());
  letters_size_ = size;
  white_ = white;
}

void Raster::clear(Size size, std::uint32_t rgb) {
  size_ = size;
  pixels_.assign(static_cast<std::size_t>(size.width) * static_cast<std::size_t>(size.height), rgb);
}

void Raster::draw(const ImDrawData& data) {
  for (int n = 0; n < data.CmdListsCount; ++n)
    for (const ImDrawCmd& one : data.CmdLists[n]->CmdBuffer) command(*data.CmdLists[n], one);
}

void Raster::blend(std::uint32_t& pixel, ImU32 colour, std::uint32_t coverage) const {
  const std::uint32_t alpha = channel(colour, IM_COL32_A_SHIFT) * coverage / 255;
  const auto mixed = [&](std::uint32_t over, int shift) {
    const std::uint32_t under = (pixel >> shift) & 0xFFU;
    return (over * alpha + under * (255 - alpha) + 127) / 255 << shift;
  };
  pixel = mixed(channel(colour, IM_COL32_R_SHIFT), 16) |
          mixed(channel(colour, IM_COL32_G_SHIFT), 8) | mixed(channel(colour, IM_COL32_B_SHIFT), 0);
}

void Raster::fill_row(int y, int from, int to, ImU32 colour) {
  if (from >= to) return;
  const auto start = pixels_.begin() + static_cast<std::ptrdiff_t>(y) * size_.width;
  if (channel(colour, IM_COL32_A_SHIFT) == 255) {
    const std::uint32_t rgb = channel(colour, IM_COL32_R_SHIFT) << 16U |
                              channel(colour, IM_COL32_G_SHIFT) << 8U |
                              channel(colour, IM_COL32_B_SHIFT);
    std::fill(start + from, start + to, rgb);
    return;
  }
  for (int x = from; x < to; ++x) blend(start[x], colour, 255);
}

void Raster::command(const ImDrawList& list, const ImDrawCmd& command) {
  const Clip clip{std::max(0, static_cast<int>(command.ClipRect.x)),
                  std::max(0, static_cast<int>(command.ClipRect.y)),
                  std::min(size_.width, static_cast<int>(command.ClipRect.z)),
                  std::min(size_.height, static_cast<int>(command.ClipRect.w))};
  if (clip.left >= clip.right || clip.top >= clip.bottom) return;
  const ImDrawVert* vertices = list.VtxBuffer.Data + command.VtxOffset;
  const ImDrawIdx* index = list.IdxBuffer.Data + command.IdxOffset;
  for (unsigned n = 0; n + 2 < command.ElemCount;) {
    // Letters and plain rectangles come as a b c, a c d.
    if (n + 5 < command.ElemCount && index[n] == index[n + 3] && index[n + 2] == index[n + 4]) {
      const ImDrawVert* corners[4] = {vertices + index[n], vertices + index[n + 1],
                                      vertices + index[n + 2], vertices + index[n + 5]};
      if (upright_quad(corners, clip)) {
        n += 6;
        continue;
      }
    }
    triangle(vertices[index[n]], vertices[index[n + 1]], vertices[index[n + 2]], clip);
    n += 3;
  }
}

bool Raster::upright_quad(const ImDrawVert* corners[4], const Clip& clip) {
  const ImDrawVert& a = *corners[0];
  const ImDrawVert& b = *corners[1];
  const ImDrawVert& c = *corners[2];
  const ImDrawVert& d = *corners[3];
  const bool upright = a.pos.y == b.pos.y && b.pos.x == c.pos.x && c.pos.y == d.pos.y &&
                       d.pos.x == a.pos.x && a.pos.x < c.pos.x && a.pos.y < c.pos.y;
  const bool even = a.col == b.col && b.col == c.col && c.col == d.col;
  if (!upright || !even) return false;
  const int left = std::max(clip.left, first_pixel(a.pos.x));
  const int right = std::min(clip.right, first_pixel(c.pos.x));
  const int top = std::max(clip.top, first_pixel(a.pos.y));
  const int bottom = std::min(clip.bottom, first_pixel(c.pos.y));
  if (is_white(a.uv) && is_white(c.uv)) {
    for (int y = top; y < bottom; ++y) fill_row(y, left, right, a.col);
    return true;
  }
  const float u_step = (c.uv.x - a.uv.x) / (c.pos.x - a.pos.x);
  const float v_step = (c.uv.y - a.uv.y) / (c.pos.y - a.pos.y);
  const auto letter_width = static_cast<float>(letters_size_.width);
  const auto letter_height = static_cast<float>(letters_size_.height);
  for (int y = top; y < bottom; ++y) {
    const float v = a.uv.y + (static_cast<float>(y) + 0.5F - a.pos.y) * v_step;
    const int row = std::clamp(static_cast<int>(v * letter_height), 0, letters_size_.height - 1);
    const std::uint8_t* letters =
        letters_.data() + static_cast<std::ptrdiff_t>(row) * letters_size_.width;
    std::uint32_t* pixels = pixels_.data() + static_cast<std::ptrdiff_t>(y) * size_.width;
    for (int x = left; x < right; ++x) {
      const float u = a.uv.x + (static_cast<float>(x) + 0.5F - a.pos.x) * u_step;
      const int column = std::clamp(static_cast<int>(u * letter_width), 0, letters_size_.width - 1);
      if (letters[column] != 0) blend(pixels[x], a.col, letters[column]);
    }
  }
  return true;
}

// Text is always upright, so what comes here is a face or the soft rim of one.
void Raster::triangle(const ImDrawVert& a, const ImDrawVert& b, const ImDrawVert& c,
                      const Clip& clip) {
  const std::array<ImVec2, 3> p{a.pos, b.pos, c.pos};
  const float double_area =
      (p[1].x - p[0].x) * (p[2].y - p[0].y) - (p[2].x - p[0].x) * (p[1].y - p[0].y);
  if (double_area == 0) return;
  const int top = std::max(clip.top, first_pixel(std::min({p[0].y, p[1].y, p[2].y})));
  const int bottom = std::min(clip.bottom, first_pixel(std::max({p[0].y, p[1].y, p[2].y})));
  const bool even = a.col == b.col && b.col == c.col;
  std::array<Plane, 4> planes;
  constexpr std::array kShifts{IM_COL32_R_SHIFT, IM_COL32_G_SHIFT, IM_COL32_B_SHIFT,
                               IM_COL32_A_SHIFT};
  if (!even) {
    for (std::size_t n = 0; n < 4; ++n)
      planes[n] = plane(p, double_area, static_cast<float>(channel(a.col, kShifts[n])),
                        static_cast<float>(channel(b.col, kShifts[n])),
                        static_cast<float>(channel(c.col, kShifts[n])));
  }
  for (int y = top; y < bottom; ++y) {
    const float middle = static_cast<float>(y) + 0.5F;
    float low = 1e9F;
    float high = -1e9F;
    for (std::size_t n = 0; n < 3; ++n) {
      const ImVec2& from = p[n];
      const ImVec2& to = p[(n + 1) % 3];
      if ((from.y <= middle) == (to.y <= middle)) continue;
      const float x = crossing(from, to, middle);
      low = std::min(low, x);
      high = std::max(high, x);
    }
    if (low > high) continue;
    const int left = std::max(clip.left, first_pixel(low));
    const int right = std::min(clip.right, first_pixel(high));
    if (even) {
      fill_row(y, left, right, a.col);
      continue;
    }
    std::uint32_t* pixels = pixels_.data() + static_cast<std::ptrdiff_t>(y) * size_.width;
    for (int x = left; x < right; ++x) {
      const float at = static_cast<float>(x) + 0.5F;
      ImU32 colour = 0;
      for (std::size_t n = 0; n < 4; ++n)
        colour |= to_byte(planes[n].at(at, middle)) << static_cast<unsigned>(kShifts[n]);
      blend(pixels[x], colour, 255);
    }
  }
}

}  // namespace ligule::platform
