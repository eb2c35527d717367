#include "app/platform/loop.h"

#include <algorithm>
#include <chrono>

namespace ligule::platform {
namespace {

constexpr std::int64_t kRestMs = 1000;      // longest sleep with nothing due
constexpr std::int64_t kEffectRestMs = 20;  // and while an effect may come back any moment

double seconds_now() {
  return std::chrono::duration<double>(std::chrono::steady_clock::now().time_since_epoch()).count();
}

}  // namespace

Loop::Loop(Window& window, App& app, Clock& clock) : window_(window), app_(app), clock_(clock) {}

bool Loop::due() {
  if (window_.feeder().waiting() || frames_due_ > 0) return true;
  const auto next = app_.next_change_ms();
  return next && *next <= clock_.steady_ms();
}

Result<void> Loop::frame() {
  const double start = seconds_now();
  const std::int64_t now = clock_.steady_ms();
  const InputFrame input = window_.feeder().take();
  if (!window_.begin_frame(input, static_cast<double>(now - last_frame_ms_) / 1000))
    return std::unexpected(window_.error());
  last_frame_ms_ = now;
  app_.draw(input);
  window_.end_frame();
  ++frames_;
  seconds_drawing_ += seconds_now() - start;
  const bool acted = !input.path.empty() || input.cancelled || !input.keys.empty();
  frames_due_ = acted ? 1 : std::max(0, frames_due_ - 1);
  return {};
}

Result<bool> Loop::turn() {
  if (window_.pump()) frames_due_ = std::max(frames_due_, 1);
  if (app_.poll()) frames_due_ = std::max(frames_due_, 1);
  if (!due()) return false;
  if (auto drawn = frame(); !drawn) return std::unexpected(drawn.error());
  return true;
}

Result<bool> Loop::settle(std::int64_t at_most_ms) {
  const double end = seconds_now() + static_cast<double>(at_most_ms) / 1000;
  while (true) {
    auto drew = turn();
    if (!drew) return std::unexpected(drew.error());
    if (!*drew && !app_.effects_pending()) return true;
    if (seconds_now() >= end) return false;
    if (*drew) continue;
    window_.wait(kEffectRestMs);
  }
}

Result<void> Loop::run() {
  while (!window_.closed() && !app_.finished()) {
    auto drew = turn();
    if (!drew) return std::unexpected(drew.error());
    if (*drew) continue;
    std::int64_t rest = app_.effects_pending() ? kEffectRestMs : kRestMs;
    if (const auto next = app_.next_change_ms())
      rest = std::min(rest, std::max<std::int64_t>(1, *next - clock_.steady_ms()));
    window_.wait(rest);
  }
  return {};
}

}  // namespace ligule::platform
