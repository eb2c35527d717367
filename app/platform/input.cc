#include "app/platform/input.h"

#include <SDL.h>

#include <algorithm>
#include <utility>

namespace ligule::platform {
namespace {

// A mouse is one more finger, under a number that no touch device gives.
constexpr std::int64_t kMouseFinger = INT64_MIN;

std::optional<HardKey> hard_key(SDL_Keycode code) {
  switch (code) {
    case SDLK_RETURN:
    case SDLK_RETURN2:
    case SDLK_KP_ENTER:
      return HardKey::kEnter;
    case SDLK_BACKSPACE:
    case SDLK_DELETE:
      return HardKey::kErase;
    case SDLK_ESCAPE:
    case SDLK_AC_BACK:
      return HardKey::kEscape;
    case SDLK_TAB:
      return HardKey::kTab;
    case SDLK_LEFT:
      return HardKey::kLeft;
    case SDLK_RIGHT:
      return HardKey::kRight;
    case SDLK_UP:
      return HardKey::kUp;
    case SDLK_DOWN:
      return HardKey::kDown;
    default:
      return std::nullopt;
  }
}

Point scaled(float x, float y, Size drawn, Size window) {
  const float across =
      static_cast<float>(drawn.width) / static_cast<float>(std::max(1, window.width));
  const float down =
      static_cast<float>(drawn.height) / static_cast<float>(std::max(1, window.height));
  return {x * across, y * down};
}

}  // namespace

bool InputFeeder::push(const SDL_Event& event, Size drawn, Size window) {
  const auto glass = [&](const SDL_TouchFingerEvent& finger) {
    return Point{finger.x * static_cast<float>(drawn.width),
                 finger.y * static_cast<float>(drawn.height)};
  };
  switch (event.type) {
    case SDL_FINGERDOWN:
      return finger_down(event.tfinger.fingerId, glass(event.tfinger));
    case SDL_FINGERMOTION:
      return finger_move(event.tfinger.fingerId, glass(event.tfinger));
    case SDL_FINGERUP:
      return finger_up(event.tfinger.fingerId, glass(event.tfinger));
    case SDL_MOUSEBUTTONDOWN:
    case SDL_MOUSEBUTTONUP: {
      // SDL repeats every finger as a mouse; a real mouse has another number.
      if (event.button.which == SDL_TOUCH_MOUSEID || event.button.button != SDL_BUTTON_LEFT)
        return false;
      const Point at = scaled(static_cast<float>(event.button.x),
                              static_cast<float>(event.button.y), drawn, window);
      return event.type == SDL_MOUSEBUTTONDOWN ? finger_down(kMouseFinger, at)
                                               : finger_up(kMouseFinger, at);
    }
    case SDL_MOUSEMOTION:
      if (event.motion.which == SDL_TOUCH_MOUSEID) return false;
      return finger_move(kMouseFinger, scaled(static_cast<float>(event.motion.x),
                                              static_cast<float>(event.motion.y), drawn, window));
    case SDL_MOUSEWHEEL:
      if (event.wheel.which == SDL_TOUCH_MOUSEID) return false;
      queue_.push_back({Kind::kWheel,
                        scaled(static_cast<float>(event.wheel.mouseX),
                               static_cast<float>(event.wheel.mouseY), drawn, window),
                        {},
                        event.wheel.preciseY});
      return true;
    case SDL_TEXTINPUT:
      queue_.push_back({Kind::kKey, {}, {HardKey::kText, event.text.text}});
      return true;
    case SDL_KEYDOWN:
      return key_down(event);
    default:
      return false;
  }
}

bool InputFeeder::key_down(const SDL_Event& event) {
  // Letters and digits come as SDL_TEXTINPUT; taking them here too would count them twice.
  const auto key = hard_key(event.key.keysym.sym);
  if (!key) return false;
  queue_.push_back({Kind::kKey, {}, {*key, {}}});
  return true;
}

bool InputFeeder::finger_down(std::int64_t finger, Point at) {
  if (!fingers_.insert(finger).second) return false;
  if (several_) return false;
  if (fingers_.size() > 1) {
    several_ = true;
    queue_.push_back({Kind::kCancel, at, {}});
    return true;
  }
  queue_.push_back({Kind::kDown, at, {}});
  return true;
}

bool InputFeeder::finger_move(std::int64_t finger, Point at) {
  // A mouse moves with no button down too: nothing here reacts to hovering.
  if (several_ || !fingers_.contains(finger)) return false;
  queue_.push_back({Kind::kMove, at, {}});
  return true;
}

bool InputFeeder::finger_up(std::int64_t finger, Point at) {
  if (fingers_.erase(finger) == 0) return false;
  if (several_) {
    if (fingers_.empty()) several_ = false;
    return false;
  }
  queue_.push_back({Kind::kUp, at, {}});
  return true;
}

InputFrame InputFeeder::take() {
  InputFrame frame;
  bool ended = false;
  if (!touching_) position_.reset();
  while (!queue_.empty() && !ended) {
    const Kind kind = queue_.front().kind;
    const bool typed = kind == Kind::kKey;
    // Keys keep their order against taps: a frame has one or the other.
    if (typed ? !frame.path.empty() : !frame.keys.empty()) break;
    Item item = std::move(queue_.front());
    queue_.pop_front();
    switch (kind) {
      case Kind::kKey:
        frame.keys.push_back(std::move(item.key));
        break;
      case Kind::kWheel:
        frame.wheel += item.wheel;
        position_ = item.at;
        frame.path.push_back(item.at);
        ended = true;
        break;
      case Kind::kMove:
        position_ = item.at;
        frame.path.push_back(item.at);
        break;
      case Kind::kDown:
        touching_ = frame.pressed = ended = true;
        position_ = item.at;
        frame.path.push_back(item.at);
        break;
      case Kind::kUp:
        frame.released = ended = true;
        touching_ = false;
        position_ = item.at;
        frame.path.push_back(item.at);
        break;
      case Kind::kCancel:
        frame.cancelled = ended = true;
        touching_ = false;
        position_.reset();
        break;
    }
  }
  frame.touching = touching_;
  frame.position = position_;
  return frame;
}

void InputFeeder::reset() {
  queue_.clear();
  fingers_.clear();
  several_ = false;
  if (touching_) queue_.push_back({Kind::kCancel, {}, {}});
}

}  // namespace ligule::platform
