// A headless tablet for tests: draws a function as a screen until it stands still.
#pragma once

#include <functional>
#include <memory>
#include <ostream>
#include <string>
#include <string_view>

#include "app/platform/window.h"
#include "app/touch/touch.h"

namespace ligule::screens::tests {

struct Device {
  std::string_view name;
  platform::Size size;
  double ppi;
};
// Names a tablet in test names; what it is called itself is the test library's.
// NOLINTNEXTLINE(readability-identifier-naming)
inline void PrintTo(const Device& device, std::ostream* out) {
  *out << device.name;
}

// The tablets the sizes are made for, each both ways up.
inline constexpr Device kDevices[] = {
    {"8in", {1280, 800}, 189},   {"8in-portrait", {800, 1280}, 189},
    {"10in", {1920, 1200}, 226}, {"10in-portrait", {1200, 1920}, 226},
    {"12in", {2160, 1440}, 216}, {"12in-portrait", {1440, 2160}, 216},
};

class Glass {
 public:
  using Draw = std::function<void(touch::Ui&)>;

  Glass(const Device& device, const touch::Look& look);

  // Draws frames until nothing changes by itself, and gives what the last one showed.
  const touch::Register& show(const Draw& draw);
  // Comes down in the middle of the widget that LABEL names, goes up there, and draws between.
  void tap(std::string_view label, const Draw& draw);
  // What show() drew last, as build/pictures/NAME.png where the environment has LIGULE_PICTURES:
  // pixels take most of the time, and geometry needs none.
  void save(const std::string& name);
  // The same in pixels; what the function draws must still be there.
  [[nodiscard]] const platform::Picture& picture();
  [[nodiscard]] const touch::Register& seen() const { return ui_->seen(); }
  [[nodiscard]] touch::Ui& ui() { return *ui_; }

 private:
  void frame(const platform::InputFrame& input, const Draw& draw);

  std::unique_ptr<platform::Window> window_;
  std::unique_ptr<touch::Ui> ui_;
  Draw last_;
  std::int64_t now_ms_ = 0;
};

}  // namespace ligule::screens::tests
