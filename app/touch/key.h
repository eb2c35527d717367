// The tap key, and small things built of it.
//
// A key shows the touch at once, acts when the finger is let go inside it, and forgets the touch
// when the finger slides off. It answers in its drawn rectangle and half the gap around it.
#pragma once

#include <functional>
#include <optional>
#include <string_view>

#include "app/touch/text.h"
#include "app/touch/ui.h"

namespace ligule::touch {

enum class Style {
  kPlain,   // a sheet with a border
  kAction,  // meadow green: the one thing to do next; one a screen
  kQuiet,   // no face, only a label: ways out, settings
};

using Paint = std::function<void(const Canvas&, const Rect&)>;

struct Key {
  std::string_view label = {};  // "Vigor 5##vigor5": shown and found by what is before ##
  std::string_view note = {};   // a second, smaller line
  Style style = Style::kPlain;
  bool selected = false;
  bool enabled = true;
  bool primary = false;  // a rating or number key: the geometry check wants 20 mm
  Font font = Font::kLabel;
  std::optional<Shape> shape = {};     // a sign before the label
  Paint paint = {};                    // drawn under the label, inside the border
  std::optional<Font> note_font = {};  // empty: the largest in which the note stands
  float note_room = 0;  // pixels kept for the note even if it needs less: labels of a row align
  std::optional<float> halo = {};  // pixels it answers beyond its edge; none: half the gap
  std::string_view figure = {};    // a number on card beside the label
  bool icon_only = false;          // paint says it all: the label is not drawn
};

// True in the frame in which it was tapped.
[[nodiscard]] bool key(Ui& ui, const Rect& rect, const Key& key);

// A key without a face, over something that is drawn already: a frame shows the finger.
[[nodiscard]] bool patch(Ui& ui, const Rect& rect, std::string_view label);

// Signs for keys, drawn by code; pass as Key::paint with icon_only.
[[nodiscard]] Paint erase_sign();
[[nodiscard]] Paint back_sign();           // arrow to the left
[[nodiscard]] Paint onward_sign();         // arrow to the right
[[nodiscard]] Paint step_sign(bool more);  // plus, or minus
[[nodiscard]] Paint tablet_sign();         // glass with two sliders
[[nodiscard]] Paint undo_sign();           // arrow that turns back

// How a field lies in its room: label above the value (19 mm and more); label left and value right
// on one line (12 mm and more); or both as close together as they can be read (12 mm and more).
enum class FieldForm { kTall, kRow, kDense };

// A field that shows what is entered. Tapped: the caller gives it the keyboard (focused).
struct Field {
  std::string_view label = {};  // small, above the value
  std::string_view value = {};
  std::string_view unit = {};
  std::string_view empty_hint = {};  // shown softly while there is no value
  bool focused = false;
  bool enabled = true;
  std::optional<Shape> shape = {};
  // Of the value; a smaller one is taken where it has no room. While the field has the keyboard its
  // value stands in kValue at least, unless it is somebody's own words, or stands larger elsewhere.
  Font font = Font::kTitle;
  bool own_words = false;
  bool elsewhere = false;
  FieldForm form = FieldForm::kTall;
  int lines = 1;  // of the value, where it is a sentence (kTall only)
};
[[nodiscard]] bool field(Ui& ui, const Rect& rect, const Field& field);
// What a dense field takes so that a number with so many digits and a point, or any other text,
// stands in kValue.
[[nodiscard]] float dense_field_width(const Ui& ui, std::string_view value);
[[nodiscard]] float dense_field_height(const Ui& ui);

// minus | value | plus. Returns -1, 0 or 1. value and unit are formatted by the caller.
struct Stepper {
  std::string_view label = {};  // names the group; keys are found as "LABEL/less" and "LABEL/more"
  std::string_view less = {};   // what the keys say, from the words file
  std::string_view more = {};
  std::string_view value = {};
  std::string_view unit = {};
  bool can_less = true;
  bool can_more = true;
  bool keys_only = false;  // the value stands elsewhere: what is between the keys stays free
};
[[nodiscard]] int stepper(Ui& ui, const Rect& rect, const Stepper& stepper);

}  // namespace ligule::touch
