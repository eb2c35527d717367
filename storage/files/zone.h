// Local time at a site, by the machine's time zone database.
//
// Only for the moment of recording and for showing; what was recorded keeps its own offset
// (storage/trial/calendar.h) and is never recomputed.
#pragma once

#include <chrono>
#include <string_view>

#include "storage/trial/calendar.h"

namespace ligule::files {

// Whether the database knows a zone by this name ("America/New_York").
[[nodiscard]] bool is_zone(std::string_view zone);

// Local minus UTC at an instant, whole minutes. kNotFound for an unknown zone.
[[nodiscard]] Result<std::chrono::minutes> offset_at(std::string_view zone, UtcInstant utc);

// The instant of a local wall clock: date plus minutes since midnight (0 to 1439). Where the clock
// shows that time twice, the first; where it skips it, the instant of the skip. kNotFound for an
// unknown zone.
[[nodiscard]] Result<UtcInstant> local_to_utc(std::string_view zone, CalendarDate date,
                                              std::chrono::minutes since_midnight);

}  // namespace ligule::files
