// What the hand did, one frame at a time.
//
// The feeder stands between SDL's events and the frame. A frame gets at most one change of the
// button (finger down or finger up), at the place the event itself names; everything after it waits
// for the next frame. So fifty taps that arrive while a frame is being drawn stay fifty taps on
// fifty places. A second finger (rain, a palm) takes the whole touch back, and nothing counts until
// every finger is off the glass.
#pragma once

#include <cstdint>
#include <deque>
#include <optional>
#include <set>
#include <string>
#include <vector>

#include "app/platform/geometry.h"

union SDL_Event;

namespace ligule::platform {

enum class HardKey { kText, kEnter, kErase, kEscape, kTab, kLeft, kRight, kUp, kDown };

// One press of a hardware key (or of a barcode reader that types). Digits and letters come as
// kText with their UTF-8 text, so the keyboard's own layout decides what was meant.
struct KeyPress {
  HardKey key = HardKey::kText;
  std::string text;
  bool operator==(const KeyPress&) const = default;
};

// The input of one frame.
struct InputFrame {
  bool touching = false;          // the finger is on the glass at the end of this frame
  bool pressed = false;           // it came down in this frame
  bool released = false;          // it went up in this frame: the place is position
  bool cancelled = false;         // the touch was taken back: act as if it had never been
  std::optional<Point> position;  // last known place; none when no finger is or just was down
  std::vector<Point> path;        // every place passed in this frame, in order, position last
  std::vector<KeyPress> keys;     // never together with a change of the button
  float wheel = 0;                // notches of a mouse wheel, up is positive
};

class InputFeeder {
 public:
  // Reads one SDL event; `drawn` is the size of the picture, `window` the size SDL counts mouse
  // places in (they differ on displays that scale). Returns true if a frame must follow.
  bool push(const SDL_Event& event, Size drawn, Size window);
  // The next frame's input. With nothing waiting, the finger rests where it was.
  InputFrame take();
  [[nodiscard]] bool waiting() const { return !queue_.empty(); }
  // Forget fingers and queue (the window lost the focus, the screen was locked).
  void reset();

 private:
  enum class Kind { kDown, kMove, kUp, kCancel, kKey, kWheel };
  struct Item {
    Kind kind;
    Point at;
    KeyPress key;
    float wheel = 0;
  };

  bool finger_down(std::int64_t finger, Point at);
  bool finger_move(std::int64_t finger, Point at);
  bool finger_up(std::int64_t finger, Point at);
  bool key_down(const SDL_Event& event);

  std::deque<Item> queue_;
  std::set<std::int64_t> fingers_;  // on the glass now, as SDL told
  bool several_ = false;            // more than one was down since the glass was last free
  bool touching_ = false;           // as the frames saw it
  std::optional<Point> position_;
};

}  // namespace ligule::platform
