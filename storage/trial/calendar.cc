#include "storage/trial/calendar.h"

#include <fmt/format.h>

#include <algorithm>

#include "storage/trial/number.h"

namespace ligule {

Result<CalendarDate> parse_date(std::string_view text) {
  const auto digits = [](std::string_view part) {
    return std::ranges::all_of(part, [](char c) { return c >= '0' && c <= '9'; });
  };
  if (text.size() == 10 && text[4] == '-' && text[7] == '-' && digits(text.substr(0, 4)) &&
      digits(text.substr(5, 2)) && digits(text.substr(8, 2))) {
    const auto part = [&](std::size_t at, std::size_t length) {
      return static_cast<int>(parse_integer(text.substr(at, length)).value_or(0));
    };
    const CalendarDate date{date::year{part(0, 4)}, date::month{static_cast<unsigned>(part(5, 2))},
                            date::day{static_cast<unsigned>(part(8, 2))}};
    if (date.ok() && part(0, 4) > 0) return date;
  }
  return fail(ErrorKind::kInvalid, "'" + std::string(text) + "' is not a date", {},
              "write it as YYYY-MM-DD, such as 2026-05-18");
}

std::string format_date(CalendarDate date) {
  return fmt::format("{:04}-{:02}-{:02}", static_cast<int>(date.year()),
                     static_cast<unsigned>(date.month()), static_cast<unsigned>(date.day()));
}

Stamp stamp_at(UtcInstant utc, std::chrono::minutes offset) {
  return {utc, offset, CalendarDate{date::floor<date::days>(utc + offset)}};
}

int days_between(CalendarDate a, CalendarDate b) {
  return static_cast<int>((date::sys_days{b} - date::sys_days{a}).count());
}

std::string format_clock(const Stamp& stamp) {
  const auto local = stamp.utc + stamp.offset;
  const auto minutes =
      std::chrono::duration_cast<std::chrono::minutes>(local - date::floor<date::days>(local))
          .count();
  return fmt::format("{:02}:{:02}", minutes / 60, minutes % 60);
}

}  // namespace ligule
