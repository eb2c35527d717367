#include "storage/trial/clock_shift.h"

#include <gtest/gtest.h>

#include "storage/trial/details.h"

namespace ligule {
namespace {

using std::chrono::hours;
using std::chrono::milliseconds;
using std::chrono::minutes;
using std::chrono::seconds;

Stamp stamp_of(const char* day, milliseconds since_midnight, minutes offset = minutes{0}) {
  return stamp_at(date::sys_days{parse_date(day).value()} + since_midnight, offset);
}

Stamp moved(const char* day, milliseconds since_midnight, milliseconds shift,
            minutes offset = minutes{0}) {
  return shifted(stamp_of(day, since_midnight, offset), shift);
}

TEST(Shifted, MovesTheInstantAndKeepsTheOffset) {
  EXPECT_EQ(moved("2026-05-18", hours{8}, hours{1}), stamp_of("2026-05-18", hours{9}));
  EXPECT_EQ(moved("2026-05-18", hours{8}, -minutes{20}),
            stamp_of("2026-05-18", hours{7} + minutes{40}));
  const Stamp west = moved("2026-05-18", hours{12}, hours{1}, -minutes{240});
  EXPECT_EQ(west.offset, -minutes{240});
  EXPECT_EQ(format_clock(west), "09:00");
}

// Proves: the date on the wall is made from the instant and the offset, so that it turns at local
// midnight, not at that of UTC.
TEST(Shifted, MakesTheDateOnTheWallAnew) {
  const minutes west = -minutes{240};
  EXPECT_EQ(moved("2026-05-18", hours{23}, hours{2}, west).local_date,
            parse_date("2026-05-18").value());
  EXPECT_EQ(moved("2026-05-19", hours{3} + minutes{59}, seconds{59}, west).local_date,
            parse_date("2026-05-18").value());
  EXPECT_EQ(moved("2026-05-19", hours{3} + minutes{59}, minutes{1}, west).local_date,
            parse_date("2026-05-19").value());
  EXPECT_EQ(moved("2026-03-01", hours{1}, -hours{2}).local_date, parse_date("2026-02-28").value());
  EXPECT_EQ(moved("1970-01-01", hours{0}, hours{24 * 365 * 56}).local_date,
            parse_date("2025-12-18").value());
}

// Proves: nothing, and what was taken back, leaves the stamp as it was written, also where its
// date does not follow from the instant.
TEST(Shifted, ByNothingIsTheStampAsItWasWritten) {
  Stamp odd = stamp_of("2026-05-18", hours{8});
  odd.local_date = parse_date("2026-05-17").value();
  EXPECT_EQ(shifted(odd, milliseconds{0}), odd);
  EXPECT_EQ(shifted(odd, hours{1}).local_date, parse_date("2026-05-18").value());
}

TEST(Shifted, StaysWithinTheYearsOneToNineThousandNineHundredAndNinetyNine) {
  const Stamp early = stamp_of("0001-01-01", hours{1});
  EXPECT_EQ(shifted(early, -hours{2}), early);
  EXPECT_EQ(shifted(early, -hours{1}), stamp_of("0001-01-01", hours{0}));
  const Stamp late = stamp_of("9999-12-31", hours{23});
  EXPECT_EQ(shifted(late, hours{1}), late);
  EXPECT_EQ(shifted(late, minutes{59}), stamp_of("9999-12-31", hours{23} + minutes{59}));
  // The date on the wall may lie beyond where the instant does not.
  const Stamp east = stamp_of("9999-12-31", hours{20}, minutes{120});
  EXPECT_EQ(shifted(east, hours{3}), east);
  const Stamp west = stamp_of("0001-01-01", hours{5}, -minutes{240});
  EXPECT_EQ(shifted(west, -hours{2}), west);
  // What no clock says is not reckoned with.
  for (const std::int64_t far : {INT64_MAX, INT64_MIN}) {
    Stamp never = late;
    never.utc = UtcInstant(milliseconds(far));
    EXPECT_EQ(shifted(never, hours{1}), never);
    Stamp nowhere = stamp_of("2026-05-18", hours{8});
    nowhere.offset = minutes(far);
    EXPECT_EQ(shifted(nowhere, hours{1}), nowhere);
    EXPECT_EQ(shifted(early, milliseconds(far)), early);
  }
}

TEST(ShiftText, IsHoursMinutesAndSeconds) {
  EXPECT_EQ(shift_text(hours{1}), "+1:00:00");
  EXPECT_EQ(shift_text(-(minutes{20} + seconds{5})), "-0:20:05");
  EXPECT_EQ(shift_text(milliseconds{250}), "+0:00:00.250");
  EXPECT_EQ(shift_text(milliseconds{0}), "0:00:00");
  EXPECT_EQ(shift_text(-kFarthestShift), "-876000:00:00");
}

ClockShift an_hour() {
  return {StreamId{uuid_v5(Uuid{}, "tablet")}, 5, 20, hours{1}};
}

TEST(ClockShiftRecord, IsReadBack) {
  Record record;
  write_clock_shift(an_hour(), record);
  EXPECT_EQ(record.kind, "clock_shift");
  EXPECT_EQ(record.details, R"({"first":"5","last":"20","shift_ms":"3600000","stream":")" +
                                an_hour().stream.text() + R"("})");
  EXPECT_EQ(read_clock_shift(record).value(), an_hour());
  ClockShift back = an_hour();
  back.shift = -kFarthestShift;
  back.first = 1;
  back.last = kLastOfAll;
  write_clock_shift(back, record);
  EXPECT_EQ(read_clock_shift(record).value(), back);
}

TEST(ClockShiftRecord, WhatCantBeIsRefused) {
  Record record;
  write_clock_shift(an_hour(), record);
  const Details sound = parse_details(record.details).value();
  const auto says = [&](const std::string& key, const std::string& value) {
    Details details = sound;
    if (value.empty()) {
      details.erase(key);
    } else {
      details[key] = value;
    }
    Record changed = record;
    changed.details = details_text(details);
    const auto read = read_clock_shift(changed);
    return read ? std::string("read") : read.error().what;
  };
  const std::string whose = "it is not said whose clock was wrong";
  const std::string which = "it is not said for which records the clock was wrong";
  const std::string much = "it is not said by how much the clock was wrong";
  EXPECT_EQ(says("stream", ""), whose);
  EXPECT_EQ(says("stream", "Tab A"), whose);
  for (const char* bad : {"", "0", "-1", "21", "05", "+5", "five", "5.0"})
    EXPECT_EQ(says("first", bad), which) << bad;
  for (const char* bad : {"", "4", "020", "9007199254740992", "99999999999999999999"})
    EXPECT_EQ(says("last", bad), which) << bad;
  for (const char* bad : {"", "1 h", "-0", "3153600000001", "-3153600000001", "3600000.5"})
    EXPECT_EQ(says("shift_ms", bad), much) << bad;
  EXPECT_EQ(says("shift_ms", "3153600000000"), "read");
  EXPECT_EQ(says("more", "later"), "read");

  record.details = "{";
  EXPECT_FALSE(read_clock_shift(record));
  write_clock_shift(an_hour(), record);
  record.kind = kind::kEvent;
  EXPECT_EQ(read_clock_shift(record).error().what, "this is no record of a clock that was wrong");
}

}  // namespace
}  // namespace ligule
