// Passages under each other, each in as many lines as its words take: what a plan says can be long,
// and a name that is cut in a list is no name. Inside this room only.
#pragma once

#include <span>
#include <string>

#include "app/screens/pen.h"

namespace ligule::screens {

struct Passage {
  std::string text;
  touch::Font font = touch::Font::kBody;
  touch::Tone tone = touch::Tone::kInk;
};

// Height in pixels that they take, the air between them included, at that width.
[[nodiscard]] float passages_height(const Pen& pen, std::span<const Passage> passages, float width);
void draw_passages(const Pen& pen, touch::Rect rect, std::span<const Passage> passages);
// The same with the gap of `down` between them: each says something of its own.
void draw_apart(const Pen& pen, touch::Cutter& down, std::span<const Passage> passages);

}  // namespace ligule::screens
