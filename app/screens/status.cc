// The end of a head: whether all is kept, the clock, whose hand it is.
#include <algorithm>

#include "app/screens/pen.h"

namespace ligule::screens {

using touch::Axis;
using touch::Cutter;
using touch::Font;
using touch::Rect;
using touch::Shape;
using touch::Tone;

namespace {

// Something could not be saved, all that was entered is kept, or some of it is on its way.
Shape saving_sign(const flow::HeadView& head) {
  if (head.not_saved > 0) return Shape::kHeld;
  return head.saving == 0 ? Shape::kDone : Shape::kNow;
}
std::string saving_words(const Pen& pen, const flow::HeadView& head) {
  if (head.not_saved > 0) return std::string(pen.words("mark.not_saved"));
  if (head.saving == 0) return std::string(pen.words("head.all_kept"));
  return pen.words.count("head.saving", static_cast<int>(head.saving));
}

}  // namespace

Rect draw_status(const Pen& pen, const Rect& strip, const flow::HeadView& head) {
  touch::Ui& ui = pen.ui;
  Cutter across(strip, Axis::kAcross, ui.mm(4));
  if (!head.initials.empty()) {
    const Rect place = across.take_end(hand_key_width(ui, head.initials));
    draw_hand_key(pen, touch::centred(place, place.width(), std::min(place.height(), ui.mm(14))),
                  head.initials);
  }
  const auto word = [&](std::string_view text, Font font, Tone tone) {
    line(pen, across.take_end(touch::text_width(ui, text, font) + 1), text, {font, tone});
  };
  word(head.clock, Font::kStrong, Tone::kInk);
  word(saving_words(pen, head), Font::kBody, Tone::kInkSoft);
  const Rect sign = across.take_end(ui.mm(5));
  ui.canvas().shape(saving_sign(head), touch::centred(sign, ui.mm(5), ui.mm(5)));
  if (head.demo) word(pen.words("head.demo"), Font::kStrong, Tone::kAction);
  return across.take_rest();
}

Rect draw_short_status(const Pen& pen, const Rect& strip, const flow::HeadView& head,
                       float keep_free) {
  touch::Ui& ui = pen.ui;
  Cutter right(strip, Axis::kAcross, ui.mm(4));
  const float width = hand_key_width(ui, head.initials);
  if (!head.initials.empty() && right.left_over() - width - ui.mm(4) >= keep_free) {
    const Rect place = right.take_end(width);
    draw_hand_key(pen, touch::centred(place, width, std::min(place.height(), ui.mm(14))),
                  head.initials);
  }
  const float clock = touch::text_width(ui, head.clock, Font::kStrong) + 1;
  const float side = ui.mm(5);
  const Shape saving = saving_sign(head);
  // On narrow glass the sign of saving stands above the clock.
  const float stack = side + ui.mm(0.6) + ui.mm(ui.sizes().capital_mm(Font::kStrong) * 1.34) + 1;
  const bool beside = right.left_over() - clock - side - 2 * ui.mm(4) >= keep_free;
  if (!beside && right.rest().height() >= stack &&
      right.left_over() - clock - ui.mm(4) >= keep_free) {
    Cutter down(touch::centred(right.take_end(clock), clock, stack), Axis::kDown, ui.mm(0.6));
    ui.canvas().shape(saving, touch::centred(down.take(side), side, side));
    line(pen, down.take_rest(), head.clock, {Font::kStrong});
    return right.take_rest();
  }
  if (right.left_over() - clock - ui.mm(4) >= keep_free)
    line(pen, right.take_end(clock), head.clock, {Font::kStrong});
  if (right.left_over() - side - ui.mm(4) >= keep_free)
    ui.canvas().shape(saving, touch::centred(right.take_end(side), side, side));
  return right.take_rest();
}

float status_width(const Pen& pen, const flow::HeadView& head) {
  const touch::Ui& ui = pen.ui;
  const std::string saving = pen.words.count("head.saving", static_cast<int>(head.saving));
  float width = touch::text_width(ui, head.clock, Font::kStrong) + ui.mm(4);
  width += std::max({touch::text_width(ui, saving, Font::kBody),
                     touch::text_width(ui, pen.words("head.all_kept"), Font::kBody),
                     touch::text_width(ui, saving_words(pen, head), Font::kBody)}) +
           ui.mm(4 + 5 + 4);
  if (!head.initials.empty()) width += hand_key_width(ui, head.initials) + ui.mm(4);
  if (head.demo) width += touch::text_width(ui, pen.words("head.demo"), Font::kStrong) + ui.mm(4);
  return width;
}

}  // namespace ligule::screens
