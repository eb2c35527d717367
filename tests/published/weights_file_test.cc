// From a machine's CSV to the published answer: take-in reads the file, the desk's tables are read.
#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <sstream>
#include <string>
#include <vector>

#include "storage/files/assets.h"
#include "storage/files/plan_folder.h"
#include "sync/desk/desk.h"
#include "tests/published/desk_tables.h"
#include "tests/storage/files/faulty_file_system.h"
#include "tests/storage/trial/sample_plan.h"

namespace ligule::published {
namespace {

struct Frame {
  StatedLength length, width;
  std::string unit;    // of the weights
  std::string yields;  // unit of the tables
};

// A plot for each entry; bags weigh 30 g.
Plan plots_of(std::size_t count, const Frame& frame) {
  Plan plan = two_block_plan({"ridge", "north", "TF26"});
  plan.swath_length = frame.length;
  plan.swath_width = frame.width;
  plan.bag_tare = {"30", "g"};
  plan.entries.clear();
  plan.plots.clear();
  for (std::size_t n = 1; n <= count; ++n) {
    const std::string code = "A" + std::to_string(n);
    plan.entries.push_back({code, "tall_fescue", "Alder " + std::to_string(n),
                            Endophyte::kNotStated, "", EntryRole::kTest, ""});
    const int place = static_cast<int>(n);
    plan.plots.push_back({std::to_string(100 + place), 1, code, 1, place, place});
  }
  return plan;
}

struct Weighed {
  std::string gross, fresh, dry;  // samples in g, with their bags
};

// Means of the only cutting, in the order of the plots.
std::vector<double> yields(const Frame& frame, const std::vector<Weighed>& plots) {
  const files::TestFolder folder;
  const auto files = files::real_file_system();
  const auto schemas = files::load_plan_schemas(*files, files::find_assets(*files).value()).value();
  const std::string plan = folder / "plan";
  EXPECT_TRUE(files::write_plan_folder(*files, plan, plots_of(plots.size(), frame), schemas));
  std::string csv = "plot,bag,net,sample fresh,sample dry\r\n";
  for (std::size_t n = 0; n < plots.size(); ++n)
    csv += std::to_string(101 + n) + "," + std::to_string(n + 1) + "," + plots[n].gross + "," +
           plots[n].fresh + "," + plots[n].dry + "\r\n";
  const std::string path = folder / "weights.csv";
  EXPECT_TRUE(files->write_durably(path, csv, files::Access::kEveryone));
  const std::string ledger = folder / "office.ligule";
  const std::string out = folder / "tables";
  for (const std::vector<std::string>& arguments : std::vector<std::vector<std::string>>{
           {"enrol", "--ledger", ledger, "--device", "Office", plan},
           {"take-in",
            path,
            "--ledger",
            ledger,
            "--trial",
            "TF26",
            "--year",
            "2026",
            "--cutting",
            "1",
            "--columns",
            "plot=plot,gross=net,bag=bag,sample_fresh=sample fresh,sample_dry=sample dry",
            "--unit",
            frame.unit,
            "--sample-unit",
            "g",
            "--machine",
            "frame",
            "--operator",
            "AB",
            "--date",
            "2026-05-20",
            "--accept",
            "yield_unusual"},
           {"tables", "--ledger", ledger, "--out", out, "--unit", frame.yields}}) {
    std::ostringstream said, errors;
    EXPECT_EQ(desk::run(arguments, said, errors, *files), 0) << errors.str();
    EXPECT_EQ(errors.str(), "");
  }
  std::vector<double> means;
  std::istringstream lines(text_of(out + "/means.csv"));
  for (std::string line; std::getline(lines, line);) {
    std::vector<std::string> cells;
    std::istringstream row(line);
    for (std::string cell; std::getline(row, cell, ',');) cells.push_back(cell);
    if (cells.size() > 5 && cells[2] == "1") means.push_back(std::stod(cells[5]));
  }
  return means;
}

// University of Maine Cooperative Extension, pasture course, lesson 1, appendix E: 2.07 lb fresh of
// 9 square feet at 25 % dry matter are 2,505 lb an acre (2504.70 before rounding).
TEST(WeightsFromAFile, PoundsOfANineFootFrame) {
  const auto means = yields({{"3", "ft"}, {"3", "ft"}, "lb", "lb/acre"},
                            {{"2.07", "130", "55"}, {"2.07", "130", "55"}});
  ASSERT_EQ(means.size(), 2U);
  EXPECT_NEAR(means[0], 2504.70, 0.005);
  EXPECT_EQ(std::lround(means[0]), 2505);
}

// PGG Wrightson Seeds, measuring forage crop yields: five cuts of half a square metre, 5.3, 5.6,
// 5.4, 5.9 and 5.8 kg at 12 % dry matter, come to 13,440 kg a hectare.
TEST(WeightsFromAFile, ACropOfFiveCuts) {
  std::vector<Weighed> plots;
  for (const char* load : {"5.3", "5.6", "5.4", "5.9", "5.8"}) plots.push_back({load, "130", "42"});
  const auto means = yields({{"1", "m"}, {"0.5", "m"}, "kg", "kg/ha"}, plots);
  ASSERT_EQ(means.size(), 5U);
  double sum = 0;
  for (const double mean : means) sum += mean;
  EXPECT_NEAR(sum / 5, 13'440, 1e-9);
}

}  // namespace
}  // namespace ligule::published
