// A scale plugged into the whole touch program.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "tests/app/program/scale_crew.h"

namespace ligule::program_test {
namespace {

// The raw line, and how the weight came in, stand in the record.
TEST(ScaleWeight, TheLineStaysWithTheWeight) {
  const InventedSite site;
  site.enrol(plots_of({"20", "ft"}, {"3", "ft"}, 2));
  const Crew crew(site, {{"101", "S N +  17.40 kg"}});
  plug_in(site, crew.port());
  const Ran ran =
      run(site.drive(begin_harvest() + "tap \"Stake/101\"\nlist " + site.file("101.json") +
                     "\nexpect \"net\"\nexpect \"Stands still\"\n"
                     "tap \"Take weight\"\ntype \"1\\n\"\ntap \"Keep plot\"\n"));
  EXPECT_EQ(ran.errors, "");
  const auto ledger = need(ledger::Ledger::open(site.ledger(), ledger::Access::kReadOnly));
  const auto readings = need(ledger.of_kind(kind::kReading));
  ASSERT_GE(readings.size(), 2U);
  EXPECT_EQ(readings[0].raw, "S N +  17.40 kg");
  EXPECT_EQ(readings[0].entered, "17.40");
  EXPECT_EQ(readings[0].source, Source::kScale);
  EXPECT_EQ(readings[0].details, R"({"load":"net","port":"scale"})");
  EXPECT_EQ(readings[1].measure, measure::kTareWeight);
  EXPECT_EQ(readings[1].entered, "0");
  EXPECT_TRUE(need(ledger.check()).empty());
}

TEST(ScalePort, IsChosenOnTheTabletScreenAndRemembered) {
  const InventedSite site;
  site.enrol();
  const Crew crew(site, {});
  const std::filesystem::path port = crew.port();
  const Variable ports("LIGULE_PORTS", port.parent_path().string());
  const Ran ran = run(site.drive(
      "type \"AB\\n\"\ntap \"Tablet\"\nswipe up\ntap \"Scale\"\ntap \"Port/scale\"\nswipe up\n"
      "tap \"A line looks like/S or D, G or N, number, unit\"\nexpect \"Empty\"\nexpect \"S G + "
      "0.00 kg\"\n"
      "tap \"Back\"\nexpect \"Weights come from scale.\"\n"));
  EXPECT_EQ(ran.errors, "");
  const auto files = files::real_file_system();
  const auto preferences = work::load_preferences(*files, work::preferences_path(site.ledger()));
  ASSERT_TRUE(preferences);
  EXPECT_EQ(preferences->scale.port, port.string());
  EXPECT_EQ(preferences->scale.form, "flags_first");
}

}  // namespace
}  // namespace ligule::program_test
