#include "storage/trial/no_entry.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

#include "storage/trial/clock_text.h"
#include "storage/trial/number.h"

namespace ligule {
namespace {

using std::chrono::minutes;

constexpr std::array<std::pair<NoEntryBy, std::string_view>, 4> kNames{
    {{NoEntryBy::kHours, "hours"},
     {NoEntryBy::kUntil, "until"},
     {NoEntryBy::kNone, "none"},
     {NoEntryBy::kNotKnown, "not_known"}}};
constexpr double kMostHours = 2400;

UtcInstant on_wall(CalendarDate day, minutes clock, minutes offset) {
  return UtcInstant{date::sys_days{day}} + clock - offset;
}

// "2026-05-05 14:30"; the day's own date may differ from it.
std::string wall_text(UtcInstant utc, minutes offset) {
  const Stamp at = stamp_at(utc, offset);
  return format_date(at.local_date) + " " + format_clock(at);
}

std::optional<NoEntry> read_hours(const Record& event) {
  const auto ended = parse_clock(detail(event.details, "ended"));
  const auto day = parse_date(detail(event.details, "on"));
  NoEntry what{.by = NoEntryBy::kHours, .hours = detail(event.details, "no_entry_hours")};
  const auto hours = parse_hours(what.hours);
  if (!ended || !day || !hours) return std::nullopt;
  what.after = hours_after(*day, *ended, event.at.offset, *hours);
  return what;
}

std::optional<NoEntry> read_until(const Record& event) {
  const std::string text = detail(event.details, "no_entry_until");
  const auto day = parse_date(std::string_view(text).substr(0, 10));
  const auto clock = text.size() > 11 ? parse_clock(text.substr(11)) : std::nullopt;
  if (!day || !clock) return std::nullopt;
  return NoEntry{.by = NoEntryBy::kUntil, .day = *day, .clock = *clock};
}

}  // namespace

std::string_view name_of(NoEntryBy by) {
  const auto* const at =
      std::ranges::find(kNames, by, &std::pair<NoEntryBy, std::string_view>::first);
  return at->second;
}

std::optional<NoEntryBy> parse_no_entry(std::string_view text) {
  const auto* const at =
      std::ranges::find(kNames, text, &std::pair<NoEntryBy, std::string_view>::second);
  return at == kNames.end() ? std::nullopt : std::optional(at->first);
}

std::optional<double> parse_hours(std::string_view text) {
  std::string digits(text);
  std::ranges::replace(digits, ',', '.');
  const auto hours = parse_number(digits);
  if (hours && *hours > 0 && *hours <= kMostHours) return *hours;
  return std::nullopt;
}

UtcInstant hours_after(CalendarDate day, minutes clock, minutes offset, double hours) {
  constexpr double kMilliseconds = 3'600'000;
  // Rounded up, to the safe side; not for what a decimal leaves in binary (1.1 h).
  constexpr double kBinary = 1e-6;
  const auto span = static_cast<std::int64_t>(std::ceil(hours * kMilliseconds - kBinary));
  return on_wall(day, clock, offset) + std::chrono::milliseconds(span);
}

void write_no_entry(const NoEntry& what, minutes ended, Details& details) {
  details["no_entry"] = name_of(what.by);
  if (what.by == NoEntryBy::kHours) {
    details["no_entry_hours"] = what.hours;
    details["ended"] = clock_text(ended);
  } else if (what.by == NoEntryBy::kUntil) {
    details["no_entry_until"] = format_date(what.day) + " " + clock_text(what.clock);
  }
}

std::optional<NoEntry> no_entry_of(const Record& event) {
  if (event.kind != kind::kEvent) return std::nullopt;
  const std::string said = detail(event.details, "no_entry");
  if (said.empty()) return std::nullopt;
  const auto by = parse_no_entry(said);
  std::optional<NoEntry> what;
  if (by == NoEntryBy::kHours) what = read_hours(event);
  if (by == NoEntryBy::kUntil) what = read_until(event);
  if (by == NoEntryBy::kNone) what = NoEntry{.by = NoEntryBy::kNone};
  return what ? what : NoEntry{};
}

bool keeps_out(const NoEntry& what, const Stamp& now) {
  switch (what.by) {
    case NoEntryBy::kHours:
      return now.utc < what.after;
    case NoEntryBy::kUntil:
      return now.utc < on_wall(what.day, what.clock, now.offset);
    case NoEntryBy::kNone:
      return false;
    case NoEntryBy::kNotKnown:
      break;
  }
  return true;
}

std::string until_text(const NoEntry& what, minutes offset) {
  if (what.by == NoEntryBy::kHours) {
    // Shown to the minute, a begun one as whole: nobody goes in early by what is shown.
    return wall_text(date::ceil<minutes>(what.after), offset);
  }
  if (what.by == NoEntryBy::kUntil) return format_date(what.day) + " " + clock_text(what.clock);
  return {};
}

}  // namespace ligule
