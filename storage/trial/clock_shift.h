// A tablet's clock that was wrong, and by how much: what a record of kind clock_shift says
// (sync/seal/FORMAT.md section 5).
#pragma once

#include <chrono>
#include <cstdint>
#include <string>

#include "storage/trial/calendar.h"
#include "storage/trial/identity.h"
#include "storage/trial/record.h"

namespace ligule {

// What is added to the time of records first..last of a stream. It need not be held yet.
struct ClockShift {
  StreamId stream;
  std::int64_t first = 1;
  std::int64_t last = 1;
  std::chrono::milliseconds shift{0};  // 0: takes back what was said of them before

  bool operator==(const ClockShift&) const = default;
};

// The farthest a clock may be put right, either way: 100 years of 365 days. An empty clock battery
// sets a tablet back to 1970 or to the year it was made.
inline constexpr std::chrono::milliseconds kFarthestShift = std::chrono::hours{24 * 365 * 100};
// The highest number of a record that can be named: whole in every reader's numbers.
inline constexpr std::int64_t kLastOfAll = (std::int64_t{1} << 53U) - 1;

// The details of a record of kind clock_shift: {"first", "last", "shift_ms", "stream"}, numbers in
// digits. Fills kind and details of an otherwise prepared record.
void write_clock_shift(const ClockShift& what, Record& record);
// kInvalid when the record is of another kind, lacks a part, or says what can't be: records from 1
// on, first not after last, no farther than kFarthestShift, numbers in their one spelling.
[[nodiscard]] Result<ClockShift> read_clock_shift(const Record& record);

// A stamp put right: the instant moved, the distance to UTC as it was, the date on the wall made
// from both. Without a shift, and where the stamp is not or would not be within the years 1 to 9999
// (or the clock is said to stand more than two days off UTC), it stays as it is.
[[nodiscard]] Stamp shifted(const Stamp& stamp, std::chrono::milliseconds shift);

// "+1:00:00", "-0:20:05.250", "0:00:00": hours, minutes, seconds.
[[nodiscard]] std::string shift_text(std::chrono::milliseconds shift);

}  // namespace ligule
