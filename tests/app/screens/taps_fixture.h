// What a tap on a screen asks for.
#pragma once

#include <gtest/gtest.h>

#include <string_view>
#include <variant>
#include <vector>

#include "app/screens/screens.h"
#include "tests/app/screens/glass.h"
#include "tests/app/screens/sample_views.h"

namespace ligule::screens::tests {

class Taps : public testing::Test {
 protected:
  // Taps LABEL on a screen of the size, and gives what it asked for.
  std::vector<flow::Intent> tap(const flow::View& view, std::string_view label,
                                const flow::Overlay& overlay = {},
                                const Device& device = kDevices[0], const touch::Look& look = {}) {
    Glass glass(device, look);
    Scratch scratch;
    std::vector<flow::Intent> out;
    glass.tap(label, [&](touch::Ui& ui) { draw(ui, english(), view, overlay, scratch, out); });
    return out;
  }
  template <class Intent>
  Intent only(const std::vector<flow::Intent>& out) {
    if (out.size() == 1 && std::holds_alternative<Intent>(out.front()))
      return std::get<Intent>(out.front());
    ADD_FAILURE() << "another intent, or " << out.size() << " of them";
    return {};
  }
};

}  // namespace ligule::screens::tests
