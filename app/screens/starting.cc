// The moment before there is anything to show: that the program was started, and what it does.
#include <algorithm>
#include <array>

#include "app/screens/pen.h"

namespace ligule::screens {

using touch::Align;
using touch::Axis;
using touch::Cutter;
using touch::Font;
using touch::Point;
using touch::Rect;
using touch::Tone;

namespace {

// The program's sign as it stands in the menu (app/packaging/ligule.svg), 64 wide and high: a blade
// leaves its sheath, and where they meet is the ligule.
class ProgramSign {
 public:
  ProgramSign(const touch::Canvas& canvas, const Rect& rect) : canvas_(canvas), rect_(rect) {
    canvas.fill(rect, Tone::kCard, rect.width() * 0.19F);
    part({{27, 62}, {27, 34}, {30, 25}, {36, 25}, {37, 34}, {37, 62}}, Tone::kDone);
    blade();
    part({{30, 27}, {30, 5}, {34, 5}, {34, 27}}, Tone::kInkSoft);
    part({{28, 28}, {31, 20}, {34, 28}}, Tone::kAttention);
    part({{33, 28}, {37, 20}, {38, 28}}, Tone::kAttention);
  }

 private:
  struct At {
    double x, y;
  };
  using Curve = std::array<At, 4>;  // cubic, by its ends and what it bends to

  [[nodiscard]] Point on_glass(const At& at) const {
    const double unit = static_cast<double>(rect_.width()) / 64;
    return {rect_.left + static_cast<float>(unit * at.x),
            rect_.top + static_cast<float>(unit * at.y)};
  }
  static At along(const Curve& curve, double t) {
    const double u = 1 - t;
    const std::array weights{u * u * u, 3 * u * u * t, 3 * u * t * t, t * t * t};
    At at{0, 0};
    for (std::size_t n = 0; n < curve.size(); ++n) {
      at.x += weights.at(n) * curve.at(n).x;
      at.y += weights.at(n) * curve.at(n).y;
    }
    return at;
  }
  // Convex, clockwise.
  void part(const std::vector<At>& corners, Tone tone) const {
    std::vector<Point> points;
    points.reserve(corners.size());
    for (const At& corner : corners) points.push_back(on_glass(corner));
    canvas_.polygon(points, tone);
  }
  void blade() const {
    constexpr Curve kUpper{{{34, 27}, {38, 14}, {47, 6}, {59, 4}}};
    constexpr Curve kLower{{{37, 31}, {46, 21}, {52, 12}, {59, 4}}};
    constexpr int kSteps = 10;
    // In one piece: each has a soft edge of its own, and seams between pieces would show.
    std::vector<At> edge;
    edge.reserve(2 * kSteps + 1);
    for (int n = 0; n <= kSteps; ++n)
      edge.push_back(along(kUpper, static_cast<double>(n) / kSteps));
    for (int n = kSteps - 1; n >= 0; --n)
      edge.push_back(along(kLower, static_cast<double>(n) / kSteps));
    part(edge, Tone::kAction);
  }

  const touch::Canvas& canvas_;
  Rect rect_;
};

}  // namespace

void draw_starting(const Pen& pen, const flow::StartingView&) {
  touch::Ui& ui = pen.ui;
  const std::string_view what = pen.words("starting.what");
  const float width = ui.page().width();
  const float sign = ui.mm(30);
  const float title = touch::line_height(ui, Font::kHead);
  const float words = touch::text_height(ui, what, Font::kBody, width);
  const float air = ui.mm(4);
  Cutter down(touch::centred(ui.page(), width, sign + title + words + 2 * air), Axis::kDown, air);
  const touch::Canvas canvas = ui.canvas();
  (void)ProgramSign(canvas, touch::centred(down.take(sign), sign, sign));
  line(pen, down.take(title), pen.words("starting.title"),
       {Font::kHead, Tone::kInk, Align::kMiddle});
  touch::text(ui, down.take_rest(),
              {.text = what, .tone = Tone::kInkSoft, .across = Align::kMiddle, .lines = 3});
}

}  // namespace ligule::screens
