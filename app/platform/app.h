// What the loop and the driver need to know of the application, and no more.
//
// app/program joins flow, screens and work behind this; tests put small ones of their own here.
#pragma once

#include <cstdint>
#include <optional>

#include "app/platform/input.h"

namespace ligule::platform {

class App {
 public:
  App() = default;
  App(const App&) = delete;
  App& operator=(const App&) = delete;
  virtual ~App() = default;

  // Draws one frame from the state as it is, then applies what the hand asked for. The loop draws
  // once more after a frame with input, so what a tap changed shows in the next frame.
  virtual void draw(const InputFrame& input) = 0;
  // Takes over what effects have finished since the last call; true if the picture may differ.
  virtual bool poll() = 0;
  // True while something was started and has not come back: the driver waits for it.
  [[nodiscard]] virtual bool effects_pending() const = 0;
  // True while something outside the program moves what is shown (a scale), in its own time.
  [[nodiscard]] virtual bool outside_moves() const { return false; }
  // When the picture will change with no hand and no effect (a flash that ends, a clock on the
  // screen), in the Clock's steady milliseconds. None: nothing is due.
  [[nodiscard]] virtual std::optional<std::int64_t> next_change_ms() const = 0;
  // True once the application wants to end.
  [[nodiscard]] virtual bool finished() const = 0;
};

}  // namespace ligule::platform
