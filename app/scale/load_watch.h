// Whether what hangs on the scale stands still, and whether it may be taken as a weight.
//
// A weight that moves is not stored (NIST Handbook 44 and OIML R 76 ask so of indicators). Where a
// line says stable or moving, that counts; where it does not, the rule is: the last kStillLines
// lines lie within one scale interval of each other. After a weight was taken the load must come
// off (below kLiftOff intervals) before the next, so that one load is never stored twice; less than
// that is no load at all. Figures: common practice, no source.
#pragma once

#include <cstdint>
#include <deque>
#include <optional>
#include <string>

#include "app/scale/line_form.h"

namespace ligule::scale {

inline constexpr std::size_t kStillLines = 3;
inline constexpr std::int64_t kSilentMs = 1500;
inline constexpr std::int64_t kLiftOff = 10;

enum class LoadState {
  kSilent,   // no line for kSilentMs: unplugged, switched off, or the wrong speed
  kGarbled,  // the last line was no reading
  kOverload,
  kUnderload,
  kNegative,  // something was taken off that was there when it was set to zero
  kMoving,
  kEmpty,      // too little to be a load (below kLiftOff): what is left over shows
  kNotLifted,  // this load was taken already, whether it stands or moves
  kStill,      // may be taken
};

// The number in units of its last digit: 12.345 is 12345.
[[nodiscard]] std::int64_t in_last_digits(const Reading& reading);
// The text of so many units of the last digit: 12345 with 3 decimals is "12.345".
[[nodiscard]] std::string from_last_digits(std::int64_t units, int decimals);

class LoadWatch {
 public:
  // interval: the scale interval d in units of the last digit (1, 2, 5, 10 ...).
  explicit LoadWatch(std::int64_t interval = 1) : interval_(interval) {}

  // A line came. now_ms: steady milliseconds, never going back.
  void add(const Line& line, std::int64_t now_ms);
  [[nodiscard]] LoadState state(std::int64_t now_ms) const;
  // The last reading, whatever its state; none before the first and after a line that was none.
  [[nodiscard]] const std::optional<Reading>& reading() const { return reading_; }

  // The present load was taken as a weight; or, false, it was not after all.
  void taken(bool yes = true);
  // The other end was gone.
  void restart();

 private:
  [[nodiscard]] bool still(const Reading& reading) const;

  std::int64_t interval_;
  std::optional<Line> last_;
  std::optional<Reading> reading_;
  std::deque<Reading> recent_;  // at most kStillLines, of one unit and number of decimals
  std::int64_t last_ms_ = 0;
  bool lifted_ = true;
};

// The mean of what came within a stated time, for a machine that never settles.
struct Averaged {
  std::string entered;  // rounded half away from zero to the last digit the scale shows
  std::string unit;
  std::string lowest, highest;  // the spread, kept with it
  std::size_t readings = 0;
  Load load = Load::kUnsaid;  // of all of them
  std::string raw;            // the last line

  bool operator==(const Averaged&) const = default;
};

class Averaging {
 public:
  // least: in units of the last digit; what falls below is no load.
  Averaging(std::int64_t from_ms, std::int64_t for_ms, std::int64_t least = 0)
      : until_ms_(from_ms + for_ms), least_(least) {}

  // A line that is no reading, and a reading of another unit, number of decimals or kind of load
  // than the first, spoil it: what was on the scale meanwhile is not known.
  void add(const Line& line);
  [[nodiscard]] bool over(std::int64_t now_ms) const { return now_ms >= until_ms_; }
  // None without a reading, where it is spoiled, and where the load was not there all the time.
  [[nodiscard]] std::optional<Averaged> result() const;

 private:
  std::int64_t until_ms_;
  std::int64_t least_;
  bool spoiled_ = false;
  std::optional<Reading> last_;
  std::int64_t sum_ = 0, lowest_ = 0, highest_ = 0;
  std::int64_t count_ = 0;
};

}  // namespace ligule::scale
