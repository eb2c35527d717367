#include "storage/files/entry_check.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "storage/files/definitions.h"
#include "storage/files/file_system.h"
#include "tests/storage/trial/sample_plan.h"

namespace ligule::files {
namespace {

using date::year;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;

// Entry A is novel, B free, C toxic; the trial was sown on 2024-09-03.
class EntryCheck : public testing::Test {
 protected:
  void SetUp() override {
    const auto files = real_file_system();
    definitions_ = load_definitions(*files, LIGULE_SOURCE_ASSETS).value();
  }
  static std::vector<std::string> lines(const Faults& faults) {
    std::vector<std::string> out;
    for (const Error& fault : faults) out.push_back(one_line(fault));
    return out;
  }
  PlanFindings found() { return check_seed(plan_, definitions_, {}); }
  std::vector<std::string> faults() { return lines(found().faults); }
  std::vector<std::string> notices() { return lines(found().notices); }
  PlanEntry& a() { return plan_.entries[0]; }
  PlanEntry& b() { return plan_.entries[1]; }
  PlanEntry& c() { return plan_.entries[2]; }
  // One entry of another species, so that only its own limits are asked.
  void only(const char* species) {
    plan_.entries = {{"D", species, "Dell", Endophyte::kNotStated, "", EntryRole::kTest, ""}};
  }

  Definitions definitions_;
  Plan plan_ = sample_plan();
};

TEST_F(EntryCheck, ASoundEntryIsNotAskedAbout) {
  EXPECT_THAT(faults(), IsEmpty());
  EXPECT_THAT(notices(), IsEmpty());
}

TEST_F(EntryCheck, PercentsLieBetween0And100) {
  const std::vector<std::pair<const char*, std::string PlanEntry::*>> percents{
      {"endophyte_percent", &PlanEntry::endophyte_percent},
      {"germination", &PlanEntry::germination},
      {"hard_seed", &PlanEntry::hard_seed},
      {"purity", &PlanEntry::purity}};
  for (const auto& [name, percent] : percents) {
    for (const char* wrong : {"-0.1", "100.1", "some"}) {
      plan_ = sample_plan();
      a().*percent = wrong;
      EXPECT_THAT(faults(), ElementsAre(HasSubstr("entry A: " + std::string(name) + " '" + wrong +
                                                  "' is no percent")));
    }
    for (const char* right : {"0", "100"}) {
      plan_ = sample_plan();
      a().*percent = right;
      EXPECT_THAT(faults(), IsEmpty()) << name << right;
    }
  }
}

TEST_F(EntryCheck, GerminationAndHardSeedAreNoMoreThanAllSeed) {
  a().germination = "62.1";
  a().hard_seed = "37.9";
  EXPECT_THAT(faults(), IsEmpty());
  a().hard_seed = "38";
  EXPECT_THAT(faults(),
              ElementsAre(HasSubstr("germination 62.1 and hard_seed 38 come to more than 100")));
}

TEST_F(EntryCheck, SeedIsHarvestedBeforeItIsSown) {
  a().seed_harvested = year{2024} / 9 / 3;
  EXPECT_THAT(faults(), IsEmpty());
  a().seed_harvested = year{2024} / 9 / 4;
  EXPECT_THAT(faults(), ElementsAre(HasSubstr("entry A: its seed was harvested on 2024-09-04")));
}

TEST_F(EntryCheck, OnlyASpeciesWithAnEndophyteCanBeTestedForOne) {
  only("timothy");
  EXPECT_THAT(notices(), IsEmpty()) << "no status to state";
  plan_.entries[0].endophyte_percent = "2";
  EXPECT_THAT(faults(), ElementsAre(HasSubstr("timothy has no endophyte that a test could find")));
  plan_.entries[0].endophyte_percent.clear();
  plan_.entries[0].endophyte_tested = year{2024} / 3 / 1;
  EXPECT_THAT(faults(), ElementsAre(HasSubstr("timothy has no endophyte that a test could find")));
  plan_.entries[0].endophyte = Endophyte::kFree;
  EXPECT_THAT(faults(), ElementsAre(HasSubstr("timothy has no endophyte status")));
}

TEST_F(EntryCheck, ANovelEntryIsItsVarietyAndItsEndophyteTogether) {
  a().strain.clear();
  EXPECT_THAT(notices(), ElementsAre(HasSubstr("entry A: a novel endophyte without its strain")));
  a().endophyte = Endophyte::kNotStated;
  EXPECT_THAT(notices(), ElementsAre(HasSubstr("entry A: the endophyte status is not stated")));
  // The endophyte alone, in the place of the variety.
  plan_ = sample_plan();
  a().variety = "AX1";
  EXPECT_THAT(notices(),
              ElementsAre(HasSubstr("entry A: 'AX1' stands in the name of the variety")));
  a().variety = "Alder Brook AX1";
  EXPECT_THAT(notices(),
              ElementsAre(HasSubstr("entry A: 'AX1' stands in the name of the variety")));
  a().variety = "Alder Brook AX12";
  EXPECT_THAT(notices(), IsEmpty()) << "whole words only";
  // That of another entry.
  plan_ = sample_plan();
  b().variety = "Alder Brook ax1";
  EXPECT_THAT(notices(),
              ElementsAre(HasSubstr("entry B: 'AX1' stands in the name of the variety")));
}

TEST_F(EntryCheck, AStrainThatOnlyNumbersIsNoPartOfAVarietysName) {
  for (const char* const strain : {"B", "II", "4"}) {
    a().strain = strain;
    b().variety = std::string("Corrowen ") + strain;
    EXPECT_THAT(notices(), IsEmpty()) << strain;
  }
  a().strain = "B4";
  b().variety = "Corrowen B4";
  EXPECT_THAT(notices(), ElementsAre(HasSubstr("entry B: 'B4' stands in the name")));
}

TEST_F(EntryCheck, ANameWithItsNumberWrittenOtherwiseIsAskedAbout) {
  a().variety = "Corrowen II";
  b().variety = "Corrowen 2";
  EXPECT_THAT(notices(),
              ElementsAre(HasSubstr("is spelled otherwise than 'Corrowen II (novel AX1)'")));
  b().variety = "Corrowen 3";
  EXPECT_THAT(notices(), IsEmpty());
}

TEST_F(EntryCheck, AFillerIsNotAskedAbout) {
  plan_.entries.push_back(
      {"F", "tall_fescue", "AX1", Endophyte::kNovel, "", EntryRole::kFiller, "L1"});
  plan_.entries.back().germination = "3";
  EXPECT_THAT(notices(), IsEmpty());
  plan_.entries.back().germination = "300";
  EXPECT_EQ(faults().size(), 1U) << "but what is wrong is wrong";
}

TEST_F(EntryCheck, ATestHasItsPercentAndItsDate) {
  a().endophyte_percent = "92";
  EXPECT_THAT(notices(), ElementsAre(HasSubstr("what a test of the endophyte found has no date")));
  a().endophyte_tested = year{2024} / 8 / 1;
  EXPECT_THAT(notices(), IsEmpty());
  a().endophyte_percent.clear();
  EXPECT_THAT(notices(), ElementsAre(HasSubstr("but what the test found is not stated")));
}

TEST_F(EntryCheck, ATestCountsForTheLotThatWasSown) {
  a().endophyte_percent = "92";
  a().endophyte_tested = *a().seed_harvested;
  EXPECT_THAT(notices(), IsEmpty());
  a().endophyte_tested = year{2024} / 6 / 27;
  EXPECT_THAT(notices(), ElementsAre(HasSubstr("the endophyte was tested on 2024-06-27, before")));
}

TEST_F(EntryCheck, WhatATestFoundMustFitTheStatus) {
  const struct {
    std::size_t entry;
    const char* sound;
    const char* asked;
    const char* wanted;
  } cases[] = {{0, "70", "69.9", "found the endophyte in 69.9 percent, less than 70"},
               {1, "5", "5.1", "it is called free, but a test found the endophyte in 5.1 percent"},
               {2, "70", "69", "found the endophyte in 69 percent, less than 70"}};
  for (const auto& t : cases) {
    plan_ = sample_plan();
    PlanEntry& entry = plan_.entries[t.entry];
    entry.endophyte_tested = year{2024} / 8 / 1;
    entry.endophyte_percent = t.sound;
    EXPECT_THAT(notices(), IsEmpty()) << t.sound;
    entry.endophyte_percent = t.asked;
    EXPECT_THAT(notices(), ElementsAre(HasSubstr(t.wanted)));
  }
}

TEST_F(EntryCheck, SeedOfANovelEntryOlderThanAYearIsAskedAbout) {
  a().seed_harvested = year{2023} / 9 / 3;
  EXPECT_THAT(notices(), IsEmpty()) << "a year to the day";
  a().seed_harvested = year{2023} / 9 / 2;
  EXPECT_THAT(notices(), ElementsAre(HasSubstr("entry A: its seed was harvested on 2023-09-02, "
                                               "more than a year before sowing")));
  a().seed_harvested.reset();
  EXPECT_THAT(notices(), ElementsAre(HasSubstr("when the seed was harvested is not stated")));
  for (const Endophyte other : {Endophyte::kToxic, Endophyte::kFree}) {
    plan_ = sample_plan();
    c().endophyte = other;
    c().seed_harvested = year{2020} / 7 / 1;
    EXPECT_THAT(notices(), IsEmpty());
  }
}

TEST_F(EntryCheck, AYearBeforeALeapDayIsTheLastOfFebruary) {
  plan_.sown = year{2024} / 2 / 29;
  a().seed_harvested = year{2023} / 2 / 28;
  EXPECT_THAT(notices(), IsEmpty());
  a().seed_harvested = year{2023} / 2 / 27;
  EXPECT_EQ(notices().size(), 1U);
}

TEST_F(EntryCheck, ATestOfTheYearBeforeSowingAnswersForOldSeed) {
  a().seed_harvested = year{2022} / 7 / 1;
  a().endophyte_percent = "85";
  a().endophyte_tested = year{2023} / 9 / 3;
  EXPECT_THAT(notices(), IsEmpty());
  a().endophyte_tested = year{2023} / 9 / 2;
  EXPECT_THAT(notices(), ElementsAre(HasSubstr("more than a year before sowing")));
  a().seed_harvested.reset();
  a().endophyte_tested = year{2024} / 5 / 2;
  EXPECT_THAT(notices(), IsEmpty()) << "whenever it was harvested";
}

// Floors of W. Va. Code R. 61-09, appendix 1.
TEST_F(EntryCheck, GerminationUnderTheFloorOfTheSpeciesIsAskedAbout) {
  const struct {
    const char* species;
    const char* sound;
    const char* asked;
  } cases[] = {{"alfalfa", "75", "74.9"},      {"red_clover", "80", "79"},
               {"orchardgrass", "75", "74"},   {"kentucky_bluegrass", "65", "64"},
               {"forage_sorghum", "65", "64"}, {"sudangrass", "70", "69"}};
  for (const auto& t : cases) {
    only(t.species);
    plan_.entries[0].germination = t.sound;
    EXPECT_THAT(notices(), IsEmpty()) << t.species;
    plan_.entries[0].germination = t.asked;
    EXPECT_THAT(notices(), ElementsAre(HasSubstr("entry D: germination with hard seed is")))
        << t.species;
  }
}

TEST_F(EntryCheck, HardSeedIsAlive) {
  only("alfalfa");
  plan_.entries[0].germination = "62.1";
  plan_.entries[0].hard_seed = "12.9";
  EXPECT_THAT(notices(), IsEmpty());
  plan_.entries[0].hard_seed = "12.8";
  EXPECT_THAT(notices(), ElementsAre(HasSubstr("is 74.9 percent, less than 75")));
  plan_.entries[0].germination.clear();
  EXPECT_THAT(notices(), IsEmpty()) << "hard seed alone says nothing of the rest";
}

TEST_F(EntryCheck, PurityUnderTheLimitOfTheSpeciesIsAskedAbout) {
  a().purity = "98";
  EXPECT_THAT(notices(), IsEmpty());
  a().purity = "97.9";
  EXPECT_THAT(notices(), ElementsAre(HasSubstr("entry A: purity is 97.9 percent, less than 98")));
  only("alfalfa");
  plan_.entries[0].purity = "90";
  EXPECT_THAT(notices(), IsEmpty());
  plan_.entries[0].purity = "89";
  EXPECT_THAT(notices(), ElementsAre(HasSubstr("purity is 89 percent, less than 90")));
}

TEST_F(EntryCheck, WhatLooksLikeAShareIsToWriteInPercent) {
  only("alfalfa");
  plan_.entries[0].germination = "0.92";
  plan_.entries[0].purity = "0.98";
  EXPECT_THAT(notices(),
              ElementsAre(HasSubstr("percent, less than 75 (write a share in percent, 98 for 0.98"),
                          HasSubstr("purity is 0.98 percent, less than 90 (write a share")));
  plan_.entries[0].germination = "0";
  plan_.entries[0].purity = "1.5";
  EXPECT_THAT(notices(), ElementsAre(HasSubstr("(take other seed, test it again"),
                                     HasSubstr("(take other seed, or fill packets")));
}

TEST_F(EntryCheck, NamesThatAreAlikeAreAskedAbout) {
  b().variety = "Alderbrook";
  EXPECT_THAT(notices(), ElementsAre(HasSubstr("entry B: 'Alderbrook (endophyte-free)' is spelled "
                                               "otherwise than 'Alder Brook (novel AX1)'")));
  b().variety = "Alder Brock";
  EXPECT_THAT(notices(), ElementsAre(HasSubstr("is a letter away from")));
  b().variety = "Elmer Brook";
  EXPECT_THAT(notices(), IsEmpty());
}

TEST_F(EntryCheck, StrainsOfOneVarietyThatAreAlikeAreAskedAbout) {
  b().endophyte = Endophyte::kNovel;
  b().seed_harvested = a().seed_harvested;
  b().strain = "ax-1";
  EXPECT_THAT(notices(), ElementsAre(HasSubstr("entry B: 'Alder Brook (novel ax-1)' is spelled "
                                               "otherwise than 'Alder Brook (novel AX1)'")));
  b().strain = "AX2";
  EXPECT_THAT(notices(), IsEmpty());
}

TEST_F(EntryCheck, ALotIsOneEntrys) {
  b().seed_lot = "L1";
  EXPECT_THAT(notices(), ElementsAre(HasSubstr("entry B: seed lot 'L1' is that of entry A too")));
  b().seed_lot = "L2";
  EXPECT_THAT(notices(), IsEmpty());
}

}  // namespace
}  // namespace ligule::files
