// Plans that a stick brings, and what a plot holds, through the real program: how many taps.
#include <gmock/gmock.h>

#include <fstream>

#include "storage/files/plan_folder.h"
#include "tests/app/program/invented_site.h"

namespace ligule::program_test {
namespace {

class SticksRun : public testing::Test {
 protected:
  void write(const Plan& plan, const std::string& folder) {
    const auto schemas = files::load_plan_schemas(*files_, LIGULE_SOURCE_ASSETS).value();
    if (!files::write_plan_folder(*files_, site_.file("media/STICK/" + folder), plan, schemas))
      std::abort();
  }
  static Plan plan(const std::string& code) {
    Plan plan = InventedSite::plan();
    plan.codes.trial = code;
    return plan;
  }
  static Plan revised() {
    Plan plan = InventedSite::plan();
    plan.parent = sha256(plan_text(plan)).hex();
    plan.reason = "one more look";
    plan.occasions.push_back({"2026-fall", Job::kRate, 2026, 0, {"percent_stand"}, std::nullopt});
    return plan;
  }
  [[nodiscard]] std::size_t trials() const {
    return need(need(ledger::Ledger::open(site_.ledger())).plans()).size();
  }

  InventedSite site_;
  std::unique_ptr<files::FileSystem> files_ = files::real_file_system();
  Variable media_{"LIGULE_MEDIA", site_.file("media")};
};

constexpr std::string_view kSignIn = "type \"AB\\n\"\nexpect \"Today\"\n";

TEST_F(SticksRun, AllNewPlansAreOneTapFromToday) {
  site_.enrol();
  for (const char* code : {"N1", "N2", "N3"}) write(plan(code), code);
  write(InventedSite::plan(), "held");
  const Ran ran =
      run(site_.drive(std::string(kSignIn) + "expect \"New here: N1, N2, N3\"\ntap \"Stick/Load\"\n"
                                             "expect \"On this tablet now: N1, N2, N3\"\n"
                                             "tap \"N2/2026-stand/Rate\"\nexpect \"101\"\n"));
  EXPECT_EQ(ran.errors, "");
  EXPECT_EQ(trials(), 4U);
}

// The first thing a new tablet shows.
TEST_F(SticksRun, ATabletWithoutAPlanIsLoadedByOneTap) {
  write(plan("N1"), "N1");
  const Ran ran =
      run(site_.drive(std::string(kSignIn) + "tap \"Stick/Load\"\nexpect \"N1  Stand counts\"\n"));
  EXPECT_EQ(ran.errors, "");
  EXPECT_EQ(trials(), 1U);
}

TEST_F(SticksRun, WhatARevisionChangesIsReadBeforeItIsTaken) {
  site_.enrol();
  write(revised(), "again");
  const Ran ran = run(site_.drive(
      std::string(kSignIn) +
      "expect \"Changed: STAND\"\ntap \"Stick/Look\"\n"
      "expect \"Revised because: one more look\"\n"
      "expect \"New ratings and cuttings: 2026-fall\"\n"
      "swipe up\nexpect \"What was recorded stays as it is.\"\ntap \"Load this revision\"\n"
      "expect \"On this tablet now: STAND\"\n"));
  EXPECT_EQ(ran.errors, "");
  const auto ledger = need(ledger::Ledger::open(site_.ledger()));
  EXPECT_EQ(need(ledger.plans()).front().plan.occasions.size(), 2U);
}

// Proves: of two revisions on two sticks the newest is offered and taken, with the one before it,
// and the older is said to be older and leads to the newer.
TEST_F(SticksRun, OfTwoRevisionsTheNewestIsTaken) {
  site_.enrol();
  Plan second = revised();
  second.parent = sha256(plan_text(revised())).hex();
  second.reason = "a name was mended";
  second.title = "Stands, mended";
  write(revised(), "a-may");
  write(second, "b-june");
  const Ran ran =
      run(site_.drive(std::string(kSignIn) +
                      "expect \"Changed: STAND\"\nexpect \"Older, not loaded: a-may\"\n"
                      "tap \"Trials\"\ntap \"From a stick or card\"\nexpect \"older than b-june\"\n"
                      "tap \"Folders/a-may\"\nexpect \"Older: b-june came after it.\"\n"
                      "tap \"Show the newer plan\"\nexpect \"Revised because: one more look\"\n"
                      "expect \"Then because: a name was mended\"\ntap \"Load this revision\"\n"
                      "expect \"On this tablet now: STAND\"\n"
                      "tap \"From a stick or card\"\ntap \"Folders/a-may\"\n"
                      "expect \"Older than the plan on this tablet.\"\n"));
  EXPECT_EQ(ran.errors, "");
  const auto ledger = need(ledger::Ledger::open(site_.ledger()));
  EXPECT_EQ(plan_text(need(ledger.plans()).front().plan), plan_text(second));
  EXPECT_TRUE(ledger.plan_revision(second.parent)) << "what it revises is kept too";
}

TEST_F(SticksRun, WhatCannotBeTakenSaysWhyInPlainWords) {
  site_.enrol();
  Plan later = revised();
  later.entries.push_back(
      {"E21", "tall_fescue", "Variety E21", Endophyte::kFree, "", EntryRole::kTest, ""});
  later.plots.push_back({"121", 1, "E21", 1, 21, 41});
  later.plots.push_back({"221", 2, "E21", 2, 21, 42});
  write(later, "later");
  const std::string look = std::string(kSignIn) + "tap \"Stick/Look\"\n";
  EXPECT_EQ(run(site_.drive(look + "expect \"entries E21 are new in the trial\"\n"
                                   "expect \"a trial of its own\"\n"))
                .errors,
            "");
  std::filesystem::remove_all(site_.file("media/STICK/later"));
  Plan other = revised();
  other.parent = std::string(64, 'f');
  write(other, "other");
  const std::string held = sha256(plan_text(InventedSite::plan())).hex().substr(0, 12);
  EXPECT_EQ(run(site_.drive(look +
                            "expect \"the plan revises ffffffffffff, but trial STAND at "
                            "site home has " +
                            held + "\"\n"))
                .errors,
            "");
  std::filesystem::remove_all(site_.file("media/STICK/other"));
  write(plan("N1"), "newer");
  std::ofstream(site_.file("media/STICK/newer/entries.csv"))
      << "code,species,variety,sown_by_drone\r\nE01,tall_fescue,Variety E01,yes\r\n";
  EXPECT_EQ(run(site_.drive(look + "expect \"column 'sown_by_drone' is not known\"\n"
                                   "expect \"a newer version of the program may know it\"\n"))
                .errors,
            "");
}

TEST_F(SticksRun, SwappedPacketsAreSaidFromTheCardInFourTaps) {
  site_.enrol();
  const Ran ran =
      run(site_.drive(on_the_card("tap \"What stands here\"\n"
                                  "expect \"Plot 101 as sown\"\n"
                                  "tap \"Status/Swapped with a plot\"\n"
                                  "tap \"With/102\"\n"
                                  "expect \"Counts from 2025-09-10 on\"\n"
                                  "swipe up\nswipe up\n"
                                  "tap \"Why/packets mixed up\"\n"
                                  "expect \"Block 1\"\ntap \"85\"\n")));
  EXPECT_EQ(ran.errors, "");
  const auto ledger = need(ledger::Ledger::open(site_.ledger()));
  const auto sown = need(ledger.as_sown(InventedSite::plan().id()));
  ASSERT_EQ(sown.size(), 2U);
  const Plan plan = InventedSite::plan();
  for (const AsSown& each : sown) {
    EXPECT_EQ(each.status, AsSownStatus::kHolds);
    EXPECT_EQ(each.since, plan.sown);
    const std::string other = each.plot == plot_id(plan.id(), "101") ? "E02" : "E01";
    EXPECT_EQ(each.holds, entry_id(plan.id(), other));
  }
  EXPECT_EQ(site_.kept(), (std::map<std::string, std::string>{{"101", "85"}}))
      << "the card goes on where it was";
}

// Proves: a plot stays abandoned through a restart, is asked about when somebody names it, and what
// is given to it then is kept and counts.
TEST_F(SticksRun, AnAbandonedPlotIsAskedAboutBeforeItIsRated) {
  site_.enrol();
  EXPECT_EQ(run(site_.drive(on_the_card("tap \"What stands here\"\n"
                                        "tap \"Status/Abandoned or lost\"\n"
                                        "swipe up\nswipe up\n"
                                        "tap \"Why/washed out\"\nexpect \"102\"\n")))
                .errors,
            "");
  EXPECT_EQ(run(site_.drive("type \"AB\\n\"\ntap \"Today/STAND/2026-stand/Rate\"\n"
                            "tap \"Stake/102\"\ntype \"101\\n\"\n"
                            "expect \"Plot 101 was abandoned on 2026-05-04.\"\n"
                            "tap \"Trials/Put away\"\nexpect \"Plot 101 as sown\"\n"
                            "tap \"Status/As planned\"\nswipe up\nswipe up\n"
                            "tap \"Why/checked in the field\"\ntap \"85\"\n"))
                .errors,
            "");
  EXPECT_EQ(site_.kept(), (std::map<std::string, std::string>{{"101", "85"}}));
  const auto ledger = need(ledger::Ledger::open(site_.ledger()));
  const auto sown = need(ledger.as_sown(InventedSite::plan().id()));
  ASSERT_EQ(sown.size(), 1U);
  EXPECT_EQ(sown.front().status, AsSownStatus::kAsPlanned);
}

}  // namespace
}  // namespace ligule::program_test
