// A card that takes seconds over a commit, and a ledger that another program holds: the glass goes
// on being drawn and answering, and nothing is shown as kept before it is.
#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <sqlite3.h>

#include <chrono>
#include <iostream>

#include "tests/app/program/live_tablet.h"
#include "tests/faults/watched_calls.h"

namespace ligule::faults {
namespace {

using platform::FingerMove;
using platform::Window;
using program_test::need;
using Clock = std::chrono::steady_clock;

double seconds_since(Clock::time_point then) {
  return std::chrono::duration<double>(Clock::now() - then).count();
}

class SlowCard : public testing::Test {
 protected:
  void SetUp() override {
    site_.enrol();
    tablet_.emplace(site_, platform::Size{1280, 800}, 189, false);
    ASSERT_EQ(tablet_->play(program_test::on_the_card("")), "");
    ledger_ = need(ledger::Ledger::open(site_.ledger(), ledger::Access::kReadOnly));
  }

  void tap(std::string_view label) {
    const auto found = touch::find(tablet_->seen(), label);
    ASSERT_EQ(found.size(), 1U) << label;
    const auto at = touch::visible_part(*found.front()).centre();
    Window::push_finger(FingerMove::kDown, at, tablet_->window().size());
    Window::push_finger(FingerMove::kUp, at, tablet_->window().size());
  }

  // The state of a plot's stake on the glass; empty: it does not show.
  [[nodiscard]] std::string shown(std::string_view plot) const {
    for (const touch::Widget& widget : tablet_->seen().widgets)
      if (widget.kind == touch::Kind::kStake && widget.label == plot) return widget.value;
    return {};
  }
  [[nodiscard]] bool held(const std::string& plot) const { return site_.kept().contains(plot); }

  // Turns of the program's loop, as it runs, until `over`; every 50 ms a finger comes down where
  // nothing is and goes again, which asks for frames. Whatever the glass shows as kept must be.
  void run_until(const std::function<bool()>& over, double at_most) {
    const auto began = Clock::now();
    auto touched = began;
    const auto frames = tablet_->loop().frames();
    longest_ = 0;
    while (!over() && seconds_since(began) < at_most) {
      const auto before = Clock::now();
      const auto drew = tablet_->loop().turn();
      ASSERT_TRUE(drew);
      longest_ = std::max(longest_, seconds_since(before));
      for (const char* plot : {"101", "102", "103"}) {
        if (shown(plot) == "saving") saving_.insert(plot);
        if (shown(plot) == "kept" && !held_.contains(plot)) {
          ASSERT_TRUE(held(plot)) << plot << " is shown as kept and is not";
          held_.insert(plot);
        }
      }
      if (!*drew) tablet_->window().wait(10);
      if (seconds_since(touched) < 0.05) continue;
      touched = Clock::now();
      Window::push_finger(FingerMove::kDown, {2, 2}, tablet_->window().size());
      Window::push_finger(FingerMove::kUp, {2, 2}, tablet_->window().size());
    }
    seconds_ = seconds_since(began);
    frames_ = tablet_->loop().frames() - frames;
  }

  program_test::InventedSite site_;
  std::optional<program_test::LiveTablet> tablet_;
  std::optional<ledger::Ledger> ledger_;
  std::set<std::string> saving_, held_;  // plots that were shown so
  double longest_ = 0;                   // turn of the loop, in seconds
  double seconds_ = 0;
  std::int64_t frames_ = 0;
};

TEST_F(SlowCard, TheGlassGoesOnWhileACommitTakesTwoSeconds) {
  const SlowSyncs slow(2'000);
  // The path moves on meanwhile: three plots are rated before the first is kept.
  for (const char* tile : {"Stand/80", "Stand/75", "Stand/70"}) {
    tap(tile);
    run_until([began = Clock::now()] { return seconds_since(began) > 0.3; }, 1);
  }
  EXPECT_FALSE(held("101"));
  EXPECT_EQ(shown("103"), "saving");
  // The lane shows the plots around the present one: the last of the three among them.
  run_until([&] { return held_.contains("103"); }, 20);
  std::cout << frames_ << " frames in " << seconds_ << " s of slow commits, the longest turn "
            << longest_ * 1000 << " ms\n";
  EXPECT_TRUE(held_.contains("103"));
  EXPECT_THAT(saving_, testing::ElementsAre("101", "102", "103"));
  EXPECT_GT(seconds_, 4) << "the syncs are not slow";
  EXPECT_GT(static_cast<double>(frames_) / seconds_, 5);
  EXPECT_LT(longest_, 1);
  EXPECT_EQ(site_.kept().at("103"), "70");
}

// Somebody copies or gathers a whole season into the ledger: longer than a commit waits.
TEST_F(SlowCard, ALedgerThatAnotherProgramHoldsIsToldAndTheValueStays) {
  sqlite3* other = nullptr;
  ASSERT_EQ(sqlite3_open(site_.ledger().c_str(), &other), SQLITE_OK);
  ASSERT_EQ(sqlite3_exec(other, "BEGIN IMMEDIATE", nullptr, nullptr, nullptr), SQLITE_OK);
  tap("Stand/80");
  run_until([&] { return touch::shows(tablet_->seen(), "NOT SAVED"); }, 15);
  std::cout << frames_ << " frames in " << seconds_ << " s, the longest turn " << longest_ * 1000
            << " ms\n";
  EXPECT_TRUE(touch::shows(tablet_->seen(), "NOT SAVED"));
  EXPECT_TRUE(touch::shows(tablet_->seen(), "another program holds"));
  EXPECT_TRUE(touch::shows(tablet_->seen(), "Plots 101."));
  EXPECT_GT(static_cast<double>(frames_) / seconds_, 5);
  EXPECT_LT(longest_, 1);
  EXPECT_FALSE(held("101"));
  ASSERT_EQ(sqlite3_exec(other, "COMMIT", nullptr, nullptr, nullptr), SQLITE_OK);
  sqlite3_close(other);
  // The panel takes no tap before somebody could have read it.
  run_until([began = Clock::now()] { return seconds_since(began) > 0.5; }, 1);
  tap("Save again");
  run_until([&] { return held_.contains("101"); }, 10);
  EXPECT_EQ(site_.kept().at("101"), "80");
}

}  // namespace
}  // namespace ligule::faults
