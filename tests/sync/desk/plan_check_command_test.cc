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

class PlanCheckCommand : public ::testing::Test {
 protected:
  void SetUp() override {
    const auto schemas = files::load_plan_schemas(*files_, LIGULE_SOURCE_ASSETS);
    ASSERT_TRUE(schemas.has_value());
    ASSERT_TRUE(
        files::write_plan_folder(*files_, folder_.path(), sample_plan(), *schemas).has_value());
  }
  int check(const std::string& folder, files::FileSystem& files) {
    out_.str("");
    err_.str("");
    return run({"plan-check", folder}, out_, err_, files);
  }
  int check() { return check(folder_.path().string(), *files_); }
  void write(const char* name, std::string_view text) {
    ASSERT_TRUE(files_->write_durably(folder_ / name, text, files::Access::kEveryone).has_value());
  }
  void change(const char* name, std::string_view from, std::string_view to) {
    std::string bytes = files_->read(folder_ / name, 1U << 20U).value();
    const std::size_t at = bytes.find(from);
    ASSERT_NE(at, std::string::npos);
    ASSERT_TRUE(files_
                    ->write_durably(folder_ / name, bytes.replace(at, from.size(), to),
                                    files::Access::kEveryone)
                    .has_value());
  }

  files::TestFolder folder_;
  std::unique_ptr<files::FileSystem> files_ = files::real_file_system();
  std::ostringstream out_, err_;
};

TEST_F(PlanCheckCommand, ASoundPlanIsDone) {
  EXPECT_EQ(check(), 0);
  EXPECT_EQ(out_.str(),
            "plan HILL/north/TF24 is sound: 3 entries, 9 plots, 4 ratings and harvests\n");
  EXPECT_EQ(err_.str(), "");
}

TEST_F(PlanCheckCommand, WhatMayBeMeantIsSaidAndStillDone) {
  change("entries.csv", ",novel,AX1,", ",novel,,");
  EXPECT_EQ(check(), 0);
  EXPECT_THAT(out_.str(), HasSubstr("to look at: entries.csv line 2: a novel endophyte without"));
}

TEST_F(PlanCheckCommand, ASoilTestIsJudgedForWhatIsSown) {
  write("soil.csv",
        "property,value,unit,extractant,depth,depth_unit,lab,sampled\n"
        "ph,5.4,,water,6,in,The lab,2024-08-02\n"
        "p,41,ppm,mehlich_3,6,in,The lab,2024-08-02\n"
        "k,90,ppm,,6,in,The lab,2024-08-02\n");
  EXPECT_EQ(check(), 0);
  EXPECT_EQ(err_.str(), "");
  EXPECT_EQ(
      out_.str(),
      "to look at: soil.csv line 4: the extractant of K is not stated (copy it from the report: "
      "numbers of two extractants cannot be compared)\n"
      "soil: pH 5.4 (water): for tall fescue, below 5.6 to 6.5 (West Virginia University Extension "
      "5302)\n"
      "soil: P 41 ppm (Mehlich-3) = 82 lb/acre (ppm x 2, a furrow slice of 6 to 7 in): high, its "
      "optimum (classes by Mehlich-3 in lb/acre: Rutgers NJAES, relative levels of nutrients, "
      "njaes.rutgers.edu)\n"
      "soil: K 90 ppm (extractant not stated) = 180 lb/acre (ppm x 2, a furrow slice of 6 to 7 "
      "in): "
      "for tall fescue, below the minimum of 200 lb/acre for a new cool-season grass stand, target "
      "250 (common practice, no source; that its numbers are lb/acre is assumed)\n"
      "soil: No amounts are prescribed: ask the local soil testing service, whose calibration "
      "holds "
      "for its own extractant and region.\n"
      "plan HILL/north/TF24 is sound: 3 entries, 9 plots, 4 ratings and harvests\n");
  change("soil.csv", "p,41,ppm", "p,41,%");
  EXPECT_EQ(check(), 1);
  EXPECT_THAT(err_.str(), HasSubstr("soil.csv line 3: '%' is no unit of P"));
}

TEST_F(PlanCheckCommand, EveryFaultIsALineAndTheLastSumsUp) {
  change("plots.csv", "101,1,", "101,one,");
  change("occasions.csv", "2025-cut-2,harvest,2025,2", "2025-cut-2,harvest,2025,1");
  EXPECT_EQ(check(), 1);
  EXPECT_EQ(out_.str(), "");
  EXPECT_THAT(err_.str(), HasSubstr("plots.csv line 2, column block: 'one' is not a whole number"));
  EXPECT_THAT(err_.str(), HasSubstr("occasions.csv line 4: cutting 1 of 2025 stands twice"));
  EXPECT_TRUE(err_.str().ends_with("2 faults in " + folder_.path().string() + "\n")) << err_.str();
}

TEST_F(PlanCheckCommand, ItChangesNothing) {
  const auto bytes = [&] {
    std::string all;
    const std::vector<std::string> names = files_->list(folder_.path()).value();
    for (const std::string& name : names)
      all += name + files_->read(folder_ / name.c_str(), 1U << 20U).value();
    return all;
  };
  const std::string before = bytes();
  EXPECT_EQ(check(), 0);
  EXPECT_EQ(bytes(), before);
}

TEST_F(PlanCheckCommand, NoSuchFolderOrFileCannotBeDone) {
  EXPECT_EQ(check((folder_ / "gone").string(), *files_), 2);
  EXPECT_THAT(err_.str(), HasSubstr("there is no such folder"));
  ASSERT_TRUE(files_->remove(folder_ / "plots.csv").has_value());
  EXPECT_EQ(check(), 2);
  EXPECT_THAT(err_.str(), HasSubstr("plots.csv: cannot read: No such file"));
}

TEST_F(PlanCheckCommand, AFileThatCannotBeReadCannotBeDone) {
  files::FaultyFileSystem faulty(*files_);
  ASSERT_EQ(check(folder_.path().string(), faulty), 0);
  const std::size_t acts = faulty.acts();
  for (std::size_t act = 1; act <= acts; ++act) {
    faulty.fail_at(act, /*and_after=*/true);
    EXPECT_EQ(check(folder_.path().string(), faulty), 2) << act;
    EXPECT_FALSE(err_.str().empty()) << act;
  }
}

TEST_F(PlanCheckCommand, AssetsThatAreNotThereOrNotSoundCannotBeDone) {
  {
    const files::TestEnvironment gone("LIGULE_ASSETS", (folder_ / "gone").string());
    EXPECT_EQ(check(), 2);
    EXPECT_THAT(err_.str(), HasSubstr("the program's assets are not there"));
  }
  ASSERT_TRUE(files_->write_durably(folder_ / "measures.json", "{}", files::Access::kEveryone));
  const files::TestEnvironment unsound("LIGULE_ASSETS", folder_.path().string());
  EXPECT_EQ(check(), 2);
  EXPECT_TRUE(err_.str().ends_with("the program's assets are not sound\n")) << err_.str();
}

}  // namespace
}  // namespace ligule::desk
