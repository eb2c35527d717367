#include "sync/results/entry_names.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

namespace ligule::results {
namespace {

using ::testing::ElementsAre;
using ::testing::IsEmpty;

std::vector<PlotValue> values_of(const std::vector<std::string>& entries) {
  std::vector<PlotValue> values;
  for (const std::string& entry : entries)
    values.push_back({"T1", "", 2024, "1", "1", entry, "", 1.0});
  return values;
}

Variety known(const std::string& name, const std::string& publish_as, bool withheld = false) {
  Variety variety;
  variety.name = name;
  variety.publish_as = publish_as;
  variety.withheld = withheld;
  variety.where = "v.csv line 2";
  return variety;
}

std::vector<std::string> whats(const std::vector<Error>& errors) {
  std::vector<std::string> all;
  for (const Error& error : errors) all.push_back(error.where + ": " + error.what);
  return all;
}

const Alias kReleased{"LX 4", "Alder", std::nullopt, "MT", "named at release", "a.csv line 2"};

TEST(EntryNamesOfARun, AnAliasIsToldInOneSentence) {
  EXPECT_EQ(told({"LX 4", "Alder", 2024, "MT", "named at release", 2, 12}),
            "\"LX 4\" counts under \"Alder\" from 2024 on: 12 values in 2 tests, decided by MT "
            "(named at release)");
  EXPECT_EQ(told({"LX 4", "Alder", std::nullopt, "MT", "", 1, 1}),
            "\"LX 4\" counts under \"Alder\": 1 value in 1 test, decided by MT");
}

TEST(EntryNamesOfARun, PlotsTakeTheNamesOfTheirValues) {
  EntryNames names({kReleased},
                   Varieties({known("Alder", "Alder Brook"), known("Birch", "", true)}));
  std::vector<PlotValue> values = values_of({"LX 4", "Birch", "Cedar"});
  names.take(values);
  std::vector<PlotYield> plots(4);
  plots[0].entry = "LX 4";
  plots[1].entry = "Birch";
  plots[2].entry = "Cedar";  // plots[3] is out of results
  names.rename(plots);
  EXPECT_EQ(plots[0].entry, "Alder");
  const std::vector<PlotYield> shown = names.printed(plots);
  ASSERT_EQ(shown.size(), 3U);
  EXPECT_EQ(shown[0].entry, "Alder Brook");
  EXPECT_EQ(shown[1].entry, "Cedar");
  EXPECT_EQ(shown[2].entry, "");
  EXPECT_EQ(names.printed("LX 4", 2024), "Alder Brook");
  EXPECT_EQ(names.printed("Birch", 2024), std::nullopt);
  EXPECT_THAT(names.withheld(), ElementsAre("Birch"));
}

TEST(EntryNamesOfARun, WhatIsKnownOfANameThatCountsUnderAnotherIsAFault) {
  EntryNames names({kReleased}, Varieties({known("LX 4", "", true)}));
  std::vector<PlotValue> values = values_of({"LX 4"});
  names.take(values);
  EXPECT_THAT(
      whats(names.faults()),
      ElementsAre("v.csv line 2, column name: \"LX 4\" counts under \"Alder\" by an alias"));
}

TEST(EntryNamesOfARun, FaultsOfAliasesAndOfPrintComeTogether) {
  EntryNames names({kReleased}, Varieties({known("Birch", "Alder")}));
  std::vector<PlotValue> values = values_of({"LX 4", "Alder", "Birch"});
  names.take(values);
  EXPECT_THAT(whats(names.faults()),
              ElementsAre(::testing::HasSubstr("stand side by side in test T1"),
                          ::testing::HasSubstr("\"Birch\" is to be published as \"Alder\"")));
}

TEST(EntryNamesOfARun, NoticesNameWhatOccursNowhereAndWhatLooksAlike) {
  EntryNames names({}, Varieties({known("Zelkova", "")}));
  std::vector<PlotValue> values = values_of({"Corrowen", "Corrawen", "Birch-II", "Birch 2"});
  names.take(values);
  EXPECT_THAT(
      whats(names.notices()),
      ElementsAre("v.csv line 2: \"Zelkova\" occurs nowhere in these results",
                  "names: \"Birch 2\" is spelled otherwise than \"Birch-II\"; they count as two "
                  "entries",
                  "names: \"Corrawen\" is a letter away from \"Corrowen\"; they count as two "
                  "entries"));
}

TEST(EntryNamesOfARun, WhatSomebodyDecidedToBeTwoIsNoLongerToBeLookedAt) {
  EntryNames names({}, Varieties({known("Corrowen", "Corrowen Plus"), known("Birch 2", "", true)}),
                   {{"Corrowen", "Corrawen", "MT", "both on sale", "a.csv line 2"},
                    {"Birch-II", "Birch 2", "KS", "", "a.csv line 3"},
                    {"Alder", "Aldar", "KS", "", "a.csv line 4"}});
  std::vector<PlotValue> values =
      values_of({"Corrowen", "Corrawen", "Birch-II", "Birch 2", "Alder"});
  names.take(values);
  EXPECT_THAT(names.alike(), IsEmpty());
  EXPECT_EQ(names.apart().size(), 2U);
  EXPECT_THAT(whats(names.notices()),
              ElementsAre("a.csv line 4: \"Aldar\" occurs nowhere in these results"));
  ReportText text;
  names.tell(text);
  ASSERT_EQ(text.apart.size(), 1U) << "none of a withheld entry";
  EXPECT_EQ(told(text.apart.front()),
            "\"Corrowen Plus\" and \"Corrawen\" look alike and are two entries, decided by MT "
            "(both on sale)");
}

TEST(EntryNamesOfARun, APlanSaysSpeciesEndophyteAndChecks) {
  Definitions definitions;
  definitions.species = {{"tall_fescue", "tall fescue", "cool_season_grass", true},
                         {"alfalfa", "alfalfa", "legume", false}};
  Plan plan;
  plan.entries.resize(3);
  plan.entries[0].variety = "Corrowen";
  plan.entries[0].species = "tall_fescue";
  plan.entries[0].endophyte = Endophyte::kNovel;
  plan.entries[0].strain = "AX1";
  plan.entries[0].role = EntryRole::kCheck;
  plan.entries[1].variety = "Corrawen";
  plan.entries[1].species = "alfalfa";
  plan.entries[2].variety = "Border";
  plan.entries[2].role = EntryRole::kFiller;
  EntryNames names;
  std::vector<PlotValue> values = values_of({"Corrowen (novel AX1)", "Corrawen"});
  names.take(values);
  EXPECT_EQ(names.alike().size(), 1U);  // as long as nobody knows their species
  names.know(plan, std::nullopt, definitions);
  EXPECT_THAT(names.alike(), IsEmpty());
  EXPECT_THAT(names.notices(), IsEmpty());
  ReportText text;
  names.tell(text);
  ASSERT_EQ(text.known.all().size(), 2U);
  const Variety* fescue = text.known.find("Corrowen (novel AX1)");
  ASSERT_NE(fescue, nullptr);
  EXPECT_EQ(fescue->species, "tall fescue");
  EXPECT_EQ(fescue->endophyte, "novel AX1");
  EXPECT_EQ(fescue->endophyte_stated_by, "the entrant");
  EXPECT_TRUE(fescue->check);
}

TEST(EntryNamesOfARun, SpeciesAreOneHoweverTheyAreWritten) {
  Variety one = known("Corrowen", "");
  one.species = "Tall_fescue";
  Variety other = known("Corrawen", "");
  other.species = "tall fescue";
  EntryNames names({}, Varieties({one, other}));
  std::vector<PlotValue> values = values_of({"Corrowen", "Corrawen"});
  names.take(values);
  EXPECT_EQ(names.alike().size(), 1U);
}

TEST(EntryNamesOfARun, AReportIsToldOfNoWithheldEntry) {
  EntryNames names({kReleased, {"Corrawenn", "Corrawen", std::nullopt, "MT", "", "a.csv line 3"}},
                   Varieties({known("Corrawen", "", true), known("Alder", "Alder Brook")}));
  std::vector<PlotValue> values = values_of({"LX 4", "Corrawenn", "Corrowen", "Alders"});
  names.take(values);
  ReportText text;
  names.tell(text);
  ASSERT_EQ(text.aliases.size(), 1U);
  EXPECT_EQ(text.aliases[0].same_as, "Alder Brook");
  EXPECT_THAT(text.alike, ElementsAre(AlikeNames{"Alder Brook", "Alders", true}));
  EXPECT_EQ(names.applied().size(), 2U);
  EXPECT_EQ(names.alike().size(), 2U);
}

TEST(EntryNamesOfARun, NorOfTheNameAWithheldEntryHadBefore) {
  EntryNames names({{"LX 4", "Alder", 2024, "MT", "", "a.csv line 2"}},
                   Varieties({known("LX 4", "", true)}));
  std::vector<PlotValue> values = values_of({"LX 4", "LX 4"});
  values[1].test = "T0";
  values[1].year = 2023;
  names.take(values);
  EXPECT_THAT(names.faults(), IsEmpty());
  EXPECT_THAT(names.withheld(), ElementsAre("LX 4"));
  ReportText text;
  names.tell(text);
  EXPECT_THAT(text.aliases, IsEmpty());
}

}  // namespace
}  // namespace ligule::results
