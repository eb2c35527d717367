#include "app/screens/art.h"

#include <gtest/gtest.h>

#include "tests/app/screens/glass.h"

namespace ligule::screens {
namespace {

using tests::Glass;

std::vector<touch::Tile> stand_tiles(std::vector<std::string>& labels) {
  std::vector<touch::Tile> tiles;
  for (int percent = 0; percent <= 100; percent += 5) labels.push_back(std::to_string(percent));
  for (std::size_t n = 0; n < labels.size(); ++n) {
    touch::Tile tile{.label = labels[n]};
    tile.paint = stand_picture(static_cast<int>(n) * 5);
    tiles.push_back(tile);
  }
  return tiles;
}

constexpr int kPieces = 60;

TEST(StandPattern, FillsThePercent) {
  for (int percent = 0; percent <= 100; ++percent) {
    const auto pattern = stand_pattern(percent, kPieces);
    EXPECT_EQ(std::ranges::count(pattern.filled, true), 3 * percent);
  }
}

TEST(StandPattern, AHigherPercentOnlyAddsPlants) {
  for (int percent = 1; percent <= 100; ++percent) {
    const auto fewer = stand_pattern(percent - 1, kPieces);
    const auto more = stand_pattern(percent, kPieces);
    for (std::size_t n = 0; n < fewer.filled.size(); ++n)
      EXPECT_TRUE(!fewer.filled[n] || more.filled[n]) << percent << " at " << n;
  }
}

TEST(StandPattern, IsTheSameEveryTime) {
  EXPECT_EQ(stand_pattern(55, kPieces).filled, stand_pattern(55, kPieces).filled);
}

// The drawn share, by counting pixels: what the picture of 100 covers is the whole row.
TEST(StandPicture, CoversItsShareWithinOnePoint) {
  for (const auto& device : tests::kDevices) {
    Glass glass(device, {});
    const auto count = [&](const touch::Paint& picture) {
      const touch::Rect room{100, 100, 100 + 18 * static_cast<float>(device.ppi) / 25.4F,
                             100 + 13 * static_cast<float>(device.ppi) / 25.4F};
      glass.show([&](touch::Ui& ui) { picture(ui.canvas(), room); });
      const auto& rgb = glass.picture().rgb;
      const auto green = touch::paper_palette()[touch::Tone::kDone];
      int n = 0;
      for (std::size_t at = 0; at < rgb.size(); at += 3)
        if (rgb[at] == (green >> 16U & 0xFFU) && rgb[at + 1] == (green >> 8U & 0xFFU) &&
            rgb[at + 2] == (green & 0xFFU))
          ++n;
      return static_cast<double>(n);
    };
    for (const auto& picture : {stand_picture, ground_picture}) {
      const double whole = count(picture(100));
      ASSERT_GT(whole, 1000);
      for (int percent = 0; percent <= 100; percent += 5)
        EXPECT_NEAR(100 * count(picture(percent)) / whole, percent, 1.0) << device.name;
    }
  }
}

TEST(Art, DrawsEveryPadOnce) {
  for (const bool dusk : {false, true}) {
    Glass glass(tests::kDevices[0], {.dusk = dusk});
    const auto grid = [&](const std::string& name, std::span<const touch::Tile> tiles) {
      glass.show([&](touch::Ui& ui) {
        EXPECT_FALSE(touch::tile_pad(ui, ui.page(), tiles, {.label_below = true}));
      });
      glass.save("art-" + name + (dusk ? "-dusk" : ""));
    };
    std::vector<std::string> labels;
    grid("stand", stand_tiles(labels));
    std::vector<touch::Tile> tiles;
    for (const double index : {1.5, 2.2, 2.7, 3.0, 3.1, 3.3, 3.5, 3.7, 3.9, 4.1, 4.3, 4.9})
      tiles.push_back({.label = labels[tiles.size()], .paint = grass_picture(index)});
    grid("grass", tiles);
    tiles.clear();
    for (int stage = 0; stage <= 9; ++stage)
      tiles.push_back({.label = labels[tiles.size()], .paint = legume_picture(stage)});
    grid("legume", tiles);
    tiles.clear();
    for (int step = 0; step <= 4; ++step)
      tiles.push_back({.label = labels[tiles.size()], .paint = seedling_picture(step / 4.0)});
    for (int step = 0; step <= 6; ++step)
      tiles.push_back({.label = labels[tiles.size()], .paint = stubble_picture(step / 6.0)});
    grid("vigor", tiles);
    tiles.clear();
    for (const auto& picture : {winter_picture, lodging_picture, disease_picture})
      for (int step = 0; step <= 4; ++step)
        tiles.push_back({.label = labels[tiles.size()], .paint = picture(step / 4.0)});
    grid("scores", tiles);
  }
}

}  // namespace
}  // namespace ligule::screens
