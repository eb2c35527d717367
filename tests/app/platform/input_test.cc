#include "app/platform/input.h"

#include <SDL.h>
#include <gtest/gtest.h>

namespace ligule::platform {
namespace {

constexpr Size kDrawn{1000, 500};
constexpr Size kWindow{500, 250};

SDL_Event finger(Uint32 type, float x, float y, SDL_FingerID id = 1) {
  SDL_Event event{};
  event.type = type;
  event.tfinger.fingerId = id;
  event.tfinger.x = x / 1000;
  event.tfinger.y = y / 500;
  return event;
}

SDL_Event mouse(Uint32 type, int x, int y, Uint32 which = 0) {
  SDL_Event event{};
  event.type = type;
  event.button.which = which;
  event.button.button = SDL_BUTTON_LEFT;
  event.button.x = x;
  event.button.y = y;
  return event;
}

SDL_Event text(const char* letters) {
  SDL_Event event{};
  event.type = SDL_TEXTINPUT;
  SDL_strlcpy(event.text.text, letters, sizeof event.text.text);
  return event;
}

SDL_Event hard(SDL_Keycode code) {
  SDL_Event event{};
  event.type = SDL_KEYDOWN;
  event.key.keysym.sym = code;
  return event;
}

class InputFeederTest : public testing::Test {
 protected:
  bool push(const SDL_Event& event) { return feeder_.push(event, kDrawn, kWindow); }
  InputFeeder feeder_;
};

TEST_F(InputFeederTest, GivesOneButtonChangeAFrameAtThePlaceOfTheEvent) {
  push(finger(SDL_FINGERDOWN, 100, 50));
  push(finger(SDL_FINGERUP, 100, 50));
  push(finger(SDL_FINGERDOWN, 700, 400));
  push(finger(SDL_FINGERUP, 700, 400));
  const InputFrame down = feeder_.take();
  EXPECT_TRUE(down.pressed && down.touching && !down.released);
  EXPECT_FLOAT_EQ(down.position->x, 100);
  const InputFrame up = feeder_.take();
  EXPECT_TRUE(up.released && !up.touching);
  const InputFrame again = feeder_.take();
  EXPECT_TRUE(again.pressed);
  EXPECT_FLOAT_EQ(again.position->x, 700);
  EXPECT_FLOAT_EQ(again.position->y, 400);
  EXPECT_TRUE(feeder_.waiting());
  EXPECT_TRUE(feeder_.take().released);
  EXPECT_FALSE(feeder_.waiting());
}

TEST_F(InputFeederTest, FingerThatLeftIsNowhere) {
  push(finger(SDL_FINGERDOWN, 100, 50));
  push(finger(SDL_FINGERUP, 100, 50));
  (void)feeder_.take();
  EXPECT_TRUE(feeder_.take().position.has_value());  // where it was let go
  EXPECT_FALSE(feeder_.take().position.has_value());
}

TEST_F(InputFeederTest, KeepsEveryPlaceOfAStrokeInOneFrame) {
  push(finger(SDL_FINGERDOWN, 100, 50));
  (void)feeder_.take();
  push(finger(SDL_FINGERMOTION, 300, 50));
  push(finger(SDL_FINGERMOTION, 110, 50));
  push(finger(SDL_FINGERUP, 100, 50));
  const InputFrame frame = feeder_.take();
  ASSERT_EQ(frame.path.size(), 3U);
  EXPECT_FLOAT_EQ(frame.path[0].x, 300);
  EXPECT_TRUE(frame.released);
}

TEST_F(InputFeederTest, SecondFingerTakesTheTouchBackUntilAllAreOff) {
  push(finger(SDL_FINGERDOWN, 100, 50, 1));
  EXPECT_TRUE(feeder_.take().pressed);
  EXPECT_TRUE(push(finger(SDL_FINGERDOWN, 500, 50, 2)));
  const InputFrame taken_back = feeder_.take();
  EXPECT_TRUE(taken_back.cancelled && !taken_back.touching);
  EXPECT_FALSE(taken_back.position.has_value());
  push(finger(SDL_FINGERUP, 100, 50, 1));
  push(finger(SDL_FINGERDOWN, 200, 50, 3));
  push(finger(SDL_FINGERUP, 200, 50, 3));
  push(finger(SDL_FINGERUP, 500, 50, 2));
  EXPECT_FALSE(feeder_.waiting());
  push(finger(SDL_FINGERDOWN, 300, 50, 4));
  EXPECT_TRUE(feeder_.take().pressed);
}

TEST_F(InputFeederTest, MouseIsAFingerInDrawnPixels) {
  push(mouse(SDL_MOUSEBUTTONDOWN, 100, 50));
  const InputFrame frame = feeder_.take();
  EXPECT_TRUE(frame.pressed);
  EXPECT_FLOAT_EQ(frame.position->x, 200);
  EXPECT_FLOAT_EQ(frame.position->y, 100);
}

TEST_F(InputFeederTest, MouseThatSdlMakesOfAFingerIsIgnored) {
  EXPECT_FALSE(push(mouse(SDL_MOUSEBUTTONDOWN, 100, 50, SDL_TOUCH_MOUSEID)));
  EXPECT_FALSE(feeder_.waiting());
}

TEST_F(InputFeederTest, MovingAMouseAsksForNoFrame) {
  SDL_Event event{};
  event.type = SDL_MOUSEMOTION;
  event.motion.x = 20;
  EXPECT_FALSE(push(event));
}

TEST_F(InputFeederTest, KeysKeepTheirOrderAgainstTaps) {
  push(text("4"));
  push(hard(SDLK_RETURN));
  push(finger(SDL_FINGERDOWN, 100, 50));
  push(text("7"));
  const InputFrame keys = feeder_.take();
  ASSERT_EQ(keys.keys.size(), 2U);
  EXPECT_EQ(keys.keys[0], (KeyPress{HardKey::kText, "4"}));
  EXPECT_EQ(keys.keys[1].key, HardKey::kEnter);
  EXPECT_FALSE(keys.pressed);
  EXPECT_TRUE(feeder_.take().pressed);
  EXPECT_EQ(feeder_.take().keys.size(), 1U);
}

TEST_F(InputFeederTest, KnowsTheHardKeys) {
  for (const auto& [code, key] : {std::pair{SDLK_KP_ENTER, HardKey::kEnter},
                                  {SDLK_BACKSPACE, HardKey::kErase},
                                  {SDLK_ESCAPE, HardKey::kEscape},
                                  {SDLK_TAB, HardKey::kTab},
                                  {SDLK_LEFT, HardKey::kLeft},
                                  {SDLK_RIGHT, HardKey::kRight},
                                  {SDLK_UP, HardKey::kUp},
                                  {SDLK_DOWN, HardKey::kDown}}) {
    EXPECT_TRUE(push(hard(code)));
    EXPECT_EQ(feeder_.take().keys.at(0).key, key);
  }
  // A digit's key event: its text event follows and is the one that counts.
  EXPECT_FALSE(push(hard(SDLK_5)));
}

TEST_F(InputFeederTest, ResetTakesAHeldTouchBack) {
  push(finger(SDL_FINGERDOWN, 100, 50));
  (void)feeder_.take();
  feeder_.reset();
  EXPECT_TRUE(feeder_.take().cancelled);
  EXPECT_FALSE(push(finger(SDL_FINGERUP, 100, 50)));
}

TEST_F(InputFeederTest, WheelTurnsAtItsPlace) {
  SDL_Event event{};
  event.type = SDL_MOUSEWHEEL;
  event.wheel.preciseY = -2;
  event.wheel.mouseX = 10;
  EXPECT_TRUE(push(event));
  const InputFrame frame = feeder_.take();
  EXPECT_FLOAT_EQ(frame.wheel, -2);
  EXPECT_FLOAT_EQ(frame.position->x, 20);
}

}  // namespace
}  // namespace ligule::platform
