// What a Ui remembers between frames: the finger, scroll places, the panel, the flash. Inside touch
// only.
#pragma once

#include <cstddef>
#include <cstdint>
#include <map>
#include <memory_resource>
#include <optional>
#include <set>
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
  // What the texts of a list were asked for, and what the one with the least room stands in.
  using Steps = std::map<std::pair<Font, bool>, Font>;  // what keys say apart from what stands
  struct SizeScope {
    std::string name;
    bool sticky = false;  // lines that left the view still count
    Steps now;
  };
  // More than the busiest screen takes; what goes beyond comes from the system.
  static constexpr std::size_t kFrameBytes = std::size_t{256} << 10;
  std::vector<std::byte> bytes = std::vector<std::byte>(kFrameBytes);
  std::pmr::monotonic_buffer_resource memory{bytes.data(), bytes.size()};

  std::map<std::string, ScrollState, std::less<>> scrolls;
  std::vector<SizeScope> scopes;
  std::map<std::string, Steps, std::less<>> sizes;  // of the last frame
  std::set<std::string> sized;                      // scopes of this frame
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
  std::optional<Rect> flash_place;  // of its sign in this frame; none: the corner

  struct PanelSeen {
    std::string name;
    std::int64_t since = 0;  // steady milliseconds
  };
  std::vector<PanelSeen> panels;  // from the lowest on: those of this frame, then of the last one
  std::size_t panels_before = 0;  // in the last frame
  std::size_t panels_open = 0;    // so far in this one
  std::size_t layer = 0;          // what is drawn lies on: that panel, counted from 1; 0: on none
  Rect panel_card;                // of the uppermost
  std::int64_t pressed_at = 0;    // when the finger came down last
};

}  // namespace ligule::touch
