#include "storage/trial/limit.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "storage/trial/scale.h"

namespace ligule {
namespace {

using testing::Contains;
using testing::HasSubstr;
using testing::IsEmpty;

Limit limit_of(std::string species, std::string group, double below) {
  return {"stubble_height", std::move(species), std::move(group), "in", below, {}, "a source"};
}

std::vector<std::string> faults_of(const Limit& limit) {
  std::vector<std::string> lines;
  for (const Error& fault : limit_faults(limit)) lines.push_back(one_line(fault));
  return lines;
}

TEST(Limits, ASoundOneHasASourceAndItsEndsInOrder) {
  Limit limit{"dry_matter_percent", "", "", "percent", 10, 50, "common practice, no source"};
  EXPECT_THAT(faults_of(limit), IsEmpty());
  limit.ask_above.reset();
  EXPECT_THAT(faults_of(limit), IsEmpty()) << "one end is enough";
  limit.ask_above = 10;
  EXPECT_THAT(faults_of(limit), Contains(HasSubstr("the limits are out of order")));
  limit.ask_above = 9;
  EXPECT_THAT(faults_of(limit), Contains(HasSubstr("the limits are out of order")));
  limit.ask_above = 11;
  for (const char* const none : {"", "  ", "\t \n"}) {
    limit.source = none;
    EXPECT_THAT(faults_of(limit), Contains(HasSubstr("no source is named")));
  }
}

TEST(Limits, WhatIsRefusedLiesBeyondWhatIsAskedAbout) {
  Limit limit{"plant_height", "", "", "in", 4, 60, "s"};
  limit.refuse_below = 0;
  limit.refuse_above = 120;
  EXPECT_THAT(faults_of(limit), IsEmpty());
  limit.refuse_above = 60;
  EXPECT_THAT(faults_of(limit), Contains(HasSubstr("out of order")));
  limit.refuse_above.reset();
  limit.refuse_below = 5;
  EXPECT_THAT(faults_of(limit), Contains(HasSubstr("out of order")));
  limit.ask_below.reset();
  limit.ask_above.reset();
  EXPECT_THAT(faults_of(limit), IsEmpty()) << "it refuses and asks nothing";
}

TEST(Limits, OnesOwnTakeThePlaceOfEverybodys) {
  const auto all = overlaid({limit_of("", "annual", 6), limit_of("teff", "", 4)},
                            {limit_of("teff", "", 5), limit_of("millet", "", 7)});
  EXPECT_THAT(all, testing::ElementsAre(limit_of("", "annual", 6), limit_of("teff", "", 5),
                                        limit_of("millet", "", 7)));
}

TEST(Limits, OneThatLimitsNothingOrTooManyIsAFault) {
  EXPECT_THAT(faults_of({"m", "", "", "in", {}, {}, "s"}), Contains(HasSubstr("limits nothing")));
  EXPECT_THAT(faults_of({"m", "timothy", "grass", "in", 4, {}, "s"}),
              Contains(HasSubstr("one species or one group")));
}

TEST(Limits, ASpeciesGoesBeforeItsGroupAndThatBeforeAll) {
  Definitions known;
  known.species = {{"teff", "teff", "annual", false},
                   {"millet", "millet", "annual", false},
                   {"timothy", "timothy", "grass", false}};
  known.limits = {limit_of("", "annual", 6), limit_of("teff", "", 4), limit_of("", "", 3)};
  EXPECT_EQ(known.limit_for("stubble_height", "teff")->ask_below, 4);
  EXPECT_EQ(known.limit_for("stubble_height", "millet")->ask_below, 6);
  EXPECT_EQ(known.limit_for("stubble_height", "timothy")->ask_below, 3);
  EXPECT_EQ(known.limit_for("stubble_height", "unheard_of")->ask_below, 3);
  EXPECT_EQ(known.limit_for("plant_height", "teff"), nullptr);
}

TEST(Limits, WeatherWidensTheEndsOfAsking) {
  Limit limit{"height", "", "", "in", 4, 60, "s"};
  EXPECT_EQ(in_weather(limit).ask_below, 2);
  EXPECT_EQ(in_weather(limit).ask_above, 90);
  limit.refuse_below = 3;
  limit.refuse_above = 80;
  EXPECT_EQ(in_weather(limit).ask_below, 3) << "never beyond what can be";
  EXPECT_EQ(in_weather(limit).ask_above, 80);
  limit.weather_below = 3.5;
  limit.weather_above = 70;
  EXPECT_EQ(in_weather(limit).ask_below, 3.5);
  EXPECT_EQ(in_weather(limit).ask_above, 70);
  EXPECT_THAT(faults_of(limit), testing::IsEmpty());
  limit.weather_above = 60;
  EXPECT_THAT(faults_of(limit), Contains(HasSubstr("out of order")));
  limit.weather_above = 70;
  limit.ask_above.reset();
  EXPECT_THAT(faults_of(limit), Contains(HasSubstr("widens an end that nothing is asked at")));
  EXPECT_FALSE(in_weather(Limit{}).ask_above) << "an open end stays open";
}

// Proves: what a ledger keeps of limits reads back as the same limits, in their order.
TEST(Limits, AreCanonicalTextAndBack) {
  Limit full{"height", "", "grasses", "in", 4, 60.5, "a \"book\", page 3"};
  full.refuse_below = 0;
  full.refuse_above = 300;
  full.weather_below = 2.25;
  full.weather_above = 80;
  full.weather = false;
  const std::vector<Limit> limits{full, limit_of("teff", "", 4)};
  const std::string text = limits_text(limits);
  EXPECT_EQ(text.find('\n'), std::string::npos);
  const auto read = parse_limits_text(text);
  ASSERT_TRUE(read) << one_line(read.error());
  EXPECT_EQ(*read, limits);
  EXPECT_EQ(limits_text(*read), text);
  EXPECT_EQ(parse_limits_text(limits_text({}))->size(), 0U);
  const std::vector<Limit> turned{limits[1], limits[0]};
  EXPECT_NE(limits_text(turned), text) << "their order is theirs";
  for (const char* const bad : {"", "[]", "{}", R"({"limits": 3})", R"({"limits": [{}]})"})
    EXPECT_FALSE(parse_limits_text(bad)) << bad;
}

}  // namespace
}  // namespace ligule
