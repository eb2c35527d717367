#include "sync/results/aliases.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

namespace ligule::results {
namespace {

using ::testing::ElementsAre;
using ::testing::HasSubstr;
using ::testing::IsEmpty;

const std::string kAliasHeader = "name,same_as,from_year,decided_by,note\n";

AliasFile parsed(const std::string& text) {
  const Result<AliasFile> file = parse_aliases(text, "a.csv");
  EXPECT_TRUE(file) << one_line(file.error());
  return file.value_or(AliasFile{});
}

std::vector<std::string> alias_faults(const std::string& text) {
  std::vector<std::string> lines;
  for (const Error& fault : parsed(text).faults) {
    EXPECT_EQ(fault.kind, ErrorKind::kInvalid);
    EXPECT_FALSE(fault.mend.empty()) << fault.what;
    lines.push_back(fault.where + ": " + fault.what);
  }
  return lines;
}

Aliases aliases_of(const std::string& rows) {
  const AliasFile file = parsed(kAliasHeader + rows);
  EXPECT_THAT(file.faults, IsEmpty());
  return Aliases(file.aliases);
}

PlotValue row(const std::string& test, int year, const std::string& cutting, const std::string& rep,
              const std::string& entry, const std::string& plot = "") {
  return {test, "", year, cutting, rep, entry, plot, 1.0};
}

std::vector<std::string> entries_of(const std::vector<PlotValue>& values) {
  std::vector<std::string> entries;
  for (const PlotValue& value : values) entries.push_back(value.entry);
  return entries;
}

TEST(AliasFileRead, ReadsColumnsInAnyOrder) {
  const AliasFile file = parsed(
      "note,decided_by,name,from_year,same_as\n\"named at release, spring\",MT,LX 4,2024,Alder\n"
      ",MT,Elder ,, Alder\n");
  ASSERT_THAT(file.faults, IsEmpty());
  ASSERT_EQ(file.aliases.size(), 2U);
  EXPECT_EQ(file.aliases[0].name, "LX 4");
  EXPECT_EQ(file.aliases[0].same_as, "Alder");
  EXPECT_EQ(file.aliases[0].from_year, 2024);
  EXPECT_EQ(file.aliases[0].decided_by, "MT");
  EXPECT_EQ(file.aliases[0].note, "named at release, spring");
  EXPECT_EQ(file.aliases[0].where, "a.csv line 2");
  EXPECT_EQ(file.aliases[1].name, "Elder");
  EXPECT_FALSE(file.aliases[1].from_year);
}

TEST(AliasFileRead, YearAndNoteMayBeLeftOut) {
  EXPECT_EQ(parsed("name,same_as,decided_by\nA,B,MT\n").aliases.size(), 1U);
}

TEST(AliasFileRead, FaultsOfTheFirstLine) {
  EXPECT_THAT(alias_faults("name,same_as,year\nA,B,2024\n"),
              ElementsAre("a.csv line 1: column \"year\" is not known",
                          "a.csv line 1: column \"decided_by\" is missing"));
  EXPECT_THAT(alias_faults("same_as,decided_by\nB,MT\n"),
              ElementsAre("a.csv line 1: column \"name\" is missing"));
  EXPECT_THAT(alias_faults("name,name,same_as,decided_by\n"),
              ElementsAre(HasSubstr("column name stands twice")));
  EXPECT_THAT(alias_faults(""), ElementsAre(HasSubstr("the table is empty")));
}

TEST(AliasFileRead, EmptyCellsAreFaults) {
  EXPECT_THAT(alias_faults(kAliasHeader + ",B,,MT,\nA,,,MT,\nC,D,,,decided by nobody\n"),
              ElementsAre("a.csv line 2, column name: the cell is empty",
                          "a.csv line 3, column same_as: the cell is empty",
                          "a.csv line 4, column decided_by: the cell is empty"));
}

TEST(AliasFileRead, ARowMaySayThatTwoNamesAreTwo) {
  const AliasFile file = parsed(
      "name,same_as,differs_from,decided_by,note\nCorrawen,,Corrowen,MT,both on sale\n"
      "LX 4,Alder,,MT,\n");
  ASSERT_THAT(file.faults, IsEmpty());
  EXPECT_THAT(file.apart, ElementsAre(NamesApart{"Corrawen", "Corrowen", "MT", "both on sale",
                                                 "a.csv line 2"}));
  EXPECT_EQ(file.aliases.size(), 1U);
  EXPECT_EQ(parsed("name,differs_from,decided_by\nA,B,MT\n").apart.size(), 1U);
}

TEST(AliasFileRead, FaultsOfNamesThatAreTwo) {
  const std::string header = "name,same_as,differs_from,from_year,decided_by\n";
  EXPECT_THAT(
      alias_faults(header + "A,B,C,,MT\nA,,A,,MT\nA,,B,2024,MT\nA,,D,,MT\nD,,A,,MT\nE,,,,MT\n"),
      ElementsAre("a.csv line 2, column differs_from: two names are one or they are two, not both",
                  "a.csv line 3, column differs_from: \"A\" is the same name",
                  "a.csv line 4, column from_year: two names differ in every year",
                  "a.csv line 6, column name: these two names stand already, at a.csv line 5",
                  "a.csv line 7, column same_as: the cell is empty"));
  EXPECT_THAT(alias_faults(header + "A,B,,,MT\nB,,A,,MT\n"),
              ElementsAre("a.csv line 3, column differs_from: \"B\" and \"A\" both count under "
                          "\"B\""));
  EXPECT_THAT(alias_faults(header + "A,C,,,MT\nB,C,,,MT\nA,,B,,MT\n"),
              ElementsAre("a.csv line 4, column differs_from: \"A\" and \"B\" both count under "
                          "\"C\""));
}

TEST(AliasFileRead, AYearIsAYear) {
  for (const std::string year : {"spring", "0", "10000", "-5", "2024.5"}) {
    EXPECT_THAT(alias_faults(kAliasHeader + "A,B," + year + ",MT,\n"),
                ElementsAre("a.csv line 2, column from_year: \"" + year + "\" is no year"));
  }
}

TEST(AliasFileRead, RowsAreWholeAndOnOneLine) {
  EXPECT_THAT(alias_faults(kAliasHeader + "A,B,,MT\n"),
              ElementsAre("a.csv line 2: the row has 4 cells, the header 5"));
  EXPECT_THAT(alias_faults(kAliasHeader + "A,B,,MT,\"one\ntwo\"\n"),
              ElementsAre("a.csv line 2, column note: the cell goes over two lines"));
}

TEST(AliasFileRead, ANameCountsUnderOneOtherName) {
  EXPECT_THAT(alias_faults(kAliasHeader + "A,B,,MT,\nA,C,2024,MT,\n"),
              ElementsAre("a.csv line 3, column name: \"A\" already counts under another name, at "
                          "a.csv line 2"));
  EXPECT_THAT(alias_faults(kAliasHeader + "A, A,,MT,\n"),
              ElementsAre("a.csv line 2, column same_as: \"A\" is the same name"));
}

TEST(AliasFileRead, ChainsSayWhatToWrite) {
  const AliasFile file = parsed(kAliasHeader + "A,B,,MT,\nB,C,,MT,\nC,D,,MT,\n");
  ASSERT_EQ(file.faults.size(), 2U);
  EXPECT_EQ(one_line(file.faults[0]),
            "a.csv line 2, column same_as: \"B\" itself counts under \"C\", at a.csv line 3 (write "
            "\"D\" as the same_as of \"A\")");
  EXPECT_EQ(one_line(file.faults[1]),
            "a.csv line 3, column same_as: \"C\" itself counts under \"D\", at a.csv line 4 (write "
            "\"D\" as the same_as of \"B\")");
}

TEST(AliasFileRead, CirclesAreRefused) {
  const AliasFile two = parsed(kAliasHeader + "A,B,,MT,\nB,A,,MT,\n");
  ASSERT_EQ(two.faults.size(), 2U);
  EXPECT_EQ(one_line(two.faults[0]),
            "a.csv line 2, column same_as: \"B\" leads back to itself: it counts under \"A\", at "
            "a.csv line 3 (decide which name results use, and take out the row that renames it)");
  EXPECT_THAT(alias_faults(kAliasHeader + "A,B,,MT,\nB,C,,MT,\nC,B,,MT,\n"), ::testing::SizeIs(3));
}

TEST(AliasFileRead, TwoEndophytesOfAVarietyAreNeverJoined) {
  EXPECT_THAT(
      alias_faults(kAliasHeader + "Alder Brook (novel AX1),Alder Brook (endophyte-free),,MT,\n"
                                  "Birch (toxic),Birch,,MT,\n"
                                  "Cedar,Cedar (novel AX1),,MT,\n"
                                  "Dune (novel AX1),Dune (novel AX2),,MT,\n"
                                  "Elm E+,Elm E-,,MT,\n"),
      ElementsAre("a.csv line 2, column same_as: \"Alder Brook (novel AX1)\" (novel AX1) and "
                  "\"Alder Brook (endophyte-free)\" (endophyte-free) are two entries",
                  "a.csv line 3, column same_as: \"Birch (toxic)\" (toxic) and \"Birch\" (no "
                  "endophyte stated) are two entries",
                  HasSubstr("\"Cedar\" (no endophyte stated) and"),
                  HasSubstr("(novel AX1) and \"Dune (novel AX2)\" (novel AX2) are two entries"),
                  HasSubstr("\"Elm E+\" (toxic) and \"Elm E-\" (endophyte-free)")));
}

TEST(AliasFileRead, OneEndophyteSpelledTwoWaysIsOne) {
  EXPECT_THAT(alias_faults(kAliasHeader + "Alderbrook (novel AX-1),Alder Brook (novel AX1),,MT,\n"
                                          "Birch E+,Birch (toxic),,MT,\n"),
              IsEmpty());
}

TEST(AliasFileRead, NoTextIsNoFileOfAliases) {
  const Result<AliasFile> file = parse_aliases(std::string("PK\x03\x04\0\0", 6), "a.xlsx");
  ASSERT_FALSE(file);
  EXPECT_EQ(file.error().where, "a.xlsx");
  const Result<AliasFile> missing =
      read_aliases(*files::real_file_system(), "/nowhere/at/all/aliases.csv");
  ASSERT_FALSE(missing);
  EXPECT_EQ(missing.error().kind, ErrorKind::kNotFound);
}

TEST(AliasesApplied, CountUnderTheOtherNameAndAreTold) {
  Aliases aliases = aliases_of("LX 4,Alder,,MT,named at release\nElder,Alder,,KS,\n");
  std::vector<PlotValue> values = {
      row("T1", 2023, "1", "1", "LX 4"), row("T1", 2023, "1", "1", "Birch"),
      row("T2", 2024, "1", "1", "Alder"), row("T3", 2024, "1", "1", "LX 4"),
      row("T4", 2024, "1", "1", "Elder")};
  values[3].value.reset();  // a missing plot is renamed, and is no value
  aliases.apply(values);
  EXPECT_THAT(entries_of(values), ElementsAre("Alder", "Birch", "Alder", "Alder", "Alder"));
  EXPECT_THAT(
      aliases.applied(),
      ElementsAre(AliasApplied{"LX 4", "Alder", std::nullopt, "MT", "named at release", 2, 1},
                  AliasApplied{"Elder", "Alder", std::nullopt, "KS", "", 1, 1}));
  EXPECT_THAT(aliases.faults(), IsEmpty());
  EXPECT_THAT(aliases.notices(), IsEmpty());
}

TEST(AliasesApplied, YieldsAndRatingsAddUpATestCountsOnce) {
  Aliases aliases = aliases_of("LX 4,Alder,,MT,\n");
  std::vector<PlotValue> yields = {row("T1", 2023, "1", "1", "LX 4")};
  std::vector<PlotValue> stands = {row("T1", 2023, "stand", "1", "LX 4")};
  aliases.apply(yields);
  aliases.apply(stands);
  EXPECT_THAT(aliases.applied(),
              ElementsAre(AliasApplied{"LX 4", "Alder", std::nullopt, "MT", "", 1, 2}));
}

TEST(AliasesApplied, CountFromTheirYearOn) {
  Aliases aliases = aliases_of("LX 4,Alder,2024,MT,\n");
  std::vector<PlotValue> values = {row("T1", 2023, "1", "1", "LX 4"),
                                   row("T2", 2024, "1", "1", "LX 4"),
                                   row("T2", 2025, "1", "1", "LX 4")};
  aliases.apply(values);
  EXPECT_TRUE(aliases.faults().empty());
  EXPECT_THAT(entries_of(values), ElementsAre("LX 4", "Alder", "Alder"));
  EXPECT_EQ(aliases.label_for("LX 4", 2024), "Alder");
  EXPECT_EQ(aliases.label_for("LX 4", 2023), "LX 4");
  EXPECT_EQ(aliases.label_for("LX 4", std::nullopt), "LX 4");
  EXPECT_EQ(aliases.label_for("Birch", 2024), "Birch");
}

// Two years of one plot under two names would be two halves of a total.
TEST(AliasesApplied, ANameThatWouldChangeInsideATestIsRefused) {
  Aliases aliases = aliases_of("LX 4,Alder,2024,MT,\n");
  std::vector<PlotValue> yields = {row("T1", 2023, "1", "1", "LX 4")};
  std::vector<PlotValue> ratings = {row("T1", 2024, "1", "1", "LX 4")};
  aliases.apply(yields);
  EXPECT_TRUE(aliases.faults().empty());
  aliases.apply(ratings);
  ASSERT_EQ(aliases.faults().size(), 1U);
  EXPECT_EQ(one_line(aliases.faults().front()),
            "a.csv line 2, column from_year: \"LX 4\" would change its name inside test T1, whose "
            "plots hold one entry (give a year that is not after the test's first, or leave it "
            "empty)");
}

TEST(AliasesApplied, AValueWithoutAYearKeepsItsNameAndIsTold) {
  Aliases aliases = aliases_of("LX 4,Alder,2024,MT,\n");
  std::vector<PlotValue> values = {row("T1", 2024, "1", "1", "LX 4"),
                                   row("T2", 0, "1", "1", "LX 4")};
  values[1].year.reset();
  aliases.apply(values);
  EXPECT_THAT(entries_of(values), ElementsAre("Alder", "LX 4"));
  ASSERT_EQ(aliases.notices().size(), 1U);
  EXPECT_EQ(one_line(aliases.notices().front()),
            "a.csv line 2: \"LX 4\" keeps its name where no year is given (1 row) (give the years, "
            "or leave from_year empty)");
}

TEST(AliasesApplied, ANameThatOccursNowhereIsANotice) {
  Aliases aliases = aliases_of("LX 4,Alder,,MT,\nLX 5,Alder,2030,MT,\n");
  std::vector<PlotValue> values = {row("T1", 2023, "1", "1", "LX 5")};
  aliases.apply(values);
  EXPECT_THAT(aliases.applied(), IsEmpty());
  EXPECT_THAT(aliases.faults(), IsEmpty());
  ASSERT_EQ(aliases.notices().size(), 2U);
  EXPECT_EQ(aliases.notices()[0].what, "\"LX 4\" occurs nowhere in these results");
  EXPECT_EQ(aliases.notices()[1].what,
            "\"LX 5\" occurs only before 2030, so nothing counts under \"Alder\"");
}

std::vector<std::string> side_by_side_of(std::vector<PlotValue> values) {
  Aliases aliases = aliases_of("LX 4,Alder,,MT,\n");
  aliases.apply(values);
  std::vector<std::string> lines;
  for (const Error& fault : aliases.faults()) {
    EXPECT_EQ(fault.kind, ErrorKind::kConflict);
    lines.push_back(fault.where + ": " + fault.what);
  }
  return lines;
}

TEST(AliasesApplied, NamesThatStoodSideBySideAreTwoEntries) {
  EXPECT_THAT(
      side_by_side_of({row("T1", 2023, "1", "1", "LX 4"), row("T1", 2023, "1", "1", "Alder"),
                       row("T1", 2023, "1", "2", "LX 4"), row("T1", 2023, "1", "2", "Alder")}),
      ElementsAre("a.csv line 2: \"Alder\" and \"LX 4\" stand side by side in test T1, rep "
                  "1: they were sown as two entries there"));
  // A plot column does not make them one.
  EXPECT_THAT(side_by_side_of({row("T1", 2023, "1", "1", "LX 4", "101"),
                               row("T1", 2023, "1", "1", "Alder", "102")}),
              ::testing::SizeIs(1));
  // Nor do other years: the plots are two.
  EXPECT_THAT(side_by_side_of({row("T1", 2023, "1", "1", "LX 4", "101"),
                               row("T1", 2024, "1", "1", "Alder", "102")}),
              ::testing::SizeIs(1));
  // Published means have no rep to name.
  EXPECT_THAT(
      side_by_side_of({row("T1", 2023, "1", "", "LX 4"), row("T1", 2023, "1", "", "Alder")}),
      ElementsAre(HasSubstr("in test T1: they were sown")));
}

TEST(AliasesApplied, TwoAliasesOfOneNameMayStandSideBySideToo) {
  Aliases aliases = aliases_of("LX 4,Alder,,MT,\nLX 5,Alder,,MT,\n");
  std::vector<PlotValue> values = {row("T1", 2023, "1", "1", "LX 4"),
                                   row("T1", 2023, "1", "1", "LX 5")};
  aliases.apply(values);
  ASSERT_EQ(aliases.faults().size(), 1U);
  EXPECT_THAT(aliases.faults()[0].what, HasSubstr("\"LX 4\" and \"LX 5\" stand side by side"));
}

TEST(AliasesApplied, ANameThatAPlotWasGivenLaterIsNoneBesideIt) {
  // Renamed in the second year; the same plots.
  EXPECT_THAT(side_by_side_of({row("T1", 2023, "1", "1", "LX 4", "101"),
                               row("T1", 2024, "1", "1", "Alder", "101")}),
              IsEmpty());
  EXPECT_THAT(
      side_by_side_of({row("T1", 2023, "1", "1", "LX 4"), row("T1", 2023, "2", "1", "Alder")}),
      IsEmpty());
  // Spelled otherwise in one rep.
  EXPECT_THAT(
      side_by_side_of({row("T1", 2023, "1", "1", "LX 4"), row("T1", 2023, "1", "2", "Alder")}),
      IsEmpty());
  // In other tests.
  EXPECT_THAT(
      side_by_side_of({row("T1", 2023, "1", "1", "LX 4"), row("T2", 2023, "1", "1", "Alder")}),
      IsEmpty());
}

}  // namespace
}  // namespace ligule::results
