#include "app/platform/loop.h"

#include <gtest/gtest.h>

#include <memory>

namespace ligule::platform {
namespace {

class CountingApp final : public App {
 public:
  void draw(const InputFrame& input) override {
    ++frames;
    if (input.pressed) ++presses;
    if (ends_after > 0 && frames >= ends_after) end = true;
    due.reset();
  }
  bool poll() override {
    if (pending_polls > 0) --pending_polls;
    return std::exchange(changed, false);
  }
  [[nodiscard]] bool effects_pending() const override { return pending_polls > 0; }
  [[nodiscard]] std::optional<std::int64_t> next_change_ms() const override { return due; }
  [[nodiscard]] bool finished() const override { return end; }

  int frames = 0;
  int presses = 0;
  int ends_after = 0;
  int pending_polls = 0;
  bool changed = false;
  bool end = false;
  std::optional<std::int64_t> due;
};

class LoopTest : public testing::Test {
 protected:
  LoopTest() {
    WindowOptions options;
    options.headless = true;
    options.size = Size{640, 480};
    auto opened = Window::open(options);
    window_ = std::move(*opened);
    window_->request_fonts({{Face::kRegular, 20, false}});
    loop_ = std::make_unique<Loop>(*window_, app_, clock_);
    settle();
    app_.frames = 0;
  }
  void settle() {
    const auto calm = loop_->settle(5000);
    ASSERT_TRUE(calm.has_value() && *calm);
  }

  std::unique_ptr<Window> window_;
  CountingApp app_;
  DrivenClock clock_{0};
  std::unique_ptr<Loop> loop_;
};

// Proves: drawn only when something changed.
TEST_F(LoopTest, DrawsNothingWhileNothingHappens) {
  for (int turn = 0; turn < 50; ++turn) {
    const auto drew = loop_->turn();
    ASSERT_TRUE(drew.has_value());
    EXPECT_FALSE(*drew);
  }
  EXPECT_EQ(app_.frames, 0);
}

TEST_F(LoopTest, TapTakesItsTwoFramesAndOneThatShowsTheEffect) {
  Window::push_finger(FingerMove::kDown, {10, 10}, window_->size());
  Window::push_finger(FingerMove::kUp, {10, 10}, window_->size());
  settle();
  EXPECT_EQ(app_.frames, 3);
  EXPECT_EQ(app_.presses, 1);
}

TEST_F(LoopTest, FinishedEffectAsksForAFrame) {
  app_.changed = true;
  settle();
  EXPECT_EQ(app_.frames, 1);
}

TEST_F(LoopTest, NamedMomentDrawsWhenItComes) {
  app_.due = 700;
  clock_.pass(699);
  settle();
  EXPECT_EQ(app_.frames, 0);
  clock_.pass(1);
  settle();
  EXPECT_EQ(app_.frames, 1);
}

TEST_F(LoopTest, SettleWaitsForPendingEffects) {
  app_.pending_polls = 4;
  settle();
  EXPECT_EQ(app_.pending_polls, 0);
}

TEST_F(LoopTest, SettleGivesUpAfterItsTime) {
  app_.pending_polls = 1'000'000;
  const auto calm = loop_->settle(60);
  ASSERT_TRUE(calm.has_value());
  EXPECT_FALSE(*calm);
}

TEST_F(LoopTest, RunEndsWhenTheApplicationHasFinished) {
  app_.ends_after = 1;
  loop_->request_frame();
  EXPECT_TRUE(loop_->run().has_value());
  EXPECT_EQ(app_.frames, 1);
}

TEST_F(LoopTest, RotatedGlassIsDrawnAgain) {
  window_->resize({480, 640});
  settle();
  EXPECT_GE(app_.frames, 1);
}

TEST(Loop, MissingFontsAreReported) {
  WindowOptions options;
  options.headless = true;
  options.fonts = "/no/such/folder";
  auto window = Window::open(options);
  ASSERT_TRUE(window.has_value());
  (*window)->request_fonts({{Face::kRegular, 20, false}});
  CountingApp app;
  DrivenClock clock(0);
  Loop loop(**window, app, clock);
  EXPECT_EQ(loop.run().error().kind, ErrorKind::kNotFound);
}

}  // namespace
}  // namespace ligule::platform
