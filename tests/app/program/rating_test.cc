// A rating of four measures from the first plot to the last, through fingers on the glass.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <array>

#include "tests/app/program/invented_site.h"
#include "tests/app/program/live_tablet.h"

namespace ligule::program_test {
namespace {

using testing::ElementsAre;
using testing::IsEmpty;

// Two blocks of three entries: plots 101 to 103 and 201 to 203, four measures a plot.
Plan small_plan() {
  Plan plan = InventedSite::plan();
  std::erase_if(plan.plots, [](const PlanPlot& plot) { return plot.column > 3; });
  plan.entries.resize(3);
  int path = 0;
  for (PlanPlot& plot : plan.plots) plot.path = plot.block * 100 + plot.column;
  std::ranges::sort(plan.plots, {}, &PlanPlot::path);
  for (PlanPlot& plot : plan.plots) plot.path = ++path;
  plan.occasions.front().measures = {"percent_stand", "seedling_vigor", "maturity",
                                     "stubble_height"};
  return plan;
}

std::string taps(const std::vector<std::string>& labels) {
  std::string lines;
  for (const std::string& label : labels) lines += "tap \"" + label + "\"\n";
  return lines;
}

// One plot's four taps; the stubble's last, whatever it is.
std::vector<std::string> plot_taps(const std::string& stand, const std::string& stubble) {
  return {"Stand/" + stand, "Vigor/2", "Stage/R0", "Stubble/" + stubble};
}

// "101 percent_stand 80 %", a line a value, as the ledger holds them now.
std::vector<std::string> held(const InventedSite& site) {
  const auto ledger = need(ledger::Ledger::open(site.ledger(), ledger::Access::kReadOnly));
  const Plan plan = small_plan();
  std::vector<std::string> lines;
  for (const ledger::Claim& claim : need(ledger.claims(plan.id()))) {
    const Record& record = claim.record;
    const PlanPlot* const plot = plan.find_plot(PlotId{record.subject.value_or(Uuid{})});
    if (plot != nullptr)
      lines.push_back(plot->number + " " + record.measure + " " + record.entered +
                      (record.unit.empty() ? "" : " " + record.unit));
  }
  std::ranges::sort(lines);
  return lines;
}

TEST(Rating, FourTapsAPlotFromTheFirstToTheLast) {
  const InventedSite site;
  site.enrol(small_plan());
  std::string lines = on_the_card("");
  for (const char* plot : {"101", "102", "103", "201", "202", "203"}) {
    const std::string number(plot);
    lines += "expect \"" + number + "\"\n";
    // Where the path turns, and at its end, one tap more says which stake one sees.
    if (number == "201" || number == "203") lines += taps({"Stake/" + number});
    lines += taps(plot_taps("85", "4"));
  }
  const Ran ran =
      run(site.drive(lines + "expect \"All 6 plots are rated.\"\ntap \"Close this rating\"\n"
                             "expect \"Today\"\nexpect \"Done\"\n"));
  EXPECT_EQ(ran.errors, "");
  const std::vector<std::string> values = held(site);
  EXPECT_EQ(values.size(), 6U * 4U);
  EXPECT_THAT(std::vector(values.begin(), values.begin() + 4),
              ElementsAre("101 maturity R0", "101 percent_stand 85 %", "101 seedling_vigor 2",
                          "101 stubble_height 4 in"));
}

// Proves: whoever used the tablet before has the first plot's first value after four taps, on every
// glass and either way up: their initials, the rating, the stake, the value. Nothing is typed,
// scrolled to or looked for on another screen, which is what ten seconds leave time for.
TEST(Rating, TheFirstValueIsFourTapsFromTheFirstFrame) {
  struct Tablet {
    platform::Size size;
    double ppi;
  };
  for (const Tablet& tablet :
       {Tablet{{1280, 800}, 189}, Tablet{{800, 1280}, 189}, Tablet{{1920, 1200}, 226},
        Tablet{{1200, 1920}, 226}, Tablet{{2160, 1440}, 216}, Tablet{{1440, 2160}, 216}}) {
    const InventedSite site;
    site.enrol(small_plan());
    EXPECT_EQ(
        LiveTablet(site, tablet.size, tablet.ppi, true).play("type \"AB\\n\"\nexpect \"Today\"\n"),
        "");
    EXPECT_EQ(
        LiveTablet(site, tablet.size, tablet.ppi, true)
            .play(taps({"AB", "STAND/2026-stand/Rate", "Stake/101", "Stand/85"}) + "wait 1000\n"),
        "")
        << tablet.size.width << "x" << tablet.size.height;
    EXPECT_THAT(held(site), ElementsAre("101 percent_stand 85 %"));
  }
}

TEST(Rating, TakingBackWithdrawsTheLastAndDeletesNothing) {
  const InventedSite site;
  site.enrol(small_plan());
  const Ran ran =
      run(site.drive(on_the_card("") + taps({"Stand/85", "Vigor/2", "Take back", "Vigor/4"})));
  EXPECT_EQ(ran.errors, "");
  EXPECT_THAT(held(site), ElementsAre("101 percent_stand 85 %", "101 seedling_vigor 4"));
  const auto ledger = need(ledger::Ledger::open(site.ledger()));
  EXPECT_EQ(need(ledger.of_kind(kind::kReading)).size(), 3U);
  EXPECT_EQ(need(ledger.of_kind(kind::kWithdrawal)).size(), 1U);
  EXPECT_TRUE(need(ledger.check()).empty());
}

TEST(Rating, WhatIsPutOffIsAskedAboutWhenTheRatingIsClosed) {
  const InventedSite site;
  site.enrol(small_plan());
  std::string lines = on_the_card("");
  lines += taps(plot_taps("85", "4")) + taps({"Later"});
  lines += taps(plot_taps("80", "4")) + taps({"Stake/201"});
  lines += taps(plot_taps("75", "4")) + taps(plot_taps("70", "4")) + taps({"Stake/203"});
  lines += taps(plot_taps("65", "4"));
  // The way leads back to the plot put off; nobody has to rate it.
  const Ran asked = run(site.drive(lines + "expect \"102\"\ntap \"Close\"\n"
                                           "expect \"One plot is still open\"\n"
                                           "tap \"Not yet\"\ntap \"Back\"\n"));
  EXPECT_EQ(asked.errors, "");
  const Ran closed =
      run(site.drive("type \"AB\\n\"\ntap \"Day's end\"\n"
                     "tap \"STAND/2026-stand/Close\"\nexpect \"102\"\ntap \"Close it\"\n"
                     "expect \"Closed, still open (1): 102\"\n"));
  EXPECT_EQ(closed.errors, "");
  const auto ledger = need(ledger::Ledger::open(site.ledger()));
  const auto closings = need(ledger.of_kind(kind::kClosed));
  ASSERT_EQ(closings.size(), 1U);
  EXPECT_EQ(closings.front().reason, "left_open");
}

TEST(Rating, AnotherStakesNumberIsTypedOnce) {
  const InventedSite site;
  site.enrol(small_plan());
  const Ran ran =
      run(site.drive("type \"AB\\n\"\ntap \"Today/STAND/2026-stand/Rate\"\n"
                     "tap \"Stake/Another number\"\ntype \"102\"\nwait 2000\ntype \"\\n\"\n"
                     "tap \"Stand/85\"\n"));
  EXPECT_EQ(ran.errors, "");
  EXPECT_THAT(held(site), ElementsAre("102 percent_stand 85 %"));
}

TEST(Rating, ANotePutOnTheLastPlotKeepsItsWords) {
  const InventedSite site;
  site.enrol(small_plan());
  const Ran ran =
      run(site.drive(on_the_card("") + taps(plot_taps("85", "4")) +
                     "tap \"Note\"\ntype \"birds\"\ntap \"Put it on plot 101\"\ntype \"\\n\"\n"));
  EXPECT_EQ(ran.errors, "");
  EXPECT_THAT(held(site), testing::Contains("101 note birds"));
}

// Proves: what grazing animals took is rated by one tap each, on the smallest glass either way up.
TEST(Rating, WhatAnimalsTookIsTappedLikeAnyOther) {
  for (const platform::Size size : {platform::Size{1280, 800}, platform::Size{800, 1280}}) {
    const InventedSite site;
    Plan plan = small_plan();
    plan.occasions.front().measures = {"grazing_preference", "percent_removed"};
    plan.occasions.front().hours_after_turn_in = "4";
    site.enrol(plan);
    EXPECT_EQ(LiveTablet(site, size, 189, true)
                  .play("type \"AB\\n\"\n" +
                        taps({"Today/STAND/2026-stand/Rate", "Stake/101", "Preferred/3",
                              "Grazed/70", "Preferred/0", "Grazed/50"}) +
                        "wait 1000\n"),
              "")
        << size.width;
    EXPECT_THAT(held(site), ElementsAre("101 grazing_preference 3", "101 percent_removed 70 %",
                                        "102 grazing_preference 0", "102 percent_removed 50 %"));
  }
}

TEST(Rating, HeightsAreTakenInThePersonsUnit) {
  const InventedSite site;
  site.enrol(small_plan());
  const Ran ran = run(site.drive(
      std::string("type \"AB\\n\"\ntap \"Tablet\"\nswipe up\nswipe up\ntap \"Heights/cm\"\n"
                  "tap \"Back\"\n") +
      taps({"Today/STAND/2026-stand/Rate", "Stake/101"}) +
      taps({"Stand/85", "Vigor/2", "Stage/R0", "Stubble/11"}) + taps({"Back", "Tablet"}) +
      taps({"Heights/in", "Back", "Today/STAND/2026-stand/Go on"}) + taps(plot_taps("80", "4"))));
  EXPECT_EQ(ran.errors, "");
  const std::vector<std::string> values = held(site);
  EXPECT_THAT(values, testing::Contains("101 stubble_height 11 cm"));
  EXPECT_THAT(values, testing::Contains("102 stubble_height 4 in"));
}

}  // namespace
}  // namespace ligule::program_test
