#include "sync/gather/row_clock.h"

#include <gtest/gtest.h>

namespace ligule::gather {
namespace {

TEST(RowClock, IsReadWithAndWithoutADay) {
  const CalendarDate day = date::year{2026} / date::month{5} / date::day{20};
  const std::chrono::minutes time{10 * 60 + 31};
  for (const char* text : {"10:31", "10:31:07", "10:31:07 am", "1031"})
    EXPECT_EQ(parse_row_clock(text), (RowClock{{}, time})) << text;
  for (const char* text : {"2026-05-20 10:31", "2026-05-20T10:31:59", "2026-05-20 10:31 am"})
    EXPECT_EQ(parse_row_clock(text), (RowClock{day, time})) << text;
}

TEST(RowClock, OtherTextsAreNone) {
  for (const char* text : {"", "10", "25:00", "10:31:99", "10:31:", "10:31:5", "5/20/2026 10:31",
                           "2026-05-40 10:31", "2026-05-20 ", "10:31:07:00", "morning"})
    EXPECT_FALSE(parse_row_clock(text)) << text;
}

}  // namespace
}  // namespace ligule::gather
