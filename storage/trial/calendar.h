// Dates and instants. A local date and a UTC instant are different types; neither is ever made from
// the other without saying the offset. What was recorded (instant, offset, local date) is kept as
// it was and never recomputed.
#pragma once

#include <date/date.h>

#include <chrono>
#include <string>
#include <string_view>

#include "storage/trial/error.h"

namespace ligule {

using CalendarDate = date::year_month_day;
using UtcInstant = date::sys_time<std::chrono::milliseconds>;

// "YYYY-MM-DD" and a day that exists, nothing else. Error kInvalid names the text.
[[nodiscard]] Result<CalendarDate> parse_date(std::string_view text);
// The date must be ok().
[[nodiscard]] std::string format_date(CalendarDate date);

// When an act happened, as the tablet saw it: the instant, the clock's distance to UTC at that
// moment and the date on the wall. offset is local minus UTC.
struct Stamp {
  UtcInstant utc;
  std::chrono::minutes offset{0};
  CalendarDate local_date{};

  bool operator==(const Stamp&) const = default;
};

// The stamp of an instant under an offset.
[[nodiscard]] Stamp stamp_at(UtcInstant utc, std::chrono::minutes offset);

// Whole days from a to b; negative when b is earlier. Both must be ok().
[[nodiscard]] int days_between(CalendarDate a, CalendarDate b);

// "HH:MM" of the local time of a stamp.
[[nodiscard]] std::string format_clock(const Stamp& stamp);

}  // namespace ligule
