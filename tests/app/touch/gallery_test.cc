// Draws every scene on every glass in both themes: measures each, and leaves the pictures in
// build/gallery for people to judge.
#include <gmock/gmock.h>

#include <algorithm>
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
  Bench bench([&](touch::Ui& ui) { scene.draw(ui, state); }, GetParam().glass, GetParam().look);
  for (const Scene& next : scenes()) {
    scene = next;
    state = {};
    bench.app->changed = true;
    bench.settle();
    EXPECT_THAT(touch::geometry_faults(bench.seen()), testing::IsEmpty()) << scene.name;
    EXPECT_GT(bench.seen().widgets.size(), 2U) << scene.name;
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

}  // namespace
}  // namespace ligule::touch_test
