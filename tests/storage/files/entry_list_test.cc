#include "storage/files/entry_list.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "storage/files/definitions.h"
#include "storage/files/entry_words.h"
#include "storage/files/file_system.h"
#include "storage/files/plan_folder.h"

namespace ligule::files {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::SizeIs;

class EntryLists : public testing::Test {
 protected:
  Checked<EntryList> read(const std::string& text, const std::string& species = {}) {
    return read_entry_list(text, "list.csv", schemas_.entries, definitions_, species);
  }
  EntryList need(const std::string& text, const std::string& species = {}) {
    auto list = read(text, species);
    EXPECT_TRUE(list.has_value()) << (list ? "" : one_line(list.error().front()));
    return list ? *std::move(list) : EntryList{};
  }
  std::vector<std::string> faults(const std::string& text, const std::string& species = {}) {
    std::vector<std::string> lines;
    if (const auto list = read(text, species); !list)
      for (const Error& fault : list.error()) lines.push_back(one_line(fault));
    return lines;
  }

  std::unique_ptr<FileSystem> files_ = real_file_system();
  Definitions definitions_ = load_definitions(*files_, LIGULE_SOURCE_ASSETS).value();
  PlanSchemas schemas_ = load_plan_schemas(*files_, LIGULE_SOURCE_ASSETS).value();
};

TEST_F(EntryLists, AreReadUnderTheHeadingsPeopleUse) {
  const EntryList list = need(
      "Entrant,CULTIVAR,Crop,Endophyte,Seed-Lot #,Germ. %,Hard seed,Purity %,"
      "Seeding rate (lbs/ac),Standard\n"
      "Hill,Alder Brook,Tall Fescue,novel AX-1,L 17,92%,,98.9,20,\n"
      "\n"
      "Hill,Corrie,sorghum sudangrass,n/a,,,4 %,,25 kg/ha,x\n");
  ASSERT_THAT(list.entries, SizeIs(2));
  const PlanEntry& first = list.entries[0];
  EXPECT_EQ(first.variety, "Alder Brook");
  EXPECT_EQ(first.species, "tall_fescue");
  EXPECT_EQ(first.endophyte, Endophyte::kNovel);
  EXPECT_EQ(first.strain, "AX-1");
  EXPECT_EQ(first.seed_lot, "L 17");
  EXPECT_EQ(first.germination, "92");
  EXPECT_EQ(first.purity, "98.9");
  EXPECT_EQ(first.sowing_rate, "20");
  EXPECT_EQ(first.sowing_rate_unit, "lb/acre");
  EXPECT_EQ(first.role, EntryRole::kTest);
  const PlanEntry& second = list.entries[1];
  EXPECT_EQ(second.species, "sorghum_sudangrass");
  EXPECT_EQ(second.endophyte, Endophyte::kNotStated);
  EXPECT_EQ(second.hard_seed, "4");
  EXPECT_EQ(second.sowing_rate_unit, "kg/ha");
  EXPECT_EQ(second.role, EntryRole::kCheck);
  EXPECT_THAT(list.repeats, ElementsAre(1, 1));
  EXPECT_THAT(list.places, ElementsAre("list.csv line 2", "list.csv line 4"));
  EXPECT_FALSE(list.coded);
  ASSERT_THAT(list.notices, SizeIs(1));
  EXPECT_THAT(one_line(list.notices[0]), HasSubstr("passed over: Entrant"));
}

TEST_F(EntryLists, OneVarietyUnderTwoStatusesIsTwoEntries) {
  const EntryList list = need(
      "Variety,Endophyte\nAlder,E-\nAlder,endophyte-free\nAlder,E+\n"
      "Alder,wild-type\nAlder,none\nAlder,\nAlder,beneficial\n",
      "tall fescue");
  std::vector<Endophyte> statuses;
  for (const PlanEntry& entry : list.entries) statuses.push_back(entry.endophyte);
  EXPECT_THAT(statuses,
              ElementsAre(Endophyte::kFree, Endophyte::kFree, Endophyte::kToxic, Endophyte::kToxic,
                          Endophyte::kFree, Endophyte::kNotStated, Endophyte::kNovel));
  ASSERT_THAT(list.notices, SizeIs(1));
  EXPECT_THAT(one_line(list.notices[0]),
              HasSubstr("list.csv line 4, column Endophyte: E+ is taken for toxic"));
  EXPECT_EQ(need("Variety,Endophyte\nMedic,none\n", "alfalfa").entries[0].endophyte,
            Endophyte::kNotStated)
      << "a species without endophytes";
}

TEST_F(EntryLists, CodesRolesAndRepeatsAreTakenAsTheyAre) {
  const EntryList list =
      need("code,name,role,repeats\nT1,Alder,,\nC1,Mill,control,3\nF,Rye,fill,\n", "tall_fescue");
  EXPECT_TRUE(list.coded);
  EXPECT_EQ(list.entries[1].code, "C1");
  EXPECT_EQ(list.entries[1].role, EntryRole::kCheck);
  EXPECT_EQ(list.entries[2].role, EntryRole::kFiller);
  EXPECT_THAT(list.repeats, ElementsAre(1, 3, 1));
  EXPECT_THAT(list.notices, IsEmpty());
}

TEST_F(EntryLists, EveryFaultIsToldAtItsLineAndHeading) {
  EXPECT_THAT(
      faults("Variety,Crop,Endophyte,Role,Repeats,Germ,Rate,Lot\n"
             "Alder,Tall Fesque,infected,,,,,\n"
             "Birch,tall fescue,,judge,2,191,20,\n"
             ",tall fescue,,,0,,20 bags,\n"
             "Corrie,tall fescue,,filler,,,,\n"
             "Dunlin,tall fescue,,filler,,,,\n"),
      ElementsAre(HasSubstr("list.csv line 2, column Crop: species 'Tall Fesque' is not known"),
                  HasSubstr("list.csv line 2, column Endophyte: 'infected' is no endophyte status"),
                  HasSubstr("list.csv line 3, column Role: 'judge' is no role"),
                  HasSubstr("list.csv line 3, column Rate: the sowing rate has no unit"),
                  HasSubstr("list.csv line 3, column Repeats: an entry that is no check stands"),
                  HasSubstr("list.csv line 4, column Rate: 'bags' is no unit"),
                  HasSubstr("list.csv line 4, column Repeats: '0' is no number of plots"),
                  HasSubstr("list.csv line 6, column Role: there is a filler already"),
                  HasSubstr("list.csv line 3, column Germ: '191' is out of range"),
                  HasSubstr("list.csv line 4, column Variety")));
}

TEST_F(EntryLists, HeadingsThatCannotBeMeantAreFaults) {
  EXPECT_THAT(faults("Lot,Seed lot,Crop\n1,2,3\n"),
              ElementsAre(HasSubstr("columns 'Lot' and 'Seed lot' say the same"),
                          HasSubstr("no column holds the varieties")));
  EXPECT_THAT(faults("Variety\nAlder\n"), ElementsAre(HasSubstr("no species is stated")));
  EXPECT_THAT(faults("Variety,Check\nAlder,perhaps\n", "tall fescue"),
              ElementsAre(HasSubstr("'perhaps' is neither yes nor no")));
  EXPECT_THAT(faults("Variety,Code\nAlder,A 1\n", "tall fescue"),
              ElementsAre(HasSubstr("line 2, column Code: 'A 1' cannot stand here")));
  EXPECT_THAT(faults(""), ElementsAre(HasSubstr("the table is empty")));
  EXPECT_THAT(faults("Variety;Lot\nAlder;3\n"), ElementsAre(HasSubstr("not separated by commas")));
}

TEST_F(EntryLists, UnitsOfRatesAreKnownHoweverTheyAreSpelled) {
  for (const char* unit : {"lb/acre", "lbs/ac", "LB/A", "lb per acre"})
    EXPECT_EQ(rate_unit(unit), "lb/acre") << unit;
  EXPECT_EQ(rate_unit("kg/ha"), "kg/ha");
  EXPECT_EQ(rate_unit("g/plot"), "");
  EXPECT_EQ(heading_of("Sowing rate kg/ha").unit, "kg/ha");
  EXPECT_EQ(heading_of("Ratio").column, "");
}

}  // namespace
}  // namespace ligule::files
