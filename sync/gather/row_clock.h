// When a row of a file says that it was written.
#pragma once

#include <chrono>
#include <optional>
#include <string_view>

#include "storage/trial/calendar.h"

namespace ligule::gather {

struct RowClock {
  std::optional<CalendarDate> day;  // empty: it tells the hour only
  std::chrono::minutes since_midnight{0};

  bool operator==(const RowClock&) const = default;
};

// "10:31", "10:31:07", "2:30 pm", "2026-05-20 10:31", "2026-05-20T10:31:07"; nothing for other
// texts. Seconds are passed over.
[[nodiscard]] std::optional<RowClock> parse_row_clock(std::string_view text);

}  // namespace ligule::gather
