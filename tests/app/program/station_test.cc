#include "app/program/station.h"

#include <gtest/gtest.h>

#include "tests/app/program/invented_site.h"

namespace ligule::program_test {
namespace {

using program::open_station;
using program::stamps;

class AtStation : public testing::Test {
 protected:
  std::unique_ptr<files::FileSystem> files_ = files::real_file_system();
  InventedSite site_;
  CalendarDate day_ = parse_date(kDay).value();
};

TEST_F(AtStation, ADrivenDemonstrationStandsStillAtEight) {
  site_.enrol();
  const auto station = need(open_station(*files_, {site_.ledger(), day_, true}));
  EXPECT_EQ(station.zone, "America/New_York");
  EXPECT_TRUE(station.clock->driven());
  const Stamp at = stamps(*station.clock, station.zone)();
  EXPECT_EQ(format_clock(at), "08:00");
  EXPECT_EQ(at.local_date, day_);
  station.clock->pass(60'000);
  EXPECT_EQ(format_clock(stamps(*station.clock, station.zone)()), "08:01");
}

TEST_F(AtStation, ADemonstrationAtTheDisplayRunsOnFromEight) {
  site_.enrol();
  const auto station = need(open_station(*files_, {site_.ledger(), day_, false}));
  EXPECT_FALSE(station.clock->driven());
  EXPECT_EQ(format_clock(stamps(*station.clock, station.zone)()), "08:00");
  EXPECT_EQ(stamps(*station.clock, station.zone)().local_date, day_);
}

TEST_F(AtStation, WithoutADayItIsTheMachinesTime) {
  site_.enrol(false);
  const auto station = need(open_station(*files_, {site_.ledger(), {}, false}));
  const auto now = std::chrono::system_clock::now().time_since_epoch();
  const auto off = std::chrono::milliseconds(station.clock->utc_ms()) - now;
  EXPECT_LT(std::chrono::abs(off), std::chrono::minutes(1));
}

TEST_F(AtStation, IdsGoOnAfterThoseOfTheLedger) {
  site_.enrol();
  auto station = need(open_station(*files_, {site_.ledger(), day_, true}));
  const auto newest = need(station.ledger.newest_id());
  ASSERT_TRUE(newest);
  EXPECT_GT(RecordId{station.ids.next(UtcInstant{})}, newest.value_or(RecordId{}));
}

TEST_F(AtStation, WithoutAPlanADemonstrationIsInUniversalTime) {
  const auto station = need(open_station(*files_, {site_.ledger(), day_, true}));
  EXPECT_EQ(station.zone, "UTC");
  EXPECT_TRUE(need(station.ledger.streams()).at(0).demo);
}

TEST_F(AtStation, AFolderThatCannotBeMadeIsSaid) {
  site_.enrol();
  const auto refused = open_station(*files_, {site_.ledger() + "/below", {}, false});
  ASSERT_FALSE(refused);
  EXPECT_FALSE(refused.error().what.empty());
}

TEST_F(AtStation, TheUsualLedgerLiesAmongAPersonsOwnData) {
  const Variable home("HOME", "/home/ab");
  {
    const Variable data("XDG_DATA_HOME", "/data");
    EXPECT_EQ(program::usual_ledger(), std::filesystem::path("/data/ligule/tablet.ledger"));
  }
  const Variable no_data("XDG_DATA_HOME", std::nullopt);
  EXPECT_EQ(program::usual_ledger(),
            std::filesystem::path("/home/ab/.local/share/ligule/tablet.ledger"));
  const Variable no_home("HOME", std::nullopt);
  const auto none = program::usual_ledger();
  ASSERT_FALSE(none);
  EXPECT_EQ(none.error().kind, ErrorKind::kNotFound);
}

}  // namespace
}  // namespace ligule::program_test
