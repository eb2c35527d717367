#include <gmock/gmock.h>

#include <filesystem>
#include <fstream>

#include "app/program/drive.h"

namespace ligule::program {
namespace {

using testing::HasSubstr;

TEST(ParseDrive, ReadsEveryAction) {
  const auto actions = parse_drive(
      "# the morning\n"
      "\n"
      "tap \"North field/Go on\"   # first\n"
      "\ttype \"12.4\\n\"\r\n"
      "swipe left\nswipe right\nswipe up\nswipe down\n"
      "wait 1500\n"
      "expect \"a \\\"quoted\\\" # text \\\\\"\n"
      "shot out/today.png\n"
      "shot \"out/with space.png\"\n"
      "list out/today.json # done\n"
      "quit",
      "day.drive");
  ASSERT_TRUE(actions.has_value()) << one_line(actions.error());
  const std::vector<Action> expected{{Verb::kTap, "North field/Go on", 0, 3},
                                     {Verb::kType, "12.4\n", 0, 4},
                                     {Verb::kSwipeLeft, "", 0, 5},
                                     {Verb::kSwipeRight, "", 0, 6},
                                     {Verb::kSwipeUp, "", 0, 7},
                                     {Verb::kSwipeDown, "", 0, 8},
                                     {Verb::kWait, "", 1500, 9},
                                     {Verb::kExpect, "a \"quoted\" # text \\", 0, 10},
                                     {Verb::kShot, "out/today.png", 0, 11},
                                     {Verb::kShot, "out/with space.png", 0, 12},
                                     {Verb::kList, "out/today.json", 0, 13},
                                     {Verb::kQuit, "", 0, 14}};
  EXPECT_EQ(*actions, expected);
}

TEST(ParseDrive, EmptyFileHasNoActions) {
  EXPECT_TRUE(parse_drive("", "empty")->empty());
  EXPECT_TRUE(parse_drive("# only words\n\n", "empty")->empty());
}

TEST(ParseDrive, NamesLineAndFault) {
  const std::vector<std::pair<std::string, std::string>> cases{
      {"press \"A\"", "unknown action \"press\""},
      {"tap", "double quotes is missing"},
      {"tap A", "double quotes is missing"},
      {"tap \"A", "no closing quote"},
      {"tap \"A\\", "unknown escape"},
      {"tap \"A\\t\"", "unknown escape"},
      {"tap \"\"", "the text is empty"},
      {"tap \"A\" \"B\"", "something follows"},
      {"tap \"A\" twice", "something follows"},
      {"swipe", "needs a direction"},
      {"swipe north", "needs a direction"},
      {"wait", "whole milliseconds"},
      {"wait soon", "whole milliseconds"},
      {"wait 1.5", "whole milliseconds"},
      {"wait -5", "whole milliseconds"},
      {"wait 99999999999999999999", "whole milliseconds"},
      {"shot", "ending in .png"},
      {"shot picture.jpg", "ending in .png"},
      {"shot \"a", "no closing quote"},
      {"list today.txt", "ending in .json"},
      {"quit now", "something follows"}};
  for (const auto& [line, fault] : cases) {
    const auto actions = parse_drive("# first\n" + line + "\n", "day.drive");
    ASSERT_FALSE(actions.has_value()) << line;
    EXPECT_EQ(actions.error().kind, ErrorKind::kInvalid) << line;
    EXPECT_EQ(actions.error().where, "day.drive line 2") << line;
    EXPECT_THAT(actions.error().what, HasSubstr(fault)) << line;
    EXPECT_FALSE(actions.error().mend.empty()) << line;
  }
}

TEST(ReadDrive, MissingFileIsAnIoError) {
  EXPECT_EQ(read_drive("/no/such/day.drive").error().kind, ErrorKind::kIo);
}

TEST(ReadDrive, ReadsAFile) {
  const auto file = std::filesystem::path(LIGULE_BUILD_DIR) / "scratch" / "day.drive";
  std::filesystem::create_directories(file.parent_path());
  std::ofstream(file) << "wait 5\nbogus\n";
  EXPECT_EQ(read_drive(file).error().where, "day.drive line 2");
}

}  // namespace
}  // namespace ligule::program
