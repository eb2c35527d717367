#include "sync/results/soil_facts.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "storage/files/definitions.h"
#include "storage/files/file_system.h"
#include "storage/files/soil_tables.h"
#include "tests/storage/trial/sample_plan.h"

namespace ligule::results {
namespace {

using date::year;
using ::testing::ElementsAre;
using ::testing::HasSubstr;
using ::testing::IsEmpty;
using ::testing::SizeIs;

class SoilFacts : public ::testing::Test {
 protected:
  std::vector<Fact> facts() { return soil_facts(plan_, tables_, definitions_); }

  std::unique_ptr<files::FileSystem> files_ = files::real_file_system();
  Definitions definitions_ = files::load_definitions(*files_, LIGULE_SOURCE_ASSETS).value();
  SoilTables tables_ = files::load_soil_tables(*files_, LIGULE_SOURCE_ASSETS).value();
  Plan plan_ = sample_plan();
};

TEST_F(SoilFacts, AreNoneWithoutASoilTest) {
  EXPECT_THAT(facts(), IsEmpty());
}

TEST_F(SoilFacts, TellEachSampleOnceAndWhatTablesSayOfIt) {
  plan_.soil = {{"k", "90", "ppm", "", "", "", "", std::nullopt},
                {"p", "41", "ppm", "mehlich_3", "6", "in", "The lab", year{2024} / 8 / 2},
                {"ph", "6.1", "", "water", "6", "in", "The lab", year{2024} / 8 / 2}};
  ASSERT_THAT(facts(), SizeIs(2));
  EXPECT_EQ(facts()[0], (Fact{"Soil test",
                              "2024-08-02, 6 in deep, The lab: pH 6.1 (water), P 41 ppm "
                              "(Mehlich-3); day not stated: K 90 ppm (extractant not stated)"}));
  EXPECT_EQ(facts()[1].name, "Soil for the stand");
  EXPECT_THAT(facts()[1].value,
              HasSubstr("pH 6.1 (water): for tall fescue, within 5.6 to 6.5 (West Virginia "
                        "University Extension 5302); P 41 ppm (Mehlich-3) = 82 lb/acre"));
  EXPECT_TRUE(facts()[1].value.ends_with(
      "is assumed). No amounts are prescribed: ask the local soil testing service, whose "
      "calibration holds for its own extractant and region."))
      << facts()[1].value;
}

TEST_F(SoilFacts, WithoutTablesTheLaboratoryIsStillTold) {
  plan_.soil = {{"p", "41", "ppm", "mehlich_3", "", "", "", year{2024} / 8 / 2}};
  tables_ = {};
  EXPECT_THAT(facts(), ElementsAre(Fact{"Soil test", "2024-08-02: p 41 ppm (mehlich_3)"}));
}

}  // namespace
}  // namespace ligule::results
