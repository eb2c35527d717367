// From the indicator's bytes to the published answer: a load goes on a simulated scale, the real
// touch program takes it by one tap, and the desk's tables are read.
#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <fstream>
#include <sstream>

#include "storage/trial/number.h"
#include "sync/desk/desk.h"
#include "tests/app/program/scale_crew.h"

namespace ligule::program_test {
namespace {

struct Weighed {
  std::string load;   // the line as it comes from the indicator
  std::string fresh;  // sample with its bag, g
  std::string dry;
};

// Every plot by one tap on the scale's key; then the bags out of the oven.
std::string day_of(const InventedSite& site, const std::vector<Weighed>& plots) {
  std::string lines = begin_harvest();
  for (std::size_t n = 0; n < plots.size(); ++n) {
    const std::string plot = std::to_string(101 + n);
    lines += "expect \"" + plot + "\"\n";
    // At both ends of the path the stake is agreed to.
    if (n == 0 || n + 1 == plots.size()) lines += "tap \"Stake/" + plot + "\"\n";
    lines +=
        "list " + site.file(plot + ".json") + "\nexpect \"Stands still\"\ntap \"Take weight\"\n";
    // The example weighs several plots alike; the program asks whether the bin was emptied.
    if (n > 0 && plots[n].load == plots[n - 1].load) lines += "tap \"They weigh the same\"\n";
    lines += "type \"" + std::to_string(n + 1) + "\\n\"\ntype \"" + plots[n].fresh + "\\n\"\n";
  }
  lines += "tap \"Back\"\ntap \"Dry weights\"\ntap \"Understood\"\n";
  for (std::size_t n = 0; n < plots.size(); ++n)
    lines += "type \"" + std::to_string(n + 1) + "\\n\"\ntype \"" + plots[n].dry + "\\n\"\n";
  return lines;
}

// Means of the only cutting by the desk's tables, entry by entry.
std::vector<double> tables(const InventedSite& site, const std::string& unit) {
  const std::string out = site.file("tables");
  std::ostringstream said;
  std::ostringstream errors;
  EXPECT_EQ(desk::run({"tables", "--ledger", site.ledger(), "--out", out, "--unit", unit}, said,
                      errors, *files::real_file_system()),
            0)
      << errors.str();
  std::ifstream file(out + "/means.csv");
  std::vector<double> means;
  std::string line;
  std::getline(file, line);
  while (std::getline(file, line)) {
    std::vector<std::string> cells;
    std::stringstream row(line);
    for (std::string cell; std::getline(row, cell, ',');) cells.push_back(cell);
    if (cells.size() > 5 && cells[2] == "1") means.push_back(parse_number(cells[5]).value_or(-1));
  }
  return means;
}

std::vector<double> yields(const Plan& plan, const std::vector<Weighed>& plots,
                           const std::string& unit) {
  const InventedSite site;
  site.enrol(plan);
  std::map<std::string, std::string> lines;
  for (std::size_t n = 0; n < plots.size(); ++n) lines[std::to_string(101 + n)] = plots[n].load;
  const Crew crew(site, lines);
  plug_in(site, crew.port());
  const Ran ran = run(site.drive(day_of(site, plots)));
  EXPECT_EQ(ran.errors, "");
  return tables(site, unit);
}

// University of Maine Cooperative Extension, pasture course, lesson 1, appendix E: 2.07 lb fresh of
// 9 square feet at 25 % dry matter are 2,505 lb an acre (2504.70 before rounding).
TEST(ScaleToTables, PoundsOfANineFootFrame) {
  const auto means =
      yields(plots_of({"3", "ft"}, {"3", "ft"}, 2),
             {{"S G +   2.07 lb", "130", "55"}, {"S G +   2.07 lb", "130", "55"}}, "ton/acre");
  ASSERT_EQ(means.size(), 2U);
  EXPECT_NEAR(means[0] * 2000, 2504.70, 0.005);
  EXPECT_EQ(std::lround(means[0] * 2000), 2505);
}

// Grasstec Group, spring balance page: 0.200 kg of a quarter square metre at 16 % are 1,280 kg dry
// matter a hectare. Irish Farmers Journal, cut and weigh method: the 0.05 kg bag left on the scale
// adds 320.
TEST(ScaleToTables, KilogramsOfAQuarterMetreAndTheBagLeftOn) {
  const auto means =
      yields(plots_of({"0.5", "m"}, {"0.5", "m"}, 2),
             {{"S G +  0.200 kg", "130", "46"}, {"S G +  0.250 kg", "130", "46"}}, "Mg/ha");
  ASSERT_EQ(means.size(), 2U);
  EXPECT_NEAR(means[0] * 1000, 1280, 1e-9);
  EXPECT_NEAR((means[1] - means[0]) * 1000, 320, 1e-9);
}

// PGG Wrightson Seeds, measuring forage crop yields: 5.6 kg of half a square metre at 12, 11, 13,
// 14 and 15 % dry matter are 13,440, 12,320, 14,560, 15,680 and 16,800 kg a hectare; five cuts
// of 5.3 to 5.9 kg average the same.
TEST(ScaleToTables, ACropOfFiveDryMatters) {
  std::vector<Weighed> plots;
  for (const char* dry : {"42", "41", "43", "44", "45"})
    plots.push_back({"S G +   5.60 kg", "130", dry});
  for (const char* load : {"5.3", "5.6", "5.4", "5.9", "5.8"})
    plots.push_back({std::string("S G +   ") + load + "0 kg", "130", "42"});
  const auto means = yields(plots_of({"1", "m"}, {"0.5", "m"}, 10), plots, "Mg/ha");
  ASSERT_EQ(means.size(), 10U);
  const std::array published{13'440.0, 12'320.0, 14'560.0, 15'680.0, 16'800.0};
  for (std::size_t n = 0; n < published.size(); ++n)
    EXPECT_NEAR(means[n] * 1000, published[n], 1e-9);
  double sum = 0;
  for (std::size_t n = 5; n < 10; ++n) sum += means[n];
  EXPECT_NEAR(sum / 5 * 1000, 13'440, 1e-9);
}

}  // namespace
}  // namespace ligule::program_test
