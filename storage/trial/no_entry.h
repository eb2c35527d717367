// Until when nobody is to go in after a spray: as somebody read it from the label. Nothing here
// knows of any product, and no time is ever made up: label and local law decide.
#pragma once

#include <chrono>
#include <optional>
#include <string>
#include <string_view>

#include "storage/trial/calendar.h"
#include "storage/trial/details.h"
#include "storage/trial/record.h"

namespace ligule {

// Written into records: never change a text of name_of().
enum class NoEntryBy {
  kHours,     // so many hours after the spray ended
  kUntil,     // a date and an hour
  kNone,      // the label names no time
  kNotKnown,  // whoever noted the spray had no label at hand
};
[[nodiscard]] std::string_view name_of(NoEntryBy by);  // "hours", "until", "none", "not_known"
[[nodiscard]] std::optional<NoEntryBy> parse_no_entry(std::string_view text);

struct NoEntry {
  NoEntryBy by = NoEntryBy::kNotKnown;
  std::string hours = {};  // kHours: as typed
  UtcInstant after{};      // kHours: when they are over
  CalendarDate day{};      // kUntil: on the wall, with the clock
  std::chrono::minutes clock{0};

  bool operator==(const NoEntry&) const = default;
};

// Hours as a label names them, above 0 and at most 2400; else nothing.
[[nodiscard]] std::optional<double> parse_hours(std::string_view text);

// So many hours after the wall clock of a day; offset: of that clock to UTC. A part of a
// millisecond counts as a whole one.
[[nodiscard]] UtcInstant hours_after(CalendarDate day, std::chrono::minutes clock,
                                     std::chrono::minutes offset, double hours);

// Puts it into the details of an event; `ended`: of kHours, the clock when the spray was over.
void write_no_entry(const NoEntry& what, std::chrono::minutes ended, Details& details);
// What an event says of it; nothing where it says nothing, or nothing that can be read: what can't
// be read of a spray that says something counts as not known.
[[nodiscard]] std::optional<NoEntry> no_entry_of(const Record& event);

// Whether people are to stay out at a moment: also where nobody knows until when.
[[nodiscard]] bool keeps_out(const NoEntry& what, const Stamp& now);
// "2026-05-05 14:30" on a wall with this offset; empty for kNone and kNotKnown.
[[nodiscard]] std::string until_text(const NoEntry& what, std::chrono::minutes offset);

}  // namespace ligule
