// Two plans, a tablet's ledger and a desk's, and the desk's program run on them.
#pragma once

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <memory>
#include <sstream>
#include <string>
#include <vector>

#include "storage/files/assets.h"
#include "storage/files/definitions.h"
#include "storage/files/plan_folder.h"
#include "storage/ledger/ledger.h"
#include "sync/desk/desk.h"
#include "tests/storage/files/faulty_file_system.h"
#include "tests/storage/trial/sample_plan.h"
#include "tests/sync/desk/ran.h"

namespace ligule::desk {

class SeasonCommands : public testing::Test {
 protected:
  SeasonCommands() {
    Plan plan = two_block_plan({"ridge", "north", "TF26"});
    write_plan(plan, plan_folder_);
    plan.title = "Another title";
    write_plan(plan, other_folder_);
  }

  void write_plan(const Plan& plan, const std::string& folder) {
    const auto assets = files::find_assets(*files_);
    const auto schemas = files::load_plan_schemas(*files_, assets.value());
    ASSERT_TRUE(files::write_plan_folder(*files_, folder, plan, schemas.value()));
  }
  Ran desk(const std::vector<std::string>& arguments) {
    std::ostringstream out, err;
    const int exit = run(arguments, out, err, *files_);
    return {exit, out.str(), err.str()};
  }
  Ran enrol(const std::string& ledger, const std::string& folder) {
    return desk({"enrol", "--ledger", ledger, folder, "--device", "North 1"});
  }
  // A ledger with the plan in it, sealed; gives the season file.
  std::string sealed() {
    EXPECT_EQ(enrol(north_, plan_folder_).exit, 0);
    EXPECT_EQ(desk({"seal", "--ledger", north_, "--out", out_}).exit, 0);
    return out_ + "/" + files_->list(out_).value().front();
  }
  std::string digest_of(const std::string& ledger) {
    return ledger::Ledger::open(ledger).value().digest().value().hex();
  }
  static std::size_t lines(const std::string& text) {
    return static_cast<std::size_t>(std::ranges::count(text, '\n'));
  }

  files::TestFolder folder_;
  std::unique_ptr<files::FileSystem> files_ = files::real_file_system();
  std::string plan_folder_ = folder_ / "plan", other_folder_ = folder_ / "other";
  std::string north_ = folder_ / "north.ligule", office_ = folder_ / "office.ligule";
  std::string out_ = folder_ / "out";
};

}  // namespace ligule::desk
