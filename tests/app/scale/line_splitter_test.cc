#include "app/scale/line_splitter.h"

#include <gmock/gmock.h>

namespace ligule::scale {
namespace {

using ::testing::ElementsAre;
using ::testing::IsEmpty;

// After the first end mark, where lines begin is known.
class Splitter : public ::testing::Test {
 protected:
  Splitter() { (void)splitter.take("\r\n", 0); }
  std::vector<std::string> whole(std::string_view bytes, std::int64_t at = 0) {
    std::vector<std::string> lines;
    for (const SplitLine& line : splitter.take(bytes, at))
      if (line.whole) lines.push_back(line.text);
    return lines;
  }
  LineSplitter splitter;
};

TEST_F(Splitter, EndsLinesAtEveryUsualMark) {
  EXPECT_THAT(whole("1 kg\r\n2 kg\r3 kg\n\x02"
                    "4 kg\x03"),
              ElementsAre("1 kg", "2 kg", "3 kg", "4 kg"));
}

TEST_F(Splitter, ALineMayComeByteByByte) {
  const std::string line = "S N + 12.345 kg\r";
  std::vector<std::string> lines;
  std::int64_t now = 0;
  for (const char byte : line) {
    for (auto& each : whole({&byte, 1}, now += 20)) lines.push_back(each);
  }
  EXPECT_THAT(lines, ElementsAre("S N + 12.345 kg"));
}

TEST_F(Splitter, HalfALineIsDroppedAfterAPause) {
  EXPECT_THAT(whole("12", 0), IsEmpty());
  // The rest of it is no line of its own: 2.345 would be another weight.
  EXPECT_THAT(whole("345 kg\r\n", kHalfLineMs + 1), IsEmpty());
  EXPECT_THAT(whole("7 kg\r\n", kHalfLineMs + 2), ElementsAre("7 kg"));
}

TEST_F(Splitter, AByteOutsidePrintableAsciiSpoilsItsLineOnly) {
  using namespace std::string_view_literals;
  for (const std::string_view noise : {"1\0002 kg\r\n"sv,
                                       "1\xFF"
                                       "2 kg\r\n"sv,
                                       "1\x07"
                                       "2 kg\r\n"sv}) {
    EXPECT_THAT(splitter.take(noise, 0), ElementsAre(SplitLine{"1", false}));
    EXPECT_THAT(whole("3 kg\r\n"), ElementsAre("3 kg"));
  }
}

TEST_F(Splitter, ALineThatDoesNotEndIsThrownAway) {
  const auto lines = splitter.take(std::string(64UL * 1024, '8') + "\r\n5 kg\r\n", 0);
  EXPECT_THAT(lines,
              ElementsAre(SplitLine{std::string(kMostLine, '8'), false}, SplitLine{"5 kg", true}));
}

TEST(SplitterAtFirst, TheTailOfALineThatBeganUnheardIsNoLine) {
  LineSplitter splitter;
  EXPECT_THAT(splitter.take("2.345 kg\r\n12.345 kg\r\n", 0),
              ElementsAre(SplitLine{"2.345 kg", false}, SplitLine{"12.345 kg", true}));
  splitter.restart();
  EXPECT_THAT(splitter.take("345 kg\r\n", 1), ElementsAre(SplitLine{"345 kg", false}));
  splitter.expect_start();
  EXPECT_THAT(splitter.take("12 kg\r\n", 2), ElementsAre(SplitLine{"12 kg", true}));
  splitter.restart();
  EXPECT_THAT(splitter.take("\x02"
                            "6 kg\x03",
                            3),
              ElementsAre(SplitLine{"6 kg", true}));
}

}  // namespace
}  // namespace ligule::scale
