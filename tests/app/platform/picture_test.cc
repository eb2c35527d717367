#include "app/platform/picture.h"

#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>

namespace ligule::platform {
namespace {

std::filesystem::path scratch(const std::string& name) {
  const auto folder = std::filesystem::path(LIGULE_BUILD_DIR) / "scratch";
  std::filesystem::create_directories(folder);
  return folder / name;
}

TEST(Picture, ComesBackAsItWasWritten) {
  const Picture picture{{2, 1}, {255, 0, 10, 1, 2, 3}};
  const auto file = scratch("two_pixels.png");
  ASSERT_TRUE(write_png(file, picture).has_value());
  const auto back = read_png(file);
  ASSERT_TRUE(back.has_value());
  EXPECT_EQ(back->size, picture.size);
  EXPECT_EQ(back->rgb, picture.rgb);
}

TEST(Picture, MissingFolderIsAnIoError) {
  const auto written = write_png("/nowhere/at/all.png", {{1, 1}, {0, 0, 0}});
  ASSERT_FALSE(written.has_value());
  EXPECT_EQ(written.error().kind, ErrorKind::kIo);
  EXPECT_EQ(written.error().where, "/nowhere/at/all.png");
}

TEST(Picture, NothingDrawnYetIsInvalid) {
  EXPECT_EQ(write_png(scratch("none.png"), {}).error().kind, ErrorKind::kInvalid);
}

TEST(Picture, ReadingTellsMissingFromDamaged) {
  EXPECT_EQ(read_png(scratch("no_such.png")).error().kind, ErrorKind::kIo);
  const auto file = scratch("not_a_picture.png");
  std::ofstream(file) << "plain words";
  EXPECT_EQ(read_png(file).error().kind, ErrorKind::kDamaged);
  const auto cut = scratch("cut.png");
  ASSERT_TRUE(write_png(cut, {{64, 64}, std::vector<std::uint8_t>(64UL * 64 * 3, 7)}).has_value());
  std::filesystem::resize_file(cut, std::filesystem::file_size(cut) / 2);
  EXPECT_EQ(read_png(cut).error().kind, ErrorKind::kDamaged);
}

}  // namespace
}  // namespace ligule::platform
