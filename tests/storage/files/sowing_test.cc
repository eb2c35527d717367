#include "storage/files/sowing.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "storage/files/assets.h"
#include "storage/files/definitions.h"
#include "tests/storage/files/definition_files.h"
#include "tests/storage/trial/sample_plan.h"

namespace ligule::files {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;

class SpeciesSeedFile : public DefinitionFiles {
 protected:
  Checked<std::vector<SpeciesSeed>> load() { return load_species_seed(*files_, folder_.path()); }
  // Of a file with one species whose seed is said so.
  std::vector<std::string> faults_of(const std::string& seed) {
    write("species.json", R"({"species": [{"code": "timothy", "seed": )" + seed + "}]}");
    const auto loaded = load();
    return loaded ? std::vector<std::string>{} : lines(loaded.error());
  }
};

TEST_F(SpeciesSeedFile, AllOfTheProgramsOwnIsSound) {
  const auto own = load_species_seed(*files_, find_assets(*files_).value());
  ASSERT_TRUE(own) << lines(own.error())[0];
  const auto definitions = load_definitions(*files_, find_assets(*files_).value());
  ASSERT_TRUE(definitions);
  for (const SpeciesSeed& seed : *own)
    EXPECT_NE(definitions->find_species(seed.species), nullptr) << seed.species;
  EXPECT_EQ(own->size(), 10U);
  const SpeciesSeed* const rye = find_seed(*own, "annual_ryegrass");
  ASSERT_NE(rye, nullptr);
  EXPECT_EQ(rye->usual(), "20 to 30 lb/acre");
  EXPECT_EQ(find_seed(*own, "teff"), nullptr) << "nobody says";
}

TEST_F(SpeciesSeedFile, ASpeciesWithoutSeedIsLeftOut) {
  const auto loaded = load();
  ASSERT_TRUE(loaded);
  EXPECT_THAT(*loaded, IsEmpty());
}

TEST_F(SpeciesSeedFile, EveryFaultIsTold) {
  EXPECT_THAT(faults_of(R"({"usual_from": 8, "usual_to": 10, "unit": "lb/acre"})"),
              ElementsAre("species.json, seed of timothy: the usual rate has no source (say who "
                          "says so)"));
  EXPECT_THAT(
      faults_of(
          R"({"usual_from": 10, "usual_to": 8, "unit": "lb", "seeds_per_lb": 0, "rate": 1, "source": "s"})"),
      ElementsAre(HasSubstr("'rate' is not known here"),
                  HasSubstr("'seeds_per_lb' should be a number above zero"),
                  HasSubstr("usual_to lies below usual_from"),
                  HasSubstr("'lb' is no unit of a sowing rate")));
  EXPECT_THAT(faults_of(R"("8 to 10")"), ElementsAre(HasSubstr("'seed' should be an object")));
  EXPECT_THAT(faults_of(R"({"unit": "kg/ha", "source": "s"})"),
              ElementsAre(HasSubstr("'usual_from' should be"), HasSubstr("'usual_to' should be")));
}

TEST_F(SpeciesSeedFile, AFileThatIsNotThereOrNoJsonIsToldWithItsName) {
  write("species.json", "{\n,}");
  EXPECT_THAT(lines(load().error()), ElementsAre(HasSubstr("species.json line 2")));
  ASSERT_TRUE(files_->remove(folder_ / "species.json"));
  EXPECT_EQ(load().error().front().kind, ErrorKind::kNotFound);
}

class SowingNotices : public testing::Test {
 protected:
  std::vector<std::string> notices(std::string rate, std::string unit) {
    plan.entries[0].sowing_rate = std::move(rate);
    plan.entries[0].sowing_rate_unit = std::move(unit);
    return lines(sowing_notices(plan, all));
  }

  Plan plan = sample_plan();  // entry A is a tall fescue
  std::vector<SpeciesSeed> all{{.species = "tall_fescue",
                                .usual_from = 12,
                                .usual_to = 14,
                                .unit = "lb/acre",
                                .source = "a book"}};
};

TEST_F(SowingNotices, HalfToTwiceOfWhatIsUsualSaysNothing) {
  EXPECT_THAT(notices("", ""), IsEmpty());
  for (const char* const rate : {"6.01", "12", "28"}) {
    EXPECT_THAT(notices(rate, "lb/acre"), IsEmpty()) << rate;
  }
}

TEST_F(SowingNotices, OutsideOfItSaysWhoSaysWhatIsUsual) {
  EXPECT_THAT(notices("5.9", "lb/acre"),
              ElementsAre("entry A: sowing rate 5.9 lb/acre is less than half of what is usual "
                          "(usual: 12 to 14 lb/acre (a book); mend it unless it is meant)"));
  EXPECT_THAT(notices("28.1", "lb/acre"), ElementsAre(HasSubstr("more than twice")));
  // 28 lb/acre is 31.4 kg/ha.
  EXPECT_THAT(notices("31", "kg/ha"), IsEmpty());
  EXPECT_THAT(notices("32", "kg/ha"), ElementsAre(HasSubstr("32 kg/ha is more than twice")));
}

TEST_F(SowingNotices, ARateWithoutUnitAndAUnitWithoutRateAreTold) {
  EXPECT_THAT(notices("12", ""), ElementsAre(HasSubstr("no unit of a sowing rate")));
  EXPECT_THAT(notices("0", "lb/acre"), ElementsAre(HasSubstr("'0' is no sowing rate")));
  EXPECT_THAT(notices("", "lb/acre"), ElementsAre(HasSubstr("but no sowing rate")));
}

TEST_F(SowingNotices, OfASpeciesThatNobodyKnowsNothingIsSaid) {
  all.clear();
  EXPECT_THAT(notices("500", "lb/acre"), IsEmpty());
}

}  // namespace
}  // namespace ligule::files
