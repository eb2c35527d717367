// One plot off, put right in the real program; the desk's tables see what moved.
#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <sys/wait.h>

#include <cstdlib>
#include <fstream>
#include <sstream>

#include "tests/app/program/invented_site.h"

namespace ligule::program_test {
namespace {

using testing::HasSubstr;
using Values = std::map<std::string, std::string>;

// Rates the first plots, one value each.
std::string rating(const std::vector<std::string>& values) {
  std::string lines = "type \"AB\\n\"\ntap \"Today/STAND/2026-stand/Rate\"\ntap \"Stake/101\"\n";
  for (const std::string& value : values) lines += "tap \"Stand/" + value + "\"\n";
  return lines;
}

std::string tables(const InventedSite& site) {
  const std::string out = site.file("tables");
  const std::string command = std::string(LIGULE_BUILD_DIR) + "/ligule-desk tables --ledger " +
                              site.ledger() + " --out " + out + " >" + out + ".log 2>&1";
  // NOLINTNEXTLINE(concurrency-mt-unsafe): one thread; the command is made of our own paths
  EXPECT_EQ(WEXITSTATUS(std::system(command.c_str())), 0);
  std::ifstream in(out + "/measures/percent_stand/means.csv");
  std::stringstream text;
  text << in.rdbuf();
  return text.str();
}

TEST(Slide, MovesTheRunShowsItAndIsTakenBack) {
  const InventedSite site;
  site.enrol();
  const Ran ran =
      run(site.drive(rating({"80", "75", "70"}) +
                     "tap \"Back\"\ntap \"Review\"\ntap \"Review/Slide\"\ntap \"One plot on\"\n"
                     "expect \"All values go one plot on.\"\nexpect \"Nothing is lost.\"\n"
                     "tap \"Do it\"\nlist " +
                     site.file("slid.json") + "\n"));
  EXPECT_EQ(ran.errors, "");
  EXPECT_EQ(site.kept(), (Values{{"102", "80"}, {"103", "75"}, {"104", "70"}}));
  // Entries stand on the plots in order: the tables give each the value it has now.
  const std::string means = tables(site);
  EXPECT_THAT(means, HasSubstr("Variety E02"));
  EXPECT_THAT(means, HasSubstr(",80,"));
  const Ran back =
      run(site.drive("type \"AB\\n\"\ntap \"Review\"\ntap \"Review/Slide\"\n"
                     "tap \"One plot back\"\ntap \"Do it\"\ntap \"Take back\"\n"));
  EXPECT_EQ(back.errors, "");
  EXPECT_EQ(site.kept(), (Values{{"102", "80"}, {"103", "75"}, {"104", "70"}}));
  const auto ledger = need(ledger::Ledger::open(site.ledger()));
  EXPECT_TRUE(need(ledger.check()).empty());
}

// Proves: from another stake to the values in their places, and on where one stands.
TEST(Slide, TheStakeThatDisagreesLeadsToIt) {
  const InventedSite site;
  site.enrol();
  std::vector<std::string> row(20, "60");
  row[19] = "35";
  const Ran ran = run(site.drive(rating(row) + "expect \"Which stake do you see?\"\n"
                                               "tap \"Stake/202\"\n"
                                               "expect \"the tablet was at 201\"\n"
                                               "tap \"Slide them\"\ntap \"Do it\"\ntap \"Back\"\n"
                                               "expect \"202\"\ntap \"Stand/50\"\n"));
  EXPECT_EQ(ran.errors, "");
  const Values kept = site.kept();
  EXPECT_FALSE(kept.contains("101"));
  EXPECT_EQ(kept.at("201"), "35");
  EXPECT_EQ(kept.at("202"), "50");
  EXPECT_EQ(kept.size(), 21U);
}

}  // namespace
}  // namespace ligule::program_test
