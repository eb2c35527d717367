// The day a plot reached a stage, between two visits: what scales of kind kReached say.
//
// A record's `part` is the day of the visit, counted from 1 January of the year before the one the
// occasion counts for, so that a season may begin in one year and count for the next.
#pragma once

#include <optional>
#include <span>
#include <string_view>

#include "storage/trial/calendar.h"
#include "storage/trial/record.h"

namespace ligule {

struct Visit {
  int day = 0;  // any count of days
  bool reached = false;

  bool operator==(const Visit&) const = default;
};

struct Reached {
  std::optional<int> last_not;   // the last visit before first_yes that found it not yet
  std::optional<int> first_yes;  // the first visit that found it reached
  bool contradicts = false;      // not yet was said on or after a day that said reached

  bool operator==(const Reached&) const = default;
};

// Visits of one plot in any order. Where they contradict each other both days are empty.
[[nodiscard]] Reached reached_of(std::span<const Visit> visits);

// The part of a visit of an occasion of that year, 1 or more (dates before are not meant), and
// back.
[[nodiscard]] int visit_part(CalendarDate date, int year);
[[nodiscard]] CalendarDate visit_date(int part, int year);
// 1 for 1 January of the year; goes on counting beyond its ends (0, -1 ...; 366, 367 ...).
[[nodiscard]] int day_of_year(CalendarDate date, int year);

// Codes of the steps of such a scale, written into records: never change a text.
inline constexpr std::string_view kNotYetCode = "not_yet";
inline constexpr std::string_view kReachedCode = "reached";
// Whether a value says that the stage is not reached: the plot is looked at again.
[[nodiscard]] bool says_not_yet(const Record& record);

}  // namespace ligule
