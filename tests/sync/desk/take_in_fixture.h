// A desk's ledger with one small trial, and take-in run as a person runs it.
#pragma once

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <map>
#include <sstream>
#include <string>
#include <vector>

#include "storage/files/assets.h"
#include "storage/files/definitions.h"
#include "storage/files/plan_folder.h"
#include "storage/ledger/ledger.h"
#include "storage/trial/details.h"
#include "sync/desk/desk.h"
#include "tests/storage/files/faulty_file_system.h"
#include "tests/storage/trial/sample_plan.h"
#include "tests/sync/desk/ran.h"

namespace ligule::desk {

class TakeInCommand : public testing::Test {
 protected:
  TakeInCommand() { enrol(two_block_plan({"ridge", "north", "TF26"}), {}); }

  void enrol(const Plan& plan, std::vector<std::string> more) {
    const std::string folder = folder_.path() / ("plan-" + plan.codes.site + plan.codes.trial);
    const auto assets = files::find_assets(*files_);
    const auto schemas = files::load_plan_schemas(*files_, assets.value());
    ASSERT_TRUE(files::write_plan_folder(*files_, folder, plan, schemas.value()));
    std::vector<std::string> arguments{"enrol", "--ledger", ledger_, folder, "--device", "Office"};
    arguments.insert(arguments.end(), more.begin(), more.end());
    const Ran ran = desk(arguments);
    ASSERT_EQ(ran.exit, 0) << ran.err;
  }
  Ran desk(const std::vector<std::string>& arguments) {
    std::ostringstream out, err;
    const int exit = run(arguments, out, err, *files_);
    return {exit, out.str(), err.str()};
  }
  std::string write(const std::string& text, const std::string& name = "w.csv") {
    const std::string path = folder_.path() / name;
    EXPECT_TRUE(files_->write_durably(path, text, files::Access::kEveryone));
    return path;
  }
  // Options of one run: those given stand for the usual ones, an empty value leaves one out.
  Ran take_in(const std::string& csv, const std::map<std::string, std::string>& given = {},
              const std::vector<std::string>& more = {}) {
    std::map<std::string, std::string> options{
        {"--ledger", ledger_},   {"--trial", "TF26"},  {"--year", "2026"},
        {"--cutting", "1"},      {"--unit", "lb"},     {"--columns", "plot=Plot,gross=Weight"},
        {"--machine", "Plot 7"}, {"--operator", "KV"}, {"--date", "2026-05-20"}};
    for (const auto& [name, value] : given) options[name] = value;
    std::vector<std::string> arguments{"take-in", write(csv)};
    for (const auto& [name, value] : options) {
      if (value.empty()) continue;
      arguments.push_back(name);
      arguments.push_back(value);
    }
    arguments.insert(arguments.end(), more.begin(), more.end());
    return desk(arguments);
  }
  ledger::Ledger opened() { return ledger::Ledger::open(ledger_).value(); }
  std::string digest() { return opened().digest().value().hex(); }
  static TrialId trial() { return trial_id({"ridge", "north", "TF26"}); }
  std::vector<Record> of_kind(std::string_view kind) {
    return opened().of_kind(kind, trial()).value();
  }
  std::vector<ledger::Claim> claims() { return opened().claims(trial()).value(); }
  // What stands for a plot of the cutting.
  Record standing(const std::string& plot, std::string_view measure) {
    for (const ledger::Claim& claim : claims())
      if (claim.record.subject == plot_id(trial(), plot).uuid && claim.record.measure == measure)
        return claim.record;
    ADD_FAILURE() << plot << " has no " << measure;
    return {};
  }
  // A run that keeps nothing: its exit, and nothing changed.
  void expect_refused(const Ran& ran, int exit, const std::string& says,
                      const std::string& before) {
    EXPECT_EQ(ran.exit, exit) << ran.err;
    EXPECT_THAT(ran.err, testing::HasSubstr(says));
    EXPECT_EQ(digest(), before);
  }

  files::TestFolder folder_;
  std::unique_ptr<files::FileSystem> files_ = files::real_file_system();
  std::string ledger_ = folder_ / "office.ligule";
};

inline const std::string four_plots = "Plot,Weight\n101,20.5\n102,25\n202,22\n201,26\n";

}  // namespace ligule::desk
