// How keys look: shared by key, tiles, stages and stakes. Inside touch only.
#pragma once

#include <cstddef>
#include <string_view>
#include <utility>

#include "app/touch/key.h"

namespace ligule::touch {

struct Dress {
  Tone face;
  Tone edge;
  Tone text;
  bool has_face;
  bool lip;  // the lower edge that makes it look pressable
};

[[nodiscard]] Dress dress(const Key& key, bool held);
[[nodiscard]] float radius_of(const Ui& ui);

// Draws the body and returns the room for the label. sunk: under the finger.
Rect draw_body(Ui& ui, const Rect& rect, const Dress& look, bool sunk);

// The largest type, from the wanted one down, in which the label stands whole, and its lines.
[[nodiscard]] std::pair<Font, std::size_t> fitting(const Ui& ui, std::string_view label,
                                                   Font wanted, const Rect& room);

// The type of a note under a label on one line: the usual one where it stands whole, else the small
// one.
[[nodiscard]] Font note_font(const Ui& ui, std::string_view note, Font label, const Rect& room);

// Sign, label and note in the middle of the room.
void draw_label(Ui& ui, Rect room, const Key& key, Tone tone);

// The tick in the upper right corner (a bar on a small key): chosen is told by shape, not by colour
// alone.
void draw_chosen(Ui& ui, const Rect& face, Tone tone, bool foot_taken = false);

// A key entered as another kind of widget. picture: room at the top that paint fills and the label
// keeps out of, in pixels; 0: paint lies under the label.
[[nodiscard]] bool key_as(Ui& ui, const Rect& rect, const Key& key, Kind kind, float picture = 0);

}  // namespace ligule::touch
