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
  const int year = static_cast<int>(date.year());
  const auto month = static_cast<unsigned>(date.month());
  const auto day = static_cast<unsigned>(date.day());
  if (year < 0 || year > 9999 || month > 99 || day > 99)
    return fmt::format("{:04}-{:02}-{:02}", year, month, day);
  std::string text = "0000-00-00";  // a date a record: each by hand, a format would take ten times
  const auto put = [&](std::size_t at, unsigned two_digits) {
    text[at] = static_cast<char>('0' + two_digits / 10);
    text[at + 1] = static_cast<char>('0' + two_digits % 10);
  };
  put(0, static_cast<unsigned>(year) / 100);
  put(2, static_cast<unsigned>(year) % 100);
  put(5, month);
  put(8, day);
  return text;
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
