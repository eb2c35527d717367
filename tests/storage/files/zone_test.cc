#include "storage/files/zone.h"

#include <gtest/gtest.h>

namespace ligule::files {
namespace {

using std::chrono::hours;
using std::chrono::minutes;

UtcInstant utc(int year, int month, int day, minutes at) {
  return date::sys_days{date::year{year} / month / day} + at;
}
CalendarDate on(int year, int month, int day) {
  return date::year{year} / month / day;
}

TEST(Zone, KnowsItsNames) {
  EXPECT_TRUE(is_zone("America/New_York"));
  EXPECT_TRUE(is_zone("UTC"));
  for (const char* name : {"", "Nowhere/Town", "new york", "../etc/passwd"})
    EXPECT_FALSE(is_zone(name)) << name;
}

// Transitions of 2026 by the rule in force since 2007 (second Sunday of March, first Sunday of
// November, at 2:00 wall time): 8 March and 1 November.
TEST(Zone, OffsetChangesAtTheInstantOfTheRule) {
  EXPECT_EQ(offset_at("America/New_York", utc(2026, 3, 8, hours(7) - minutes(1))), minutes(-300));
  EXPECT_EQ(offset_at("America/New_York", utc(2026, 3, 8, hours(7))), minutes(-240));
  EXPECT_EQ(offset_at("America/New_York", utc(2026, 11, 1, hours(6) - minutes(1))), minutes(-240));
  EXPECT_EQ(offset_at("America/New_York", utc(2026, 11, 1, hours(6))), minutes(-300));
  EXPECT_EQ(offset_at("Asia/Kolkata", utc(2026, 6, 1, hours(0))), minutes(330));
}

TEST(Zone, LocalTimeBecomesTheInstantWithItsOwnOffset) {
  EXPECT_EQ(local_to_utc("America/New_York", on(2026, 5, 18), hours(8)),
            utc(2026, 5, 18, hours(12)));
  EXPECT_EQ(local_to_utc("America/New_York", on(2026, 1, 18), hours(8)),
            utc(2026, 1, 18, hours(13)));
  EXPECT_EQ(local_to_utc("UTC", on(2026, 1, 18), minutes(0)), utc(2026, 1, 18, minutes(0)));
}

TEST(Zone, ATimeShownTwiceIsTheFirstAndASkippedOneIsTheSkip) {
  EXPECT_EQ(local_to_utc("America/New_York", on(2026, 11, 1), hours(1) + minutes(30)),
            utc(2026, 11, 1, hours(5) + minutes(30)));
  EXPECT_EQ(local_to_utc("America/New_York", on(2026, 3, 8), hours(2) + minutes(30)),
            utc(2026, 3, 8, hours(7)));
}

TEST(Zone, UnknownZonesAreNotFound) {
  const auto offset = offset_at("Nowhere/Town", utc(2026, 1, 1, minutes(0)));
  ASSERT_FALSE(offset.has_value());
  EXPECT_EQ(offset.error().kind, ErrorKind::kNotFound);
  EXPECT_EQ(offset.error().what, "'Nowhere/Town' is not a time zone of this machine");
  EXPECT_FALSE(local_to_utc("Nowhere/Town", on(2026, 1, 1), minutes(0)).has_value());
}

}  // namespace
}  // namespace ligule::files
