#include "app/flow/supply.h"

#include "tests/app/flow/rate_fixture.h"

namespace ligule::flow {
namespace {

constexpr std::int64_t kGiB = 1024 * kMiB;

Supply battery(int percent, bool plugged = false) {
  return {.battery = percent, .plugged = plugged, .free_bytes = 50 * kGiB, .ledger_bytes = 0};
}
Supply storage(std::int64_t free_bytes, std::int64_t ledger_bytes) {
  return {.battery = std::nullopt,
          .plugged = false,
          .free_bytes = free_bytes,
          .ledger_bytes = ledger_bytes};
}

class SupplyOfARating : public Rate {
 protected:
  void told(const Supply& supply) { tablet.tap(SupplyTold{supply}); }
  // So many plots get a value that is kept.
  void work_on(int plots) {
    for (int n = 0; n < plots; ++n) {
      tablet.tap(GoToPlot{tablet.rate().lane.at(static_cast<std::size_t>(n)).plot});
      tablet.choose("percent_stand", tablet.rate().measures.front().shown == "60" ? "65" : "60");
      tablet.settle();
    }
  }
  SupplyView on_today() {
    tablet.tap(ShowToday{});
    tablet.settle();
    return tablet.today().supply;
  }
};

TEST_F(SupplyOfARating, ABatteryIsCountedInThePlotsItStillGives) {
  told(battery(80));
  work_on(6);
  told(battery(79));
  EXPECT_FALSE(battery_plots(tablet.model.supply)) << "one percent says too little";
  told(battery(78));
  // 6 plots took 2 percent; 78 - 5 are left to count on.
  EXPECT_EQ(battery_plots(tablet.model.supply), 73 * 6 / 2);
  EXPECT_EQ(on_today().battery, (Words{"supply.battery.plots", {"78", "210"}}))
      << "219, two digits";
}

TEST_F(SupplyOfARating, TheChargerBeginsTheCountAnew) {
  told(battery(80));
  work_on(6);
  told(battery(60));
  ASSERT_TRUE(battery_plots(tablet.model.supply));
  told(battery(60, true));
  EXPECT_FALSE(battery_plots(tablet.model.supply));
  EXPECT_EQ(on_today().battery, (Words{"supply.battery.charging", {"60"}}));
  told(battery(70));
  EXPECT_FALSE(battery_plots(tablet.model.supply));
  told(battery(68));
  EXPECT_FALSE(battery_plots(tablet.model.supply)) << "no plot since";
}

TEST_F(SupplyOfARating, ABatteryThatRisesWasCharged) {
  told(battery(50));
  work_on(4);
  told(battery(40));
  told(battery(90));  // nobody saw the charger
  EXPECT_FALSE(battery_plots(tablet.model.supply));
}

TEST_F(SupplyOfARating, LowIsWhatDoesNotReachForWhatIsOpen) {
  told(battery(40));
  work_on(2);
  told(battery(20));
  // 2 plots for 20 percent: 15 percent give one plot more.
  ASSERT_EQ(battery_plots(tablet.model.supply), 1);
  EXPECT_TRUE(battery_low(tablet.model.supply, 2));
  EXPECT_FALSE(battery_low(tablet.model.supply, 1));
  EXPECT_EQ(tablet.rate().warning, (Words{"supply.battery.plots", {"20", "1"}}));
}

TEST_F(SupplyOfARating, WithNothingMeasuredThePercentWarns) {
  told(battery(16));
  EXPECT_FALSE(tablet.rate().warning);
  told(battery(15));
  EXPECT_EQ(tablet.rate().warning, (Words{"supply.battery", {"15"}}));
  told(battery(15, true));
  EXPECT_FALSE(tablet.rate().warning) << "on the charger";
}

TEST_F(SupplyOfARating, AWarningIsToldOnceWhenItBegins) {
  told(battery(16));
  EXPECT_EQ(tablet.notice(), "");
  told(battery(15));
  EXPECT_EQ(tablet.notice(), "supply.battery");
  tablet.tap(DismissNotice{});
  told(battery(14));
  EXPECT_EQ(tablet.notice(), "");
  tablet.choose("percent_stand", "140");  // no such percent
  ASSERT_EQ(tablet.notice(), "check.off_scale");
  told(battery(40));
  told(battery(12));
  EXPECT_EQ(tablet.notice(), "check.off_scale") << "why a value was refused is not talked over";
}

TEST_F(SupplyOfARating, TenPercentIsLowHoweverLittleAPlotTakes) {
  told(battery(12));
  work_on(6);
  told(battery(10));
  ASSERT_EQ(battery_plots(tablet.model.supply), 15);
  EXPECT_TRUE(battery_low(tablet.model.supply, 1));
}

TEST_F(SupplyOfARating, AnEmptyBatteryGivesNoPlotAndNeverLess) {
  told(battery(8));
  work_on(2);
  told(battery(3));
  EXPECT_EQ(battery_plots(tablet.model.supply), 0);
}

TEST_F(SupplyOfARating, WithoutABatteryNothingIsSaid) {
  told({});
  EXPECT_FALSE(tablet.rate().warning);
  EXPECT_EQ(on_today(), SupplyView{});
}

// Storage: the watch alone, for a ledger grows by thousands of plots.
SupplyWatch grown(std::int64_t free_bytes, std::int64_t bytes, int plots) {
  SupplyWatch watch;
  watch.now = storage(free_bytes, 1'000'000 + bytes);
  watch.ledger_from = SupplyWatch::From{1'000'000, 0};
  for (int n = 0; n < plots; ++n) watch.plots.insert({OccasionId{}, std::to_string(n)});
  return watch;
}

TEST(SupplyOfStorage, APlotTakesWhatTheLedgerGrewByTwice) {
  // 100 plots, 200,000 bytes: 2,000 a plot, and as much in the season file.
  EXPECT_EQ(storage_plots(grown(kSpaceReserve + 4'000'000, 200'000, 100)), 1000);
  EXPECT_EQ(storage_plots(grown(kSpaceReserve - 1, 200'000, 100)), 0);
  EXPECT_FALSE(storage_plots(grown(kGiB, 200'000, 19))) << "too few plots";
  EXPECT_FALSE(storage_plots(grown(kGiB, 0, 100))) << "it did not grow";
}

TEST(SupplyOfStorage, IsLowWhenItDoesNotReachOrIsLittle) {
  EXPECT_FALSE(storage_low(grown(kGiB, 200'000, 100), 96));
  EXPECT_TRUE(storage_low(grown(kSpaceLow - 1, 200'000, 100), 0));
  EXPECT_TRUE(storage_low(grown(kGiB, 2'000'000'000, 100), 96));
  EXPECT_FALSE(storage_low({}, 96)) << "nothing is known";
}

TEST_F(SupplyOfARating, StorageIsSaidInPlotsOrInMebibytesOrNotAtAll) {
  told(storage(kGiB, 500'000));
  EXPECT_FALSE(on_today().storage) << "enough, and nothing measured";
  told(storage(100 * kMiB, 500'000));
  EXPECT_EQ(on_today().storage, (Words{"supply.storage", {"100"}}));
  EXPECT_TRUE(on_today().storage_low);
  tablet.model.supply = grown(kSpaceReserve + 4'000'000'000, 200'000, 100);
  EXPECT_EQ(on_today().storage, (Words{"supply.storage.many", {"100000"}}));
  tablet.model.supply = grown(kSpaceReserve + 4'900'000, 200'000, 100);
  EXPECT_EQ(on_today().storage, (Words{"supply.storage.plots", {"1200"}}));
}

TEST_F(SupplyOfARating, TheLedgersStartIsWhereItWasFirstSeen) {
  told(storage(kGiB, 500'000));
  told(storage(kGiB, 700'000));
  EXPECT_EQ(tablet.model.supply.ledger_from->amount, 500'000);
  told(storage(kGiB, 400'000));  // its log was folded in
  EXPECT_EQ(tablet.model.supply.ledger_from->amount, 400'000);
  told(storage(kGiB, 0));
  EXPECT_FALSE(tablet.model.supply.ledger_from);
}

TEST_F(SupplyOfARating, NotesAndPlotsPutOffTakeNoPlotsShare) {
  tablet.tap(PutOff{});
  tablet.settle();
  EXPECT_TRUE(tablet.model.supply.plots.empty());
  tablet.choose("percent_stand", "60");
  EXPECT_TRUE(tablet.model.supply.plots.empty()) << "not kept yet";
  tablet.settle();
  EXPECT_EQ(tablet.model.supply.plots.size(), 1U);
}

}  // namespace
}  // namespace ligule::flow
