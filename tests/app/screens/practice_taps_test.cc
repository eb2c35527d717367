// Practice: what a tap asks for, what stands beside a drawn stand, and what must not.
#include <gmock/gmock.h>

#include <algorithm>

#include "tests/app/screens/taps_fixture.h"

namespace ligule::screens {
namespace {

using namespace tests;  // the samples of this folder

class PracticeTaps : public Taps {
 protected:
  static touch::Register seen(const flow::View& view, const Device& device,
                              const touch::Look& look = {}) {
    Glass glass(device, look);
    Scratch scratch;
    std::vector<flow::Intent> out;
    return glass.show([&](touch::Ui& ui) { draw(ui, english(), view, {}, scratch, out); });
  }
};

TEST_F(PracticeTaps, AnAnswerIsOneTapOnEveryTablet) {
  for (const Device& device : kDevices) {
    const auto choose = only<flow::ChooseValue>(tap(practice_rating(true), "Stand/65", {}, device));
    EXPECT_EQ(choose.measure, "percent_stand");
    EXPECT_EQ(choose.entered, "65");
    only<flow::ShowToday>(tap(practice_rating(true), "Back", {}, device));
    only<flow::TakeBack>(tap(practice_rating(true), "Take back", {}, device));
  }
}

// Gloves on small glass have room for half of the tiles: the other half is one tap away.
TEST_F(PracticeTaps, EveryPercentCanBeSaidInGloves) {
  const touch::Look gloves{.gloves = true};
  for (const Device& device : kDevices)
    for (const char* percent : {"0", "45", "50", "100"}) {
      const std::string label = std::string("Stand/") + percent;
      Glass glass(device, gloves);
      Scratch scratch;
      std::vector<flow::Intent> out;
      const Glass::Draw draw_it = [&](touch::Ui& ui) {
        draw(ui, english(), practice_rating(false), {}, scratch, out);
      };
      glass.show(draw_it);
      if (touch::find(glass.seen(), label).empty()) {
        glass.tap("Stand/0-45", draw_it);
        glass.show(draw_it);
      }
      glass.tap(label, draw_it);
      EXPECT_EQ(only<flow::ChooseValue>(out).entered, percent) << device.name;
    }
}

// Proves: the definition stands beside the stand, and nothing tells its percent.
TEST_F(PracticeTaps, SaysOfWhatThePercentIsAndNotWhatItIs) {
  for (const Device& device : kDevices)
    for (const touch::Look& look : {touch::Look{}, touch::Look{.gloves = true}}) {
      const auto rows = seen(practice_rating(true), device, look);
      EXPECT_TRUE(touch::shows(rows, "Share of the rows that is filled")) << device.name;
      EXPECT_TRUE(touch::shows(rows, "Stand 10 of 10")) << device.name;
      EXPECT_FALSE(touch::shows(rows, "62")) << device.name;
      const auto patches = seen(practice_rating(false), device, look);
      EXPECT_TRUE(touch::shows(patches, "Share of the ground that is covered")) << device.name;
    }
}

// Proves: the stand is larger than any tile's picture, and is no picture to be matched with one.
TEST_F(PracticeTaps, TheStandIsLargeAndTheTilesArePlain) {
  for (const Device& device : kDevices) {
    Glass glass(device, {});
    Scratch scratch;
    std::vector<flow::Intent> out;
    const auto& shown = glass.show(
        [&](touch::Ui& ui) { draw(ui, english(), practice_rating(true), {}, scratch, out); });
    const auto stand = std::ranges::find(shown.widgets, "stand", &touch::Widget::label);
    ASSERT_NE(stand, shown.widgets.end());
    const platform::Picture& picture = glass.picture();
    const std::uint32_t green = touch::paper_palette()[touch::Tone::kDone];
    std::size_t tiles = 0;
    for (const touch::Widget& tile : shown.widgets) {
      if (tile.kind != touch::Kind::kTile) continue;
      ++tiles;
      EXPECT_GT(stand->drawn.area(), 2 * tile.drawn.area()) << device.name;
      for (auto y = static_cast<int>(tile.drawn.top); y < static_cast<int>(tile.drawn.bottom); ++y)
        for (auto x = static_cast<int>(tile.drawn.left); x < static_cast<int>(tile.drawn.right);
             ++x) {
          const std::size_t at =
              3 * (static_cast<std::size_t>(y) * static_cast<std::size_t>(picture.size.width) +
                   static_cast<std::size_t>(x));
          const std::uint32_t rgb = static_cast<std::uint32_t>(picture.rgb[at]) << 16U |
                                    static_cast<std::uint32_t>(picture.rgb[at + 1]) << 8U |
                                    picture.rgb[at + 2];
          ASSERT_NE(rgb, green) << device.name << " " << tile.label;
        }
    }
    EXPECT_EQ(tiles, 21U) << device.name;
  }
}

TEST_F(PracticeTaps, TheEndIsSaidInPlainWords) {
  flow::PracticeView view = practice_result(flow::RatesHow::kHigh, true);
  view.result->points = 6;
  view.result->give_or_take = 4;
  for (const Device& device : kDevices) {
    const auto high = seen(view, device);
    EXPECT_TRUE(touch::shows(high, "You rate 6 points high, give or take 4.")) << device.name;
    EXPECT_TRUE(touch::shows(high, "Drawn 3")) << device.name;
    EXPECT_TRUE(touch::shows(high, "You said 5")) << device.name;
    only<flow::ShowPractice>(tap(view, "Again", {}, device));
    only<flow::ShowToday>(tap(view, "Done", {}, device));
    only<flow::ShowToday>(tap(view, "Back", {}, device));
  }
  EXPECT_TRUE(touch::shows(seen(practice_result(flow::RatesHow::kLow, true), kDevices[0]),
                           "You rate 1 point low, give or take 14."));
  EXPECT_TRUE(touch::shows(seen(practice_result(flow::RatesHow::kNear, true), kDevices[0]),
                           "You rate as drawn, give or take 14."));
}

TEST_F(PracticeTaps, IsAKeyOfTheTabletScreen) {
  flow::TabletView view = tablet_view();
  view.practice.resize(1);
  view.practice[0].occasion = OccasionId{Uuid{}};
  for (const Device& device : {kDevices[4], kDevices[5]})
    only<flow::ShowPractice>(tap(tablet_view(), "WC25/Practice", {}, device));
  view.practice.clear();
  EXPECT_TRUE(touch::find(seen(view, kDevices[4]), "Practice").empty());
}

}  // namespace
}  // namespace ligule::screens
