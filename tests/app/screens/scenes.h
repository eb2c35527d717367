// Every screen in every state that somebody can meet: what the tests of screens draw.
#pragma once

#include <string>
#include <vector>

#include "app/flow/views.h"
#include "app/screens/screens.h"

namespace ligule::screens::tests {

struct Scene {
  std::string name;
  flow::View view;
  flow::Overlay overlay = {};
  Scratch scratch = {};
};

[[nodiscard]] std::vector<Scene> all_scenes();

}  // namespace ligule::screens::tests
