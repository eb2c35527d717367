// planting-list and labels as a person calls them.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <sstream>

#include "storage/files/plan_folder.h"
#include "sync/desk/desk.h"
#include "tests/storage/files/environment.h"
#include "tests/storage/files/faulty_file_system.h"
#include "tests/storage/trial/sample_plan.h"

namespace ligule::desk {
namespace {

using ::testing::HasSubstr;
using ::testing::Not;

class PrintCommands : public ::testing::Test {
 protected:
  void SetUp() override {
    for (PlanEntry& entry : plan_.entries) {
      entry.germination = "92";
      entry.hard_seed = "5";
      entry.purity = "98";
      entry.sowing_rate = "15";
      entry.sowing_rate_unit = "lb/acre";
    }
    write_plan();
  }
  void write_plan() {
    const auto schemas = files::load_plan_schemas(*files_, LIGULE_SOURCE_ASSETS);
    ASSERT_TRUE(schemas.has_value());
    ASSERT_TRUE(files::write_plan_folder(*files_, folder_ / "plan", plan_, *schemas).has_value());
  }
  int call(std::vector<std::string> arguments) {
    out_.str("");
    err_.str("");
    return run(arguments, out_, err_, *files_);
  }
  // With the plan's folder and the page to write.
  int print(const std::string& command, const std::vector<std::string>& more = {}) {
    std::vector<std::string> arguments{command, plan_folder(), "--out", page()};
    arguments.insert(arguments.end(), more.begin(), more.end());
    return call(arguments);
  }
  [[nodiscard]] std::string plan_folder() const { return (folder_ / "plan").string(); }
  [[nodiscard]] std::string page() const { return (folder_ / "page.html").string(); }
  void write_file(const char* name, const std::string& text) {
    ASSERT_TRUE(files_->write_durably(folder_ / name, text, files::Access::kEveryone));
  }
  std::string read(const std::string& name) {
    return files_->read(folder_ / name.c_str(), 1U << 22U).value_or("");
  }

  files::TestFolder folder_;
  Plan plan_ = sample_plan();
  std::unique_ptr<files::FileSystem> files_ = files::real_file_system();
  std::ostringstream out_, err_;
};

TEST_F(PrintCommands, APlantingListIsWrittenAndItsTableToo) {
  EXPECT_EQ(print("planting-list", {"--csv", (folder_ / "list.csv").string()}), 0) << err_.str();
  EXPECT_EQ(out_.str(), page() + ": planting list of TF24, 9 plots\n");
  EXPECT_EQ(err_.str(), "");
  EXPECT_THAT(read("page.html"), HasSubstr("16.43 g"));
  EXPECT_THAT(read("page.html"), HasSubstr("279.4mm; margin: 12mm"));
  EXPECT_THAT(read("page.html"), Not(HasSubstr("Alder")));
  EXPECT_THAT(read("list.csv"), HasSubstr("\n1,1,101,"));
}

TEST_F(PrintCommands, OptionsOfAPlantingListAreHeard) {
  plan_.entries[0].sowing_rate = plan_.entries[0].sowing_rate_unit = "";
  write_plan();
  EXPECT_EQ(print("planting-list", {"--rate", "13 lb/acre", "--spare", "25", "--names", "open",
                                    "--paper", "a4", "--live-seed", "germinated"}),
            0)
      << err_.str();
  const std::string text = read("page.html");
  EXPECT_THAT(text, HasSubstr("13 lb/acre *"));
  EXPECT_THAT(text, HasSubstr("With 25 % spare, g"));
  EXPECT_THAT(text, HasSubstr("Alder Brook"));
  EXPECT_THAT(text, HasSubstr("size: 210mm 297mm"));
  EXPECT_THAT(text, HasSubstr("90.16"));
}

// Three plots with a tenth to spare take 54.2 g of L1; the others have no lot.
TEST_F(PrintCommands, WhatIsShortOfSeedIsTold) {
  write_file("store.csv", "Lot,On hand (g)\nL1,40\n");
  ASSERT_EQ(print("planting-list", {"--on-hand", (folder_ / "store.csv").string()}), 0)
      << err_.str();
  EXPECT_THAT(out_.str(), HasSubstr("to look at: seed lot L1 is 14 g short: 40 g on hand, 54 g "
                                    "wanted with the spare\n"
                                    "to look at: the plan names no seed lot of B, C\n"));
  EXPECT_THAT(read("page.html"), HasSubstr("Seed on hand"));
  write_file("store.csv", "Lot,On hand\nL9,1 kg\n");
  plan_.entries[0].purity = "";
  write_plan();
  ASSERT_EQ(print("planting-list", {"--on-hand", (folder_ / "store.csv").string()}), 0);
  EXPECT_THAT(out_.str(), HasSubstr("store.csv does not say how much there is of L1\n"));
  EXPECT_THAT(out_.str(), HasSubstr("to look at: how much is wanted is not known of L1\n"));
}

TEST_F(PrintCommands, AStoresListThatCannotBeReadIsTold) {
  EXPECT_EQ(print("planting-list", {"--on-hand", (folder_ / "none.csv").string()}), 2);
  EXPECT_THAT(err_.str(), HasSubstr("the planting list was not written"));
  write_file("store.csv", "Lot,On hand\nL1,some\n");
  EXPECT_EQ(print("planting-list", {"--on-hand", (folder_ / "store.csv").string()}), 1);
  EXPECT_THAT(err_.str(), HasSubstr("line 2, column On hand: 'some' is no amount of seed"));
}

TEST_F(PrintCommands, ABorderIsSownUnlessItStaysBare) {
  plan_.border = {"5", "ft"};
  PlanEntry filler = plan_.entries[2];
  filler.code = "F";
  filler.variety = "Fill";
  filler.role = EntryRole::kFiller;
  plan_.entries.push_back(filler);
  write_plan();
  ASSERT_EQ(print("planting-list"), 0) << err_.str();
  EXPECT_THAT(read("page.html"), HasSubstr("counted as sown with filler F"));
  ASSERT_EQ(print("planting-list", {"--border", "bare"}), 0);
  EXPECT_THAT(read("page.html"), Not(HasSubstr("counted as sown")));
}

TEST_F(PrintCommands, WhatHasNoWeightIsToldOnceAReason) {
  plan_.entries[0].purity = plan_.entries[2].purity = "";
  plan_.entries[1].sowing_rate = plan_.entries[1].sowing_rate_unit = "";
  write_plan();
  for (const std::vector<std::string>& more : {std::vector<std::string>{}, {"--for", "packets"}}) {
    EXPECT_EQ(print(more.empty() ? "planting-list" : "labels", more), 0) << err_.str();
    EXPECT_THAT(out_.str(),
                HasSubstr("to look at: no packet weight of A, C: purity not stated\n"
                          "to look at: no packet weight of B: sowing rate not stated in the plan, "
                          "usual rate of the species: 12 to 14 lb/acre\n"));
  }
  EXPECT_EQ(print("labels"), 0);
  EXPECT_THAT(out_.str(), Not(HasSubstr("to look at"))) << "stakes weigh nothing";
}

TEST_F(PrintCommands, LabelsAreWrittenForStakesAndPackets) {
  EXPECT_EQ(print("labels"), 0) << err_.str();
  EXPECT_EQ(out_.str(), page() + ": 9 labels of 66.5 x 32.0 mm on 1 sheet; print at 100 %\n");
  const std::string stakes = read("page.html");
  EXPECT_LT(stakes.find(">203</b>"), stakes.find(">202</b>"));
  EXPECT_EQ(print("labels", {"--for", "packets", "--names", "open", "--paper", "a4", "--columns",
                             "2", "--rows", "4"}),
            0)
      << err_.str();
  const std::string packets = read("page.html");
  EXPECT_THAT(packets, HasSubstr("Alder Brook (novel AX1)"));
  EXPECT_THAT(packets, HasSubstr("packets, sheet 2 of 2"));
  EXPECT_LT(packets.find(">301</b>"), packets.find(">101</b>")) << "entry A first";
  EXPECT_EQ(print("labels", {"--for", "packets", "--order", "path"}), 0);
  const std::string path = read("page.html");
  EXPECT_LT(path.find(">101</b>"), path.find(">301</b>"));
}

TEST_F(PrintCommands, APlanOfALedgerPrintsTheSame) {
  ASSERT_EQ(print("labels"), 0);
  const std::string before = read("page.html");
  const std::string ledger = (folder_ / "desk.ligule").string();
  ASSERT_EQ(call({"enrol", "--ledger", ledger, "--device", "Desk", plan_folder()}), 0)
      << err_.str();
  for (const char* const trial : {"TF24", "north/TF24", "HILL/north/TF24"}) {
    EXPECT_EQ(call({"labels", "--ledger", ledger, "--trial", trial, "--out", page()}), 0)
        << err_.str();
    EXPECT_EQ(read("page.html"), before);
  }
  EXPECT_EQ(call({"labels", "--ledger", ledger, "--trial", "AL24", "--out", page()}), 2);
  EXPECT_EQ(err_.str(),
            "--trial: the ledger holds no trial 'AL24' (give one of HILL/north/TF24)\n");
}

TEST_F(PrintCommands, WrongArgumentsAreOneLine) {
  struct Case {
    std::string command;
    std::vector<std::string> more;
    const char* says;
  };
  for (const Case& c : {
           Case{"planting-list", {"--spare", "a lot"}, "'a lot' is no spare"},
           Case{"planting-list", {"--spare", "101%"}, "is no spare"},
           Case{"planting-list", {"--rate", "13"}, "'' is no unit of a sowing rate"},
           Case{"planting-list", {"--rate", "x lb/acre"}, "'x' is no sowing rate"},
           Case{"planting-list", {"--paper", "a5"}, "it is one of: letter, a4"},
           Case{"labels", {"--columns", "0"}, "--columns"},
           Case{"labels", {"--rows", "25"}, "--rows"},
           Case{"labels", {"--columns", "8", "--rows", "24"}, "has no room"},
           Case{"labels", {"--for", "fences"}, "it is one of: stakes, packets"},
           Case{"labels", {"--ledger", "x"}, "a plan is a folder, or a trial of a ledger"},
       }) {
    EXPECT_EQ(print(c.command, c.more), 2) << c.says;
    EXPECT_THAT(err_.str(), HasSubstr(c.says));
    EXPECT_EQ(std::ranges::count(err_.str(), '\n'), 1) << err_.str();
    EXPECT_EQ(read("page.html"), "") << "nothing is written";
  }
  EXPECT_EQ(call({"labels", "--out", page()}), 2);
  EXPECT_THAT(err_.str(), HasSubstr("a plan is a folder"));
  EXPECT_EQ(call({"labels", (folder_ / "nowhere").string(), "--out", page()}), 2);
  EXPECT_THAT(err_.str(), HasSubstr("there is no such folder"));
  EXPECT_EQ(
      call({"labels", "--ledger", (folder_ / "none").string(), "--trial", "TF24", "--out", page()}),
      2);
  EXPECT_THAT(err_.str(), HasSubstr("nothing was printed"));
}

TEST_F(PrintCommands, AFaultyPlanIsListedAndNothingIsPrinted) {
  plan_.plots[0].entry = "nobody";
  write_plan();
  for (const char* const command : {"labels", "planting-list"}) {
    EXPECT_EQ(print(command), 1);
    EXPECT_THAT(err_.str(), HasSubstr("entry 'nobody' of plot 101 is not known"));
    EXPECT_TRUE(err_.str().ends_with("nothing was printed\n"));
    EXPECT_EQ(read("page.html"), "");
  }
}

TEST_F(PrintCommands, APageThatCannotBeWrittenIsTold) {
  const std::string nowhere = (folder_ / "no" / "folder" / "page.html").string();
  EXPECT_EQ(call({"labels", plan_folder(), "--out", nowhere}), 2);
  EXPECT_THAT(err_.str(), HasSubstr("the labels were not written"));
  EXPECT_EQ(call({"planting-list", plan_folder(), "--out", nowhere}), 2);
  EXPECT_THAT(err_.str(), HasSubstr("the planting list was not written"));
  EXPECT_EQ(print("planting-list", {"--csv", nowhere}), 2);
  EXPECT_THAT(err_.str(), HasSubstr("the table was not written"));
}

TEST_F(PrintCommands, PlanCheckLooksAtSowingRates) {
  plan_.entries[0].sowing_rate = "40";
  write_plan();
  EXPECT_EQ(call({"plan-check", plan_folder()}), 0);
  EXPECT_THAT(out_.str(),
              HasSubstr("to look at: entry A: sowing rate 40 lb/acre is more than twice "
                        "of what is usual (usual: 12 to 14 lb/acre (Rayburn, 1994"));
}

}  // namespace
}  // namespace ligule::desk
