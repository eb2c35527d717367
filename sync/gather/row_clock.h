// When a row of a file says that it was written.
#pragma once

#include <chrono>
#include <expected>
#include <optional>
#include <string>
#include <string_view>

#include "storage/trial/calendar.h"
#include "storage/trial/error.h"

namespace ligule::gather {

struct RowClock {
  std::optional<CalendarDate> day;  // empty: it tells the hour only
  std::chrono::minutes since_midnight{0};

  bool operator==(const RowClock&) const = default;
};

// "10:31", "10:31:07", "2:30 pm", "2026-05-20 10:31", "2026-05-20T10:31:07"; nothing for other
// texts. Seconds are passed over.
[[nodiscard]] std::optional<RowClock> parse_row_clock(std::string_view text);

// What a row says of its day and hour together.
struct RowTime {
  CalendarDate day{};
  std::chrono::minutes since_midnight{0};  // noon where the row tells none
  bool told = false;                       // it tells the hour
};
struct RowTimeFault {
  Error error;
  std::string_view column;  // our name of it; empty: no column tells the day
};
// From the cells of the two columns, either empty; `given` holds where neither tells the day.
// Faults: what is no date or no time, two columns that tell two days, no day at all.
[[nodiscard]] std::expected<RowTime, RowTimeFault> row_time(const std::string& date_cell,
                                                            const std::string& time_cell,
                                                            std::optional<CalendarDate> given);

}  // namespace ligule::gather
