#include "storage/files/zone.h"

#include <date/tz.h>

#include <exception>
#include <string>

namespace ligule::files {
namespace {

// Null for an unknown zone and for a machine without a time zone database; the library throws then.
const date::time_zone* find_zone(std::string_view name) {
  try {
    return date::locate_zone(std::string(name));
  } catch (const std::exception&) {
    return nullptr;
  }
}

std::unexpected<Error> unknown(std::string_view zone) {
  return fail(ErrorKind::kNotFound,
              "'" + std::string(zone) + "' is not a time zone of this machine", {},
              "use a name such as America/New_York");
}

}  // namespace

bool is_zone(std::string_view zone) {
  return find_zone(zone) != nullptr;
}

Result<std::chrono::minutes> offset_at(std::string_view zone, UtcInstant utc) {
  const date::time_zone* found = find_zone(zone);
  if (found == nullptr) return unknown(zone);
  const date::sys_info info = found->get_info(utc);
  return date::floor<std::chrono::minutes>(info.offset);
}

Result<UtcInstant> local_to_utc(std::string_view zone, CalendarDate date,
                                std::chrono::minutes since_midnight) {
  const date::time_zone* found = find_zone(zone);
  if (found == nullptr) return unknown(zone);
  const date::local_seconds local = date::local_days{date} + since_midnight;
  const date::local_info info = found->get_info(local);
  // A skipped time lies between the two offsets; the skip itself is where the first one ends.
  if (info.result == date::local_info::nonexistent) return UtcInstant(info.first.end);
  return UtcInstant(date::sys_seconds(local.time_since_epoch()) - info.first.offset);
}

}  // namespace ligule::files
