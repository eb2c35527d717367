// What a finger does: pads, sliding off, dragging, several fingers.
#include <gmock/gmock.h>

#include <array>
#include <chrono>
#include <thread>

#include "tests/app/touch/bench_app.h"

namespace ligule::touch_test {
namespace {

using namespace ligule::touch;  // NOLINT: a test
using platform::FingerMove;
using platform::Window;

// A key in the middle, and how often it was tapped.
struct OneKey {
  int taps = 0;
  Rect rect{400, 300, 600, 500};
  void draw(Ui& ui) { taps += key(ui, rect, {.label = "Keep", .primary = true}) ? 1 : 0; }
};

class OneKeyTest : public testing::Test {
 protected:
  void push(FingerMove move, Point at, int finger = 1) {
    Window::push_finger(move, at, bench_.window->size(), finger);
  }
  OneKey key_;
  Bench bench_{[this](Ui& ui) { key_.draw(ui); }};
};

TEST_F(OneKeyTest, ActsOnReleaseAndShowsTheTouchBefore) {
  const auto pixel = [&] {
    const auto& picture = bench_.window->picture();
    const std::size_t at = (320UL * 1280 + 420) * 3;
    return std::array{picture.rgb[at], picture.rgb[at + 1], picture.rgb[at + 2]};
  };
  const auto before = pixel();
  push(FingerMove::kDown, {500, 400});
  bench_.settle();
  EXPECT_EQ(key_.taps, 0);
  EXPECT_NE(pixel(), before);
  push(FingerMove::kUp, {500, 400});
  bench_.settle();
  EXPECT_EQ(key_.taps, 1);
  EXPECT_EQ(pixel(), before);
}

TEST_F(OneKeyTest, AnswersInHalfTheGapAroundItAndNoFurther) {
  const float half = bench_.app->ui().gap() / 2;
  bench_.tap({400 - half + 1, 400});
  EXPECT_EQ(key_.taps, 1);
  bench_.tap({400 - half - 2, 400});
  EXPECT_EQ(key_.taps, 1);
}

TEST_F(OneKeyTest, SlidingOffCancelsEvenWhenTheFingerComesBack) {
  push(FingerMove::kDown, {500, 400});
  bench_.settle();
  push(FingerMove::kMove, {700, 400});
  bench_.settle();
  push(FingerMove::kMove, {500, 400});
  bench_.settle();
  push(FingerMove::kUp, {500, 400});
  bench_.settle();
  EXPECT_EQ(key_.taps, 0);
}

TEST_F(OneKeyTest, SlidingOffAndBackWithinOneFrameCancelsToo) {
  push(FingerMove::kDown, {500, 400});
  push(FingerMove::kMove, {700, 400});
  push(FingerMove::kMove, {500, 400});
  push(FingerMove::kUp, {500, 400});
  bench_.settle();
  EXPECT_EQ(key_.taps, 0);
}

TEST_F(OneKeyTest, SecondFingerTakesTheTapBack) {
  push(FingerMove::kDown, {500, 400}, 1);
  push(FingerMove::kDown, {900, 200}, 2);
  push(FingerMove::kUp, {500, 400}, 1);
  push(FingerMove::kUp, {900, 200}, 2);
  bench_.settle();
  EXPECT_EQ(key_.taps, 0);
  bench_.tap({500, 400});
  EXPECT_EQ(key_.taps, 1);
}

TEST_F(OneKeyTest, NothingIsDrawnWhileNothingHappens) {
  const auto frames = bench_.loop->frames();
  for (int turn = 0; turn < 20; ++turn) ASSERT_FALSE(*bench_.loop->turn());
  EXPECT_EQ(bench_.loop->frames(), frames);
}

TEST_F(OneKeyTest, TapTwoFramesAndTheEffectInTheNext) {
  const auto frames = bench_.loop->frames();
  bench_.tap({500, 400});
  EXPECT_EQ(bench_.loop->frames(), frames + 3);
}

TEST(DisabledKey, DoesNotAct) {
  int taps = 0;
  Bench bench([&](Ui& ui) {
    taps += key(ui, {400, 300, 600, 500}, {.label = "Keep", .enabled = false}) ? 1 : 0;
  });
  bench.tap({500, 400});
  EXPECT_EQ(taps, 0);
  EXPECT_TRUE(find(bench.seen(), "Keep").empty());
}

struct ListScene {
  std::vector<int> taps = std::vector<int>(20);
  void draw(Ui& ui) {
    auto scroll = ui.scroll("list", ui.page());
    Cutter rows(scroll.area(), Axis::kDown, ui.gap());
    for (std::size_t n = 0; n < taps.size(); ++n) {
      const std::string label = "Row " + std::to_string(n);
      taps[n] += key(ui, rows.take(ui.key()), {.label = label}) ? 1 : 0;
    }
  }
};

// --- the number pad ---

struct PadScene {
  std::string text;
  NumberPad pad{.erase = "Erase", .done = "Done", .decimals = true};
  int done = 0;
  void draw(Ui& ui) {
    for (const PadKey& tap : number_pad(ui, ui.page(), pad)) {
      if (tap.kind == PadKey::Kind::kDone)
        ++done;
      else
        apply(tap, text, 100, true);
    }
  }
};

class NumberPadTest : public testing::Test {
 protected:
  void push_tap(const std::string& label) {
    const Point at = bench_.middle_of(label);
    Window::push_finger(FingerMove::kDown, at, bench_.window->size());
    Window::push_finger(FingerMove::kUp, at, bench_.window->size());
  }
  PadScene scene_;
  Bench bench_{[this](Ui& ui) { scene_.draw(ui); }};
};

// Proves: one button transition a frame, position from the event.
TEST_F(NumberPadTest, FiftyTapsInOneBatchWhileDrawingStallsAreFiftyRightValues) {
  std::string expected;
  for (int n = 0; n < 50; ++n) {
    const char digit = static_cast<char>('0' + n * 7 % 10);
    expected += digit;
    push_tap(std::string(1, digit));
  }
  std::this_thread::sleep_for(std::chrono::milliseconds(150));  // the stalled frame
  bench_.settle();
  EXPECT_EQ(scene_.text, expected);
}

TEST_F(NumberPadTest, PointErasesAndDone) {
  for (const char* label : {"1", ".", "5", ".", "7", "Erase", "Done"}) push_tap(label);
  bench_.settle();
  EXPECT_EQ(scene_.text, "1.5");
  EXPECT_EQ(scene_.done, 1);
}

TEST_F(NumberPadTest, HardKeysTypeToo) {
  Window::push_text("20");
  Window::push_key(platform::HardKey::kErase);
  Window::push_text("4,5");
  Window::push_key(platform::HardKey::kEnter);
  bench_.settle();
  EXPECT_EQ(scene_.text, "24.5");
  EXPECT_EQ(scene_.done, 1);
  EXPECT_TRUE(bench_.seen().takes_text);
}

TEST_F(NumberPadTest, AHardMinusIsHandedOn) {
  Window::push_text("-5");
  bench_.settle();
  EXPECT_EQ(scene_.text, "-5");
}

// Proves: a scanned stake does not come out as the digits in it.
TEST_F(NumberPadTest, WhatIsNoNumberIsHandedOnWhole) {
  for (const bool decimals : {true, false}) {
    scene_.pad.decimals = decimals;
    scene_.text.clear();
    Window::push_text("TF24/107ñ");
    bench_.settle();
    EXPECT_EQ(scene_.text, "TF24/107ñ") << decimals;
  }
}

// A wedge sends digits and Enter in one burst: the key is drawn before the digits count.
TEST_F(NumberPadTest, AHardEnterIsHandedOnWhereDoneIsNotReadyYet) {
  scene_.pad.can_done = false;
  push_tap("Done");
  bench_.settle();
  EXPECT_EQ(scene_.done, 0);
  Window::push_text("18.2");
  Window::push_key(platform::HardKey::kEnter);
  bench_.settle();
  EXPECT_EQ(scene_.text, "18.2");
  EXPECT_EQ(scene_.done, 1);
}

TEST(NumberPadRoom, TooLittleRoomIsReportedNotSqueezed) {
  Bench bench([](Ui& ui) {
    (void)number_pad(ui, {0, 0, 200, 200}, {.erase = "Erase", .done = "Done"});
  });
  EXPECT_THAT(geometry_faults(bench.seen()), testing::ElementsAre("no room for \"number pad\""));
}

TEST(NumberPadRoom, GlovesGetLargerKeys) {
  Bench bench([](Ui& ui) { (void)number_pad(ui, ui.page(), {.erase = "Erase"}); }, glasses()[1],
              {.gloves = true});
  const auto found = find(bench.seen(), "5");
  ASSERT_EQ(found.size(), 1U);
  EXPECT_GE(static_cast<double>(found[0]->drawn.height()) / 189 * 25.4, 24.99);
}

TEST(NumberPadRoom, GlovesGetPlainKeysWhereLargeOnesHaveNoRoom) {
  Bench bench([](Ui& ui) { (void)number_pad(ui, ui.page(), {.erase = "Erase", .done = "Done"}); },
              glasses()[0], {.gloves = true});
  EXPECT_EQ(find(bench.seen(), "Done").size(), 1U);
  EXPECT_THAT(geometry_faults(bench.seen()), testing::IsEmpty());
}

TEST(TilePad, LabelsOfARowStandOnOneLine) {
  const std::array tiles{Tile{.label = "1", .note = "weakest of all"}, Tile{.label = "2"}};
  const auto ink_rows = [](const platform::Picture& picture, int from, int to) {
    int first = -1;
    for (int y = 60; y < 400 && first < 0; ++y)
      for (int x = from; x < to; ++x) {
        const auto at = (static_cast<std::size_t>(y) * 1280 + static_cast<std::size_t>(x)) * 3;
        if (picture.rgb[at] == 0x14 && picture.rgb[at + 1] == 0x20) first = y;
      }
    return first;
  };
  Bench bench([&](Ui& ui) {
    (void)tile_pad(ui, {40, 40, 640, 340}, tiles, {.columns = 2, .font = Font::kValue});
  });
  const auto left = find(bench.seen(), "1").at(0)->drawn;
  const auto right = find(bench.seen(), "2").at(0)->drawn;
  EXPECT_NEAR(ink_rows(bench.window->picture(), static_cast<int>(left.left) + 10,
                       static_cast<int>(left.right) - 10),
              ink_rows(bench.window->picture(), static_cast<int>(right.left) + 10,
                       static_cast<int>(right.right) - 10),
              2);  // digits differ by their roundness
}

TEST(Field, SentenceWrapsIntoItsLines) {
  Bench bench([](Ui& ui) {
    (void)field(
        ui, {30, 30, 500, 300},
        {.label = "Note", .value = "Lodged at the east end after the storm of Monday", .lines = 3});
  });
  EXPECT_THAT(geometry_faults(bench.seen()), testing::IsEmpty());
}

TEST(Wheel, ScrollsThePartUnderIt) {
  ListScene scene;
  Bench bench([&](Ui& ui) { scene.draw(ui); });
  platform::Window::push_wheel({600, 400}, -2);
  bench.settle();
  EXPECT_TRUE(find(bench.seen(), "Row 0").empty());
}

TEST(Apply, KeepsToItsLengthAndToOnePoint) {
  std::string text = "12";
  EXPECT_FALSE(apply({PadKey::Kind::kText, "3"}, text, 2));
  EXPECT_TRUE(apply({PadKey::Kind::kText, "."}, text, 5, true));
  EXPECT_FALSE(apply({PadKey::Kind::kText, ","}, text, 5, true));
  EXPECT_EQ(text, "12.");
  EXPECT_FALSE(apply({PadKey::Kind::kDone, {}}, text, 5));
}

TEST(Apply, ErasesAWholeLetter) {
  std::string text = "ma\xC3\xB1";
  EXPECT_TRUE(apply({PadKey::Kind::kErase, {}}, text, 9));
  EXPECT_EQ(text, "ma");
  text.clear();
  EXPECT_FALSE(apply({PadKey::Kind::kErase, {}}, text, 9));
}

// --- the keyboard ---

TEST(Keyboard, WritesCapitalsAccentsDigitsAndSpaces) {
  for (const Glass& glass : {glasses()[0], glasses()[1]}) {
    std::string text;
    KeyboardState state;
    const KeyboardWords words{"space", "Erase", "Done", "Aa", "123", "abc", "accents"};
    Bench bench(
        [&](Ui& ui) {
          const Rect page = ui.page();
          const float height = keyboard_height(ui, page.width());
          for (const PadKey& tap : keyboard(
                   ui, {page.left, page.bottom - height, page.right, page.bottom}, words, state))
            apply(tap, text, 40);
        },
        glass);
    for (const char* label :
         {"M", "a", "\xC3\xB1", "accents", "\xC3\xA1", "space", "123", "7", "abc", "x", "Erase"})
      bench.tap(bench.middle_of(label));
    EXPECT_EQ(text, "Ma\xC3\xB1\xC3\xA1 7") << glass.name;
    bench.tap(bench.middle_of("Aa"));
    bench.tap(bench.middle_of("\xC3\x91"));
    EXPECT_EQ(text, "Ma\xC3\xB1\xC3\xA1 7\xC3\x91") << glass.name;
  }
}

// --- dragging ---

class DragTest : public testing::Test {
 protected:
  void stroke(Point from, Point to) {
    Window::push_finger(FingerMove::kDown, from, bench_.window->size());
    for (int step = 1; step <= 5; ++step)
      Window::push_finger(FingerMove::kMove,
                          {from.x + (to.x - from.x) * static_cast<float>(step) / 5,
                           from.y + (to.y - from.y) * static_cast<float>(step) / 5},
                          bench_.window->size());
    Window::push_finger(FingerMove::kUp, to, bench_.window->size());
    bench_.settle();
  }
  float top_of(std::size_t row) {
    for (const Widget& widget : bench_.seen().widgets)
      if (widget.label == "Row " + std::to_string(row)) return widget.drawn.top;
    return -1;
  }
  ListScene scene_;
  Bench bench_{[this](Ui& ui) { scene_.draw(ui); }};
};

TEST_F(DragTest, PageFollowsTheFingerAndNoKeyActs) {
  const float before = top_of(3);
  stroke({600, 600}, {600, 350});
  EXPECT_NEAR(top_of(3), before - 250, 2);
  EXPECT_THAT(scene_.taps, testing::Each(0));
}

TEST_F(DragTest, TremorOfLessThanTwelvePixelsStaysATap) {
  const float before = top_of(0);
  stroke({600, 100}, {604, 110});
  EXPECT_EQ(scene_.taps[0], 1);
  EXPECT_FLOAT_EQ(top_of(0), before);
}

TEST_F(DragTest, StopsAtBothEnds) {
  const float start = top_of(0);
  stroke({600, 200}, {600, 700});
  EXPECT_NEAR(top_of(0), start, 1);
  for (int n = 0; n < 12; ++n) stroke({600, 700}, {600, 100});
  const float bottom = bench_.app->ui().page().bottom;
  const float last = top_of(19) + bench_.app->ui().key();
  EXPECT_NEAR(last, bottom, bench_.app->ui().gap());
}

TEST_F(DragTest, KeyOutOfViewIsNeitherFoundNorTapped) {
  EXPECT_TRUE(find(bench_.seen(), "Row 15").empty());
  EXPECT_FALSE(shows(bench_.seen(), "Row 15"));
  EXPECT_THAT(geometry_faults(bench_.seen()), testing::IsEmpty());
}

TEST_F(DragTest, ScrollToBringsARowIntoView) {
  bench_.app->ui().scroll_to("list", 2000, 2100);
  bench_.app->changed = true;
  bench_.settle();
  EXPECT_LT(top_of(0), -1000);
}

TEST(Swipe, IsAFinishedStrokeThatTappedNothing) {
  std::vector<touch::Swipe> seen;
  Bench bench([&](Ui& ui) {
    if (const auto stroke = ui.swiped(ui.page())) seen.push_back(*stroke);
  });
  const auto stroke = [&](Point from, Point to) {
    Window::push_finger(FingerMove::kDown, from, bench.window->size());
    Window::push_finger(FingerMove::kMove, to, bench.window->size());
    Window::push_finger(FingerMove::kUp, to, bench.window->size());
    bench.settle();
  };
  stroke({800, 400}, {400, 420});
  stroke({400, 400}, {800, 380});
  stroke({400, 200}, {410, 600});
  stroke({400, 600}, {410, 200});
  stroke({400, 400}, {430, 400});  // too short
  stroke({400, 400}, {700, 700});  // in no direction
  EXPECT_THAT(seen, testing::ElementsAre(touch::Swipe::kLeft, touch::Swipe::kRight,
                                         touch::Swipe::kDown, touch::Swipe::kUp));
}

// --- looks ---

TEST(Look, NewThemeAndSizesComeWithTheNextFrames) {
  Bench bench([](Ui& ui) { text(ui, ui.page(), {.text = "Plot"}); });
  const auto ground = [&] { return bench.window->picture().rgb[0]; };
  EXPECT_EQ(ground(), 0xF4);
  bench.app->ui().set_look({.dusk = true, .gloves = true});
  bench.app->changed = true;
  bench.settle();
  EXPECT_LT(ground(), 0x30);
  EXPECT_NEAR(bench.app->ui().key(), 25 * 189 / 25.4, 0.5);
}

TEST(Look, TrueDotsPerInchChangeEverySize) {
  Bench bench([](Ui& ui) { text(ui, ui.page(), {.text = "Plot"}); });
  bench.window->set_ppi(220);
  bench.app->changed = true;
  bench.settle();
  EXPECT_NEAR(bench.app->ui().key(), 20 * 220 / 25.4, 0.5);
}

TEST(Flash, EndsByItself) {
  bool flash = false;
  Bench bench([&](Ui& ui) {
    if (std::exchange(flash, false)) ui.flash(touch::Flash::kKept);
    text(ui, ui.page(), {.text = "Plot"});
  });
  const auto edge = [&] { return bench.window->picture().rgb[(3UL * 1280 + 100) * 3 + 1]; };
  flash = true;
  bench.app->changed = true;
  bench.settle();
  EXPECT_EQ(edge(), paper_palette()[Tone::kDone] >> 8U & 0xFFU);
  bench.clock.pass(800);
  bench.settle();
  EXPECT_EQ(edge(), paper_palette()[Tone::kGround] >> 8U & 0xFFU);
  EXPECT_FALSE(bench.app->next_change_ms().has_value());
}

}  // namespace
}  // namespace ligule::touch_test
