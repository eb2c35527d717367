#include "app/platform/fonts.h"

#include <gtest/gtest.h>
#include <imgui.h>

#include <array>
#include <filesystem>
#include <fstream>

namespace ligule::platform {
namespace {

constexpr std::array kOne{FontRequest{Face::kBold, 100, false}};

TEST(Fonts, CapitalsTakeTheShareThatSizesAreComputedWith) {
  ImFontAtlas atlas;
  const auto fonts = load_fonts(atlas, font_folder(), kOne);
  ASSERT_TRUE(fonts.has_value()) << one_line(fonts.error());
  const ImFontGlyph* glyph = fonts->front()->FindGlyphNoFallback('H');
  ASSERT_NE(glyph, nullptr);
  EXPECT_NEAR((glyph->Y1 - glyph->Y0) / 100, kCapitalShare, 0.015);
}

TEST(Fonts, CarryEveryLetterOfEnglishAndSpanish) {
  ImFontAtlas atlas;
  const auto fonts = load_fonts(atlas, font_folder(), kOne);
  ASSERT_TRUE(fonts.has_value());
  for (const ImWchar letter :
       {u'A', u'z', u'0', u'9', u'á', u'é', u'í', u'ó', u'ú', u'ü', u'ñ', u'Á', u'É',
        u'Í', u'Ó', u'Ú', u'Ü', u'Ñ', u'¿', u'¡', u'º', u'…', u'–', u'°', u'±', u'×'})
    EXPECT_NE(fonts->front()->FindGlyphNoFallback(letter), nullptr) << static_cast<int>(letter);
}

TEST(Fonts, MissingFileSaysWhatToInstall) {
  ImFontAtlas atlas;
  const auto fonts = load_fonts(atlas, "/no/such/folder", kOne);
  ASSERT_FALSE(fonts.has_value());
  EXPECT_EQ(fonts.error().kind, ErrorKind::kNotFound);
  EXPECT_NE(fonts.error().mend.find("fonts-b612"), std::string::npos);
}

TEST(Fonts, FileThatIsNoFontIsDamaged) {
  const auto folder = std::filesystem::path(LIGULE_BUILD_DIR) / "scratch" / "no_fonts";
  std::filesystem::create_directories(folder);
  std::ofstream(folder / "B612-Bold.otf") << "plain words, no letters drawn";
  ImFontAtlas atlas;
  const auto fonts = load_fonts(atlas, folder, kOne);
  ASSERT_FALSE(fonts.has_value());
  EXPECT_EQ(fonts.error().kind, ErrorKind::kDamaged);
}

}  // namespace
}  // namespace ligule::platform
