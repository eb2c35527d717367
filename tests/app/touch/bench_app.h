// A window, a Ui and a loop around one drawing function: the smallest application.
#pragma once

#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "app/platform/loop.h"
#include "app/touch/touch.h"

namespace ligule::touch_test {

struct Glass {
  std::string name;
  platform::Size size;
  double ppi;
};
// The three tablets the sizes are promised for, both ways round.
[[nodiscard]] inline std::vector<Glass> glasses() {
  return {{"8in", {1280, 800}, 189},   {"8in-portrait", {800, 1280}, 189},
          {"10in", {1920, 1200}, 226}, {"10in-portrait", {1200, 1920}, 226},
          {"12in", {2160, 1440}, 216}, {"12in-portrait", {1440, 2160}, 216}};
}

class DrawApp final : public platform::App {
 public:
  using Draw = std::function<void(touch::Ui&)>;
  DrawApp(platform::Window& window, platform::Clock& clock, const touch::Look& look, Draw draw)
      : ui_(window, look), clock_(clock), draw_(std::move(draw)) {}
  void draw(const platform::InputFrame& input) override {
    ui_.begin(input, clock_.steady_ms());
    draw_(ui_);
    ui_.end();
  }
  bool poll() override { return std::exchange(changed, false); }
  [[nodiscard]] bool effects_pending() const override { return pending; }
  [[nodiscard]] std::optional<std::int64_t> next_change_ms() const override {
    return ui_.next_change_ms();
  }
  [[nodiscard]] bool finished() const override { return end; }
  touch::Ui& ui() { return ui_; }

  bool changed = false;
  bool pending = false;
  bool end = false;

 private:
  touch::Ui ui_;
  platform::Clock& clock_;
  Draw draw_;
};

// Everything together, headless, settled once.
struct Bench {
  explicit Bench(DrawApp::Draw draw, const Glass& glass = glasses()[0],
                 const touch::Look& look = {}, bool sdl_triangles = false, bool pixels = true);
  void settle();
  void tap(platform::Point at);
  // The middle of the one widget with that label; fails the test when there is none.
  [[nodiscard]] platform::Point middle_of(const std::string& label);
  [[nodiscard]] const touch::Register& seen() { return app->ui().seen(); }

  std::unique_ptr<platform::Window> window;
  platform::DrivenClock clock{0};
  std::unique_ptr<DrawApp> app;
  std::unique_ptr<platform::Loop> loop;
};

}  // namespace ligule::touch_test
