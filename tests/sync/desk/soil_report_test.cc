// What a plan says of its soil stands in the report of the tables.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <fstream>

#include "tests/storage/ledger/sample.h"
#include "tests/sync/desk/season_fixture.h"

namespace ligule::desk {
namespace {

using ::testing::HasSubstr;
using ::testing::Not;

class SoilReport : public SeasonCommands {
 protected:
  SoilReport() {
    Plan plan = two_block_plan({"ridge", "north", "TF26"});
    plan.soil = {{"p", "41", "ppm", "mehlich_3", "6", "in", "A <lab>", date::year{2025} / 8 / 2}};
    write_plan(plan, plan_folder_);
    EXPECT_EQ(enrol(north_, plan_folder_).exit, 0);
  }
  std::string report(const std::vector<std::string>& more = {}) {
    std::vector<std::string> arguments{"tables", "--ledger", north_, "--out", out_};
    arguments.insert(arguments.end(), more.begin(), more.end());
    const Ran ran = desk(arguments);
    EXPECT_EQ(ran.exit, 0) << ran.err;
    return ledger::sample::file_bytes(out_ + "/report.html");
  }
};

TEST_F(SoilReport, TellsThePlansSoilTestAndWhatTablesSayOfIt) {
  const std::string told = report();
  EXPECT_THAT(told, HasSubstr("<b>Soil test</b> <span>2025-08-02, 6 in deep, A &lt;lab&gt;: P 41 "
                              "ppm (Mehlich-3)</span>"));
  EXPECT_THAT(told, HasSubstr("<li class=\"long\"><b>Soil for the stand</b> <span>pH: not in the "
                              "soil test; P 41 ppm (Mehlich-3) = 82 lb/acre"));
  EXPECT_THAT(told, HasSubstr("No amounts are prescribed"));
}

TEST_F(SoilReport, SiteNotesStateAnotherInItsPlace) {
  const std::string notes = folder_ / "notes.csv";
  std::ofstream(notes) << "test,fact,value\nTF26,Soil test,pH 6.4 by another lab\n";
  const std::string told = report({"--site-notes", notes});
  EXPECT_THAT(told, HasSubstr("<li><b>Soil test</b> <span>pH 6.4 by another lab</span>"));
  EXPECT_THAT(told, Not(HasSubstr("Soil for the stand")));
}

}  // namespace
}  // namespace ligule::desk
