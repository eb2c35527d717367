#include "sync/results/svg.h"

#include "sync/results/html.h"
#include "sync/results/labels.h"

namespace ligule::results {
namespace {

// name="1.5": a tenth of a pixel is finer than paper shows.
std::string length(std::string_view name, double pixels) {
  return " " + std::string(name) + "=\"" + rounded(pixels, 1) + "\"";
}

std::string of_class(std::string_view style) {
  return style.empty() ? std::string() : " class=\"" + std::string(style) + "\"";
}

}  // namespace

void Svg::line(double x1, double y1, double x2, double y2, std::string_view style) {
  content_ += "<line" + length("x1", x1) + length("y1", y1) + length("x2", x2) + length("y2", y2) +
              of_class(style) + "/>\n";
}

void Svg::dot(double x, double y, double radius, std::string_view style) {
  content_ += "<circle" + length("cx", x) + length("cy", y) + length("r", radius) +
              of_class(style) + "/>\n";
}

void Svg::box(double x, double y, double width, double height, std::string_view style,
              std::string_view tip) {
  content_ += "<rect" + length("x", x) + length("y", y) + length("width", width) +
              length("height", height) + of_class(style);
  content_ += tip.empty() ? std::string("/>\n")
                          : ">" + results::element("title", escaped(tip)) + "</rect>\n";
}

void Svg::text(double x, double y, std::string_view words, Anchor anchor, std::string_view style) {
  const std::string_view where = anchor == Anchor::kEnd      ? " text-anchor=\"end\""
                                 : anchor == Anchor::kMiddle ? " text-anchor=\"middle\""
                                                             : "";
  content_ += "<text" + length("x", x) + length("y", y) + std::string(where) + of_class(style) +
              ">" + escaped(words) + "</text>\n";
}

std::string Svg::element(std::string_view title) const {
  const std::string size = rounded(width_, 0) + " " + rounded(height_, 0);
  return results::element("svg", "\n" + results::element("title", escaped(title)) + "\n" + content_,
                          "viewBox=\"0 0 " + size + "\" width=\"" + rounded(width_, 0) +
                              "\" height=\"" + rounded(height_, 0) + "\" role=\"img\"") +
         "\n";
}

}  // namespace ligule::results
