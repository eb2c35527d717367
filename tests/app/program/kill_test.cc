// The real program, killed in the middle of its work.
#include <gtest/gtest.h>
#include <signal.h>
#include <sys/wait.h>
#include <unistd.h>

#include <chrono>
#include <random>
#include <thread>

#include "tests/app/program/invented_site.h"

namespace ligule::program_test {
namespace {

constexpr int kPlots = 40;

std::string plot_number(int place) {  // from 1, along the path: 101..120, 220..201 as planned
  return place <= 20 ? std::to_string(100 + place) : std::to_string(200 + place - 20);
}

std::string tile(int place) {
  return std::to_string(5 * (place % 20 + 1));
}

// The answer to which stake one sees, where the path turns: before the 1st, 21st and last plot.
std::string stake(int place) {
  if (place != 1 && place != 21 && place != kPlots) return {};
  return "tap \"Stake/" + plot_number(place) + "\"\n";
}

// Rates every plot and writes a list after each: that file is there only after the screen showed
// the value as kept.
std::string rate_all(const InventedSite& site) {
  std::string lines = "type \"AB\\n\"\ntap \"Today/STAND/2026-stand/Rate\"\n";
  for (int place = 1; place <= kPlots; ++place) {
    lines += stake(place) + "tap \"Stand/" + tile(place) + "\"\n";
    lines += "list " + site.file("kept" + std::to_string(place) + ".json") + "\n";
  }
  return lines;
}

pid_t begin(const program::Arguments& arguments, const InventedSite& site) {
  const std::string program = std::string(LIGULE_BUILD_DIR) + "/ligule";
  const std::string drive = arguments.drive.value_or("").string();
  const std::string ledger = site.ledger();
  const std::string day(kDay);
  const pid_t child = fork();
  if (child == 0) {
    execl(program.c_str(), program.c_str(), "--ledger", ledger.c_str(), "--headless", "--today",
          day.c_str(), "--drive", drive.c_str(), nullptr);
    _exit(127);
  }
  return child;
}

// How many of the list files are there.
int shown_as_kept(const InventedSite& site) {
  int count = 0;
  while (count < kPlots &&
         std::filesystem::exists(site.file("kept" + std::to_string(count + 1) + ".json")))
    ++count;
  return count;
}

// Proves: every value that was shown as kept is there after a kill, and the next start goes on at
// the right plot.
TEST(Kill, NothingShownAsKeptIsLostAndTheNextStartGoesOn) {
  std::mt19937 random(20260504);
  int rounds_cut_short = 0;
  for (int round = 0; round < 6; ++round) {
    const InventedSite site;
    site.enrol();
    const pid_t child = begin(site.drive(rate_all(site)), site);
    ASSERT_GT(child, 0);
    const int stop_after = 1 + static_cast<int>(random() % 30);
    // A watchdog, not a wait: the program itself decides how fast it goes.
    const auto end = std::chrono::steady_clock::now() + std::chrono::seconds(60);
    while (shown_as_kept(site) < stop_after && std::chrono::steady_clock::now() < end)
      std::this_thread::sleep_for(std::chrono::milliseconds(1));
    std::this_thread::sleep_for(std::chrono::microseconds(random() % 20'000));
    kill(child, SIGKILL);
    int status = 0;
    ASSERT_EQ(waitpid(child, &status, 0), child);
    rounds_cut_short += WIFSIGNALED(status) ? 1 : 0;

    const int shown = shown_as_kept(site);
    ASSERT_GE(shown, stop_after);
    const auto kept = site.kept();
    ASSERT_GE(kept.size(), static_cast<std::size_t>(shown));
    for (int place = 1; place <= static_cast<int>(kept.size()); ++place)
      EXPECT_EQ(kept.at(plot_number(place)), tile(place)) << place;
    // It must have been cut short, or there is no next plot to go on at.
    const int next = static_cast<int>(kept.size()) + 1;
    ASSERT_LE(next, kPlots);
    // The second start is later in the day than the first, as it would be: its clock is not asked
    // about.
    const Ran again =
        run(site.drive("wait 600000\ntype \"AB\\n\"\nexpect \"" + std::to_string(kept.size()) +
                       " of 40\"\ntap \"Today/STAND/2026-stand/Go on\"\nexpect \"" +
                       plot_number(next) + "\"\n" + stake(next) + "tap \"Stand/55\"\n"));
    EXPECT_EQ(again.errors, "");
    const auto after = site.kept();
    EXPECT_EQ(after.size(), kept.size() + 1);
    EXPECT_TRUE(after.contains(plot_number(next)));
    EXPECT_TRUE(need(need(ledger::Ledger::open(site.ledger())).check()).empty());
  }
  EXPECT_GT(rounds_cut_short, 3) << "the kills come too late to prove anything";
}

}  // namespace
}  // namespace ligule::program_test
