#include "sync/desk/table_output.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <filesystem>
#include <sstream>

#include "tests/sync/desk/tables_of_values.h"

namespace ligule::desk {
namespace {

using ::testing::HasSubstr;
using ::testing::Not;

// Values of one test: A best, then B and C; `shift` is added to one plot.
std::string values_csv(double shift = 0.0) {
  std::ostringstream text;
  text << "test,site,year,cutting,rep,entry,value\n";
  for (int rep = 1; rep <= 3; ++rep) {
    text << "T,Hill,2025,1," << rep << ",C," << 10 + rep + (rep == 1 ? shift : 0.0) << '\n'
         << "T,Hill,2025,1," << rep << ",A," << 20 + rep * rep << '\n'
         << "T,Hill,2025,1," << rep << ",B," << 15 + rep * 2 << '\n';
  }
  return text.str();
}

class TableOutput : public TablesOfValues {
 protected:
  TableOutput() { write("v.csv", values_csv()); }

  int tables(const std::vector<std::string>& more = {}) {
    return TablesOfValues::tables("v.csv", "out", more);
  }
  [[nodiscard]] std::string report() const { return read("out/report.html"); }
};

TEST_F(TableOutput, IsADraftUntilItIsReleased) {
  ASSERT_EQ(tables(), 0) << err_.str();
  EXPECT_THAT(out_.str(), HasSubstr("a draft: nobody has released these tables"));
  EXPECT_THAT(report(), HasSubstr("DRAFT."));
  EXPECT_FALSE(std::filesystem::exists(path("out/releases.csv")));
  ASSERT_EQ(
      tables({"--release", "first, of 2025", "--released-by", "MT", "--released-on", "2025-11-20"}),
      0)
      << err_.str();
  EXPECT_THAT(out_.str(), HasSubstr("released: revision 1 of 2025-11-20"));
  EXPECT_THAT(report(), HasSubstr("Revision 1, 2025-11-20, by MT: first, of 2025."));
  // Made again of the same numbers it stays released.
  ASSERT_EQ(tables(), 0);
  EXPECT_THAT(report(), HasSubstr("RELEASED."));
}

TEST_F(TableOutput, AnotherNumberMakesItADraftAgainAndTheNextReleaseAdds) {
  ASSERT_EQ(tables({"--release", "first", "--released-by", "MT", "--released-on", "2025-11-20"}),
            0);
  write("v.csv", values_csv(0.5));
  ASSERT_EQ(tables(), 0);
  EXPECT_THAT(out_.str(), HasSubstr("a draft: these are not the tables released on 2025-11-20"));
  EXPECT_THAT(report(), HasSubstr("not those released on 2025-11-20"));
  ASSERT_EQ(tables({"--release", "plot C 1 mended", "--released-by", "MT", "--released-on",
                    "2025-12-02"}),
            0);
  EXPECT_THAT(report(), HasSubstr("Revision 2, 2025-12-02"));
  EXPECT_THAT(report(), HasSubstr("<li>Revision 1, 2025-11-20, by MT: first</li>"));
  EXPECT_THAT(read("out/releases.csv"), HasSubstr("2025-12-02,MT,plot C 1 mended,"));
}

TEST_F(TableOutput, AReleaseBeforeTheLastOneIsRefusedAndNothingIsWritten) {
  ASSERT_EQ(tables({"--release", "first", "--released-by", "MT", "--released-on", "2025-11-20"}),
            0);
  const std::string before = report();
  EXPECT_EQ(tables({"--release", "x", "--released-by", "MT", "--released-on", "2025-11-19"}), 1);
  EXPECT_THAT(err_.str(), HasSubstr("a later revision was released already"));
  EXPECT_EQ(report(), before);
}

TEST_F(TableOutput, ReleasesThatCannotBeReadStopIt) {
  std::filesystem::create_directory(path("out"));
  write("out/releases.csv", "date,released_by,changed,tables\n2025-11-20,MT,first,abc\n");
  EXPECT_EQ(tables(), 1);
  EXPECT_THAT(err_.str(), HasSubstr("releases.csv line 2"));
  EXPECT_FALSE(std::filesystem::exists(path("out/report.html")));
}

TEST_F(TableOutput, ReleaseOptionsGoTogether) {
  EXPECT_EQ(tables({"--release", "first"}), 2);
  EXPECT_THAT(err_.str(), HasSubstr("--release needs --released-by"));
  EXPECT_EQ(tables({"--released-by", "MT"}), 2);
  EXPECT_THAT(err_.str(), HasSubstr("go with --release"));
  EXPECT_EQ(tables({"--release", "first", "--released-by", "MT", "--released-on", "tomorrow"}), 2);
  EXPECT_EQ(tables({"--release", " ", "--released-by", "MT"}), 2);
}

TEST_F(TableOutput, TheLevelIsOfTheLsdAndNamesItsColumn) {
  ASSERT_EQ(tables(), 0);
  EXPECT_THAT(read("out/tests.csv"), HasSubstr("cv_percent,lsd_05\n"));
  const std::string at_05 = read("out/tests.csv");
  ASSERT_EQ(tables({"--level", "0.10"}), 0);
  EXPECT_THAT(read("out/tests.csv"), HasSubstr("cv_percent,lsd_10\n"));
  EXPECT_THAT(report(), HasSubstr("LSD 0.10"));
  // By hand: the ratio of the two is that of Student's t with 4 df, 2.1318 over 2.7764 (trade-facts
  // 5.1 has others of the same table; these from memory).
  const auto last_number = [](const std::string& text) {
    const std::size_t line = text.rfind('\n', text.size() - 2) + 1;
    return std::stod(text.substr(text.rfind(',') + 1, text.size() - line));
  };
  EXPECT_NEAR(last_number(read("out/tests.csv")) / last_number(at_05), 2.131847 / 2.776445, 1e-6);
  EXPECT_EQ(tables({"--level", "0.5"}), 2);
}

TEST_F(TableOutput, EntriesStandByRankOrAsTheFileHasThem) {
  const auto order = [this] {
    const std::string html = report();
    std::string firsts;
    for (auto at = html.find("<tbody>", html.find("id=\"test-1\""));
         (at = html.find("scope=\"row\">", at)) != std::string::npos && firsts.size() < 3; ++at)
      firsts += html[at + 12];
    return firsts;
  };
  ASSERT_EQ(tables(), 0);
  EXPECT_EQ(order(), "ABC");
  ASSERT_EQ(tables({"--plan-order"}), 0);
  EXPECT_EQ(order(), "CAB");
}

TEST_F(TableOutput, AnLsdOfAlikeEntriesIsWithheldWhereTheProgramSaysSo) {
  write("v.csv",
        "test,site,year,cutting,rep,entry,value\nT,S,2025,1,1,A,10\nT,S,2025,1,1,B,12\n"
        "T,S,2025,1,2,A,13\nT,S,2025,1,2,B,11\nT,S,2025,1,3,A,12\nT,S,2025,1,3,B,12\n");
  ASSERT_EQ(tables(), 0);
  EXPECT_THAT(report(), HasSubstr("<td>ns ("));
  ASSERT_EQ(tables({"--withhold-lsd"}), 0);
  EXPECT_THAT(report(), HasSubstr("<td>ns</td>"));
}

TEST_F(TableOutput, NotesAndWeatherStandInTheReport) {
  write("notes.csv", "test,fact,value\nT,Soil,silt loam\nX,Soil,clay\n");
  write("weather.csv",
        "site,year,month,rain,rain_unit,normal_rain,temperature,temperature_unit,"
        "normal_temperature\nHill,2025,5,3.2,in,4.1,,,\nVale,2025,5,3.2,in,,,,\n");
  ASSERT_EQ(tables({"--site-notes", path("notes.csv"), "--weather", path("weather.csv")}), 0)
      << err_.str();
  EXPECT_THAT(report(), HasSubstr("<b>Soil</b> <span>silt loam</span>"));
  EXPECT_THAT(report(), HasSubstr("Weather at Hill"));
  EXPECT_THAT(out_.str(), HasSubstr("no test is called \"X\""));
  EXPECT_THAT(out_.str(), HasSubstr("no test lies at \"Vale\""));
}

TEST_F(TableOutput, FaultsOfNotesAndWeatherAreToldTogetherAndNothingIsWritten) {
  write("notes.csv", "test,fact,value\nT,,silt loam\n");
  write("weather.csv", "site,year,month,rain\nHill,2025,5,wet\n");
  EXPECT_EQ(tables({"--site-notes", path("notes.csv"), "--weather", path("weather.csv")}), 1);
  EXPECT_THAT(err_.str(), HasSubstr("notes.csv line 2"));
  EXPECT_THAT(err_.str(), HasSubstr("weather.csv line 2"));
  EXPECT_FALSE(std::filesystem::exists(path("out")));
  EXPECT_EQ(tables({"--site-notes", path("none.csv")}), 2);
}

TEST_F(TableOutput, WhatIsNotMadeAgainDoesNotStayFromARunBefore) {
  ASSERT_EQ(tables({"--wished-lsd", "2"}), 0) << err_.str();
  EXPECT_TRUE(std::filesystem::exists(path("out/next_test.csv")));
  write("out/of_somebody.csv", "kept\n");
  ASSERT_EQ(tables(), 0);
  EXPECT_FALSE(std::filesystem::exists(path("out/next_test.csv")));
  EXPECT_TRUE(std::filesystem::exists(path("out/of_somebody.csv")));
}

TEST_F(TableOutput, MeasuresOfARunBeforeDoNotStayEither) {
  ASSERT_EQ(tables(), 0);
  std::filesystem::create_directories(path("out/measures/percent_stand"));
  write("out/measures/percent_stand/means.csv", "old\n");
  write("out/measures/percent_stand/of_somebody.csv", "kept\n");
  write("out/plots.csv", "old\n");
  ASSERT_EQ(tables(), 0);
  EXPECT_FALSE(std::filesystem::exists(path("out/plots.csv")));
  EXPECT_FALSE(std::filesystem::exists(path("out/measures/percent_stand/means.csv")));
  EXPECT_TRUE(std::filesystem::exists(path("out/measures/percent_stand/of_somebody.csv")));
}

TEST_F(TableOutput, AReleaseThatCouldNotBeReadAgainIsRefused) {
  EXPECT_EQ(tables({"--release", std::string(401, 'x'), "--released-by", "MT"}), 2);
  EXPECT_THAT(err_.str(), HasSubstr("more than 400 bytes"));
  EXPECT_EQ(tables({"--release", "first", "--released-by", std::string(81, 'x')}), 2);
  EXPECT_EQ(tables({"--release", "first", "--released-by", "MT", "--released-on", "2199-01-01"}),
            2);
  EXPECT_THAT(err_.str(), HasSubstr("still to come"));
  EXPECT_FALSE(std::filesystem::exists(path("out")));
}

// How a table is printed is released with it; what plans the next test is not.
TEST_F(TableOutput, TheOrderOfEntriesIsReleasedAndThePlanOfTheNextTestIsNot) {
  ASSERT_EQ(tables({"--release", "first", "--released-by", "MT", "--released-on", "2025-11-20"}),
            0);
  ASSERT_EQ(tables({"--wished-lsd", "10%"}), 0);
  EXPECT_THAT(report(), HasSubstr("RELEASED."));
  ASSERT_EQ(tables({"--plan-order"}), 0);
  EXPECT_THAT(report(), HasSubstr("DRAFT."));
}

// Whether an entry is on sale is printed as its group, and so released; other words are not.
TEST_F(TableOutput, AnotherMarketMakesItADraftAgainAnotherNoteDoesNot) {
  const auto known = [&](const std::string& market, const std::string& note) {
    std::string rows = "name,market,note\n";
    for (const char* const name : {"A", "B", "C"})
      rows += std::string(name).append(",").append(market).append(",").append(note).append("\n");
    write("n.csv", rows);
  };
  known("on sale", "");
  ASSERT_EQ(tables({"--varieties", path("n.csv"), "--release", "first", "--released-by", "MT",
                    "--released-on", "2025-11-20"}),
            0);
  known("on sale", "late");
  ASSERT_EQ(tables({"--varieties", path("n.csv")}), 0);
  EXPECT_THAT(report(), HasSubstr("RELEASED."));
  known("experimental", "late");
  ASSERT_EQ(tables({"--varieties", path("n.csv")}), 0);
  EXPECT_THAT(report(), HasSubstr("DRAFT."));
}

// What is known of an entry goes with the name it is printed under.
TEST_F(TableOutput, AnEntryUnderAnotherNameKeepsItsPlaceItsMarketAndThatItIsACheck) {
  write("n.csv",
        "name,market,publish_as,withheld,check\nC,on "
        "sale,Zelkova,,yes\nB,experimental,,,\nA,,,yes,\n");
  ASSERT_EQ(tables({"--varieties", path("n.csv"), "--plan-order"}), 0) << err_.str();
  const std::string html = report();
  EXPECT_THAT(html, HasSubstr("Zelkova <small>check</small>"));
  EXPECT_LT(html.find("On sale</th>"), html.find("Zelkova <small>"));
  EXPECT_LT(html.find("Zelkova <small>"), html.find("Experimental, not on sale</th>"));
  EXPECT_THAT(html, HasSubstr("% of checks"));
  EXPECT_THAT(html, HasSubstr("1 more entry was grown and analysed and is not shown."));
  for (const char* const file : {"means.csv", "long_term.csv", "press.csv", "report.html"})
    EXPECT_THAT(read("out/" + std::string(file)), Not(HasSubstr(",A,"))) << file;
  EXPECT_THAT(html, Not(HasSubstr("scope=\"row\">A<")));
}

TEST_F(TableOutput, TheReportTellsOfCuttingsOfBlocksAndThatNothingIsEndorsed) {
  std::string two = values_csv();
  for (int rep = 1; rep <= 3; ++rep) {
    for (int entry = 0; entry < 3; ++entry) {
      two += "T,Hill,2025,2," + std::to_string(rep) + "," + "ABC"[entry] + "," +
             std::to_string(5 + (3 * rep + 2 * entry * rep) % 7) + "\n";
    }
  }
  write("v.csv", two);
  ASSERT_EQ(tables(), 0) << err_.str();
  EXPECT_THAT(report(), HasSubstr("(entry x cutting, p"));
  EXPECT_THAT(report(), HasSubstr("<b>Design:</b> Blocks"));
  EXPECT_THAT(report(), HasSubstr("No endorsement of any variety or seller is meant."));
  EXPECT_THAT(read("out/designs.csv"), HasSubstr("T,2025,total,rcb,"));
}

}  // namespace
}  // namespace ligule::desk
