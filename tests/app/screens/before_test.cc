// The page before there is a tablet to work on, on every glass.
#include "app/screens/before.h"

#include <gmock/gmock.h>

#include "tests/app/screens/taps_fixture.h"

namespace ligule::screens {
namespace {

using namespace tests;

BeforePage longest_page(const Language& words = english()) {
  return older_page(words, 12345, "tablet.ligule.version-1");
}

BeforePage newer_page(const Language& words) {
  return closed_page(words,
                     {ErrorKind::kNewerVersion, "the ledger is of version 3, this program reads 2",
                      "/home/crew/.local/share/ligule/tablet.ledger",
                      "open it with a newer version of the program"});
}

class Before : public testing::TestWithParam<Device> {};

TEST_P(Before, HasRoomForItsWordsAndKeys) {
  for (const touch::Look& look : {touch::Look{}, touch::Look{.gloves = true, .large_text = true},
                                  touch::Look{.dusk = true, .hand = touch::Hand::kLeft}}) {
    for (const BeforePage& page :
         {longest_page(), longest_page(spanish()), newer_page(english()), newer_page(spanish())}) {
      Glass glass(GetParam(), look);
      const auto& seen = glass.show([&](touch::Ui& ui) { EXPECT_FALSE(draw_before(ui, page)); });
      EXPECT_THAT(touch::geometry_faults(seen), testing::IsEmpty()) << GetParam().name;
      EXPECT_TRUE(touch::shows(seen, page.title));
      std::string name = page.keys.size() == 1 ? "before-closed-" : "before-older-";
      name.append(GetParam().name).append(look.dusk ? "-dusk" : look.gloves ? "-gloves-large" : "");
      glass.save(name +
                 (page.title == spanish()("older.title") || page.title == spanish()("closed.title")
                      ? "-es"
                      : ""));
    }
  }
}

TEST_P(Before, GivesBackTheKeyThatWasTapped) {
  const BeforePage page = longest_page();
  for (std::size_t n = 0; n < page.keys.size(); ++n) {
    Glass glass(GetParam(), {});
    std::optional<std::size_t> tapped;
    glass.tap(page.keys[n], [&](touch::Ui& ui) {
      if (const auto key = draw_before(ui, page)) tapped = key;
    });
    EXPECT_EQ(tapped, n);
  }
}

INSTANTIATE_TEST_SUITE_P(Tablets, Before, testing::ValuesIn(kDevices));

}  // namespace
}  // namespace ligule::screens
