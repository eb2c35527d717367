// Pictures of every screen on the smallest tablet, both ways up, in each color, text size and
// language, for whoever looks at them: LIGULE_PICTURES=looks. That everything stands in its place
// is proven elsewhere (screens_test.cc, before_test.cc).
#include <gmock/gmock.h>

#include <cstdlib>
#include <vector>

#include "app/screens/before.h"
#include "tests/app/screens/scenes.h"
#include "tests/app/screens/taps_fixture.h"

namespace ligule::screens {
namespace {

using namespace tests;

// NOLINTBEGIN(concurrency-mt-unsafe): one thread
bool are_wanted() {
  const char* const wanted = std::getenv("LIGULE_PICTURES");
  return wanted != nullptr && std::string_view(wanted) == "looks";
}
bool is_wanted(std::string_view scene) {
  const char* const only = std::getenv("LIGULE_SCENE");
  return only == nullptr || scene.starts_with(only);
}
// NOLINTEND(concurrency-mt-unsafe)

struct InLook {
  Glass& glass;
  const Language& words;
  std::string mark;

  void picture(const std::string& scene, const Glass::Draw& draw) {
    if (!is_wanted(scene)) return;
    EXPECT_THAT(touch::geometry_faults(glass.show(draw)), testing::IsEmpty()) << scene << mark;
    glass.save(scene + mark);
  }
  void all() {
    for (const Scene& scene : all_scenes()) {
      Scratch scratch = scene.scratch;
      std::vector<flow::Intent> out;
      picture(scene.name,
              [&](touch::Ui& ui) { draw(ui, words, scene.view, scene.overlay, scratch, out); });
    }
    const BeforePage older = older_page(words, 12345, "tablet.ligule.version-1");
    picture("before-older", [&](touch::Ui& ui) { (void)draw_before(ui, older); });
    const BeforePage newer = closed_page(
        words, {ErrorKind::kNewerVersion, "the ledger is of version 3, this program reads 2",
                "tablet.ledger", "open it with a newer version of the program"});
    picture("before-closed", [&](touch::Ui& ui) { (void)draw_before(ui, newer); });
  }
};

// Where nobody asks there is no such test: it would be told as one that could not run.
std::vector<Device> asked_for() {
  return are_wanted() ? std::vector{kDevices[0], kDevices[1]} : std::vector<Device>{};
}

class Looks : public testing::TestWithParam<Device> {};

TEST_P(Looks, ArePicturedWhereSomebodyAsksForThem) {
  for (const bool dusk : {false, true})
    for (const bool large : {false, true}) {
      const touch::Look look{.dusk = dusk, .large_text = large};
      for (const Language* const words : {&english(), &spanish()}) {
        Glass glass(GetParam(), look);
        std::string mark = "-look-";
        mark.append(GetParam().name).append(words == &english() ? "-en" : "-es");
        mark.append(dusk ? "-dusk" : "-paper").append(large ? "-large" : "-usual");
        InLook{glass, *words, mark}.all();
      }
    }
}
GTEST_ALLOW_UNINSTANTIATED_PARAMETERIZED_TEST(Looks);
INSTANTIATE_TEST_SUITE_P(Tablets, Looks, testing::ValuesIn(asked_for()));

}  // namespace
}  // namespace ligule::screens
