// What a tap on the Tablet screen asks for, and the bar that a bank card is held against.
#include <gtest/gtest.h>

#include <algorithm>
#include <string>
#include <utility>

#include "app/screens/screens.h"
#include "tests/app/screens/glass.h"
#include "tests/app/screens/sample_views.h"
#include "tests/app/screens/taps_fixture.h"

namespace ligule::screens {
namespace {

using namespace tests;  // the samples of this folder

class TabletScreen : public Taps {};

TEST_F(TabletScreen, ThePersonAndTheTabletHaveItTheirWay) {
  only<flow::ShowTablet>(tap(busy_today(), "Tablet"));
  const auto chosen = [&](std::string_view key, const Device& device) {
    const auto choose = only<flow::Choose>(tap(tablet_view(), key, {}, device));
    return std::pair<flow::Preference, std::string>(choose.what, choose.code);
  };
  using flow::Preference;
  const auto pair = [](Preference what, const char* code) {
    return std::pair<Preference, std::string>(what, code);
  };
  for (const Device& device : {kDevices[4], kDevices[5]}) {
    EXPECT_EQ(chosen("Language/Español", device), pair(Preference::kLanguage, "es"));
    EXPECT_EQ(chosen("Colors/Dusk", device), pair(Preference::kTheme, "dusk"));
    EXPECT_EQ(chosen("Hand that taps/Left", device), pair(Preference::kHand, "left"));
    EXPECT_EQ(chosen("Keys/For gloves", device), pair(Preference::kGloves, "gloves"));
    EXPECT_EQ(chosen("Text/Large", device), pair(Preference::kText, "large"));
    EXPECT_EQ(chosen("Plot weights/lb", device), pair(Preference::kMass, "lb"));
    EXPECT_EQ(chosen("Heights/cm", device), pair(Preference::kLength, "cm"));
    only<flow::MeasureGlass>(tap(tablet_view(), "Measure", {}, device));
  }
  only<flow::HandOver>(tap(tablet_view(), "Hand over"));
  only<flow::ShowToday>(tap(tablet_view(), "Back"));
  EXPECT_EQ(only<flow::Choose>(tap(sample_sign_in(5), "Español")).code, "es");
}

TEST_F(TabletScreen, TheBarIsMadeAsLongAsTheCard) {
  const flow::TabletView view = tablet_measuring(637);
  EXPECT_EQ(only<flow::StepGlass>(tap(view, "Longer")).by, 1);
  EXPECT_EQ(only<flow::StepGlass>(tap(view, "Shorter")).by, -1);
  EXPECT_GT(only<flow::StepGlass>(tap(view, "Much longer")).by, 10);
  EXPECT_LT(only<flow::StepGlass>(tap(view, "Much shorter")).by, -10);
  only<flow::KeepGlass>(tap(view, "It fits"));
  only<flow::OwnGlass>(tap(view, "The display's own"));
  only<flow::ShowTablet>(tap(view, "Back"));
}

TEST_F(TabletScreen, TheBarIsDrawnAsLongAsItSays) {
  for (const double pixels : {300.0, 637.0}) {
    Glass glass(kDevices[0], {});
    Scratch scratch;
    std::vector<flow::Intent> out;
    const auto& seen = glass.show(
        [&](touch::Ui& ui) { draw(ui, english(), tablet_measuring(pixels), {}, scratch, out); });
    const auto bar = std::ranges::find(seen.widgets, "card", &touch::Widget::label);
    ASSERT_NE(bar, seen.widgets.end());
    EXPECT_FLOAT_EQ(bar->drawn.width(), static_cast<float>(pixels));
  }
}

}  // namespace
}  // namespace ligule::screens
