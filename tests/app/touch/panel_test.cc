// A panel over the screen: what lies beneath can't be tapped, and no tap counts that was on its way
// before anyone could read what came under it.
#include <gtest/gtest.h>

#include <array>

#include "tests/app/touch/bench_app.h"

namespace ligule::touch_test {
namespace {

using platform::FingerMove;
using platform::Point;
using platform::Window;
using touch::Key;

// A key that fills the glass, and over it a question while one is asked.
class Asked : public testing::Test {
 protected:
  void ask(const std::string& title) {
    title_ = title;
    look();
  }
  void look() {
    bench_.app->changed = true;
    bench_.settle();
  }
  void read() { bench_.clock.pass(touch::kUnreadMs); }

  std::string title_;
  int beneath_ = 0;
  bool under_ = false;  // another panel lies under the question
  int under_answers_ = 0;
  std::vector<std::string> answers_;  // titles of what was answered
  std::function<void()> then_;        // what an answer does
  std::array<Key, 2> keys_{Key{.label = "Yes", .style = touch::Style::kAction}, Key{.label = "No"}};
  Bench bench_{[this](touch::Ui& ui) {
    beneath_ += touch::key(ui, ui.page(), {.label = "Beneath"}) ? 1 : 0;
    touch::text(ui, {500, 340, 900, 420}, {.text = "hidden words"});
    if (under_) under_answers_ += touch::question(ui, {.title = "Told", .answers = keys_}) ? 1 : 0;
    if (title_.empty()) return;
    if (!touch::question(ui, {.title = title_, .text = "It looks odd.", .answers = keys_})) return;
    answers_.push_back(title_);
    if (then_) then_();
  }};
};

TEST_F(Asked, LetsNothingBeneathBeTapped) {
  EXPECT_TRUE(shows(bench_.seen(), "hidden words"));
  ask("Sure?");
  EXPECT_TRUE(find(bench_.seen(), "Beneath").empty());
  EXPECT_FALSE(shows(bench_.seen(), "hidden words"));
  EXPECT_TRUE(shows(bench_.seen(), "It looks odd."));
  read();
  bench_.tap({100, 100});
  EXPECT_EQ(beneath_, 0);
  bench_.tap(bench_.middle_of("Sure?/No"));
  EXPECT_EQ(answers_.size(), 1U);
  ask("");
  bench_.tap({100, 100});
  EXPECT_EQ(beneath_, 1);
}

TEST_F(Asked, IsNotAnsweredByATapThatWasOnItsWay) {
  ask("Sure?");
  const Point yes = bench_.middle_of("Sure?/Yes");
  ask("");
  // It comes before the frame that would have taken the tap.
  title_ = "Sure?";
  bench_.tap(yes);
  EXPECT_TRUE(answers_.empty());
  EXPECT_EQ(beneath_, 0);
  // And by one that lands before a person could have read it.
  bench_.clock.pass(touch::kUnreadMs - 1);
  bench_.tap(yes);
  EXPECT_TRUE(answers_.empty());
  bench_.clock.pass(1);
  bench_.tap(yes);
  EXPECT_EQ(answers_.size(), 1U);
}

TEST_F(Asked, IsNotAnsweredByAFingerThatLayThereBefore) {
  ask("Sure?");
  const Point yes = bench_.middle_of("Sure?/Yes");
  ask("");
  Window::push_finger(FingerMove::kDown, yes, bench_.window->size());
  bench_.settle();
  ask("Sure?");
  read();
  Window::push_finger(FingerMove::kUp, yes, bench_.window->size());
  bench_.settle();
  EXPECT_TRUE(answers_.empty());
  EXPECT_EQ(beneath_, 0);
}

// A notice that has no room on its screen, and a question over it.
TEST_F(Asked, IsAnsweredThoughAnotherPanelLiesUnderIt) {
  under_ = true;
  ask("Sure?");
  EXPECT_TRUE(find(bench_.seen(), "Told/Yes").empty());
  const Point yes = bench_.middle_of("Sure?/Yes");
  bench_.tap(yes);
  EXPECT_TRUE(answers_.empty());
  read();
  bench_.tap(yes);
  EXPECT_EQ(answers_.size(), 1U);
  EXPECT_EQ(under_answers_, 0);
  // What lay under it has its turn, and its time.
  ask("");
  const Point under = bench_.middle_of("Told/Yes");
  bench_.tap(under);
  EXPECT_EQ(under_answers_, 0);
  read();
  bench_.tap(under);
  EXPECT_EQ(under_answers_, 1);
  EXPECT_EQ(beneath_, 0);
}

TEST_F(Asked, OneTapTooManyAnswersNoSecondQuestion) {
  // The next one says the same in the same place, or another thing.
  for (const char* const next : {"Sure?", "And this?"}) {
    answers_.clear();
    ask("");
    then_ = [&] { title_ = next; };
    ask("Sure?");
    read();
    const Point yes = bench_.middle_of("Sure?/Yes");
    bench_.tap(yes);
    bench_.tap(yes);
    EXPECT_EQ(answers_, std::vector<std::string>{"Sure?"}) << next;
    read();
    bench_.tap(yes);
    EXPECT_EQ(answers_.size(), 2U) << next;
  }
}

}  // namespace
}  // namespace ligule::touch_test
