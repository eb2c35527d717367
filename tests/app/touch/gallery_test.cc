// Draws every scene on every glass in both themes: measures each, and leaves the pictures in
// build/gallery for people to judge.
#include <gmock/gmock.h>

#include <algorithm>
#include <cstdlib>
#include <filesystem>

#include "app/platform/picture.h"
#include "tests/app/touch/bench_app.h"
#include "tests/app/touch/scenes.h"

namespace ligule::touch_test {
namespace {

struct Case {
  Glass glass;
  touch::Look look;
  std::string name;
};

std::vector<Case> cases() {
  std::vector<Case> all;
  for (const Glass& glass : glasses()) {
    all.push_back({glass, {}, glass.name});
    all.push_back({glass, {.dusk = true, .hand = touch::Hand::kLeft}, glass.name + "-dusk"});
  }
  return all;
}

class Gallery : public testing::TestWithParam<Case> {};

// Proves: nothing tappable under 12 mm, rating keys 20 mm, nothing overlapping, cut or outside.
TEST_P(Gallery, EveryPieceKeepsItsSizesAndItsPlace) {
  const std::filesystem::path folder = std::filesystem::path(LIGULE_BUILD_DIR) / "gallery";
  std::filesystem::create_directories(folder);
  Scene scene = scenes().front();
  SceneState state;
  // Pixels take most of the time: only for whoever wants to look.
  const bool pictures =
      std::getenv("LIGULE_PICTURES") != nullptr;  // NOLINT(concurrency-mt-unsafe): one thread
  Bench bench([&](touch::Ui& ui) { scene.draw(ui, state); }, GetParam().glass, GetParam().look,
              false, pictures);
  for (const Scene& next : scenes()) {
    scene = next;
    state = {};
    bench.app->changed = true;
    bench.settle();
    EXPECT_THAT(touch::geometry_faults(bench.seen()), testing::IsEmpty()) << scene.name;
    EXPECT_GT(bench.seen().widgets.size(), 2U) << scene.name;
    if (!pictures) continue;
    const auto file = folder / (std::string(scene.name) + "-" + GetParam().name + ".png");
    const auto written = platform::write_png(file, bench.window->picture());
    ASSERT_TRUE(written.has_value()) << one_line(written.error());
  }
}

std::string name_of(const testing::TestParamInfo<Case>& tested) {
  std::string name = tested.param.name;
  std::ranges::replace(name, '-', '_');
  return name;
}
INSTANTIATE_TEST_SUITE_P(Glass, Gallery, testing::ValuesIn(cases()), name_of);

// The largest difference of two pictures' means over blocks of 16 by 16 pixels.
double largest_block_difference(const platform::Picture& a, const platform::Picture& b) {
  constexpr int kBlock = 16;
  const auto stride = static_cast<std::size_t>(a.size.width) * 3;
  double largest = 0;
  for (int top = 0; top + kBlock <= a.size.height; top += kBlock) {
    for (int left = 0; left + kBlock <= a.size.width; left += kBlock) {
      double difference = 0;
      for (int y = top; y < top + kBlock; ++y)
        for (int x = left * 3; x < (left + kBlock) * 3; ++x) {
          const std::size_t at = static_cast<std::size_t>(y) * stride + static_cast<std::size_t>(x);
          difference += int{a.rgb[at]} - int{b.rgb[at]};
        }
      largest = std::max(largest, std::abs(difference) / (kBlock * kBlock * 3));
    }
  }
  return largest;
}

// Both ways of drawing, SDL's triangles and our own, give one picture but for the soft rims: SDL's
// software renderer rounds corners to whole pixels.
TEST(TwoWaysOfDrawing, GiveNearlyOnePicture) {
  Scene scene = scenes().front();
  SceneState state;
  const auto picture = [&](bool sdl_triangles) {
    Bench bench([&](touch::Ui& ui) { scene.draw(ui, state); }, glasses()[0], {}, sdl_triangles);
    return bench.window->picture();
  };
  for (const Scene& next : scenes()) {
    scene = next;
    state = {};
    const auto ours = picture(false);
    const auto sdl = picture(true);
    ASSERT_EQ(ours.size, sdl.size);
    EXPECT_LT(largest_block_difference(ours, sdl), 45) << scene.name;
  }
}

}  // namespace
}  // namespace ligule::touch_test
