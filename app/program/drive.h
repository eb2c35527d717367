// Drive files: what a finger would do, one action a line, played on the real program.
//
//   # comment
//   tap "LABEL"  tap "GROUP/LABEL"   type "TEXT"   swipe left|right|up|down   wait MS
//   expect "TEXT"   shot FILE.png   list FILE.json   quit
//
// Taps, strokes and letters become SDL events and go the way real ones go; nothing is called past
// the screen. The first line that can't be done ends the play with its number and what was visible.
// Time stands still but for `wait`, 2 s an action and what it takes to read a panel that came up by
// itself before a tap (touch::kUnreadMs); those of a look (expect, shot, list) pass before the next
// action that does something, so that several looks see one moment. While a scale is plugged in,
// what is expected may come within kPatienceMs: a load settles in its own time.
#pragma once

#include <cstdint>
#include <filesystem>
#include <functional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "app/platform/loop.h"
#include "app/touch/register.h"
#include "storage/trial/error.h"

namespace ligule::program {

enum class Verb {
  kTap,
  kType,
  kSwipeLeft,
  kSwipeRight,
  kSwipeUp,
  kSwipeDown,
  kWait,
  kExpect,
  kShot,
  kList,
  kQuit
};

struct Action {
  Verb verb = Verb::kQuit;
  std::string text;     // label, text or file
  std::int64_t ms = 0;  // of wait
  int line = 0;
  bool operator==(const Action&) const = default;
};

// Reads a whole drive file; `name` stands in messages. kInvalid at the first faulty line. In
// strings \" \\ and \n are known, any other escape is a fault.
[[nodiscard]] Result<std::vector<Action>> parse_drive(std::string_view source,
                                                      const std::string& name);
// kIo when the file can't be read.
[[nodiscard]] Result<std::vector<Action>> read_drive(const std::filesystem::path& file);

inline constexpr std::int64_t kActionMs = 2000;
inline constexpr std::int64_t kPatienceMs = 5000;

class Driver {
 public:
  // seen: the register of the last frame. File names are taken from the present folder.
  Driver(platform::Window& window, platform::Loop& loop, platform::Clock& clock,
         std::function<const touch::Register&()> seen);

  // Until the end or `quit`. Errors: kRefused where the screen does not allow it, kIo where a file
  // can't be written; `where` is name and line.
  [[nodiscard]] Result<void> play(std::span<const Action> actions, const std::string& name);
  // The same until `stop` says so after an action: how many were played, all of them with `quit`.
  [[nodiscard]] Result<std::size_t> play_until(std::span<const Action> actions,
                                               const std::string& name,
                                               const std::function<bool()>& stop);

 private:
  [[nodiscard]] Result<void> perform(const Action& action);
  [[nodiscard]] Result<void> read_panel();
  [[nodiscard]] Result<void> tap(const std::string& label);
  [[nodiscard]] Result<void> type(const std::string& text);
  [[nodiscard]] Result<void> swipe(Verb verb);
  [[nodiscard]] Result<void> wait(std::int64_t ms);
  [[nodiscard]] Result<void> expect(const std::string& text);
  [[nodiscard]] Result<void> shot(const std::string& file);
  [[nodiscard]] Result<void> settle();
  [[nodiscard]] Result<void> pay_time();

  platform::Window& window_;
  platform::Loop& loop_;
  platform::Clock& clock_;
  std::function<const touch::Register&()> seen_;
  std::int64_t owed_ms_ = 0;
};

// What a person would see, for messages: keys first, then texts, on one line.
[[nodiscard]] std::string what_is_visible(const touch::Register& seen);

}  // namespace ligule::program
