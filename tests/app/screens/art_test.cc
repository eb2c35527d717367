#include "app/screens/art.h"

#include <gtest/gtest.h>

#include <functional>

#include "app/screens/screens.h"
#include "tests/app/screens/glass.h"
#include "tests/app/screens/sample_views.h"

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

using Count = std::function<double(const platform::Picture&, const touch::Rect&)>;

bool is_tone(const platform::Picture& picture, int x, int y, touch::Tone tone) {
  const std::uint32_t rgb = touch::paper_palette()[tone];
  const std::size_t at =
      3 * (static_cast<std::size_t>(y) * static_cast<std::size_t>(picture.size.width) +
           static_cast<std::size_t>(x));
  return picture.rgb[at] == (rgb >> 16U & 0xFFU) && picture.rgb[at + 1] == (rgb >> 8U & 0xFFU) &&
         picture.rgb[at + 2] == (rgb & 0xFFU);
}

// The ground of a tile's picture: what plants and bare soil reach to, in whole pixels.
touch::Rect ground_of(const platform::Picture& picture, const touch::Rect& tile) {
  touch::Rect ground{tile.right, tile.bottom, tile.left, tile.top};
  for (int y = static_cast<int>(tile.top); y < static_cast<int>(tile.bottom); ++y)
    for (int x = static_cast<int>(tile.left); x < static_cast<int>(tile.right); ++x) {
      if (!is_tone(picture, x, y, touch::Tone::kDone) &&
          !is_tone(picture, x, y, touch::Tone::kSunk))
        continue;
      ground.left = std::min(ground.left, static_cast<float>(x));
      ground.top = std::min(ground.top, static_cast<float>(y));
      ground.right = std::max(ground.right, static_cast<float>(x + 1));
      ground.bottom = std::max(ground.bottom, static_cast<float>(y + 1));
    }
  return ground;
}

// Of ground that is covered all over: green pixels.
double green_share(const platform::Picture& picture, const touch::Rect& ground) {
  double green = 0;
  for (int y = static_cast<int>(ground.top); y < static_cast<int>(ground.bottom); ++y)
    for (int x = static_cast<int>(ground.left); x < static_cast<int>(ground.right); ++x)
      if (is_tone(picture, x, y, touch::Tone::kDone)) ++green;
  return green / static_cast<double>(ground.area());
}

// Of drill rows: how much of their length has plants.
double row_share(const platform::Picture& picture, const touch::Rect& ground) {
  const float lane = ground.height() / StandPattern::kRows;
  double grown = 0;
  for (int row = 0; row < StandPattern::kRows; ++row) {
    const int top = static_cast<int>(ground.top + lane * static_cast<float>(row));
    const int bottom = static_cast<int>(ground.top + lane * static_cast<float>(row + 1));
    for (int x = static_cast<int>(ground.left); x < static_cast<int>(ground.right); ++x)
      for (int y = top; y < bottom; ++y) {
        if (!is_tone(picture, x, y, touch::Tone::kDone)) continue;
        ++grown;
        break;
      }
  }
  return grown / (StandPattern::kRows * static_cast<double>(ground.width()));
}

// The card's tiles of percent as they stand on the glass now: how many, and each of its share.
std::size_t check_tiles(Glass& glass, const Count& share, std::string_view where) {
  const platform::Picture& picture = glass.picture();
  std::size_t tiles = 0;
  for (const touch::Widget& tile : glass.seen().widgets) {
    if (tile.kind != touch::Kind::kTile) continue;
    ++tiles;
    const touch::Rect ground = ground_of(picture, tile.drawn);
    EXPECT_GT(ground.width(), tile.drawn.width() * 0.8F) << where << " " << tile.label;
    EXPECT_NEAR(100 * share(picture, ground), std::stoi(tile.label), 1.0)
        << where << " tile " << tile.label;
  }
  return tiles;
}

// Proves: a practice stand is what the records say was drawn, counted on the glass it fills.
TEST(StandPicture, ALargeStandCoversItsShareWithinOnePoint) {
  for (const auto& device : tests::kDevices)
    for (const touch::Look& look : {touch::Look{}, touch::Look{.gloves = true}})
      for (const bool drilled : {true, false})
        for (const int percent : {13, 62}) {
          Glass glass(device, look);
          flow::PracticeView view = tests::practice_rating(drilled);
          view.stand = {percent, static_cast<std::uint32_t>(percent) * 7919U, ""};
          Scratch scratch;
          std::vector<flow::Intent> out;
          const auto& seen = glass.show(
              [&](touch::Ui& ui) { draw(ui, tests::english(), view, {}, scratch, out); });
          const auto stand = std::ranges::find(seen.widgets, "stand", &touch::Widget::label);
          ASSERT_NE(stand, seen.widgets.end());
          const touch::Rect ground = ground_of(glass.picture(), stand->drawn);
          const Count share = drilled ? row_share : green_share;
          EXPECT_NEAR(100 * share(glass.picture(), ground), percent, 1.0)
              << device.name << (drilled ? " drilled" : " broadcast");
        }
}

// Proves: another lie is another picture of the same percent, and the pads' own stays as it is.
TEST(StandPattern, LiesInOtherPlaces) {
  EXPECT_EQ(stand_pattern(55, kPieces).filled, stand_pattern(55, kPieces, 0).filled);
  EXPECT_NE(stand_pattern(55, kPieces).filled, stand_pattern(55, kPieces, 12345).filled);
  EXPECT_NE(stand_pattern(55, kPieces, 12346).filled, stand_pattern(55, kPieces, 12345).filled);
  EXPECT_EQ(std::ranges::count(stand_pattern(55, kPieces, 12345).filled, true), 165);
}

// Proves: what a tile shows is what it says, counted on the glass in the pads themselves.
TEST(StandPicture, CoversItsShareWithinOnePoint) {
  for (const auto& device : tests::kDevices)
    for (const touch::Look& look :
         {touch::Look{}, touch::Look{.gloves = true}, touch::Look{.large_text = true},
          touch::Look{.gloves = true, .large_text = true, .hand = touch::Hand::kLeft}})
      for (const bool drilled : {true, false}) {
        Glass glass(device, look);
        const flow::View view = drilled ? tests::sample_rate(0) : tests::broadcast_rate();
        Scratch scratch;
        std::vector<flow::Intent> out;
        const Glass::Draw draw_card = [&](touch::Ui& ui) {
          draw(ui, tests::english(), view, {}, scratch, out);
        };
        const Count share = drilled ? row_share : green_share;
        const std::string where = std::string(device.name) + (drilled ? " drilled" : " broadcast") +
                                  (look.gloves ? " gloves" : "") +
                                  (look.large_text ? " large" : "");
        glass.show(draw_card);
        std::size_t tiles = check_tiles(glass, share, where);
        if (!touch::find(glass.seen(), "Stand/0-45").empty()) {
          glass.tap("Stand/0-45", draw_card);
          glass.show(draw_card);
          tiles += check_tiles(glass, share, where);
        }
        EXPECT_EQ(tiles, 21U) << where;
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

// Proves: the blade of the program's sign is drawn whole: no pixel of another colour lies between
// two of its own.
TEST(Starting, ShowsItsSignWithoutSeams) {
  for (const auto& device : tests::kDevices) {
    Glass glass(device, {});
    Scratch scratch;
    std::vector<flow::Intent> out;
    glass.show(
        [&](touch::Ui& ui) { draw(ui, tests::english(), flow::StartingView{}, {}, scratch, out); });
    const platform::Picture picture = glass.picture();
    std::vector<std::pair<int, int>> rows;  // first and last pixel of the blade
    std::vector<int> own;
    for (int y = 0; y < picture.size.height; ++y) {
      std::pair row{picture.size.width, -1};
      int pixels = 0;
      for (int x = 0; x < picture.size.width; ++x) {
        if (!is_tone(picture, x, y, touch::Tone::kAction)) continue;
        row = {std::min(row.first, x), x};
        ++pixels;
      }
      if (pixels == 0) continue;
      rows.push_back(row);
      own.push_back(pixels);
    }
    ASSERT_GT(rows.size(), 40U) << device.name;
    // Below it the ligule and the sheath lie over it.
    for (std::size_t n = 0; n < rows.size() / 2; ++n)
      EXPECT_EQ(rows[n].second - rows[n].first + 1, own[n]) << device.name << " row " << n;
  }
}

}  // namespace
}  // namespace ligule::screens
