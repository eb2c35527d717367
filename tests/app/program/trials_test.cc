// Trials through the real program: a plan from a stick, what a plot really holds, an event.
#include <gmock/gmock.h>

#include <fstream>

#include "storage/files/plan_folder.h"
#include "tests/app/program/invented_site.h"

namespace ligule::program_test {
namespace {

// A stick with the plan of another trial, and with one whose plots.csv names no entry.
class Stick {
 public:
  explicit Stick(const InventedSite& site) : media_("LIGULE_MEDIA", site.file("media")) {
    const auto files = files::real_file_system();
    const auto schemas = files::load_plan_schemas(*files, LIGULE_SOURCE_ASSETS).value();
    Plan plan = InventedSite::plan();
    plan.codes.trial = "NEW";
    for (const char* name : {"sound", "faulty"})
      need(files::write_plan_folder(*files, site.file("media/STICK/" + std::string(name)), plan,
                                    schemas));
    std::ofstream(site.file("media/STICK/faulty/plots.csv"), std::ios::app)
        << "999,1,NOBODY,9,9,99,\r\n";
  }
  static void need(const Result<void>& done) {
    if (!done) std::abort();
  }

 private:
  Variable media_;
};

constexpr std::string_view kToTrials = "type \"AB\\n\"\nexpect \"Today\"\ntap \"Trials\"\n";

// On the large glass, held upright: the whole form is in view.
program::Arguments large(const InventedSite& site, const std::string& lines) {
  program::Arguments arguments = site.drive(lines);
  arguments.size = platform::Size{1440, 2160};
  arguments.ppi = 216;
  return arguments;
}

TEST(Trials, APlanIsLoadedFromAStick) {
  const InventedSite site;
  site.enrol();
  const Stick stick(site);
  const Ran ran = run(site.drive(std::string(kToTrials) +
                                 "tap \"From a stick or card\"\ntap \"Folders/faulty\"\n"
                                 "expect \"cannot be loaded\"\nexpect \"NOBODY\"\n"
                                 "tap \"Trials/Back\"\n"
                                 "tap \"Folders/sound\"\nexpect \"Read and checked\"\n"
                                 "tap \"Load this plan\"\nexpect \"NEW\"\n"));
  EXPECT_EQ(ran.errors, "");
  const auto ledger = need(ledger::Ledger::open(site.ledger()));
  EXPECT_EQ(need(ledger.plans()).size(), 2U);
  EXPECT_TRUE(need(ledger.check()).empty());
}

TEST(Trials, WhatAPlotHoldsAndWhatHappenedAreRecords) {
  const InventedSite site;
  site.enrol();
  const Ran ran =
      run(large(site, std::string(kToTrials) + "tap \"STAND/Open\"\ntap \"Plots/102\"\n"
                                               "tap \"Status/Nobody knows\"\n"
                                               "tap \"Why/packets mixed up\"\n"
                                               "tap \"Tab/Events\"\ntap \"Write down an event\"\n"
                                               "tap \"What/Damage\"\ntap \"Keep event\"\n"
                                               "expect \"Damage, Whole trial\"\n"));
  EXPECT_EQ(ran.errors, "");
  const auto ledger = need(ledger::Ledger::open(site.ledger()));
  const auto sown = need(ledger.as_sown(InventedSite::plan().id()));
  ASSERT_EQ(sown.size(), 1U);
  EXPECT_EQ(sown[0].status, AsSownStatus::kUnknown);
  EXPECT_EQ(sown[0].reason, "packet_mixed");
  const auto events = need(ledger.of_kind(kind::kEvent, InventedSite::plan().id()));
  ASSERT_EQ(events.size(), 1U);
  EXPECT_EQ(events[0].entered, "damage");
}

TEST(Trials, AnEventNotedByMistakeIsTakenBackInTwoTaps) {
  const InventedSite site;
  site.enrol();
  const std::string day(kDay);
  const std::string noted = std::string(kToTrials) +
                            "tap \"STAND/Open\"\ntap \"Tab/Events\"\n"
                            "tap \"Write down an event\"\ntap \"What/Damage\"\n"
                            "tap \"Keep event\"\nexpect \"Damage, Whole trial\"\n";
  const std::string taken_back = "tap \"Damage " + day +
                                 "/Take back\"\n"
                                 "expect \"Take this event back?\"\n"
                                 "tap \"Why/tapped wrong\"\n"
                                 "expect \"Taken back " +
                                 day + ", AB: tapped wrong\"\n";
  const Ran ran = run(large(site, noted + taken_back));
  EXPECT_EQ(ran.errors, "");
  const auto ledger = need(ledger::Ledger::open(site.ledger()));
  const auto events = need(ledger.events(InventedSite::plan().id()));
  ASSERT_EQ(events.size(), 1U);
  ASSERT_TRUE(events[0].taken_back);
  EXPECT_EQ(events[0].taken_back->reason, "mistap");
  EXPECT_TRUE(need(ledger.check()).empty());
}

}  // namespace
}  // namespace ligule::program_test
