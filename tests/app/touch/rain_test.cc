// Drops, a palm, a leaf: what comes with several points at once is nobody's tap.
#include <gtest/gtest.h>

#include <random>

#include "tests/app/touch/bench_app.h"

namespace ligule::touch_test {
namespace {

using platform::FingerMove;
using platform::Point;
using platform::Window;

// A glass full of keys that counts what is tapped.
class Rain : public testing::Test {
 protected:
  void push(FingerMove move, Point at, int finger) {
    Window::push_finger(move, at, bench_.window->size(), finger);
  }
  int taps_ = 0;
  Bench bench_{[this](touch::Ui& ui) {
    const auto rows = touch::split(ui.page(), touch::Axis::kDown, 4, ui.gap());
    for (std::size_t r = 0; r < rows.size(); ++r) {
      const auto cells = touch::split(rows[r], touch::Axis::kAcross, 7, ui.gap());
      for (std::size_t c = 0; c < cells.size(); ++c) {
        const std::string label = std::to_string(10 * r + c);
        taps_ += touch::key(ui, cells[c], {.label = label}) ? 1 : 0;
      }
    }
  }};
};

TEST_F(Rain, ASecondPointTakesTheFirstOnesPressBack) {
  const Point here = bench_.middle_of("0");
  const Point there = bench_.middle_of("15");
  push(FingerMove::kDown, here, 1);
  bench_.settle();
  push(FingerMove::kDown, there, 2);
  bench_.settle();
  push(FingerMove::kUp, here, 1);
  push(FingerMove::kUp, there, 2);
  bench_.settle();
  EXPECT_EQ(taps_, 0);
  bench_.tap(here);
  EXPECT_EQ(taps_, 1) << "one finger again";
}

TEST_F(Rain, APointThatStaysKeepsTheGlassShut) {
  push(FingerMove::kDown, bench_.middle_of("0"), 1);
  push(FingerMove::kDown, bench_.middle_of("36"), 2);
  push(FingerMove::kUp, bench_.middle_of("0"), 1);
  // A drop still lies there: the finger that taps is not alone.
  push(FingerMove::kDown, bench_.middle_of("15"), 3);
  push(FingerMove::kUp, bench_.middle_of("15"), 3);
  bench_.settle();
  EXPECT_EQ(taps_, 0);
  push(FingerMove::kUp, bench_.middle_of("36"), 2);
  bench_.settle();
  bench_.tap(bench_.middle_of("15"));
  EXPECT_EQ(taps_, 1);
}

// Drops that overlap in time, in any order, all over the glass.
TEST_F(Rain, AShowerTapsNothing) {
  std::mt19937 random(20260504);
  const platform::Size size = bench_.window->size();
  const auto anywhere = [&] {
    return Point{static_cast<float>(random() % static_cast<unsigned>(size.width)),
                 static_cast<float>(random() % static_cast<unsigned>(size.height))};
  };
  for (int burst = 0; burst < 40; ++burst) {
    std::vector<std::pair<int, Point>> drops;
    const auto count = 2 + static_cast<int>(random() % 8);
    for (int n = 1; n <= count; ++n) {
      drops.emplace_back(n, anywhere());
      push(FingerMove::kDown, drops.back().second, n);
      if (random() % 3 == 0) bench_.settle();
    }
    std::ranges::shuffle(drops, random);
    for (const auto& [finger, at] : drops) {
      if (random() % 4 == 0) push(FingerMove::kMove, anywhere(), finger);
      push(FingerMove::kUp, at, finger);
    }
    bench_.settle();
  }
  EXPECT_EQ(taps_, 0);
}

}  // namespace
}  // namespace ligule::touch_test
