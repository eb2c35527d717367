#include "app/touch/theme.h"

#include <gtest/gtest.h>

namespace ligule::touch {
namespace {

// White on black is 21:1 by the definition in WCAG 2.2, "contrast ratio". The two greys are the
// familiar limits of 4.5:1 and 7:1 on white; their ratios are from memory.
TEST(Contrast, GivesTheKnownRatios) {
  EXPECT_NEAR(contrast(0xFFFFFF, 0x000000), 21.0, 1e-9);
  EXPECT_NEAR(contrast(0x767676, 0xFFFFFF), 4.54, 0.005);
  EXPECT_NEAR(contrast(0xFFFFFF, 0x595959), 7.0, 0.01);
  EXPECT_DOUBLE_EQ(contrast(0x123456, 0x123456), 1.0);
}

// Proves: text at least 7:1, adjacent state tones at least 3:1, in both themes.
TEST(Palette, EveryPairThatIsDrawnHasItsContrast) {
  for (const Palette* palette : {&paper_palette(), &dusk_palette()}) {
    for (const TonePair& pair : tone_pairs()) {
      EXPECT_GE(contrast((*palette)[pair.front], (*palette)[pair.back]), pair.at_least)
          << palette->name << ": tone " << static_cast<int>(pair.front) << " on "
          << static_cast<int>(pair.back);
    }
  }
}

TEST(Palette, TextTonesAreHeldToSevenOnEveryGroundTheyStandOn) {
  for (const TonePair& pair : tone_pairs()) {
    const bool text =
        pair.front == Tone::kInk || pair.front == Tone::kInkSoft || pair.front == Tone::kOnAction;
    EXPECT_TRUE(!text || pair.at_least >= 7.0) << static_cast<int>(pair.back);
  }
}

TEST(Sizes, MillimetresFollowTheDots) {
  const Sizes sizes({}, 189);
  EXPECT_NEAR(sizes.mm(25.4), 189, 1e-3);
  EXPECT_NEAR(sizes.key(), 148.8, 0.1);
  EXPECT_NEAR(sizes.gap(), 22.3, 0.1);
  EXPECT_GE(sizes.border(), 0.5 * 189 / 25.4 - 0.01);
}

TEST(Sizes, GlovesAndLargeText) {
  const Sizes sizes({.gloves = true, .large_text = true}, 189);
  EXPECT_DOUBLE_EQ(sizes.key_mm(), 25);
  EXPECT_DOUBLE_EQ(sizes.gap_mm(), 4);
  EXPECT_DOUBLE_EQ(sizes.capital_mm(Font::kBody), 5);
}

// Proves: body capitals at least 3.5 mm, current value and plot number at least 7 mm.
TEST(Sizes, CapitalsAreAsTallAsPromised) {
  for (const bool large : {false, true}) {
    const Sizes sizes({.large_text = large}, 216);
    const auto fonts = sizes.fonts();
    ASSERT_EQ(fonts.size(), static_cast<std::size_t>(Font::kCount));
    const auto capital = [&](Font font) {
      return static_cast<double>(fonts[static_cast<std::size_t>(font)].pixels) *
             platform::kCapitalShare / 216 * 25.4;
    };
    EXPECT_GE(capital(Font::kCaption), 2.8);
    EXPECT_GE(capital(Font::kBody), large ? 5.0 : 3.5);
    EXPECT_GE(capital(Font::kStrong), 3.5);
    EXPECT_GE(capital(Font::kLabel), 3.5);
    EXPECT_GE(capital(Font::kValue), 7.0);
    EXPECT_GE(capital(Font::kPlot), 7.0);
  }
}

}  // namespace
}  // namespace ligule::touch
