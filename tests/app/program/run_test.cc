// Whole runs of the touch program, played from drive files.
#include "app/program/run.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <sys/stat.h>

#include <algorithm>
#include <cmath>
#include <fstream>
#include <nlohmann/json.hpp>

#include "tests/app/program/invented_site.h"

namespace ligule::program_test {
namespace {

using program::Exit;
using testing::HasSubstr;

TEST(Run, WhatIsTappedIsInTheLedger) {
  const InventedSite site;
  site.enrol();
  const Ran ran =
      run(site.drive(on_the_card("expect \"101\"\n"
                                 "tap \"Stand/80\"\n"
                                 "expect \"102\"\n"
                                 "tap \"Stand/75\"\n"
                                 "quit\n"
                                 "tap \"never reached\"\n")));
  EXPECT_EQ(ran.errors, "");
  EXPECT_EQ(ran.exit, Exit::kDone);
  EXPECT_EQ(site.kept(), (std::map<std::string, std::string>{{"101", "80"}, {"102", "75"}}));
  const auto ledger = need(ledger::Ledger::open(site.ledger()));
  EXPECT_TRUE(need(ledger.check()).empty());
}

TEST(Run, TheNextOneGoesOnWhereTheLastStopped) {
  const InventedSite site;
  site.enrol();
  ASSERT_EQ(run(site.drive(on_the_card("tap \"Stand/80\"\ntap \"Stand/75\"\n"))).exit, Exit::kDone);
  const Ran ran =
      run(site.drive("type \"AB\\n\"\nexpect \"2 of 40\"\ntap \"Today/STAND/2026-stand/Go on\"\n"
                     "expect \"103\"\ntap \"Stand/70\"\n"));
  EXPECT_EQ(ran.errors, "");
  EXPECT_EQ(site.kept().at("103"), "70");
}

// Proves: the same drive file on the same day gives the same records, byte for byte.
TEST(Run, ADemonstrationComesOutTheSameEveryTime) {
  std::vector<Digest> digests;
  for (int i = 0; i < 2; ++i) {
    const InventedSite site;
    site.enrol();
    ASSERT_EQ(run(site.drive(on_the_card("tap \"Stand/80\"\nwait 90000\ntap \"Stand/75\"\n"))).exit,
              Exit::kDone);
    digests.push_back(need(need(ledger::Ledger::open(site.ledger())).digest()));
  }
  EXPECT_EQ(digests[0], digests[1]);
}

TEST(Run, TheDayBeginsAtEightAtTheSite) {
  const InventedSite site;
  site.enrol();
  const Ran ran = run(site.drive(on_the_card("tap \"Stand/80\"\n")));
  EXPECT_EQ(ran.errors, "");
  const auto ledger = need(ledger::Ledger::open(site.ledger()));
  const auto claims = need(ledger.claims(InventedSite::plan().id()));
  ASSERT_EQ(claims.size(), 1U);
  // Four actions of 2 s came before the tap; looking takes its time before the next action.
  EXPECT_EQ(claims[0].record.at.offset, std::chrono::minutes(-240));
  EXPECT_EQ(format_date(claims[0].record.at.local_date), kDay);
  EXPECT_EQ(format_clock(claims[0].record.at), "08:00");
  EXPECT_EQ(claims[0].record.at.utc.time_since_epoch() % std::chrono::minutes(1),
            std::chrono::seconds(8));
}

TEST(Run, AnActionThatCannotBeDoneEndsItWithItsLine) {
  const InventedSite site;
  site.enrol();
  const Ran ran =
      run(site.drive(on_the_card("tap \"Stand/80\"\ntap \"Stand/81\"\ntap \"Stand/75\"\n")));
  EXPECT_EQ(ran.exit, Exit::kJudged);
  EXPECT_THAT(ran.errors, HasSubstr("test.drive line 6"));
  EXPECT_THAT(ran.errors, HasSubstr("visible keys"));
  EXPECT_EQ(site.kept().size(), 1U);
}

TEST(Run, AFaultyOrMissingDriveFileIsSaidBeforeAnythingIsMade) {
  const InventedSite site;
  const Ran faulty = run(site.drive("tap nothing\n"));
  EXPECT_EQ(faulty.exit, Exit::kJudged);
  EXPECT_THAT(faulty.errors, HasSubstr("line 1"));
  program::Arguments arguments = site.drive("");
  arguments.drive = site.file("none.drive");
  const Ran missing = run(arguments);
  EXPECT_EQ(missing.exit, Exit::kCouldNot);
  EXPECT_THAT(missing.errors, HasSubstr("none.drive"));
  EXPECT_FALSE(std::filesystem::exists(site.ledger()));
}

TEST(Run, ANewLedgerGetsAFolderAKeyAndAStream) {
  const InventedSite site;
  program::Arguments arguments = site.drive("expect \"Who has the tablet?\"\n");
  const std::string path = site.file("new/deep/site.ledger");
  arguments.ledger = path;
  arguments.today.reset();
  const Ran ran = run(arguments);
  EXPECT_EQ(ran.errors, "");
  const auto ledger = need(ledger::Ledger::open(path));
  const auto streams = need(ledger.streams());
  ASSERT_EQ(streams.size(), 1U);
  EXPECT_FALSE(streams[0].demo);
  EXPECT_FALSE(streams[0].device.empty());
  for (const char* suffix : {"", ".key"}) {
    struct stat found {};
    ASSERT_EQ(stat((path + suffix).c_str(), &found), 0);
    EXPECT_EQ(found.st_mode & 0777U, 0600U) << suffix;
  }
}

TEST(Run, ACopiedLedgerGoesOnAsAnotherStream) {
  const InventedSite site;
  site.enrol();
  std::filesystem::rename(site.ledger(), site.file("old"));
  std::filesystem::copy_file(site.file("old"), site.ledger());
  const Ran ran = run(site.drive(on_the_card("tap \"Stand/80\"\n")));
  EXPECT_EQ(ran.errors, "");
  const auto ledger = need(ledger::Ledger::open(site.ledger()));
  EXPECT_EQ(need(ledger.streams()).size(), 2U);
  ASSERT_TRUE(ledger.my_stream());
  EXPECT_EQ(need(ledger.spans()).size(), 2U);
  EXPECT_EQ(site.kept().size(), 1U);
}

TEST(Run, ADemonstrationIsRefusedInARealLedger) {
  const InventedSite site;
  site.enrol(/*demo=*/false);
  const Ran ran = run(site.drive("quit\n"));
  EXPECT_EQ(ran.exit, Exit::kCouldNot);
  EXPECT_THAT(ran.errors, HasSubstr("the ledger is real"));
}

TEST(Run, ADamagedLedgerIsSaidAndLeftAlone) {
  const InventedSite site;
  site.enrol();
  std::filesystem::resize_file(site.ledger(), std::filesystem::file_size(site.ledger()) / 2);
  const auto size = std::filesystem::file_size(site.ledger());
  const Ran ran = run(site.drive("quit\n"));
  EXPECT_EQ(ran.exit, Exit::kJudged);
  EXPECT_THAT(ran.errors, HasSubstr("damaged"));
  EXPECT_EQ(std::filesystem::file_size(site.ledger()), size);
}

// A tablet that lost its key goes on.
TEST(Run, ALostKeyStopsNobody) {
  const InventedSite site;
  site.enrol();
  std::filesystem::remove(site.ledger() + ".key");
  const Ran ran = run(site.drive("quit\n"));
  EXPECT_EQ(ran.exit, Exit::kDone) << ran.errors;
  EXPECT_TRUE(std::filesystem::exists(site.ledger() + ".key"));
}

TEST(Run, AKeyThatCannotBeReadIsRefused) {
  const InventedSite site;
  site.enrol();
  std::filesystem::remove(site.ledger() + ".key");
  std::filesystem::create_directory(site.ledger() + ".key");
  const Ran ran = run(site.drive("quit\n"));
  EXPECT_EQ(ran.exit, Exit::kCouldNot);
  EXPECT_THAT(ran.errors, HasSubstr(".key"));
}

TEST(Run, AssetsThatAreNotThereAreNamed) {
  const InventedSite site;
  site.enrol();
  const auto play_with = [&](const std::string& assets) {
    const Variable named("LIGULE_ASSETS", assets);
    return run(site.drive("quit\n"));
  };
  const Ran missing = play_with(site.file("nowhere"));
  std::filesystem::copy(LIGULE_SOURCE_ASSETS, site.file("assets"),
                        std::filesystem::copy_options::recursive);
  std::filesystem::remove(site.file("assets/words/en.json"));
  const Ran wordless = play_with(site.file("assets"));
  std::ofstream(site.file("assets/species.json")) << "nonsense";
  const Ran spoiled = play_with(site.file("assets"));
  EXPECT_EQ(missing.exit, Exit::kCouldNot);
  EXPECT_THAT(missing.errors, HasSubstr("nowhere"));
  EXPECT_EQ(wordless.exit, Exit::kCouldNot);
  EXPECT_THAT(wordless.errors, HasSubstr("en.json"));
  EXPECT_EQ(spoiled.exit, Exit::kCouldNot);
  EXPECT_THAT(spoiled.errors, HasSubstr("species.json"));
}

TEST(Run, AScannedStakeIsTheWayToItsPlotAndAValueIsTypedWithEnter) {
  const InventedSite site;
  site.enrol();
  const Ran ran = run(
      site.drive(on_the_card("type \"115\\n\"\nexpect \"115\"\ntype \"85\\n\"\nexpect \"116\"\n")));
  EXPECT_EQ(ran.errors, "");
  EXPECT_EQ(site.kept(), (std::map<std::string, std::string>{{"115", "85"}}));
}

TEST(Run, ReviewShowsTheMapAndAPlotsHistory) {
  const InventedSite site;
  site.enrol();
  const Ran ran =
      run(site.drive(on_the_card("tap \"Stand/80\"\ntap \"Stand/75\"\ntap \"Back\"\n"
                                 "tap \"Review\"\nexpect \"75\"\ntap \"Map/102\"\n"
                                 "expect \"Plot 102\"\nexpect \"Stand: 75\"\n"
                                 "expect \"This value stands\"\ntap \"Back\"\nexpect \"80\"\n"
                                 "tap \"Back\"\nexpect \"Today\"\n")));
  EXPECT_EQ(ran.errors, "");
  EXPECT_EQ(ran.exit, Exit::kDone);
}

TEST(Run, AValueIsCorrectedFromItsHistoryAndTakenBackAgain) {
  const InventedSite site;
  site.enrol();
  const std::string correct = on_the_card(
      "tap \"Stand/80\"\ntap \"Back\"\ntap \"Review\"\ntap \"Map/101\"\n"
      "tap \"Put right\"\ntype \"65\"\ntap \"Why/wrong plot\"\n"
      "expect \"Stand: 65\"\nexpect \"before: 80\"\nexpect \"wrong plot\"\n");
  const Ran ran = run(site.drive(correct));
  EXPECT_EQ(ran.errors, "");
  EXPECT_EQ(site.kept().at("101"), "65");
  const Ran again =
      run(site.drive("type \"AB\\n\"\ntap \"Review\"\ntap \"Map/101\"\ntap \"Put right\"\n"
                     "tap \"Way/Take back\"\ntap \"Why/tapped wrong\"\nexpect \"Stand: 80\"\n"));
  EXPECT_EQ(again.errors, "");
  EXPECT_EQ(site.kept().at("101"), "80");
}

TEST(Run, TheDayIsSealedBesideTheLedger) {
  const InventedSite site;
  site.enrol();
  const Ran ran =
      run(site.drive(on_the_card("tap \"Stand/80\"\n"
                                 "tap \"Back\"\n"
                                 "tap \"Day's end\"\n"
                                 "tap \"Seal the day\"\n"
                                 "expect \"Sealed and read back\"\n")));
  EXPECT_EQ(ran.errors, "");
  EXPECT_EQ(ran.exit, Exit::kDone);
  int season_files = 0;
  for (const auto& entry : std::filesystem::directory_iterator(site.file("season-files")))
    season_files += entry.path().extension() == ".zip" ? 1 : 0;
  EXPECT_EQ(season_files, 1);
}

// --- how the tablet looks and reads

// A wish of a person, tapped on the Tablet screen.
constexpr std::string_view kToTheTablet = "type \"AB\\n\"\nexpect \"Today\"\ntap \"Tablet\"\n";

TEST(Run, TheLanguageFollowsThePersonFromRunToRun) {
  const InventedSite site;
  site.enrol();
  const std::string wish(kToTheTablet);
  const Ran chose = run(site.drive(wish + "tap \"Language/Español\"\nexpect \"Mano que toca\"\n"
                                          "tap \"Entregar\"\nexpect \"Quién tiene la tableta\"\n"));
  EXPECT_EQ(chose.errors, "");
  const Ran later =
      run(site.drive("expect \"Quién tiene\"\ntap \"English\"\n"
                     "expect \"Who has the tablet?\"\ntap \"AB\"\nexpect \"Hoy\"\n"));
  EXPECT_EQ(later.errors, "");
  // Nothing of it is in the log.
  const auto ledger = need(ledger::Ledger::open(site.ledger()));
  EXPECT_TRUE(need(ledger.check()).empty());
  for (const std::string_view kind : {kind::kEvent, kind::kReading})
    EXPECT_TRUE(need(ledger.of_kind(kind)).empty());
}

TEST(Run, AMeasuredGlassSizesEverythingAtOnceAndLater) {
  const InventedSite site;
  site.enrol();
  const Ran chose =
      run(site.drive(std::string(kToTheTablet) +
                     "swipe up\ntap \"Measure\"\ntap \"Much shorter\"\ntap \"Much shorter\"\n"
                     "tap \"It fits\"\nexpect \"As measured with a card\"\n"
                     "list \"" +
                     site.file("at-once.json") + "\"\n"));
  EXPECT_EQ(chose.errors, "");
  const Ran later =
      run(site.drive(std::string(kToTheTablet) + "list \"" + site.file("later.json") + "\"\n"));
  EXPECT_EQ(later.errors, "");
  const double ppi = 189 / std::pow(1.0025, 32);
  for (const char* name : {"at-once.json", "later.json"}) {
    std::ifstream in(site.file(name));
    const auto list = nlohmann::json::parse(in);
    const auto back =
        std::ranges::find_if(list, [](const auto& widget) { return widget.at("label") == "Back"; });
    ASSERT_NE(back, list.end()) << name;
    // The way back is 16 mm wide.
    EXPECT_NEAR(back->at("drawn").at("width").template get<double>(), 16 * ppi / 25.4, 0.1) << name;
  }
}

TEST(Run, PreferencesThatCannotBeReadAreSaidAndNothingElseIsLost) {
  const InventedSite site;
  site.enrol();
  std::ofstream(site.ledger() + ".preferences") << "nonsense";
  const Ran ran = run(site.drive("expect \"could not be read\"\ntap \"Put away\"\n" +
                                 on_the_card("tap \"Stand/80\"\n")));
  EXPECT_EQ(ran.errors, "");
  EXPECT_EQ(site.kept().at("101"), "80");
}

}  // namespace
}  // namespace ligule::program_test
