// Fingers, keys and letters that drive files and tests put into SDL's queue.
#include <SDL.h>

#include <algorithm>
#include <cstring>
#include <string_view>

#include "app/platform/window.h"

namespace ligule::platform {

void Window::push_finger(FingerMove move, Point at, Size drawn, int finger) {
  SDL_Event event{};
  switch (move) {
    case FingerMove::kDown:
      event.type = SDL_FINGERDOWN;
      break;
    case FingerMove::kMove:
      event.type = SDL_FINGERMOTION;
      break;
    case FingerMove::kUp:
      event.type = SDL_FINGERUP;
      break;
  }
  event.tfinger.touchId = 1;
  event.tfinger.fingerId = finger;
  event.tfinger.x = at.x / static_cast<float>(drawn.width);
  event.tfinger.y = at.y / static_cast<float>(drawn.height);
  event.tfinger.pressure = 1;
  SDL_PushEvent(&event);
}

void Window::push_text(const std::string& utf8) {
  // An SDL text event holds 31 bytes: long texts go in pieces that end between letters.
  std::string_view rest = utf8;
  while (!rest.empty()) {
    std::size_t take = std::min<std::size_t>(rest.size(), SDL_TEXTINPUTEVENT_TEXT_SIZE - 1);
    while (take > 1 && take < rest.size() &&
           (static_cast<unsigned char>(rest[take]) & 0xC0U) == 0x80)
      --take;
    SDL_Event event{};
    event.type = SDL_TEXTINPUT;
    std::memcpy(event.text.text, rest.data(), take);
    SDL_PushEvent(&event);
    rest.remove_prefix(take);
  }
}

void Window::push_wheel(Point at, float notches) {
  SDL_Event event{};
  event.type = SDL_MOUSEWHEEL;
  event.wheel.preciseY = notches;
  event.wheel.mouseX = static_cast<Sint32>(at.x);
  event.wheel.mouseY = static_cast<Sint32>(at.y);
  SDL_PushEvent(&event);
}

void Window::push_key(HardKey key) {
  SDL_Event event{};
  event.type = SDL_KEYDOWN;
  event.key.state = SDL_PRESSED;
  switch (key) {
    case HardKey::kText:
      return;
    case HardKey::kEnter:
      event.key.keysym.sym = SDLK_RETURN;
      break;
    case HardKey::kErase:
      event.key.keysym.sym = SDLK_BACKSPACE;
      break;
    case HardKey::kEscape:
      event.key.keysym.sym = SDLK_ESCAPE;
      break;
    case HardKey::kTab:
      event.key.keysym.sym = SDLK_TAB;
      break;
    case HardKey::kLeft:
      event.key.keysym.sym = SDLK_LEFT;
      break;
    case HardKey::kRight:
      event.key.keysym.sym = SDLK_RIGHT;
      break;
    case HardKey::kUp:
      event.key.keysym.sym = SDLK_UP;
      break;
    case HardKey::kDown:
      event.key.keysym.sym = SDLK_DOWN;
      break;
  }
  SDL_PushEvent(&event);
}

}  // namespace ligule::platform
