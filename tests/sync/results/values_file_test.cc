#include "sync/results/values_file.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <memory>

namespace ligule::results {
namespace {

using ::testing::ElementsAre;
using ::testing::HasSubstr;

const std::string kHeader = "test,site,year,cutting,rep,entry,value\n";

ValuesFile parse(const std::string& text) {
  const Result<ValuesFile> file = parse_values(text, "v.csv");
  EXPECT_TRUE(file) << one_line(file.error());
  return file.value_or(ValuesFile{});
}

std::vector<std::string> faults_of(const std::string& text) {
  std::vector<std::string> lines;
  for (const Error& fault : parse(text).faults) {
    EXPECT_EQ(fault.kind, ErrorKind::kInvalid);
    EXPECT_FALSE(fault.mend.empty()) << fault.what;
    lines.push_back(fault.where + ": " + fault.what);
  }
  return lines;
}

TEST(ValuesFile, ReadsEveryColumn) {
  const ValuesFile file = parse(
      "test,site,year,cutting,rep,entry,value,plot\n"
      "T1,North,2023,2,1,\"Say \"\"hi\"\", Joe\",5.25,101\n");
  ASSERT_EQ(file.values.size(), 1U);
  const PlotValue& value = file.values.front();
  EXPECT_EQ(value.test, "T1");
  EXPECT_EQ(value.site, "North");
  EXPECT_EQ(value.year, 2023);
  EXPECT_EQ(value.cutting, "2");
  EXPECT_EQ(value.rep, "1");
  EXPECT_EQ(value.entry, "Say \"hi\", Joe");
  EXPECT_EQ(value.value, 5.25);
  EXPECT_EQ(value.plot, "101");
}

// A sheet saved where the comma is the decimal sign: one line says what to do.
TEST(ValuesFile, OtherSeparatorsAreToldOnce) {
  for (const char* text : {"test;site;year;cutting;rep;entry;value\nT1;;2023;1;1;A;3,5\n",
                           "test\tsite\tyear\tcutting\trep\tentry\tvalue\nT1\t\t\t\t1\tA\t3\n"})
    EXPECT_THAT(faults_of(text),
                ElementsAre("v.csv line 1: the columns are not separated by commas"));
}

TEST(ValuesFile, EmptyYearAndValueAreKnownToBeUnknown) {
  const ValuesFile file = parse(kHeader + "T1,,,,1,A,\n");
  ASSERT_EQ(file.values.size(), 1U);
  EXPECT_FALSE(file.values.front().year);
  EXPECT_FALSE(file.values.front().value);
}

TEST(ValuesFile, TakesWhatSpreadsheetsWrite) {
  const ValuesFile file = parse(
      "\xef\xbb\xbftest,site,year,cutting,rep,entry,value\r\n"
      "T1,,2023,1,1,A, 5.0 \r\n\r\n,,,,,,\r\nT1,,2023,1,1,007,6\r\n");
  EXPECT_TRUE(file.faults.empty());
  ASSERT_EQ(file.values.size(), 2U);
  EXPECT_EQ(file.values[1].entry, "007");
}

TEST(ValuesFile, BlankMarginsOfASheetDoNotCount) {
  const ValuesFile file = parse(
      "test,site,year,cutting,rep,entry,value,,\n"
      "T1,,2023,1,1,A,5,,\n , ,,,,,,,\nT1,,2023,1,1,B,,,\n");
  EXPECT_TRUE(file.faults.empty()) << one_line(file.faults.front());
  ASSERT_EQ(file.values.size(), 2U);
  EXPECT_FALSE(file.values[1].value);
  EXPECT_THAT(faults_of("test,site,year,cutting,rep,entry,value,\nT,,1,1,1,A,5,wet\n"),
              ElementsAre("v.csv line 1: column 8 \"\" is not known"));
}

TEST(ValuesFile, BlanksAroundALabelDoNotMakeAnotherEntry) {
  EXPECT_THAT(faults_of(kHeader + "T,,1,1,1,A,1\nT,,1,1,1, A ,1\n"),
              ElementsAre(HasSubstr("entry \"A\" already has this plot")));
}

TEST(ValuesFile, LabelsThatDifferInCaseOrZerosStayApart) {
  EXPECT_TRUE(faults_of(kHeader + "T,,1,1,b,7,1\nT,,1,1,B,7,1\nT,,1,1,b,007,1\n").empty());
}

TEST(ValuesFile, ColumnsMayStandInAnyOrder) {
  const ValuesFile file = parse("value,entry,rep,cutting,year,site,test\n3,A,1,1,2020,S,T\n");
  ASSERT_EQ(file.values.size(), 1U);
  EXPECT_EQ(file.values.front().test, "T");
  EXPECT_EQ(file.values.front().value, 3.0);
}

TEST(ValuesFile, EveryFaultOfEveryLineIsListedAtOnce) {
  EXPECT_THAT(
      faults_of(kHeader + "T1,,2023,1,1,A,5\n"
                          ",,x,1,1,A,5t\n"
                          "T1,,2023,total,1,,6\n"
                          "T1,,2023,1,2,A\n"
                          "T1,,2023,1,1,A,7\n"
                          "T1,,2023,1,,B,7\n"),
      ElementsAre("v.csv line 3 column 1 (test): the test is empty",
                  "v.csv line 3 column 3 (year): \"x\" is no year",
                  "v.csv line 3 column 7 (value): \"5t\" is no number",
                  "v.csv line 4 column 4 (cutting): \"total\" is kept for sums",
                  "v.csv line 4 column 6 (entry): the entry is empty",
                  "v.csv line 5: 6 fields where the first line has 7",
                  "v.csv line 6 column 6 (entry): entry \"A\" already has this plot and cutting on "
                  "line 2",
                  "v.csv line 7 column 5 (rep): the rep is empty while other rows of this test and "
                  "cutting name one"));
}

TEST(ValuesFile, ALabelKeepsToOneLine) {
  EXPECT_THAT(faults_of(kHeader + "T,,1,1,1,\"A\nold seed\",5\nT,,1,1,1,B,5\n"),
              ElementsAre("v.csv line 2 column 6 (entry): the entry goes over two lines"));
}

TEST(ValuesFile, SumsAndOddNumbersAreRefused) {
  EXPECT_THAT(faults_of(kHeader + "T1,,all,1,1,A,5\nT1,,2023,all,1,B,5\nT1,,2023.5,1,1,C,5\n"
                                  "T1,,2023,1,1,D,nan\nT1,,2023,1,1,E,\"1,5\"\n"
                                  "T1,,2023,1,1,F,1e999\nT1,,2023,1,1,G,NA\n"),
              ElementsAre(HasSubstr("\"all\" is no year"), HasSubstr("\"all\" is kept for sums"),
                          HasSubstr("\"2023.5\" is no year"), HasSubstr("\"nan\" is no number"),
                          HasSubstr("\"1,5\" is no number"), HasSubstr("\"1e999\" is no number"),
                          HasSubstr("\"NA\" is no number")));
}

TEST(ValuesFile, RepeatedPlotsNeedNumbers) {
  const std::string header = "test,site,year,cutting,rep,entry,value,plot\n";
  EXPECT_TRUE(faults_of(header + "T,,1,1,1,A,5,1\nT,,1,1,1,A,6,2\n").empty());
  EXPECT_THAT(faults_of(header + "T,,1,1,1,A,5,1\nT,,1,1,1,A,6,1\n"),
              ElementsAre(HasSubstr("line 3 column 6 (entry): entry \"A\" already has")));
}

TEST(ValuesFile, FaultsOfTheFirstLineAreListedAlone) {
  EXPECT_THAT(faults_of("test,site,yeer,cutting,rep,entry,entry\nT,,,,,,\n"),
              ElementsAre("v.csv line 1: column 3 \"yeer\" is not known",
                          "v.csv line 1: column \"entry\" stands twice",
                          "v.csv line 1: column \"year\" is missing",
                          "v.csv line 1: column \"value\" is missing"));
  EXPECT_THAT(faults_of("test;site;year;cutting;rep;entry;value\n").front(),
              HasSubstr("are not separated by commas"));
  EXPECT_THAT(faults_of(""), ElementsAre("v.csv line 1: the file is empty"));
  // But what is no text at all is told alone.
  EXPECT_THAT(faults_of("test,yeer\nT,Bl\xe9\n"), ElementsAre(HasSubstr("not UTF-8")));
}

// Many enough for several threads.
std::string many_rows() {
  std::string text = kHeader;
  for (int row = 0; row < 20'000; ++row)
    text += "T" + std::to_string(row / 100) + ",Hill,2024,1," + std::to_string(row % 4) + ",E" +
            std::to_string(row % 100) + "," + std::to_string(row) + "\n";
  return text;
}

TEST(ValuesFile, ALongFileIsReadAsAShortOne) {
  const ValuesFile file = parse(many_rows());
  ASSERT_EQ(file.values.size(), 20'000U);
  for (std::size_t row = 0; row < file.values.size(); ++row) {
    ASSERT_EQ(file.values[row].value, static_cast<double>(row));
    ASSERT_EQ(file.values[row].entry, "E" + std::to_string(row % 100));
    ASSERT_EQ(file.lines[row], row + 2);
  }
}

TEST(ValuesFile, FaultsOfALongFileHaveTheLinesOfIt) {
  std::string text = many_rows();
  text.insert(text.find("\nT10,") + 1, "T10,Hill,2024,1,1,Z\n\n");  // rows 1000, after line 1001
  text += "T199,Hill,2024,1,3,E99,9\nT0,,,,,A,5t\n";
  EXPECT_THAT(faults_of(text),
              ElementsAre("v.csv line 1002: 6 fields where the first line has 7",
                          HasSubstr("v.csv line 20004 column 6 (entry): entry \"E99\" already has "
                                    "this plot and cutting on line 20003"),
                          "v.csv line 20005 column 7 (value): \"5t\" is no number"));
  EXPECT_THAT(faults_of(text + "T,,,,,\xe9,5\n"),
              ElementsAre("v.csv line 20006: the text is not UTF-8"));
}

TEST(ValuesFile, AQuoteInALongFileMayReachOverLines) {
  EXPECT_THAT(faults_of(many_rows() + "T,,1,1,1,\"A\nold seed\",5\nT,,1,1,1,\"B, c\",5\n"),
              ElementsAre("v.csv line 20002 column 6 (entry): the entry goes over two lines"));
}

TEST(ValuesFile, OpenQuotesAndForeignTextAreFaults) {
  EXPECT_THAT(faults_of(kHeader + "T,,1,1,1,\"A,5\n"), ElementsAre(HasSubstr("v.csv line 2")));
  EXPECT_THAT(faults_of(kHeader + "T,,1,1,1,Bl\xe9,5\n"), ElementsAre(HasSubstr("UTF-8")));
}

TEST(ValuesFile, BytesThatAreNoTextAreNotAValuesFile) {
  const Result<ValuesFile> file = parse_values(std::string("PK\x03\x04\0\0", 6), "v.xlsx");
  ASSERT_FALSE(file);
  EXPECT_EQ(file.error().where, "v.xlsx");
}

TEST(ValuesFile, AFileThatIsNotThereIsNotFound) {
  const Result<ValuesFile> file =
      read_values(*files::real_file_system(), "/nowhere/at/all/values.csv");
  ASSERT_FALSE(file);
  EXPECT_EQ(file.error().kind, ErrorKind::kNotFound);
}

}  // namespace
}  // namespace ligule::results
