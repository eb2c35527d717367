#include "storage/trial/no_entry.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

namespace ligule {
namespace {

using std::chrono::hours;
using std::chrono::minutes;

CalendarDate may(unsigned day) {
  return date::year{2026} / date::month{5} / date::day{day};
}

Stamp wall(unsigned day, int hour, int minute, minutes offset = hours{-4}) {
  return stamp_at(UtcInstant{date::sys_days{may(day)}} + hours{hour} + minutes{minute} - offset,
                  offset);
}

Record spray(const NoEntry& what, minutes ended = {}) {
  Record record;
  record.kind = kind::kEvent;
  record.entered = "spray";
  record.at = wall(4, 16, 0);
  Details details{{"on", "2026-05-04"}};
  write_no_entry(what, ended, details);
  record.details = details_text(details);
  return record;
}

TEST(NoEntry, HoursOfALabelAreAboveNothing) {
  EXPECT_EQ(parse_hours("12"), 12.0);
  EXPECT_EQ(parse_hours("2,5"), 2.5);
  EXPECT_EQ(parse_hours("2400"), 2400.0);
  for (const char* text : {"", "0", "-4", "2400.1", "twelve", "12 h", "nan"})
    EXPECT_FALSE(parse_hours(text)) << text;
}

TEST(NoEntry, HoursRunFromTheEndOfTheSpray) {
  const NoEntry what{.by = NoEntryBy::kHours,
                     .hours = "12",
                     .after = hours_after(may(4), minutes{15 * 60 + 20}, hours{-4}, 12)};
  const Record record = spray(what, minutes{15 * 60 + 20});
  EXPECT_EQ(record.details,
            R"({"ended":"15:20","no_entry":"hours","no_entry_hours":"12","on":"2026-05-04"})");
  EXPECT_EQ(no_entry_of(record), what);
  EXPECT_EQ(until_text(what, hours{-4}), "2026-05-05 03:20");
  EXPECT_TRUE(keeps_out(what, wall(5, 3, 19)));
  EXPECT_FALSE(keeps_out(what, wall(5, 3, 20)));
  // The clock was put forward over night: twelve hours are still twelve.
  EXPECT_TRUE(keeps_out(what, wall(5, 4, 19, hours{-3})));
  EXPECT_FALSE(keeps_out(what, wall(5, 4, 20, hours{-3})));
  EXPECT_EQ(until_text(what, hours{-3}), "2026-05-05 04:20");
}

TEST(NoEntry, ABegunMinuteCountsWhole) {
  const NoEntry what{.by = NoEntryBy::kHours,
                     .hours = "0.01",
                     .after = hours_after(may(4), minutes{0}, hours{0}, 0.01)};  // 36 s
  EXPECT_EQ(until_text(what, hours{0}), "2026-05-04 00:01");
}

TEST(NoEntry, TenthsOfAnHourEndOnTheirMinute) {
  for (const auto& [given, until] :
       {std::pair{1.1, "2026-05-04 11:06"}, {2.2, "2026-05-04 12:12"}}) {
    NoEntry what{.by = NoEntryBy::kHours};
    what.after = hours_after(may(4), minutes{10 * 60}, hours{0}, given);
    EXPECT_EQ(until_text(what, hours{0}), until) << given;
  }
}

TEST(NoEntry, ADateAndHourHoldOnTheWall) {
  const NoEntry what{.by = NoEntryBy::kUntil, .day = may(6), .clock = minutes{14 * 60}};
  const Record record = spray(what);
  EXPECT_EQ(record.details,
            R"({"no_entry":"until","no_entry_until":"2026-05-06 14:00","on":"2026-05-04"})");
  EXPECT_EQ(no_entry_of(record), what);
  EXPECT_EQ(until_text(what, hours{-4}), "2026-05-06 14:00");
  for (const minutes offset : {minutes{-240}, minutes{-300}, minutes{60}}) {
    EXPECT_TRUE(keeps_out(what, wall(6, 13, 59, offset)));
    EXPECT_FALSE(keeps_out(what, wall(6, 14, 0, offset)));
  }
}

TEST(NoEntry, ALabelThatNamesNoneKeepsNobodyOutAndOneNobodyReadDoes) {
  const NoEntry none{.by = NoEntryBy::kNone};
  EXPECT_EQ(no_entry_of(spray(none)), none);
  EXPECT_FALSE(keeps_out(none, wall(4, 16, 0)));
  EXPECT_EQ(until_text(none, hours{0}), "");
  const NoEntry not_known{.by = NoEntryBy::kNotKnown};
  EXPECT_EQ(no_entry_of(spray(not_known)), not_known);
  EXPECT_TRUE(keeps_out(not_known, wall(30, 16, 0)));
  EXPECT_EQ(until_text(not_known, hours{0}), "");
}

TEST(NoEntry, OldSpraysAndOtherRecordsSayNothing) {
  Record record = spray({.by = NoEntryBy::kNone});
  record.details = R"({"on":"2026-05-04"})";
  EXPECT_FALSE(no_entry_of(record));
  record = spray({});
  record.kind = kind::kReading;
  EXPECT_FALSE(no_entry_of(record));
}

// Proves: what a spray says and this program can't read keeps people out rather than lets them in.
TEST(NoEntry, WhatCannotBeReadCountsAsNotKnown) {
  Record record = spray({});
  for (const char* details :
       {R"({"no_entry":"weeks","on":"2026-05-04"})",
        R"({"no_entry":"hours","no_entry_hours":"12","on":"2026-05-04"})",
        R"({"ended":"15:20","no_entry":"hours","no_entry_hours":"x","on":"2026-05-04"})",
        R"({"ended":"15:20","no_entry":"hours","no_entry_hours":"12","on":"May"})",
        R"({"no_entry":"until","no_entry_until":"2026-05-06"})",
        R"({"no_entry":"until","no_entry_until":"2026-05-06 noon"})", R"({"no_entry":"until"})"}) {
    record.details = details;
    EXPECT_EQ(no_entry_of(record), NoEntry{}) << details;
  }
}

TEST(NoEntry, NamesReadBack) {
  for (const char* name : {"hours", "until", "none", "not_known"}) {
    const auto by = parse_no_entry(name);
    ASSERT_TRUE(by) << name;
    EXPECT_EQ(name_of(*by), name);
  }
  EXPECT_FALSE(parse_no_entry("some"));
}

}  // namespace
}  // namespace ligule
