// `tables` with --aliases, --varieties and --skip-bad: what is joined, withheld or left out is
// told.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>
#include <sstream>

#include "storage/files/file_system.h"
#include "sync/desk/desk.h"
#include "tests/storage/files/faulty_file_system.h"
#include "tests/storage/ledger/sample.h"

namespace ligule::desk {
namespace {

using ::testing::EndsWith;
using ::testing::HasSubstr;
using ::testing::Not;

class TableNames : public ::testing::Test {
 protected:
  [[nodiscard]] std::string path(const std::string& name) const { return folder_.file(name); }
  void write(const std::string& name, const std::string& text) {
    std::ofstream(path(name), std::ios::binary) << text;
  }
  [[nodiscard]] std::string made(const std::string& name) const {
    return ledger::sample::file_bytes(path("out") + "/" + name);
  }
  [[nodiscard]] bool nothing_made() const { return !std::filesystem::exists(path("out")); }
  int tables(const std::vector<std::string>& more) {
    out_.str("");
    err_.str("");
    std::vector<std::string> arguments = {"tables", "--values", path("v.csv"), "--out",
                                          path("out")};
    arguments.insert(arguments.end(), more.begin(), more.end());
    return run(arguments, out_, err_, *files_);
  }

  ledger::sample::Folder folder_;
  std::unique_ptr<files::FileSystem> files_ = files::real_file_system();
  std::ostringstream out_, err_;
};

const std::string kValues =
    "test,site,year,cutting,rep,entry,value\n"
    "T1,S,2023,1,1,LX 4,10\nT1,S,2023,1,1,Birch,14\nT1,S,2023,1,2,LX 4,12\nT1,S,2023,1,2,Birch,19\n"
    "T2,S,2024,1,1,Alder,10\nT2,S,2024,1,1,Birch,14\nT2,S,2024,1,2,Alder,12\n"
    "T2,S,2024,1,2,Birch,19\n";
const std::string kAliases = "name,same_as,from_year,decided_by,note\n";

TEST_F(TableNames, AnAliasJoinsWhatSomebodyDecidedOnAndIsTold) {
  write("v.csv", kValues);
  write("a.csv", kAliases + "LX 4,Alder,,MT,named at release\nNobody,Alder,,MT,\n");
  ASSERT_EQ(tables({"--aliases", path("a.csv")}), 0) << err_.str();
  EXPECT_THAT(made("means.csv"), HasSubstr("\nT1,2023,1,Alder,2,11,"));
  EXPECT_THAT(made("means.csv"), Not(HasSubstr("LX 4")));
  EXPECT_THAT(made("long_term.csv"), HasSubstr("\nAlder,2,80,"));
  EXPECT_THAT(out_.str(),
              HasSubstr("names: \"LX 4\" counts under \"Alder\": 2 values in 1 test, decided by MT "
                        "(named at release)\n"));
  EXPECT_THAT(out_.str(), HasSubstr("a.csv line 3: \"Nobody\" occurs nowhere in these results"));
  EXPECT_THAT(out_.str(), HasSubstr("8 plot values, 2 tests, 2 analyses"));
}

TEST_F(TableNames, FaultsOfBothFilesKeepAnythingFromBeingAnalysed) {
  write("v.csv", kValues);
  write("a.csv", kAliases + "LX 4,Alder,,,\nBirch,Cedar,,MT,\nCedar,Dune,,MT,\n");
  EXPECT_EQ(tables({"--aliases", path("a.csv")}), 1);
  EXPECT_THAT(err_.str(), HasSubstr("a.csv line 2, column decided_by: the cell is empty"));
  EXPECT_THAT(err_.str(), HasSubstr("a.csv line 3, column same_as: \"Cedar\" itself counts"));
  EXPECT_THAT(err_.str(), EndsWith("2 faults in " + path("a.csv") + "; nothing was analysed\n"));
  write("n.csv", "name,withheld\nBirch,perhaps\n");
  EXPECT_EQ(tables({"--varieties", path("n.csv")}), 1);
  EXPECT_THAT(err_.str(), HasSubstr("n.csv line 2, column withheld: \"perhaps\" is not known"));
  EXPECT_THAT(err_.str(), EndsWith("1 fault in " + path("n.csv") + "; nothing was analysed\n"));
  EXPECT_TRUE(nothing_made());
}

TEST_F(TableNames, FilesThatAreNotThereOrNoTextAreExitTwo) {
  write("v.csv", kValues);
  write("x.csv", std::string("PK\x03\x04\0\0", 6));
  for (const std::string option : {"--aliases", "--varieties"}) {
    EXPECT_EQ(tables({option, path("missing.csv")}), 2) << option;
    EXPECT_THAT(err_.str(), HasSubstr("missing.csv"));
    EXPECT_EQ(tables({option, path("x.csv")}), 2) << option;
    EXPECT_THAT(err_.str(), HasSubstr("this is no CSV file"));
    EXPECT_THAT(err_.str(), EndsWith("nothing was analysed\n"));
  }
  EXPECT_TRUE(nothing_made());
}

TEST_F(TableNames, NamesThatStoodSideBySideAreRefusedByTheirTest) {
  write("v.csv", kValues);
  write("a.csv", kAliases + "LX 4,Birch,,MT,\n");
  EXPECT_EQ(tables({"--aliases", path("a.csv")}), 1);
  EXPECT_THAT(err_.str(), HasSubstr("\"Birch\" and \"LX 4\" stand side by side in test T1, rep 1"));
  EXPECT_TRUE(nothing_made());
}

TEST_F(TableNames, WithheldAndRenamedEntriesAreAnalysedAsEver) {
  write("v.csv", kValues);
  ASSERT_EQ(tables({}), 0);
  const std::string tests = made("tests.csv");
  write("n.csv", "name,publish_as,withheld\nBirch,,yes\nLX 4,Zelkova,\n");
  ASSERT_EQ(tables({"--varieties", path("n.csv")}), 0) << err_.str();
  EXPECT_EQ(made("tests.csv"), tests);
  EXPECT_THAT(made("means.csv"), HasSubstr("\nT1,2023,1,Zelkova,2,11,"));
  for (const char* file : {"means.csv", "long_term.csv", "long_term_tests.csv", "report.html"}) {
    EXPECT_THAT(made(file), Not(HasSubstr("Birch"))) << file;
    EXPECT_THAT(made(file), Not(HasSubstr("LX 4"))) << file;
  }
  EXPECT_THAT(out_.str(),
              HasSubstr("withheld: 1 entry name analysed and not printed: \"Birch\"\n"));
  write("n.csv", "name,publish_as\nLX 4,Birch\n");
  EXPECT_EQ(tables({"--varieties", path("n.csv")}), 1);
  EXPECT_THAT(err_.str(), HasSubstr("\"LX 4\" is to be published as \"Birch\""));
}

TEST_F(TableNames, NamesThatLookAlikeAreListedAndNeverJoined) {
  write("v.csv", kValues + "T2,S,2024,1,1,birch,9\n");
  ASSERT_EQ(tables({}), 0) << err_.str();
  EXPECT_THAT(out_.str(), HasSubstr("to look at: names: \"Birch\" is spelled otherwise than "
                                    "\"birch\"; they count as two entries (say which in a file "
                                    "for --aliases: one by same_as, two by differs_from)\n"));
  EXPECT_THAT(made("means.csv"), HasSubstr(",birch,1,"));
  write("a.csv", "name,differs_from,decided_by\nbirch,Birch,MT\n");
  ASSERT_EQ(tables({"--aliases", path("a.csv")}), 0) << err_.str();
  EXPECT_THAT(out_.str(), Not(HasSubstr("to look at: names")));
  EXPECT_THAT(out_.str(), HasSubstr("names: \"birch\" and \"Birch\" look alike and are two "
                                    "entries, decided by MT\n"));
  EXPECT_THAT(made("report.html"), HasSubstr("Names that somebody looked at:"));
  EXPECT_THAT(made("means.csv"), HasSubstr(",birch,1,"));
}

// One act that fails after another: the values, both files of names, then what is written.
TEST_F(TableNames, AFileThatCannotBeReadIsNamedAndExitTwo) {
  write("v.csv", kValues);
  write("a.csv", kAliases + "LX 4,Alder,,MT,\n");
  write("n.csv", "name\nBirch\n");
  files::FaultyFileSystem faulty(*files_);
  for (std::size_t act = 1; act <= 3; ++act) {
    faulty.fail_at(act);
    std::ostringstream out, err;
    EXPECT_EQ(run({"tables", "--values", path("v.csv"), "--out", path("out"), "--aliases",
                   path("a.csv"), "--varieties", path("n.csv")},
                  out, err, faulty),
              2)
        << act;
    EXPECT_EQ(out.str(), "");
    EXPECT_THAT(err.str(), EndsWith("nothing was analysed\n"));
  }
  EXPECT_TRUE(nothing_made());
}

TEST_F(TableNames, BadRowsAreLeftOutWhereSomebodySaysSo) {
  write("v.csv",
        kValues + "T2,S,2024,1,3,Alder,12\nT2,S,2024,1,3,Birch,19t\nT2,S,2o24,1,4,Birch,2\n");
  EXPECT_EQ(tables({}), 1);
  const std::string strict = err_.str();
  EXPECT_TRUE(nothing_made());
  ASSERT_EQ(tables({"--skip-bad"}), 0) << err_.str();
  for (const std::string fault : {"v.csv line 11 column 7 (value): \"19t\" is no number",
                                  "v.csv line 12 column 3 (year): \"2o24\" is no year"}) {
    EXPECT_THAT(strict, HasSubstr(fault));
    EXPECT_THAT(err_.str(), HasSubstr(fault));
  }
  EXPECT_THAT(out_.str(), HasSubstr("2 bad rows left out (1 plot counts as missing)\n"));
  EXPECT_THAT(out_.str(), HasSubstr("to look at: 1 bad row can't be placed"));
  EXPECT_THAT(made("tests.csv"), HasSubstr("\nT2,2024,1,2,3,5,"));
  EXPECT_THAT(made("report.html"),
              HasSubstr("from v.csv, 2 bad rows left out (1 plot counts as missing)"));
}

TEST_F(TableNames, AFileWithoutBadRowsIsAnalysedAsEver) {
  write("v.csv", kValues);
  ASSERT_EQ(tables({"--skip-bad"}), 0) << err_.str();
  EXPECT_THAT(out_.str(), Not(HasSubstr("left out")));
  EXPECT_THAT(made("report.html"), HasSubstr("from v.csv"));
}

TEST_F(TableNames, AFaultyFirstLineCannotBeSkipped) {
  write("v.csv", "test,site,year,cutting,rep,name,value\nT,S,2024,1,1,A,1\n");
  EXPECT_EQ(tables({"--skip-bad"}), 1);
  EXPECT_THAT(err_.str(), HasSubstr("column \"entry\" is missing"));
  EXPECT_THAT(err_.str(), EndsWith("; --skip-bad leaves out rows only, nothing was analysed\n"));
  write("v.csv", "test,site,year,cutting,rep,entry,value\nT,S,2024,1,1,A,one\n");
  EXPECT_EQ(tables({"--skip-bad"}), 1);
  EXPECT_THAT(err_.str(), EndsWith("; no row would be left, nothing was analysed\n"));
  EXPECT_TRUE(nothing_made());
}

TEST_F(TableNames, SkipBadGoesWithValuesOnly) {
  EXPECT_EQ(run({"tables", "--ledger", path("l"), "--out", path("out"), "--skip-bad"}, out_, err_,
                *files_),
            2);
  EXPECT_THAT(err_.str(), HasSubstr("--skip-bad goes with --values only"));
}

}  // namespace
}  // namespace ligule::desk
