#include "sync/results/varieties.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <string>
#include <utility>
#include <vector>

#include "sync/results/table_files.h"

namespace ligule::results {
namespace {

using ::testing::ElementsAre;
using ::testing::HasSubstr;
using ::testing::IsEmpty;
using ::testing::Not;

VarietiesFile varieties_in(const std::string& text) {
  const Result<VarietiesFile> file = parse_varieties(text, "v.csv");
  EXPECT_TRUE(file) << one_line(file.error());
  return file.value_or(VarietiesFile{});
}

std::vector<std::string> variety_faults(const std::string& text) {
  std::vector<std::string> lines;
  for (const Error& fault : varieties_in(text).faults) {
    EXPECT_EQ(fault.kind, ErrorKind::kInvalid);
    EXPECT_FALSE(fault.mend.empty()) << fault.what;
    lines.push_back(fault.where + ": " + fault.what);
  }
  return lines;
}

Varieties varieties_of(const std::string& text) {
  const VarietiesFile file = varieties_in(text);
  EXPECT_THAT(file.faults, IsEmpty());
  return Varieties(file.varieties);
}

TEST(VarietiesFile, ReadsEveryColumn) {
  const Varieties varieties = varieties_of(
      "name,species,type,endophyte,endophyte_stated_by,market,publish_as,withheld,check,note\n"
      "LX 4 (novel AX1),tall fescue,late,novel AX1,the entrant,on sale,Alder Brook "
      "Plus,,yes,\"seed, new\"\nLX 5,,,,,experimental,,yes,,\n");
  const Variety* first = varieties.find("LX 4 (novel AX1)");
  ASSERT_NE(first, nullptr);
  EXPECT_EQ(*first, (Variety{"LX 4 (novel AX1)", "tall fescue", "late", "novel AX1", "the entrant",
                             Market::kOnSale, "Alder Brook Plus", false, true, "seed, new",
                             "v.csv line 2"}));
  const Variety* second = varieties.find("LX 5");
  ASSERT_NE(second, nullptr);
  EXPECT_EQ(second->market, Market::kExperimental);
  EXPECT_TRUE(second->withheld);
  EXPECT_FALSE(second->check);
  EXPECT_EQ(varieties.find("LX 6"), nullptr);
}

TEST(VarietiesFile, ANameIsEnough) {
  const Varieties varieties = varieties_of("name\nLX 4\n");
  ASSERT_NE(varieties.find("LX 4"), nullptr);
  EXPECT_EQ(varieties.find("LX 4")->market, Market::kNotStated);
  EXPECT_EQ(varieties.printed("LX 4"), "LX 4");
}

TEST(VarietiesFile, FaultsOfTheFirstLine) {
  EXPECT_THAT(variety_faults("species,colour\nalfalfa,green\n"),
              ElementsAre("v.csv line 1: column \"colour\" is not known",
                          "v.csv line 1: column \"name\" is missing"));
}

TEST(VarietiesFile, FaultsOfRows) {
  EXPECT_THAT(variety_faults("name,market,withheld,check\n"
                             ",on sale,,\n"
                             "A,sold,no,x\n"
                             "B,,,\n"
                             "B,,yes,\n"
                             "\"C\nD\",,,\n"),
              ElementsAre("v.csv line 2, column name: the cell is empty",
                          "v.csv line 3, column market: \"sold\" is not known here",
                          "v.csv line 3, column withheld: \"no\" is not known here",
                          "v.csv line 3, column check: \"x\" is not known here",
                          "v.csv line 5, column name: \"B\" stands twice, first at v.csv line 4",
                          "v.csv line 6, column name: the cell goes over two lines"));
}

TEST(VarietiesFile, NothingSaysAnotherEndophyteThanTheName) {
  EXPECT_THAT(variety_faults("name,endophyte,publish_as\n"
                             "A (novel AX1),free,\n"
                             "B (novel AX1),novel AX1,B (endophyte-free)\n"
                             "C (endophyte-free),endophyte-free,Cedar\n"
                             "D,novel AX1,Dune (novel AX1)\n"),
              ElementsAre("v.csv line 2, column endophyte: the name says novel AX1, this says "
                          "endophyte-free",
                          "v.csv line 3, column publish_as: the name says novel AX1, this says "
                          "endophyte-free"));
}

TEST(VarietiesFile, NoTextAndNoFile) {
  const auto file = parse_varieties(std::string("PK\x03\x04\0\0", 6), "v.xlsx");
  ASSERT_FALSE(file);
  EXPECT_EQ(file.error().where, "v.xlsx");
  const auto missing = read_varieties(*files::real_file_system(), "/nowhere/at/all/v.csv");
  ASSERT_FALSE(missing);
  EXPECT_EQ(missing.error().kind, ErrorKind::kNotFound);
}

TEST(VarietiesKnown, WhatAPlanSaysFillsWhatTheFileLeavesOpen) {
  Varieties varieties = varieties_of(
      "name,species,endophyte,endophyte_stated_by\nA,,novel AX1,the breeder\nB,alfalfa,,\n");
  varieties.also({.name = "A",
                  .species = "tall fescue",
                  .type = "",
                  .endophyte = "novel",
                  .endophyte_stated_by = "the entrant",
                  .check = true});
  varieties.also({.name = "B",
                  .species = "red clover",
                  .type = "",
                  .endophyte = "free",
                  .endophyte_stated_by = "a test"});
  varieties.also(
      {.name = "C", .species = "alfalfa", .type = "", .endophyte = "", .endophyte_stated_by = ""});
  EXPECT_EQ(varieties.find("A")->species, "tall fescue");
  EXPECT_EQ(varieties.find("A")->endophyte, "novel AX1");
  EXPECT_EQ(varieties.find("A")->endophyte_stated_by, "the breeder");
  EXPECT_TRUE(varieties.find("A")->check);
  EXPECT_EQ(varieties.find("B")->species, "alfalfa");
  EXPECT_EQ(varieties.find("B")->endophyte, "free");
  EXPECT_EQ(varieties.find("B")->endophyte_stated_by, "a test");
  ASSERT_NE(varieties.find("C"), nullptr);
}

TEST(VarietiesPrinted, TheNameInPrintOrNone) {
  const Varieties varieties =
      varieties_of("name,publish_as,withheld\nLX 4,Alder,\nLX 5,Elder,yes\n");
  EXPECT_EQ(varieties.printed("LX 4"), "Alder");
  EXPECT_EQ(varieties.printed("LX 5"), std::nullopt);
  EXPECT_EQ(varieties.printed("Birch"), "Birch");
  const Varieties shown = varieties.printed();
  ASSERT_EQ(shown.all().size(), 1U);
  EXPECT_NE(shown.find("Alder"), nullptr);
  EXPECT_EQ(shown.printed("Alder"), "Alder");
}

std::vector<std::string> twice(const std::vector<std::string>& labels, const std::string& rows) {
  std::vector<std::string> lines;
  for (const Error& fault :
       printed_twice(labels, varieties_of("name,publish_as,withheld\n" + rows))) {
    EXPECT_EQ(fault.kind, ErrorKind::kConflict);
    lines.push_back(fault.where + ": " + fault.what);
  }
  return lines;
}

TEST(VarietiesPrinted, TwoEntriesUnderOneNameAreAFault) {
  EXPECT_THAT(twice({"Alder", "LX 4"}, "LX 4,Alder,\n"),
              ElementsAre("v.csv line 2, column publish_as: \"LX 4\" is to be published as "
                          "\"Alder\", which is the name of another entry"));
  EXPECT_THAT(twice({"LX 4", "LX 5"}, "LX 4,Alder,\nLX 5,Alder,\n"),
              ElementsAre("v.csv line 3, column publish_as: \"LX 5\" is to be published as "
                          "\"Alder\", which is the name of \"LX 4\" in print"));
  // A withheld entry has its name, too.
  EXPECT_THAT(twice({"Alder", "LX 4"}, "LX 4,Alder,\nAlder,,yes\n"), ::testing::SizeIs(1));
}

TEST(VarietiesPrinted, ANameThatIsFreeMayBeTaken) {
  EXPECT_THAT(twice({"LX 4"}, "LX 4,Alder,\n"), IsEmpty());
  EXPECT_THAT(twice({"LX 4", "LX 5"}, "LX 4,LX 5,\nLX 5,Alder,\n"), IsEmpty());
  EXPECT_THAT(twice({"LX 4", "LX 5"}, "LX 4,Alder,\nLX 5,Alder,yes\n"), IsEmpty());
  EXPECT_THAT(twice({"LX 4"}, "LX 4,LX 4,\n"), IsEmpty());
}

const std::vector<std::pair<std::string, double>> kEntries = {
    {"Amber", 10.0}, {"Birch", 11.0}, {"Cedar", 20.0}};

// Three entries in three blocks of two tests; Cedar is the best by far.
std::vector<PlotValue> three_entries() {
  std::vector<PlotValue> values;
  for (const std::string test : {"T1", "T2"}) {
    for (int rep = 1; rep <= 3; ++rep) {
      double step = 0.1 * rep * (test == "T1" ? 1 : 2);
      for (const auto& [entry, value] : kEntries) {
        values.push_back({test, "", 2024, "1", std::to_string(rep), entry, "", value + step});
        step = -step;
      }
    }
  }
  return values;
}

TEST(VarietiesPrinted, FiguresStayAsAnalysed) {
  const std::vector<Analysis> analyses = analyse(three_entries(), {});
  const Varieties varieties =
      varieties_of("name,publish_as,withheld\nCedar,,yes\nAmber,Zelkova,\n");
  const PrintedAnalyses shown = printed(analyses, varieties);
  EXPECT_THAT(shown.withheld, ElementsAre(WithheldCount{"T1", 1}, WithheldCount{"T2", 1}));
  ASSERT_EQ(shown.analyses.size(), 2U);
  const std::vector<EntryMean>& means = shown.analyses[0].means;
  ASSERT_EQ(means.size(), 2U);
  EXPECT_EQ(means[0].entry, "Birch");
  EXPECT_EQ(means[1].entry, "Zelkova");
  EXPECT_EQ(means[0].rank, 2U);
  EXPECT_EQ(means[1].rank, 3U);
  EXPECT_EQ(means[0].in_top_group, false);
  EXPECT_EQ(means[1].mean, analyses[0].means[0].mean);
  EXPECT_EQ(means[1].percent_of_mean, analyses[0].means[0].percent_of_mean);
  EXPECT_EQ(shown.analyses[0].entries, 3U);
  EXPECT_EQ(shown.analyses[0].lsd, analyses[0].lsd);
  EXPECT_EQ(shown.analyses[0].mean_of_entries, analyses[0].mean_of_entries);
}

TEST(VarietiesPrinted, AnEntryOfSeveralCuttingsIsWithheldOnce) {
  std::vector<PlotValue> values = three_entries();
  for (PlotValue value : three_entries()) {
    value.cutting = "2";
    values.push_back(value);
  }
  const PrintedAnalyses shown =
      printed(analyse(values, {}), varieties_of("name,withheld\nCedar,yes\nBirch,yes\n"));
  EXPECT_THAT(shown.withheld, ElementsAre(WithheldCount{"T1", 2}, WithheldCount{"T2", 2}));
}

std::string line_of_entry(const std::string& csv, const std::string& start) {
  const std::size_t at = csv.find("\n" + start);
  if (at == std::string::npos) return "none";
  return csv.substr(at + 1 + start.size(), csv.find('\n', at + 1) - at - 1 - start.size());
}

std::vector<OutputFile> files_of(const std::vector<Analysis>& analyses, const ReportText& text) {
  TableFolder folder{"", analyses, text};
  FolderFiles made = folder_files(folder);
  std::vector<OutputFile> files = made.tables;
  files.push_back(report_file(std::move(made), {}));
  return files;
}

TEST(VarietiesPrinted, NoFileNamesAWithheldEntryAndNoFigureChanges) {
  const std::vector<Analysis> analyses = analyse(three_entries(), {});
  ReportText text;
  const auto plain = files_of(analyses, text);
  text.known = varieties_of("name,publish_as,withheld\nCedar,,yes\nAmber,Zelkova,\n");
  const auto shown = files_of(analyses, text);
  ASSERT_EQ(plain.size(), shown.size());
  for (std::size_t i = 0; i < shown.size(); ++i) {
    EXPECT_THAT(shown[i].content, Not(HasSubstr("Cedar"))) << shown[i].name;
    EXPECT_THAT(shown[i].content, Not(HasSubstr("Amber"))) << shown[i].name;
  }
  EXPECT_EQ(shown[0].content, plain[0].content);  // tests.csv
  EXPECT_EQ(line_of_entry(shown[1].content, "T1,2024,1,Zelkova"),
            line_of_entry(plain[1].content, "T1,2024,1,Amber"));
  EXPECT_EQ(line_of_entry(shown[2].content, "Zelkova"), line_of_entry(plain[2].content, "Amber"));
  EXPECT_EQ(line_of_entry(shown[3].content, "Zelkova,T2"),
            line_of_entry(plain[3].content, "Amber,T2"));
  // What 100 percent is, below the long-term table.
  const std::string& report = plain.back().content;
  const std::size_t hundred = report.find("100 is 13");
  ASSERT_NE(hundred, std::string::npos);
  EXPECT_THAT(shown.back().content, HasSubstr(report.substr(hundred, 12)));
}

}  // namespace
}  // namespace ligule::results
