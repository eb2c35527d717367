#include "app/platform/power.h"

#include <SDL.h>

namespace ligule::platform {

Power power_of(int sdl_state, int percent) {
  const bool has_battery = sdl_state == SDL_POWERSTATE_ON_BATTERY ||
                           sdl_state == SDL_POWERSTATE_CHARGING ||
                           sdl_state == SDL_POWERSTATE_CHARGED;
  if (!has_battery) return {};
  Power power;
  power.plugged = sdl_state != SDL_POWERSTATE_ON_BATTERY;
  if (percent >= 0 && percent <= 100) power.percent = percent;
  return power;
}

Power power_now() {
  int percent = -1;
  const SDL_PowerState state = SDL_GetPowerInfo(nullptr, &percent);
  return power_of(state, percent);
}

}  // namespace ligule::platform
