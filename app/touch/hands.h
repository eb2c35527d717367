// What a Ui remembers between frames: the finger, scroll places, the panel, the flash. Inside touch
// only.
#pragma once

#include <cstdint>
#include <map>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "app/touch/ui.h"

namespace ligule::touch {

struct Ui::Hands {
  struct ScrollState {
    float offset = 0;
    float limit = 0;
    std::optional<std::pair<float, float>> show;
    std::optional<float> middle;
    std::optional<std::size_t> item;
    float length = 0;  // of the part when it was put into the middle
  };
  struct Open {
    std::string name;
    Rect rect;
    Rect area;
    bool sideways = false;
    float extent = 0;
  };
  std::map<std::string, ScrollState, std::less<>> scrolls;
  std::vector<Open> open;
  std::vector<std::string> groups;
  std::vector<Rect> clips;

  std::optional<Point> origin;  // where the finger came down
  std::string dragged;          // the scrolling part that follows it
  bool dragging = false;
  float offset_at_start = 0;
  std::optional<Swipe> stroke;
  bool tapped = false;

  std::optional<Flash> flash;
  std::int64_t flash_until = 0;

  bool panel_was_open = false;
  bool panel_open = false;
  bool in_panel = false;
  Rect panel_card;
};

}  // namespace ligule::touch
