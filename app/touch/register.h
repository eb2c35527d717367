// What is on the screen, as a list: every text and everything that can be tapped.
//
// Widgets enter themselves while they draw. Drive files find keys here by label, tests measure
// rectangles here, and `list` writes it out. A widget that is not entered does not exist.
#pragma once

#include <cstdint>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "app/platform/geometry.h"

namespace ligule::touch {

using platform::Rect;
using platform::Size;

enum class Kind { kText, kKey, kTile, kStage, kField, kStake, kShape, kSheet };
[[nodiscard]] std::string_view kind_name(Kind kind);
[[nodiscard]] bool tappable(Kind kind);

struct Widget {
  std::string label;  // what stands before `##`; of a text, the whole text
  std::string group;  // names joined by '/': "Rate/Vigor"; empty at the top
  Kind kind = Kind::kText;
  Rect drawn;  // what is seen
  Rect touch;  // what answers a finger: drawn and half the gap; empty for texts
  Rect clip;   // what of the window it may show in
  bool enabled = true;
  bool selected = false;
  std::string value;     // of a field or stepper: what it holds; of a stake: its state
  int layer = 0;         // 0 the screen, 1 a panel over it
  bool covered = false;  // a panel lies over it: can't be tapped
  bool primary = false;  // a rating or number key: 20 mm at least, for gloves 25
  bool cut = false;      // its text did not fit and was shortened, though it must not be
  // Capitals of the value that is being entered now, or of the plot's number, in mm on the glass;
  // 0: shows none.
  double value_mm = 0;
};

// The part that is drawn inside its clip.
[[nodiscard]] Rect visible_part(const Widget& widget);
// At least half of it shows and no panel covers it.
[[nodiscard]] bool visible(const Widget& widget);

// One frame's widgets.
struct Register {
  std::vector<Widget> widgets;
  std::vector<std::string> no_room;  // labels of what the layout left no room for
  bool takes_text = false;           // something on the screen reads typed letters or digits
  bool takes_swipes = false;         // a screen asked for strokes
  // Steady milliseconds from which the panel takes a tap: somebody may have read it. 0: no panel.
  std::int64_t panel_read_at = 0;
  Size window;
  double ppi = 0;
  double key_mm = 20;  // what a rating or number key is drawn at least, and what lies between two
  double gap_mm = 3;
  // Scrolling areas, topmost layer last, for swipes.
  struct Scroller {
    std::string name;
    Rect rect;
    bool sideways = false;
    int layer = 0;
  };
  std::vector<Scroller> scrollers;
};

// The visible, enabled, tappable widgets that LABEL or GROUP/LABEL names. GROUP is the whole group
// or its end ("Vigor" finds "Rate/Vigor").
[[nodiscard]] std::vector<const Widget*> find(const Register& seen, std::string_view label);
// True if a visible text contains it; a no-break space counts as a space.
[[nodiscard]] bool shows(const Register& seen, std::string_view text);

// Faults of one frame's geometry, one line each; empty when all is well. Touch rectangles under
// 12 mm, primary keys under their size or closer together than their gap, a value being entered
// under 7 mm, touchables of one layer that overlap, shortened texts, anything outside the window
// that no clip holds, and what found no room.
[[nodiscard]] std::vector<std::string> geometry_faults(const Register& seen);

}  // namespace ligule::touch
