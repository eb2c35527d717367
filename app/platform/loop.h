// Draws a frame when something changed, and at no other time.
//
// What asks for a frame: an event, an effect that came back, a moment the application named
// (next_change_ms), or the frame before (one more after input, so that a tap's effect shows).
#pragma once

#include <cstdint>

#include "app/platform/app.h"
#include "app/platform/clock.h"
#include "app/platform/window.h"
#include "storage/trial/error.h"

namespace ligule::platform {

class Loop {
 public:
  Loop(Window& window, App& app, Clock& clock);

  // Until the window is closed or the application has finished. Returns what stopped drawing.
  [[nodiscard]] Result<void> run();

  // One turn: events, effects, and a frame if one is due. Returns true if a frame was drawn.
  [[nodiscard]] Result<bool> turn();

  // Turns until nothing waits: no event, no frame due, no effect pending. true when calm, false
  // when effects were still pending after at_most_ms of the machine's own time.
  [[nodiscard]] Result<bool> settle(std::int64_t at_most_ms);

  [[nodiscard]] bool outside_moves() const { return app_.outside_moves(); }

  // Asks for a frame in the next turn.
  void request_frame() { frames_due_ = 1; }

  // How many frames were drawn, and how long building and drawing them took in all.
  [[nodiscard]] std::int64_t frames() const { return frames_; }
  [[nodiscard]] double seconds_drawing() const { return seconds_drawing_; }

 private:
  [[nodiscard]] bool due();
  [[nodiscard]] Result<void> frame();

  Window& window_;
  App& app_;
  Clock& clock_;
  int frames_due_ = 2;  // the first frame measures, the second shows what measuring taught
  std::int64_t frames_ = 0;
  double seconds_drawing_ = 0;
  std::int64_t last_frame_ms_ = 0;
};

}  // namespace ligule::platform
