#include "sync/gather/row_clock.h"

#include <string>
#include <utility>

#include "storage/trial/clock_text.h"
#include "storage/trial/number.h"
#include "sync/gather/weight_file.h"

namespace ligule::gather {

std::optional<RowClock> parse_row_clock(std::string_view text) {
  RowClock clock;
  if (text.size() > 11 && (text[10] == ' ' || text[10] == 'T')) {
    const auto day = parse_date(text.substr(0, 10));
    if (!day) return std::nullopt;
    clock.day = *day;
    text.remove_prefix(11);
  }
  std::string hour(text);
  const std::size_t first = text.find(':');
  const std::size_t second = first == std::string_view::npos ? first : text.find(':', first + 1);
  if (second != std::string_view::npos) {
    const auto seconds = parse_integer(text.substr(second + 1, 2));
    if (!seconds || *seconds > 60 || second + 3 > text.size()) return std::nullopt;
    hour.erase(second, 3);
  }
  const auto minutes = parse_clock(hour);
  if (!minutes) return std::nullopt;
  clock.since_midnight = *minutes;
  return clock;
}

std::expected<RowTime, RowTimeFault> row_time(const std::string& date_cell,
                                              const std::string& time_cell,
                                              std::optional<CalendarDate> given) {
  constexpr std::chrono::minutes kNoon = std::chrono::hours(12);
  const auto fault = [](std::string what, std::string mend, std::string_view column) {
    return std::unexpected(
        RowTimeFault{{ErrorKind::kInvalid, std::move(what), {}, std::move(mend)}, column});
  };
  std::optional<CalendarDate> day = given;
  if (!date_cell.empty()) {
    const auto read = parse_date(date_cell);
    if (!read) return fault(read.error().what, read.error().mend, column::kDate);
    day = *read;
  }
  RowTime time{{}, kNoon, false};
  if (!time_cell.empty()) {
    const auto clock = parse_row_clock(time_cell);
    if (!clock)
      return fault("'" + time_cell + "' is no time", "write 14:30, or 2026-05-20 14:30",
                   column::kTime);
    if (clock->day && day && !date_cell.empty() && *clock->day != *day)
      return fault("the time is of " + format_date(*clock->day) + ", the date column says " +
                       format_date(*day),
                   "find out which day it was, or give one of the two columns only", column::kTime);
    if (clock->day) day = clock->day;
    time.since_midnight = clock->since_midnight;
    time.told = true;
  }
  if (!day)
    return fault("nothing tells the day of this weight", "give --date, or a column for the date",
                 {});
  time.day = *day;
  return time;
}

}  // namespace ligule::gather
