// Turning the tablet in the middle of a rating.
#include <gmock/gmock.h>

#include "tests/app/program/live_tablet.h"

namespace ligule::program_test {
namespace {

using ::testing::IsEmpty;

TEST(Turned, TheCardStandsOnTheSamePlotAndGoesOn) {
  const InventedSite site;
  site.enrol();
  {
    LiveTablet tablet(site, {1280, 800}, 189, true);
    ASSERT_EQ(tablet.play("type \"AB\\n\"\ntap \"STAND/2026-stand/Rate\"\ntap \"Stake/101\"\ntap "
                          "\"Stand/80\"\nexpect \"102\"\n"),
              "");
    for (const platform::Size size : {platform::Size{800, 1280}, platform::Size{1280, 800}}) {
      tablet.window().resize(size);
      ASSERT_EQ(tablet.play("wait 100\n"), "");
      EXPECT_EQ(tablet.window().size(), size);
      EXPECT_THAT(touch::geometry_faults(tablet.seen()), IsEmpty());
    }
    tablet.window().resize({800, 1280});
    EXPECT_EQ(tablet.play("expect \"102\"\ntap \"Stand/75\"\nexpect \"103\"\ntap \"Take "
                          "back\"\nexpect \"102\"\n"),
              "");
    EXPECT_EQ(tablet.play("tap \"Stand/70\"\n"), "");
  }
  EXPECT_EQ(site.kept(), (std::map<std::string, std::string>{{"101", "80"}, {"102", "70"}}));
}

// A text half typed is not lost with the turn.
TEST(Turned, ANoteBeingWrittenStays) {
  const InventedSite site;
  site.enrol();
  LiveTablet tablet(site, {1920, 1200}, 226, true);
  ASSERT_EQ(tablet.play("type \"AB\\n\"\ntap \"STAND/2026-stand/Rate\"\ntap \"Stake/101\"\ntap "
                        "\"Note\"\ntype \"voles\"\n"),
            "");
  tablet.window().resize({1200, 1920});
  EXPECT_EQ(tablet.play("wait 100\nexpect \"voles\"\n"), "");
  EXPECT_THAT(touch::geometry_faults(tablet.seen()), IsEmpty());
}

}  // namespace
}  // namespace ligule::program_test
