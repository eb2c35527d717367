#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <fstream>

#include "storage/files/file_system.h"
#include "tests/storage/files/faulty_file_system.h"
#include "tests/sync/desk/tables_of_values.h"

namespace ligule::desk {
namespace {

using ::testing::EndsWith;
using ::testing::HasSubstr;

class TablesCommand : public TablesOfValues {};

const std::string kHeader = "test,site,year,cutting,rep,entry,value\n";
const std::string kGood =
    kHeader + "T,S,2024,1,1,A,10\nT,S,2024,1,1,B,14\nT,S,2024,1,2,A,12\nT,S,2024,1,2,B,19\n";

TEST_F(TablesCommand, WritesFiveFilesIntoAFolderItMakes) {
  write("v.csv", kGood);
  EXPECT_EQ(tables("v.csv", "new/deep"), 0) << err_.str();
  EXPECT_EQ(err_.str(), "");
  EXPECT_THAT(out_.str(), HasSubstr("4 plot values, 1 test, 1 analysis"));
  EXPECT_THAT(read("new/deep/tests.csv"), HasSubstr("T,2024,1,2,2,4,13.75,2.25,1,"));
  EXPECT_THAT(read("new/deep/means.csv"), HasSubstr("T,2024,1,B,2,16.5,"));
  EXPECT_THAT(
      read("new/deep/long_term.csv"),
      AllOf(HasSubstr("entry,tests,percent_of_mean,corrected_percent,"), HasSubstr("\nA,1,,")));
  EXPECT_THAT(read("new/deep/long_term_tests.csv"), HasSubstr("\nA,T,S,,2024,1,80\n"));
  EXPECT_THAT(read("new/deep/report.html"), HasSubstr("from v.csv"));
  for (const char* name : {"over_cuttings.csv", "next_test.csv"})
    EXPECT_FALSE(std::filesystem::exists(folder_ / "new/deep" / name)) << name;
}

// One cutting more, in which the other entry leads.
const std::string kTwoCuttings =
    kGood + "T,S,2024,2,1,A,14\nT,S,2024,2,1,B,11\nT,S,2024,2,2,A,18\nT,S,2024,2,2,B,14\n";

TEST_F(TablesCommand, SeveralCuttingsAreLookedAtTogether) {
  write("v.csv", kTwoCuttings);
  EXPECT_EQ(tables("v.csv", "out"), 0) << err_.str();
  EXPECT_THAT(read("out/over_cuttings.csv"),
              AllOf(HasSubstr("test,year,over,source,df,ss,ms,f,p,p_greenhouse_geisser\nT,2024,"),
                    HasSubstr("\nT,2024,cuttings,entry x cutting,1,40.5,40.5,")));
  std::string told = out_.str().substr(out_.str().rfind(" holds ") + 7);
  for (const auto& file : std::filesystem::directory_iterator(path("out")))
    EXPECT_THAT(told, HasSubstr(file.path().filename().string()));
  EXPECT_THAT(told, EndsWith(" press.csv, designs.csv, over_cuttings.csv and report.html\n"));
  EXPECT_EQ(tables("v.csv", "crd", {"--design", "crd"}), 0) << err_.str();
  EXPECT_FALSE(std::filesystem::exists(path("crd/over_cuttings.csv")));
}

TEST_F(TablesCommand, AWishedLsdPlansTheNextTest) {
  write("v.csv", kTwoCuttings);
  EXPECT_EQ(tables("v.csv", "out", {"--wished-lsd", "10%"}), 0) << err_.str();
  EXPECT_THAT(out_.str(), HasSubstr("next test, from T 2024 total (MSE "));
  EXPECT_THAT(out_.str(), HasSubstr(" blocks for an LSD of 10 % of the mean, 2.80 (expected "));
  EXPECT_THAT(out_.str(), HasSubstr("found in only about half of such tests"));
  EXPECT_THAT(out_.str(), EndsWith(", next_test.csv and report.html\n"));
  const std::string csv = read("out/next_test.csv");
  EXPECT_EQ(std::ranges::count(csv, '\n'), 4) << csv;  // two cuttings and the total
  EXPECT_EQ(tables("v.csv", "unit", {"--wished-lsd", "2.8"}), 0) << err_.str();
  EXPECT_THAT(out_.str(), HasSubstr(" blocks for an LSD of 2.80 (expected "));
}

TEST_F(TablesCommand, AWishThatIsNoSizeIsRefusedBeforeAnythingIsRead) {
  for (const char* wish : {"0", "-2", "much", "%"}) {
    EXPECT_EQ(tables("missing.csv", "out", {std::string("--wished-lsd=") + wish}), 2);
    EXPECT_THAT(err_.str(),
                HasSubstr(std::string("--wished-lsd: \"") + wish + "\" cannot be used"));
  }
  EXPECT_FALSE(std::filesystem::exists(folder_ / "out"));
}

TEST_F(TablesCommand, SameValuesGiveTheSameBytes) {
  write("v.csv", kGood);
  write("w.csv", kHeader +
                     "T,S,2024,1,2,B,19\nT,S,2024,1,1,B,14\nT,S,2024,1,2,A,12\n"
                     "T,S,2024,1,1,A,10\n");
  ASSERT_EQ(tables("v.csv", "first"), 0);
  ASSERT_EQ(tables("w.csv", "second"), 0);
  for (const char* name : {"tests.csv", "means.csv", "long_term.csv", "long_term_tests.csv"}) {
    EXPECT_EQ(read(std::string("first/") + name), read(std::string("second/") + name)) << name;
  }
}

TEST_F(TablesCommand, FaultyRowsAreListedAndNothingIsWritten) {
  write("v.csv", kGood + "T,S,2024,1,3,A,x\n,S,2024,1,3,B,5\n");
  EXPECT_EQ(tables("v.csv", "out"), 1);
  EXPECT_THAT(err_.str(), HasSubstr("v.csv line 6 column 7 (value)"));
  EXPECT_THAT(err_.str(), HasSubstr("v.csv line 7 column 1 (test)"));
  EXPECT_THAT(err_.str(), EndsWith("2 faults in " + path("v.csv") + "; nothing was analysed\n"));
  EXPECT_FALSE(std::filesystem::exists(folder_ / "out"));
}

TEST_F(TablesCommand, AFileWithoutARowBelowItsHeaderIsNamedAndNothingIsWritten) {
  write("v.csv", kHeader);
  for (const std::vector<std::string>& more :
       {std::vector<std::string>{}, std::vector<std::string>{"--skip-bad"}}) {
    EXPECT_EQ(tables("v.csv", "out", more), 1);
    EXPECT_THAT(err_.str(), HasSubstr(path("v.csv") + ": there is no row below the header (write"));
    EXPECT_FALSE(std::filesystem::exists(folder_ / "out"));
  }
}

TEST_F(TablesCommand, NoSuchFileAndNoTextAreExitTwo) {
  EXPECT_EQ(tables("missing.csv", "out"), 2);
  EXPECT_THAT(err_.str(), EndsWith("nothing was analysed\n"));
  write("v.xlsx", std::string("PK\x03\x04\0\0", 6));
  EXPECT_EQ(tables("v.xlsx", "out"), 2);
  EXPECT_THAT(err_.str(), HasSubstr("this is no CSV file"));
  EXPECT_EQ(tables(".", "out"), 2);
  EXPECT_FALSE(std::filesystem::exists(folder_ / "out"));
}

TEST_F(TablesCommand, AFolderThatCannotBeMadeIsExitTwo) {
  write("v.csv", kGood);
  write("in-the-way", "a file");
  EXPECT_EQ(tables("v.csv", "in-the-way"), 2);
  EXPECT_THAT(err_.str(), HasSubstr("in-the-way"));
  EXPECT_EQ(read("in-the-way"), "a file");
}

TEST_F(TablesCommand, AFileThatCannotBeWrittenIsExitTwo) {
  write("v.csv", kGood);
  std::filesystem::create_directories(folder_ / "out" / "means.csv");
  EXPECT_EQ(tables("v.csv", "out"), 2);
  EXPECT_THAT(err_.str(), HasSubstr("means.csv"));
  EXPECT_THAT(err_.str(), EndsWith("the tables are not complete\n"));
}

// Reads one file, makes the folder, writes four: each of them fails in turn.
TEST_F(TablesCommand, AnActThatFailsIsNamedAndExitTwo) {
  write("v.csv", kGood);
  files::FaultyFileSystem faulty(*files_);
  for (std::size_t act = 1; act <= 6; ++act) {
    faulty.fail_at(act);
    std::ostringstream out, err;
    EXPECT_EQ(run({"tables", "--values", path("v.csv"), "--out", path("out")}, out, err, faulty), 2)
        << act;
    EXPECT_EQ(faulty.acts(), act);
    EXPECT_EQ(out.str(), "");
    EXPECT_THAT(err.str(), HasSubstr("No space left on device"));
    EXPECT_EQ(std::ranges::count(err.str(), '\n'), 2) << err.str();
  }
}

}  // namespace
}  // namespace ligule::desk
