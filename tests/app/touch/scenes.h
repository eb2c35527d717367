// Pieces of touch arranged as screens would: what the geometry test measures and the gallery shows.
#pragma once

#include <span>
#include <string>
#include <string_view>

#include "app/touch/touch.h"

namespace ligule::touch_test {

// What the scenes remember between frames and what was tapped last.
struct SceneState {
  std::string number = "12.4";
  std::string note = "Lodged at the east end";
  touch::KeyboardState keyboard;
  std::size_t present = 9;
  int height = 8;
  int vigor = 4;
  std::string tapped;
};

struct Scene {
  std::string_view name;
  void (*draw)(touch::Ui& ui, SceneState& state);
};

[[nodiscard]] std::span<const Scene> scenes();

}  // namespace ligule::touch_test
