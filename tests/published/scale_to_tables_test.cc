// From the indicator's bytes to the published answer: a load goes on a simulated scale, the real
// touch program takes it by one tap, and the desk's tables are read.
#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <fstream>
#include <functional>
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
  bool hay = false;  // drier than forage that is cut: the program asks whether that is right
};

// Every plot by one tap on the scale's key; then the bags out of the oven.
std::string day_of(const InventedSite& site, const std::vector<Weighed>& plots) {
  std::string lines = begin_harvest();
  // At the third unusual plot of ten the weather is asked about first, once.
  const auto unusual = [](int& asked, const std::string& answer) {
    return std::string(++asked == 3 ? "tap \"Nothing of the kind\"\n" : "") + answer;
  };
  int heavy = 0;
  int dry = 0;
  for (std::size_t n = 0; n < plots.size(); ++n) {
    const std::string plot = std::to_string(101 + n);
    lines += "expect \"" + plot + "\"\n";
    // At both ends of the path the stake is agreed to.
    if (n == 0 || n + 1 == plots.size()) lines += "tap \"Stake/" + plot + "\"\n";
    lines +=
        "list " + site.file(plot + ".json") + "\nexpect \"Stands still\"\ntap \"Take weight\"\n";
    // Of half a square metre more than 4 ton/acre even at 10 percent of dry matter: it asks.
    if (plots[n].load.ends_with("kg") && std::stod(plots[n].load.substr(5)) > 4.48)
      lines += unusual(heavy, "tap \"It is so\"\n");
    lines += "type \"" + std::to_string(n + 1) + "\\n\"\ntype \"" + plots[n].fresh + "\\n\"\n";
  }
  lines += "tap \"Back\"\ntap \"Dry weights\"\ntap \"Understood\"\n";
  for (std::size_t n = 0; n < plots.size(); ++n) {
    lines += "type \"" + std::to_string(n + 1) + "\\n\"\ntype \"" + plots[n].dry + "\\n\"\n";
    if (plots[n].hay) lines += unusual(dry, "tap \"It is right (wilted, wet)\"\n");
  }
  return lines;
}

// A column of a file of the desk's tables, of the rows that `wanted` takes.
std::vector<double> column(const std::string& path, const std::string& name,
                           const std::function<bool(const std::string&)>& wanted) {
  std::ifstream file(path);
  const auto cells_of = [](const std::string& line) {
    std::vector<std::string> cells;
    std::stringstream row(line);
    for (std::string cell; std::getline(row, cell, ',');) cells.push_back(cell);
    return cells;
  };
  std::string line;
  std::getline(file, line);
  const auto names = cells_of(line);
  const auto at = std::ranges::find(names, name) - names.begin();
  const auto cutting = std::ranges::find(names, "cutting") - names.begin();
  std::vector<double> values;
  while (std::getline(file, line)) {
    const auto cells = cells_of(line);
    if (static_cast<std::size_t>(at) < cells.size() &&
        wanted(cells[static_cast<std::size_t>(cutting)]))
      values.push_back(parse_number(cells[static_cast<std::size_t>(at)]).value_or(-1));
  }
  return values;
}

// What the desk's tables say: means of the only cutting, entry by entry, and the dry-matter
// fraction of each plot along the path.
struct Made {
  std::vector<double> means;
  std::vector<double> fractions;
};
Made tables(const InventedSite& site, const std::string& unit) {
  const std::string out = site.file("tables");
  std::ostringstream said;
  std::ostringstream errors;
  EXPECT_EQ(desk::run({"tables", "--ledger", site.ledger(), "--out", out, "--unit", unit}, said,
                      errors, *files::real_file_system()),
            0)
      << errors.str();
  const auto first = [](const std::string& cutting) { return cutting == "1"; };
  return {column(out + "/means.csv", "mean", first),
          column(out + "/plots.csv", "dry_matter_fraction", first)};
}

Made made_of(const Plan& plan, const std::vector<Weighed>& plots, const std::string& unit) {
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

std::vector<double> yields(const Plan& plan, const std::vector<Weighed>& plots,
                           const std::string& unit) {
  return made_of(plan, plots, unit).means;
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

// Dry matter out of the oven. University of Maine Cooperative Extension, pasture course, lesson 1,
// appendix E: plate 1 oz, with it 9 oz fresh and 3 oz dry, are 25 % (here ten times, in grams, with
// the plate at 30). anycalculator.com, hay moisture: 100 g wet, 86 g dry are 14 % moisture.
// studylib.net 6613945, microwave method: 101 g and 85 g are 16 %. farmllc.org, microwave: 100 g
// and 35 g are 35 % dry matter.
TEST(ScaleToTables, SharesOfDryMatterAsPublished) {
  const std::vector<Weighed> plots{{"S G +  10.00 kg", "270", "90"},
                                   {"S G +  11.00 kg", "130", "116", true},
                                   {"S G +  12.00 kg", "131", "115", true},
                                   {"S G +  13.00 kg", "130", "65"}};
  const Made made = made_of(plots_of({"1", "m"}, {"0.5", "m"}, 4), plots, "kg/ha");
  ASSERT_EQ(made.fractions.size(), 4U);
  EXPECT_NEAR(made.fractions[0] * 100, 25, 1e-12);
  EXPECT_NEAR(100 - made.fractions[1] * 100, 14, 1e-12);
  EXPECT_EQ(std::lround(100 - made.fractions[2] * 100), 16);
  EXPECT_NEAR(made.fractions[3] * 100, 35, 1e-12);
  // By hand: kilograms of half a square metre, times the share, to the hectare.
  const std::array shares{0.25, 0.86, 85.0 / 101, 0.35};
  ASSERT_EQ(made.means.size(), 4U);
  for (std::size_t n = 0; n < shares.size(); ++n)
    EXPECT_NEAR(made.means[n], (10.0 + static_cast<double>(n)) * shares[n] * 20'000, 1e-8);
}

}  // namespace
}  // namespace ligule::program_test
