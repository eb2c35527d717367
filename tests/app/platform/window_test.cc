#include "app/platform/window.h"

#include <gtest/gtest.h>

namespace ligule::platform {
namespace {

WindowOptions headless(Size size, double ppi) {
  WindowOptions options;
  options.headless = true;
  options.size = size;
  options.ppi = ppi;
  return options;
}

TEST(Window, HeadlessHasTheSizeAndDotsAskedFor) {
  const auto window = Window::open(headless({1920, 1200}, 226));
  ASSERT_TRUE(window.has_value()) << one_line(window.error());
  EXPECT_EQ((*window)->size(), (Size{1920, 1200}));
  EXPECT_DOUBLE_EQ((*window)->ppi(), 226);
}

TEST(Window, HeadlessWithoutOptionsIsAnEightInchTablet) {
  WindowOptions options;
  options.headless = true;
  const auto window = Window::open(options);
  ASSERT_TRUE(window.has_value()) << one_line(window.error());
  EXPECT_EQ((*window)->size(), (Size{1280, 800}));
  EXPECT_DOUBLE_EQ((*window)->ppi(), 189);
}

TEST(Window, RefusesSizesAndDotsNoTabletHas) {
  for (const Size size : {Size{100, 800}, Size{1280, 90'000}}) {
    const auto window = Window::open(headless(size, 189));
    ASSERT_FALSE(window.has_value());
    EXPECT_EQ(window.error().kind, ErrorKind::kInvalid);
    EXPECT_EQ(window.error().where, "--size");
  }
  const auto window = Window::open(headless({1280, 800}, 5));
  ASSERT_FALSE(window.has_value());
  EXPECT_EQ(window.error().where, "--ppi");
}

TEST(Window, TurningSwapsWidthAndHeight) {
  const auto window = Window::open(headless({1280, 800}, 189));
  ASSERT_TRUE(window.has_value());
  (*window)->resize({800, 1280});
  EXPECT_EQ((*window)->size(), (Size{800, 1280}));
}

TEST(Window, SetPpiIgnoresNonsense) {
  const auto window = Window::open(headless({1280, 800}, 189));
  ASSERT_TRUE(window.has_value());
  (*window)->set_ppi(200);
  EXPECT_DOUBLE_EQ((*window)->ppi(), 200);
  (*window)->set_ppi(3);
  EXPECT_DOUBLE_EQ((*window)->ppi(), 200);
}

TEST(Window, MissingFontsEndTheFrameWithAReason) {
  WindowOptions options = headless({1280, 800}, 189);
  options.fonts = "/no/such/folder";
  const auto window = Window::open(options);
  ASSERT_TRUE(window.has_value());
  (*window)->request_fonts({{Face::kRegular, 20, false}});
  EXPECT_FALSE((*window)->begin_frame({}, 0.02));
  EXPECT_EQ((*window)->error().kind, ErrorKind::kNotFound);
}

TEST(Window, LongTextsArriveWhole) {
  const auto window = Window::open(headless({1280, 800}, 189));
  ASSERT_TRUE(window.has_value());
  std::string text;
  for (int n = 0; n < 30; ++n) text += "a\xC3\xB1";
  Window::push_text(text);
  EXPECT_TRUE((*window)->pump());
  std::string arrived;
  for (const KeyPress& press : (*window)->feeder().take().keys) {
    EXPECT_NE(static_cast<unsigned char>(press.text[0]) & 0xC0U, 0x80U) << "cut inside a letter";
    arrived += press.text;
  }
  EXPECT_EQ(arrived, text);
}

TEST(Window, EmptyGroundShowsThePaper) {
  const auto window = Window::open(headless({640, 480}, 189));
  ASSERT_TRUE(window.has_value());
  (*window)->request_fonts({{Face::kRegular, 20, false}});
  (*window)->keep_picture(true);
  (*window)->set_paper(0xF4EFE2);
  ASSERT_TRUE((*window)->begin_frame({}, 0.02));
  (*window)->end_frame();
  const Picture& picture = (*window)->picture();
  ASSERT_EQ(picture.rgb.size(), 640U * 480 * 3);
  EXPECT_EQ(picture.rgb[0], 0xF4);
  EXPECT_EQ(picture.rgb[1], 0xEF);
  EXPECT_EQ(picture.rgb[2], 0xE2);
}

}  // namespace
}  // namespace ligule::platform
