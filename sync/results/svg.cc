#include "sync/results/svg.h"

#include "sync/results/html.h"
#include "sync/results/labels.h"

namespace ligule::results {
namespace {

// name="1.5": a tenth of a pixel is finer than paper shows.
void add_length(std::string& svg, std::string_view name, double pixels) {
  svg += ' ';
  svg += name;
  svg += "=\"";
  add_rounded(svg, pixels, 1);
  svg += '"';
}

void add_class(std::string& svg, std::string_view style) {
  if (style.empty()) return;
  svg += " class=\"";
  svg += style;
  svg += '"';
}

}  // namespace

void Svg::line(double x1, double y1, double x2, double y2, std::string_view style) {
  content_ += "<line";
  add_length(content_, "x1", x1);
  add_length(content_, "y1", y1);
  add_length(content_, "x2", x2);
  add_length(content_, "y2", y2);
  add_class(content_, style);
  content_ += "/>\n";
}

void Svg::dot(double x, double y, double radius, std::string_view style) {
  content_ += "<circle";
  add_length(content_, "cx", x);
  add_length(content_, "cy", y);
  add_length(content_, "r", radius);
  add_class(content_, style);
  content_ += "/>\n";
}

void Svg::box(double x, double y, double width, double height, std::string_view style,
              std::string_view tip) {
  content_ += "<rect";
  add_length(content_, "x", x);
  add_length(content_, "y", y);
  add_length(content_, "width", width);
  add_length(content_, "height", height);
  add_class(content_, style);
  content_ += tip.empty() ? std::string("/>\n")
                          : ">" + results::element("title", escaped(tip)) + "</rect>\n";
}

void Svg::text(double x, double y, std::string_view words, Anchor anchor, std::string_view style) {
  content_ += "<text";
  add_length(content_, "x", x);
  add_length(content_, "y", y);
  if (anchor == Anchor::kEnd) content_ += " text-anchor=\"end\"";
  if (anchor == Anchor::kMiddle) content_ += " text-anchor=\"middle\"";
  add_class(content_, style);
  content_ += '>';
  add_escaped(content_, words);
  content_ += "</text>\n";
}

std::string Svg::element(std::string_view title) const {
  const std::string size = rounded(width_, 0) + " " + rounded(height_, 0);
  return results::element("svg", "\n" + results::element("title", escaped(title)) + "\n" + content_,
                          "viewBox=\"0 0 " + size + "\" width=\"" + rounded(width_, 0) +
                              "\" height=\"" + rounded(height_, 0) + "\" role=\"img\"") +
         "\n";
}

}  // namespace ligule::results
