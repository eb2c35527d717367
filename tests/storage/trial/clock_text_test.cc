#include "storage/trial/clock_text.h"

#include <gtest/gtest.h>

#include <utility>

namespace ligule {
namespace {

using std::chrono::minutes;

TEST(ClockText, AIsReadAsPeopleWriteIt) {
  const std::pair<const char*, int> good[] = {
      {"14:30", 14 * 60 + 30},   {"1430", 14 * 60 + 30},
      {"930", 9 * 60 + 30},      {"0:00", 0},
      {"23:59", 23 * 60 + 59},   {"2:30 pm", 14 * 60 + 30},
      {"2 pm", 14 * 60},         {"12 am", 0},
      {"12:05 PM", 12 * 60 + 5}, {"2:30 p. m.", 14 * 60 + 30},
      {" 7:15a ", 7 * 60 + 15}};
  for (const auto& [text, expected] : good) {
    const auto clock = parse_clock(text);
    ASSERT_TRUE(clock) << text;
    EXPECT_EQ(clock->count(), expected) << text;
  }
  for (const char* text : {"", "2", "14", "24:00", "12:60", "1:5", ":30", "12345", "14:30 pm",
                           "0:30 pm", "noon", "2 bm", "-2:30", "2:30:10", "1e3"})
    EXPECT_FALSE(parse_clock(text)) << text;
  EXPECT_EQ(clock_text(minutes{5}), "00:05");
}

}  // namespace
}  // namespace ligule
