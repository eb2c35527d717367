// Draws the drawing library's triangles without a graphics chip.
//
// SDL's software renderer rounds every corner to a whole pixel (circles wobble) and is slow on
// large faces. This one samples at pixel centres, fills even faces a row at a time, and gives the
// same picture on every machine. Inside platform only.
#pragma once

#include <imgui.h>

#include <cstdint>
#include <span>
#include <vector>

#include "app/platform/geometry.h"

namespace ligule::platform {

class Raster {
 public:
  // The letters: one byte of coverage a pixel.
  void set_letters(std::span<const std::uint8_t> alpha, Size size, ImVec2 white);
  // A new sheet of that size and colour, 0xRRGGBB.
  void clear(Size size, std::uint32_t rgb);
  void draw(const ImDrawData& data);
  // 0x00RRGGBB, rows from the top.
  [[nodiscard]] const std::vector<std::uint32_t>& pixels() const { return pixels_; }

 private:
  struct Clip {
    int left, top, right, bottom;
  };
  void command(const ImDrawList& list, const ImDrawCmd& command);
  bool upright_quad(const ImDrawVert* corners[4], const Clip& clip);
  void triangle(const ImDrawVert& a, const ImDrawVert& b, const ImDrawVert& c, const Clip& clip);
  void fill_row(int y, int from, int to, ImU32 colour);
  void blend(std::uint32_t& pixel, ImU32 colour, std::uint32_t coverage) const;
  [[nodiscard]] bool is_white(const ImVec2& uv) const {
    return uv.x == white_.x && uv.y == white_.y;
  }

  std::vector<std::uint32_t> pixels_;
  Size size_;
  std::vector<std::uint8_t> letters_;
  Size letters_size_;
  ImVec2 white_{};
};

}  // namespace ligule::platform
