// Proves: exit 0, 1 and 2 and one line per fault, as every command keeps them.
#include "sync/desk/desk.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <sstream>

#include "sync/desk/command.h"
#include "tests/sync/desk/ran.h"

namespace ligule::desk {
namespace {

using ::testing::HasSubstr;

Ran desk(const std::vector<std::string>& arguments) {
  std::ostringstream out, err;
  const auto files = files::real_file_system();
  const int exit = run(arguments, out, err, *files);
  return {exit, out.str(), err.str()};
}

TEST(Desk, HelpAndVersionAreAnsweredOnTheOutput) {
  const Ran help = desk({"--help"});
  EXPECT_EQ(help.exit, 0);
  for (const Command& command : commands()) EXPECT_THAT(help.out, HasSubstr(command.name));
  const Ran version = desk({"--version"});
  EXPECT_EQ(version.exit, 0);
  EXPECT_THAT(version.out, HasSubstr("ligule-desk 0."));
}

TEST(Desk, EveryCommandAnswersHelpWithItsOptions) {
  for (const Command& command : commands()) {
    const Ran help = desk({command.name, "--help"});
    EXPECT_EQ(help.exit, 0) << command.name;
    for (const Option& option : command.options) {
      EXPECT_THAT(help.out, HasSubstr(option.name)) << command.name;
      EXPECT_FALSE(option.help.empty()) << command.name << " " << option.name;
    }
  }
}

TEST(Desk, CommandNamesAreDistinct) {
  std::vector<std::string> names;
  for (const Command& command : commands()) names.push_back(command.name);
  std::ranges::sort(names);
  EXPECT_EQ(std::ranges::adjacent_find(names), names.end());
}

TEST(Desk, WrongArgumentsAreOneLineAndExitTwo) {
  const std::vector<std::vector<std::string>> wrong = {
      {},
      {"no-such-command"},
      {"tables"},
      {"tables", "--values", "a.csv"},
      {"tables", "--values", "a.csv", "--out", "b", "more"},
      {"tables", "--values", "a.csv", "--out", "b", "--unknown"},
      {"tables", "--values", "a.csv", "--out", "b", "--out", "c"},
      {"tables", "--values", "a.csv", "--out", "b", "--design", "split"},
      {"tables", "--values", "a.csv", "--out", "b", "--min-tests", "0"},
  };
  for (const auto& arguments : wrong) {
    const Ran ran = desk(arguments);
    EXPECT_EQ(ran.exit, 2) << ran.err;
    EXPECT_EQ(std::ranges::count(ran.err, '\n'), 1) << ran.err;
    EXPECT_EQ(ran.out, "");
  }
}

TEST(Desk, TheWorstFaultDecidesTheExit) {
  std::ostringstream out, err;
  const auto files = files::real_file_system();
  std::istringstream in;
  Console console{out, err, *files, in};
  const std::vector<Error> faulty = {{ErrorKind::kInvalid, "first", "", ""},
                                     {ErrorKind::kDamaged, "second", "", ""}};
  EXPECT_EQ(report_faults(console, faulty, "2 faults"), Exit::kFaulty);
  EXPECT_EQ(err.str(), "first\nsecond\n2 faults\n");
  for (const ErrorKind kind : {ErrorKind::kNotFound, ErrorKind::kIo, ErrorKind::kNewerVersion}) {
    const std::vector<Error> could_not = {{ErrorKind::kInvalid, "first", "", ""},
                                          {kind, "second", "", ""}};
    EXPECT_EQ(report_faults(console, could_not, "sum"), Exit::kCouldNot);
  }
}

}  // namespace
}  // namespace ligule::desk
