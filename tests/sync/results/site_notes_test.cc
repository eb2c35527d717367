#include "sync/results/site_notes.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "sync/results/report_weather.h"

namespace ligule::results {
namespace {

using ::testing::ElementsAre;
using ::testing::HasSubstr;
using ::testing::IsEmpty;
using ::testing::Not;
using ::testing::SizeIs;

constexpr const char* kWeatherHead =
    "site,year,month,rain,rain_unit,normal_rain,temperature,temperature_unit,normal_temperature\n";

std::vector<std::string> lines_of(const auto& checked) {
  std::vector<std::string> lines;
  if (checked) return lines;
  for (const Error& error : checked.error()) lines.push_back(one_line(error));
  return lines;
}

TEST(SiteNotes, AreFactsOfATest) {
  const auto facts = parse_site_notes("test,fact,value\nTF24,Soil,\"silt loam, 2 % slope\"\n", "n");
  ASSERT_TRUE(facts);
  EXPECT_THAT(*facts, ElementsAre(StatedFact{"TF24", "Soil", "silt loam, 2 % slope"}));
}

TEST(SiteNotes, EveryFaultIsTold) {
  EXPECT_THAT(lines_of(parse_site_notes("test,fact\nTF24,Soil\n", "n.csv")),
              ElementsAre(HasSubstr("value")));
  EXPECT_THAT(lines_of(parse_site_notes("test,fact,value\n,Soil,loam\nTF24,,x\n", "n.csv")),
              ElementsAre(HasSubstr("n.csv line 2"), HasSubstr("n.csv line 3")));
  EXPECT_THAT(lines_of(parse_site_notes("test,fact,value\nT,Soil,loam\nT,Soil,clay\n", "n.csv")),
              ElementsAre(HasSubstr("\"Soil\" of T stands twice")));
}

TEST(SiteNotes, TakeTheirPlaceAmongTheFacts) {
  std::vector<TestFacts> tests{
      {.test = "T", .facts = {{"Sown", "2024"}, {"Irrigation", "none noted"}}}};
  add_stated({{"T", "Slope", "2 %"},
              {"T", "Soil test", "pH 6.4"},
              {"T", "Irrigation", "twice"},
              {"U", "Soil", "clay"}},
             tests);
  ASSERT_THAT(tests, SizeIs(2));
  EXPECT_THAT(tests[0].facts, ElementsAre(Fact{"Soil", "not stated"}, Fact{"Soil test", "pH 6.4"},
                                          Fact{"Sown", "2024"}, Fact{"Sowing rate", "not stated"},
                                          Fact{"Irrigation", "twice"}, Fact{"Slope", "2 %"}));
  EXPECT_EQ(tests[1].test, "U");
  EXPECT_EQ(tests[1].facts.front(), (Fact{"Soil", "clay"}));
}

TEST(SiteNotes, AStatedSoilTestTakesThePlaceOfThePlansAndOfItsVerdicts) {
  const std::vector<TestFacts> of_plan{
      {.test = "T", .facts = {{"Soil for the stand", "P low"}, {"Soil test", "P 10 ppm"}}}};
  std::vector<TestFacts> tests = of_plan;
  add_stated({}, tests);
  EXPECT_THAT(tests[0].facts,
              ElementsAre(Fact{"Soil", "not stated"}, Fact{"Soil test", "P 10 ppm"},
                          Fact{"Soil for the stand", "P low"}, Fact{"Sowing rate", "not stated"}));
  tests = of_plan;
  add_stated({{"T", "Soil test", "P 90 ppm"}}, tests);
  EXPECT_THAT(tests[0].facts, ElementsAre(Fact{"Soil", "not stated"}, Fact{"Soil test", "P 90 ppm"},
                                          Fact{"Sowing rate", "not stated"}));
}

TEST(Weather, ComesByMonthAndKeepsItsNumbersAsWritten) {
  const auto months = parse_weather(
      std::string(kWeatherHead) + "Hill,2025,5,3.10,in,4.2,,,\nHill,2025,4,2,in,,55,F,54.5\n", "w");
  ASSERT_TRUE(months);
  EXPECT_EQ(months->at(0).month, 4);
  EXPECT_EQ(months->at(1).rain, "3.10");
  EXPECT_EQ(months->at(0).normal_temperature, "54.5");
}

TEST(Weather, EveryFaultIsTold) {
  const auto faults = [](const std::string& rows) {
    return lines_of(parse_weather(kWeatherHead + rows, "w.csv"));
  };
  EXPECT_THAT(faults("Hill,2025,13,1,in,,,,\n"), ElementsAre(HasSubstr("month")));
  EXPECT_THAT(faults("Hill,2025,5,-1,in,,,,\n"), ElementsAre(HasSubstr("rain")));
  EXPECT_THAT(faults("Hill,2025,5,wet,in,,,,\n"), ElementsAre(HasSubstr("rain")));
  EXPECT_THAT(faults("Hill,2025,5,1,,,,,\n"), ElementsAre(HasSubstr("the rain has no unit")));
  EXPECT_THAT(faults("Hill,2025,5,,,,55,,\n"), ElementsAre(HasSubstr("temperature has no unit")));
  EXPECT_THAT(faults("Hill,2025,5,1,in,,,,\nHill,2025,6,30,mm,,,,\n"),
              ElementsAre(HasSubstr("the rain of Hill is in mm here and in in above")));
  EXPECT_THAT(faults("Hill,2025,5,1,in,,,,\nHill,2025,5,2,in,,,,\n"),
              ElementsAre(HasSubstr("this month of Hill stands twice")));
}

TEST(Weather, HasATableForEachYearOfTheTest) {
  const auto months = parse_weather(std::string(kWeatherHead) +
                                        "Hill,2024,5,1,in,,,,\nHill,2025,4,2,in,3,55,F,\n"
                                        "Vale,2025,4,9,in,,,,\n",
                                    "w");
  ASSERT_TRUE(months);
  const std::string html = weather_tables(*months, "Hill", {2025, 2026});
  EXPECT_THAT(html, HasSubstr("Weather at Hill"));
  EXPECT_THAT(html,
              HasSubstr("<th scope=\"row\">Rain, in</th><td>–</td><td>–</td><td>–</td><td>2</td>"));
  EXPECT_THAT(html, HasSubstr("Mean temperature, °F"));
  EXPECT_THAT(html, Not(HasSubstr("2024")));
  EXPECT_THAT(html, Not(HasSubstr("<td>9</td>")));
  EXPECT_THAT(weather_tables(*months, "Moor", {2025}), IsEmpty());
}

}  // namespace
}  // namespace ligule::results
