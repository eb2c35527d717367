// Drawing by hand inside a widget: the backgrounds of tiles, drawn stages, plot maps.
//
// Colours come as tones of the theme (or an own 0xRRGGBB for amounts on a map). There is no text
// here on purpose: text goes through text.h, so that it enters the register.
#pragma once

#include <cstdint>
#include <span>

#include "app/touch/theme.h"

struct ImDrawList;

namespace ligule::touch {

// The states a plot, value or stake can be in. Each has its own outline; the tone only helps.
enum class Shape {
  kDone,        // disc with a check
  kNow,         // ring with a full middle
  kOpen,        // empty ring
  kQuestioned,  // triangle with a mark
  kHeld,        // square with two bars
  kLater,       // ring, half filled
  kLost,        // cross
  kFlag,        // flag on a staff
  kStruck,      // square, struck through
  kDash,        // dash
  kOther,       // two arrows, there and back
  kCard,        // a memory card
};

class Canvas {
 public:
  Canvas(ImDrawList& list, const Palette& palette, const Sizes& sizes)
      : list_(&list), palette_(&palette), sizes_(&sizes) {}

  void fill(const Rect& rect, Tone tone, float radius = 0) const;
  // Rounded at the corners of one side only: a band along the edge of a rounded sheet.
  enum class Side { kTop, kLeft };
  void band(const Rect& rect, Tone tone, float radius, Side side) const;
  void fill_rgb(const Rect& rect, std::uint32_t rgb) const;
  // The border lies inside the rectangle.
  void outline(const Rect& rect, Tone tone, float thickness, float radius = 0) const;
  void line(Point from, Point to, Tone tone, float thickness) const;
  void polyline(std::span<const Point> points, Tone tone, float thickness, bool closed) const;
  void polygon(std::span<const Point> points, Tone tone) const;  // convex, clockwise
  void disc(Point centre, float radius, Tone tone) const;
  void ring(Point centre, float radius, Tone tone, float thickness) const;
  // The sign of a state, as large as fits a square in the middle of rect.
  void shape(Shape shape, const Rect& rect) const;
  // Hides what is drawn outside rect until the matching unclip().
  void clip(const Rect& rect) const;
  void unclip() const;

  [[nodiscard]] const Sizes& sizes() const { return *sizes_; }
  [[nodiscard]] std::uint32_t rgb(Tone tone) const { return (*palette_)[tone]; }

 private:
  ImDrawList* list_;
  const Palette* palette_;
  const Sizes* sizes_;
};

}  // namespace ligule::touch
