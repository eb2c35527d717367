// The tablet in several hands, in the rain, and with little battery left: through the real program.
#include <gmock/gmock.h>

#include "tests/app/program/invented_site.h"

namespace ligule::program_test {
namespace {

using program::Exit;
using testing::HasSubstr;
using Kept = std::map<std::string, std::string>;

TEST(Hand, TheNextRaterGoesOnFromTheNextBlock) {
  const InventedSite site;
  site.enrol();
  const Ran ran =
      run(site.drive(on_the_card("tap \"Stand/80\"\n"
                                 "tap \"Hand over/AB\"\nexpect \"Who has the tablet?\"\n"
                                 "type \"CD\\n\"\nexpect \"102\"\n"
                                 "tap \"Stand/75\"\nexpect \"AB rated this block so far.\"\n"
                                 "tap \"From the next block\"\nexpect \"201\"\ntap \"Stake/201\"\n"
                                 "tap \"Stand/70\"\nexpect \"202\"\n")));
  EXPECT_EQ(ran.errors, "");
  EXPECT_EQ(site.kept(), (Kept{{"101", "80"}, {"201", "70"}}));
  const auto ledger = need(ledger::Ledger::open(site.ledger()));
  for (const ledger::Claim& claim : need(ledger.claims(InventedSite::plan().id())))
    EXPECT_EQ(claim.record.person, person_id(claim.record.entered == "80" ? "AB" : "CD"));
}

TEST(Hand, AfterHalfAnHourItAsksWhoAndGoesOn) {
  const InventedSite site;
  site.enrol();
  const Ran ran =
      run(site.drive(on_the_card("tap \"Stand/80\"\nwait 1860000\nexpect \"Who has the tablet?\"\n"
                                 "tap \"AB\"\nexpect \"102\"\ntap \"Stand/75\"\n")));
  EXPECT_EQ(ran.errors, "");
  EXPECT_EQ(site.kept(), (Kept{{"101", "80"}, {"102", "75"}}));
}

TEST(Hand, TheLockedGlassTakesNothingUntilItsCornersArePressed) {
  const InventedSite site;
  site.enrol();
  const Ran shut = run(site.drive(on_the_card("tap \"Lock\"\nexpect \"101\"\ntap \"Stand/80\"\n")));
  EXPECT_EQ(shut.exit, Exit::kJudged);
  EXPECT_THAT(shut.errors, HasSubstr("line 7"));
  EXPECT_TRUE(site.kept().empty());
  const Ran open =
      run(site.drive(on_the_card("tap \"Lock\"\ntype \"5\"\ntap \"Locked/1\"\ntap \"Locked/2\"\n"
                                 "tap \"Stand/80\"\nexpect \"102\"\n")));
  EXPECT_EQ(open.exit, Exit::kJudged) << "no letters either";
  const Ran corners =
      run(site.drive(on_the_card("tap \"Lock\"\ntap \"Locked/1\"\ntap \"Locked/2\"\n"
                                 "tap \"Stand/80\"\nexpect \"102\"\n")));
  EXPECT_EQ(corners.errors, "");
  EXPECT_EQ(site.kept(), (Kept{{"101", "80"}}));
}

// A machine whose battery loses a percent a minute.
TEST(Hand, ABatteryThatDoesNotReachIsSaidInPlots) {
  const InventedSite site;
  site.enrol();
  int percent = 31;
  const auto supply = [&percent] {
    return flow::Supply{
        .battery = --percent, .plugged = false, .free_bytes = 1'000'000'000'000, .ledger_bytes = 0};
  };
  const Ran ran = run(site.drive(on_the_card("tap \"Stand/80\"\nwait 60000\ntap \"Stand/75\"\n"
                                             "wait 60000\ntap \"Stand/70\"\nwait 60000\n"
                                             "expect \"Battery\"\nexpect \"plots\"\n"
                                             "tap \"Back\"\nexpect \"Battery\"\n")),
                      work::plain_append(), supply);
  EXPECT_EQ(ran.errors, "");
  EXPECT_EQ(site.kept().size(), 3U);
}

}  // namespace
}  // namespace ligule::program_test
