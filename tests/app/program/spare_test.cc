// A tablet dies in the field: another goes on from its card, and the desk misses nothing.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "sync/gather/gather.h"
#include "tests/app/program/invented_site.h"

namespace ligule::program_test {
namespace {

using testing::IsEmpty;
using testing::SizeIs;

// Two blocks of four: a block is soon whole.
Plan spare_plan() {
  Plan plan = InventedSite::plan();
  std::erase_if(plan.plots, [](const PlanPlot& plot) { return plot.column > 4; });
  plan.entries.resize(4);
  std::ranges::sort(plan.plots, {}, &PlanPlot::number);
  int path = 0;
  for (PlanPlot& plot : plan.plots) plot.path = ++path;
  return plan;
}

// 80 percent of stand on plots first..last of a block; the first one's stake is said.
std::string rate_plots(int first, int last) {
  std::string lines = "tap \"Stake/" + std::to_string(first) + "\"\n";
  for (int plot = first; plot <= last; ++plot)
    lines += "expect \"" + std::to_string(plot) + "\"\ntap \"Stand/80\"\n";
  return lines;
}

// By plot and as many times as a value stands for it.
std::map<std::string, int> rated(const ledger::Ledger& ledger) {
  const Plan plan = spare_plan();
  std::map<std::string, int> plots;
  for (const ledger::Claim& claim : need(ledger.claims(plan.id()))) {
    const PlanPlot* const plot = plan.find_plot(PlotId{claim.record.subject.value_or(Uuid{})});
    if (plot != nullptr) ++plots[plot->number];
  }
  return plots;
}

TEST(SpareTablet, GoesOnWhereTheFirstOneDied) {
  const InventedSite site;
  site.enrol(spare_plan());
  std::filesystem::create_directories(site.file("media/CARD"));
  const Variable media("LIGULE_MEDIA", site.file("media"));
  // The first block is whole: it is copied. Two plots of the second are on no card.
  const Ran first = run(
      site.drive("type \"AB\\n\"\nexpect \"Today\"\n"
                 "expect \"No spare copy yet.\"\n"
                 "tap \"Today/STAND/2026-stand/Rate\"\n" +
                 rate_plots(101, 104) + "tap \"Back\"\nexpect \"Spare copy 0 minutes ago.\"\n"));
  EXPECT_EQ(first.errors, "");
  std::filesystem::remove(site.ledger());  // and all that was beside it is of no use

  program::Arguments spare = site.drive(
      "type \"CD\\n\"\nexpect \"Today\"\nexpect \"No plan is on this tablet yet.\"\n"
      "tap \"Trials\"\ntap \"From a stick or card\"\n"
      "tap \"Copies/Invented tablet\"\nexpect \"Go on from Invented tablet\"\n"
      "tap \"Go on here\"\nexpect \"are here now.\"\n"
      "tap \"Today/STAND/2026-stand/Go on\"\n"
      "tap \"As second/AB rated 4 plots of this/Go on with the rating\"\n" +
      rate_plots(201, 203) + rate_plots(204, 204) + "expect \"All 8 plots are rated.\"\n");
  spare.ledger = site.file("spare.ledger");
  const Ran second = run(spare);
  EXPECT_EQ(second.errors, "");

  const auto held = need(ledger::Ledger::open(*spare.ledger, ledger::Access::kReadOnly));
  EXPECT_THAT(rated(held), SizeIs(8));
  EXPECT_THAT(need(held.check()), IsEmpty());
  EXPECT_THAT(need(held.streams()), SizeIs(2));
  EXPECT_THAT(need(gather::gaps(held)), IsEmpty());
}

}  // namespace
}  // namespace ligule::program_test
