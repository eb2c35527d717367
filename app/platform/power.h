// The battery, as the machine tells.
#pragma once

#include <optional>

namespace ligule::platform {

struct Power {
  std::optional<int> percent;  // 0 to 100; empty: no battery, or it does not say
  bool plugged = false;        // on the charger

  bool operator==(const Power&) const = default;
};

// Asks SDL, which reads the system's own files: less than a millisecond.
[[nodiscard]] Power power_now();
// The same from what SDL_GetPowerInfo() gives: its state and percent (-1: not known).
[[nodiscard]] Power power_of(int sdl_state, int percent);

}  // namespace ligule::platform
