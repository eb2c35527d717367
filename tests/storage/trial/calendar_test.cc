#include "storage/trial/calendar.h"

#include <gtest/gtest.h>

#include <type_traits>

namespace ligule {
namespace {

using std::chrono::hours;
using std::chrono::milliseconds;
using std::chrono::minutes;

static_assert(!std::is_convertible_v<UtcInstant, CalendarDate>);
static_assert(!std::is_convertible_v<CalendarDate, UtcInstant>);

CalendarDate on(int year, int month, int day) {
  return date::year{year} / month / day;
}

TEST(ParseDate, ReadsDaysThatExist) {
  EXPECT_EQ(parse_date("2026-05-18"), on(2026, 5, 18));
  EXPECT_EQ(parse_date("2024-02-29"), on(2024, 2, 29));
  EXPECT_EQ(parse_date("0001-01-01"), on(1, 1, 1));
  EXPECT_EQ(parse_date("9999-12-31"), on(9999, 12, 31));
}

TEST(ParseDate, RefusesEveryOtherSpelling) {
  for (const char* text :
       {"", "2026-5-18", "2026-05-18 ", " 2026-05-18", "18-05-2026", "05/18/2026", "2026/05/18",
        "2026-02-29", "2026-13-01", "2026-00-10", "2026-04-31", "2026-04-00", "0000-01-01",
        "20260518", "2026-05-1a", "-026-05-18", "+026-05-18", "2026-05-18T00:00", "12026-05-18"}) {
    const auto date = parse_date(text);
    ASSERT_FALSE(date.has_value()) << text;
    EXPECT_EQ(date.error().kind, ErrorKind::kInvalid);
    EXPECT_EQ(date.error().what, "'" + std::string(text) + "' is not a date");
    EXPECT_FALSE(date.error().mend.empty());
  }
}

TEST(FormatDate, ReadsBackForEveryDayOfManyYears) {
  for (date::sys_days day = date::sys_days{on(1996, 1, 1)}; day < date::sys_days{on(2032, 1, 1)};
       day += date::days{1}) {
    const CalendarDate date{day};
    EXPECT_EQ(parse_date(format_date(date)), date);
  }
}

TEST(StampAt, TheDateIsTheOneOnTheWall) {
  const UtcInstant half_past_two = date::sys_days{on(2026, 5, 18)} + hours(2) + minutes(30);
  EXPECT_EQ(stamp_at(half_past_two, minutes(-240)).local_date, on(2026, 5, 17));
  EXPECT_EQ(stamp_at(half_past_two, minutes(0)).local_date, on(2026, 5, 18));
  const UtcInstant late = date::sys_days{on(2026, 12, 31)} + hours(23);
  EXPECT_EQ(stamp_at(late, minutes(60)).local_date, on(2027, 1, 1));
  EXPECT_EQ(stamp_at(UtcInstant(milliseconds(-1)), minutes(0)).local_date, on(1969, 12, 31));
}

TEST(FormatClock, IsLocalHoursAndMinutes) {
  const UtcInstant instant =
      date::sys_days{on(2026, 5, 18)} + hours(2) + minutes(5) + milliseconds(59'999);
  EXPECT_EQ(format_clock(stamp_at(instant, minutes(0))), "02:05");
  EXPECT_EQ(format_clock(stamp_at(instant, minutes(-240))), "22:05");
  EXPECT_EQ(format_clock(stamp_at(instant, minutes(330))), "07:35");
  EXPECT_EQ(format_clock(stamp_at(UtcInstant(milliseconds(-1)), minutes(0))), "23:59");
}

TEST(DaysBetween, CountsAcrossLeapDaysAndBackwards) {
  EXPECT_EQ(days_between(on(2024, 2, 28), on(2024, 3, 1)), 2);
  EXPECT_EQ(days_between(on(2025, 2, 28), on(2025, 3, 1)), 1);
  EXPECT_EQ(days_between(on(2026, 5, 18), on(2026, 5, 18)), 0);
  EXPECT_EQ(days_between(on(2026, 5, 18), on(2025, 5, 18)), -365);
}

}  // namespace
}  // namespace ligule
