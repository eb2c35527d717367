// What every screen looks like: reads a const view, draws it, and says what was tapped.
//
// One file a screen. Screens lay out, name and colour; they compute nothing, format no values and
// keep nothing but what Scratch holds. Text comes from Language, sizes and tones from touch.
#pragma once

#include <string>
#include <vector>

#include "app/flow/intents.h"
#include "app/flow/views.h"
#include "app/screens/language.h"
#include "app/touch/touch.h"

namespace ligule::screens {

// What a screen remembers between frames: nothing that a record could depend on.
struct Scratch {
  touch::KeyboardState keyboard = {};
  // Whose percent shows the half of its tiles that is not the usual one, where glass has room for
  // one half: a plot and a measure, so that every plot begins with the usual one.
  std::string other_half = {};
  bool whole_map = false;       // Review shows all plots at once, small
  bool notice_on_card = false;  // within a frame: the screen has no room for its notice
};

// Draws the screen and what lies above it; appends what was asked for, in order. At most one tap
// happens in a frame, so there is rarely more than one intent but for typed keys.
void draw(touch::Ui& ui, const Language& words, const flow::View& view,
          const flow::Overlay& overlay, Scratch& scratch, std::vector<flow::Intent>& out);

}  // namespace ligule::screens
