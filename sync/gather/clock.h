// Tablets whose clock was wrong: which stamps look so, what putting them right changes, and the
// record that does it.
#pragma once

#include <cstdint>
#include <map>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "storage/ledger/ledger.h"
#include "storage/ledger/shifts.h"

namespace ligule::gather {

// What looks odd of the clock of a stream, and what was put right of it.
struct StreamClock {
  ledger::StreamInfo stream;
  std::int64_t records = 0;       // that can be read
  std::vector<std::string> odd;   // one line each, by kind, then number
  std::vector<std::string> said;  // what was put right, one line each, the oldest first
};
// All streams, in the order of their ids; what is said of one that is not held yet stands alone
// (no device). Odd is: a time a second or more before that of the record before it; ids that were
// made a minute or more apart from the time of their record (version 7 carries it, and never goes
// back as a clock does), where no shift explains it; times a minute or more after `now`. Records
// taken from a file carry the times of the file and are passed over. kIo, kDamaged.
[[nodiscard]] Result<std::vector<StreamClock>> stream_clocks(const ledger::Ledger& ledger,
                                                             std::optional<UtcInstant> now);

// The stream that a tablet of this name wrote. kNotFound names those that are held; kConflict where
// it wrote several.
[[nodiscard]] Result<StreamId> stream_of_tablet(const ledger::Ledger& ledger,
                                                const std::string& name);

// What a shift changes of the records that are held.
struct ClockChange {
  std::int64_t records = 0;
  std::int64_t shifted_already = 0;  // by an earlier shift, in the place of which this one goes
  std::pair<Stamp, Stamp> first;     // the earliest time: as it counts now, and then
  std::pair<Stamp, Stamp> last;      // the latest
  // Days on the wall that change, and of how many records.
  std::map<std::pair<CalendarDate, CalendarDate>, std::int64_t> days;
  std::vector<std::string> look_at;  // what it leaves as it is or should not move: one line each

  // All of it, one line each.
  [[nodiscard]] std::vector<std::string> lines() const;
};
// kNotFound where the stream, or a record from the first to the last, is not held: what nobody has
// seen is not put right. kIo, kDamaged.
[[nodiscard]] Result<ClockChange> clock_change(const ledger::Ledger& ledger,
                                               const ClockShift& shift);

struct ClockSaying {
  std::string reason;
  std::string person;  // initials of whoever says so
  Stamp now{};
};
// The records that say it: the person's where they are new here, and the shift. kRefused where it
// would not count, since a later one about some of these records is held. kIo.
[[nodiscard]] Result<std::vector<Record>> clock_records(const ledger::Ledger& ledger,
                                                        const ClockShift& shift,
                                                        const ClockSaying& saying,
                                                        UuidSequence& ids);

}  // namespace ligule::gather
