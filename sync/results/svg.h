// A drawing inside the report: lines, dots and text, no script and nothing from outside.
//
// Lengths are pixels of the drawing's own width and height; whoever shows it may scale it.
#pragma once

#include <string>
#include <string_view>

namespace ligule::results {

enum class Anchor { kStart, kMiddle, kEnd };

class Svg {
 public:
  Svg(double width, double height) : width_(width), height_(height) {}

  // `style` is a class of the report's style sheet.
  void line(double x1, double y1, double x2, double y2, std::string_view style);
  void dot(double x, double y, double radius, std::string_view style);
  // `tip` is shown where a pointer rests on it, and read to who can't see; may be empty.
  void box(double x, double y, double width, double height, std::string_view style,
           std::string_view tip = {});
  // `y` is the base line; any text, escaped here.
  void text(double x, double y, std::string_view words, Anchor anchor = Anchor::kStart,
            std::string_view style = {});

  // The whole element; `title` is what it shows, for who can't see it.
  [[nodiscard]] std::string element(std::string_view title) const;

 private:
  double width_, height_;
  std::string content_;
};

}  // namespace ligule::results
