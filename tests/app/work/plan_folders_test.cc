#include "app/work/plan_folders.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "storage/files/definitions.h"
#include "tests/storage/ledger/sample.h"

namespace ligule::work {
namespace {

using namespace ledger::sample;

class PlanFolders : public testing::Test {
 protected:
  PlanFolders() {
    for (const char* folder : {"media/STICK/a", "media/STICK/deep/b", "media/STICK/.hidden/c",
                               "media/STICK/pictures", "plans/d"})
      std::filesystem::create_directories(folder_.file(folder));
    for (const char* table : {"media/STICK/a/trial.csv", "media/STICK/deep/b/trial.csv",
                              "media/STICK/.hidden/c/trial.csv", "plans/d/trial.csv"})
      write_bytes(folder_.file(table), "nonsense");
  }
  Folder folder_;
  std::unique_ptr<files::FileSystem> files_ = files::real_file_system();
};

TEST_F(PlanFolders, AreFoundOnSticksAndBesideTheLedger) {
  const auto found = plan_folders(*files_, {{folder_.file("media")}, false}, folder_.file("plans"));
  ASSERT_EQ(found.size(), 3U);
  EXPECT_EQ(found[0].name, "a");
  EXPECT_EQ(found[0].place, "STICK");
  EXPECT_EQ(found[1].name, "b");
  EXPECT_EQ(found[2].name, "d");
  EXPECT_EQ(found[2].place, "plans");
  EXPECT_TRUE(plan_folders(*files_, {{folder_.file("none")}, false}, folder_.file("none")).empty());
}

TEST_F(PlanFolders, AFaultyOneIsToldWithEveryFault) {
  const auto schemas = files::load_plan_schemas(*files_, LIGULE_SOURCE_ASSETS).value();
  const auto definitions = files::load_definitions(*files_, LIGULE_SOURCE_ASSETS).value();
  const auto ledger = need(ledger::Ledger::create(folder_.file("a.ledger")));
  const flow::Intent answer = check_plan_folder(
      {*files_, schemas, definitions}, folder_.file("media/STICK/a"), ledger, at(0).local_date);
  const auto* const faulty = std::get_if<flow::PlanFaulty>(&answer);
  ASSERT_NE(faulty, nullptr);
  EXPECT_EQ(faulty->plan.path, folder_.file("media/STICK/a"));
  EXPECT_GE(faulty->plan.faults.size(), 4U) << "three tables are missing, the fourth is none";
}

}  // namespace
}  // namespace ligule::work
