// Text that is measured, wrapped and entered in the register.
#pragma once

#include <memory_resource>
#include <string_view>
#include <vector>

#include "app/touch/ui.h"

namespace ligule::touch {

enum class Align { kStart, kMiddle, kEnd };

struct Text {
  std::string_view text = {};
  Font font = Font::kBody;
  Tone tone = Tone::kInk;
  Align across = Align::kStart;
  Align down = Align::kMiddle;
  int lines = 1;  // wraps at words into so many lines at most
  bool may_cut =
      false;  // a person's own words (a note, a machine, an entry's name): may end in an ellipsis
  bool in_key =
      false;  // the widget it lies in is already entered under this text: only report a cut
  bool value = false;  // the value that is being entered now
};

// Draws inside rect; what does not fit is shortened and counts as a fault unless may_cut, and so
// does a word that goes on in the next line.
// Returns the height taken.
float text(Ui& ui, const Rect& rect, const Text& text);

// Width in pixels of one line.
[[nodiscard]] float text_width(const Ui& ui, std::string_view text, Font font);
// From one line's top to the next one's.
[[nodiscard]] float line_height(const Ui& ui, Font font);
// The lines it wraps into at that width; a word wider than it is broken, after a hyphen or stroke
// where it has one. A no-break space (U+00A0) keeps a number and its unit on one line. Lies in the
// memory of the frame.
[[nodiscard]] std::pmr::vector<std::string_view> wrap(const Ui& ui, std::string_view text,
                                                      Font font, float width);
// Height that `text` needs at that width.
[[nodiscard]] float text_height(const Ui& ui, std::string_view text, Font font, float width);

}  // namespace ligule::touch
