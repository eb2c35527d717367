// When limits keep asking, the weather is asked about once, and limits are wide afterwards.
#include "storage/checks/weather.h"

#include <gtest/gtest.h>

#include "tests/storage/checks/rule_case.h"

namespace ligule::checks {
namespace {

class Weather : public ::testing::Test {
 protected:
  // A height of a stand that is usually 4 to 60 in; two of the nine plots before were asked about.
  Case tall(std::string_view entered, int asked = 2) {
    Case made("plant_height_stretched", scale_of(ScaleKind::kLength, {"in", "cm"}), entered, "in");
    made.history.usual = &usual_;
    made.history.limits_asked = asked;
    return made;
  }
  Limit usual_{"plant_height_stretched", "", "", "in", 4, 60, "s", {}, 120};
};

TEST_F(Weather, TheThirdOfTenIsAskedAboutTheWeatherFirst) {
  EXPECT_EQ(codes(tall("61", 1).verdict()), "unusual");
  EXPECT_EQ(codes(tall("61").verdict()), "weather unusual");
  EXPECT_EQ(codes(tall("60", 9).verdict()), "") << "this one is usual";
  EXPECT_EQ(codes(tall("121").verdict()), "out_of_limits") << "no weather makes it so";
}

TEST_F(Weather, WhatTheWideLimitsLetPassIsAnsweredWithIt) {
  // Half as much again as 60 are 90; half of 4 are 2.
  EXPECT_TRUE(tall("90").verdict().findings.at(1).by_weather);
  EXPECT_FALSE(tall("90.1").verdict().findings.at(1).by_weather);
  EXPECT_TRUE(tall("2").verdict().findings.at(1).by_weather);
  EXPECT_FALSE(tall("1.9").verdict().findings.at(1).by_weather);
  EXPECT_FALSE(tall("90", 0).verdict().findings.front().by_weather) << "nobody asks about it";
}

TEST_F(Weather, OnceAnsweredLimitsAreWide) {
  Case wet = tall("90");
  wet.history.weather = "rain";
  const Verdict kept = wet.verdict();
  EXPECT_EQ(codes(kept), "");
  EXPECT_EQ(kept.answered, (std::vector<Answer>{{"unusual", "rain"}}))
      << "the record says why nobody was asked";
  Case more = tall("91");
  more.history.weather = "rain";
  EXPECT_EQ(codes(more.verdict()), "unusual");
  Case no = tall("61");
  no.history.weather = "usual_weather";
  EXPECT_EQ(codes(no.verdict()), "unusual") << "it is not the weather, and not asked again";
}

TEST_F(Weather, ALimitMaySayHowWideItGets) {
  usual_.weather_above = 70;
  Case wet = tall("75");
  wet.history.weather = "rain";
  EXPECT_EQ(codes(wet.verdict()), "unusual");
}

TEST_F(Weather, WhatTheCrewSetsItselfNoWeatherExplains) {
  usual_.weather = false;
  EXPECT_EQ(codes(tall("61").verdict()), "unusual");
  Case wet = tall("61");
  wet.history.weather = "rain";
  EXPECT_EQ(codes(wet.verdict()), "unusual");
}

TEST_F(Weather, YieldAndDryMatterAreLimitsToo) {
  const Limit yield{"cutting_yield", "", "", "ton/acre", 0.1, 4, "s"};
  // 3 by 20 ft are 60 / 43560 acre: 111 lb at 10 percent of dry matter are 4.029 ton/acre.
  Case heavy("gross_weight", scale_of(ScaleKind::kMass, {"lb"}), "111", "lb");
  heavy.history.cutting_yield = &yield;
  heavy.history.strip = area(*length_in(3, "ft"), *length_in(20, "ft"));
  heavy.history.limits_asked = 2;
  EXPECT_EQ(codes(heavy.verdict()), "weather yield_unusual");
  heavy.history.weather = "late";
  EXPECT_EQ(codes(heavy.verdict()), "");

  const Limit dry{"dry_matter_percent", "", "", "percent", 10, 50, "s", {}, {}, 8, 60};
  Case bag = grams("sample_dry", "275");
  bag.history.sample_fresh = in_grams(500);
  bag.history.dry_matter = &dry;
  bag.history.limits_asked = 2;
  EXPECT_EQ(codes(bag.verdict()), "weather dry_matter_unusual") << "55 percent";
  bag.history.weather = "drought";
  EXPECT_EQ(codes(bag.verdict()), "");
  bag.candidate.entered = "305";
  EXPECT_EQ(codes(bag.verdict()), "dry_matter_unusual") << "61 percent are asked about for ever";
}

// Proves: where the weather answers for a yield, a weight far from the others is still asked about.
TEST_F(Weather, WhatItExplainsOfAYieldItDoesNotExplainOfOneWeight) {
  const Limit yield{"cutting_yield", "", "", "ton/acre", 0.1, 4, "s"};
  Case heavy("gross_weight", scale_of(ScaleKind::kMass, {"lb"}), "150", "lb");  // 5.4 ton/acre
  heavy.history.cutting_yield = &yield;
  heavy.history.strip = area(*length_in(3, "ft"), *length_in(20, "ft"));
  heavy.history.weather = "rain";
  heavy.history.expected = ExpectedWeight{50, 45, 55};  // kilograms: 99 to 121 lb
  EXPECT_EQ(codes(heavy.verdict()), "weight_unexpected");
  EXPECT_EQ(heavy.verdict().answered, (std::vector<Answer>{{"yield_unusual", "rain"}}));
  heavy.history.weather.clear();
  EXPECT_EQ(codes(heavy.verdict()), "yield_unusual") << "one thing is asked about once";
}

TEST_F(Weather, WhatWasSaidLastIsHeardInAnyOrder) {
  const auto said = [](int minute, const char* phrase) {
    Record record;
    record.at.utc = UtcInstant{std::chrono::minutes{minute}};
    record.answers = {{"weather", phrase}};
    return record;
  };
  WeatherHeard heard;
  EXPECT_EQ(heard.said(), "");
  heard.hear(said(5, "rain"));
  heard.hear(said(2, "drought"));
  heard.hear(Record{});
  EXPECT_EQ(heard.said(), "rain");
  heard.hear(said(7, "usual_weather"));
  EXPECT_EQ(heard.said(), "usual_weather");
}

TEST_F(Weather, WhatWasSaidIsFoundInAnswers) {
  const auto said = [](const std::vector<Answer>& answers) { return weather_in(answers); };
  EXPECT_EQ(said({}), "");
  EXPECT_EQ(said({{"unusual", "measured_so"}}), "");
  EXPECT_EQ(said({{"weather", "frost"}, {"unusual", "frost"}}), "frost");
  EXPECT_EQ(said({{"yield_unusual", "drought"}}), "drought") << "what the wide limits let pass";
  EXPECT_EQ(said({{"weather", "usual_weather"}}), "usual_weather");
  EXPECT_FALSE(widens("usual_weather"));
  EXPECT_FALSE(widens("enter_again"));
  EXPECT_TRUE(widens("late"));
}

}  // namespace
}  // namespace ligule::checks
