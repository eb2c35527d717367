// Where a limit keeps asking, the weather is asked about once for the whole rating or cutting.
#include <algorithm>

#include "tests/app/flow/harvest_fixture.h"

namespace ligule::flow {
namespace {

using ::testing::ElementsAre;
using ::testing::IsEmpty;

// Sixteen plots whose stand is usual from 50 percent on, with wide limits from 25 on.
class WeatherTest : public ::testing::Test {
 protected:
  WeatherTest() {
    Plan plan = wide_plan();
    plan.occasions.back().measures = {"percent_stand"};
    plan_ = plan;
    Definitions& definitions = tablet.model.setup.definitions;
    const Scale* const scale = definitions.scale_for("percent_stand", plan.entries.front().species);
    definitions.limits.push_back(
        {"percent_stand", "", "", scale->units.empty() ? "" : scale->units.front(), 50, {}, "s"});
    tablet.model.trials.push_back({plan, "plan digest", {}});
    tablet.open(plan, "late");
  }
  void rate(std::string_view stand) {
    tablet.rest(std::chrono::seconds{20});
    tablet.choose("percent_stand", stand);
  }
  void rate_so(std::string_view stand) {
    rate(stand);
    tablet.answer("measured_so");
    tablet.settle();
  }
  const Record& last() { return tablet.ledger.back(); }

  Plan plan_;
  Tablet tablet;
};

TEST_F(WeatherTest, TheThirdOfTenPlotsIsAskedAboutTheWeather) {
  rate_so("45");
  rate("80");
  tablet.settle();
  rate_so("45");
  rate("45");
  EXPECT_EQ(tablet.question(), "check.weather");
  tablet.answer("drought");
  EXPECT_EQ(tablet.question(), "") << "the wide limits let it pass";
  tablet.settle();
  EXPECT_THAT(last().answers,
              ElementsAre(Answer{"weather", "drought"}, Answer{"unusual", "drought"}));
  rate("30");
  EXPECT_EQ(tablet.question(), "");
  tablet.settle();
  EXPECT_THAT(last().answers, ElementsAre(Answer{"unusual", "drought"}));
  rate("20");
  EXPECT_EQ(tablet.question(), "check.unusual") << "under half of what is usual";
}

TEST_F(WeatherTest, WhatWasSaidHoldsAfterARestart) {
  for (int plot = 0; plot < 2; ++plot) rate_so("45");
  rate("45");
  tablet.answer("rain");
  tablet.settle();
  tablet.restart();
  tablet.sign_in("AB");
  tablet.open(plan_, "late");
  rate("45");
  EXPECT_EQ(tablet.question(), "");
}

TEST_F(WeatherTest, NothingOfTheKindAsksOfEachPlotAndNoMoreOfTheWeather) {
  for (int plot = 0; plot < 2; ++plot) rate_so("45");
  rate("45");
  tablet.answer("usual_weather");
  EXPECT_EQ(tablet.question(), "check.unusual");
  tablet.answer("measured_so");
  tablet.settle();
  EXPECT_THAT(last().answers,
              ElementsAre(Answer{"weather", "usual_weather"}, Answer{"unusual", "measured_so"}));
  rate("45");
  EXPECT_EQ(tablet.question(), "check.unusual");
}

TEST_F(WeatherTest, EnteredAgainNothingWasSaid) {
  for (int plot = 0; plot < 2; ++plot) rate_so("45");
  const std::size_t before = tablet.ledger.size();
  rate("45");
  tablet.answer("enter_again");
  EXPECT_EQ(tablet.ledger.size(), before);
  rate("60");
  EXPECT_EQ(tablet.question(), "");
  tablet.settle();
  EXPECT_THAT(last().answers, IsEmpty());
  rate("45");
  EXPECT_EQ(tablet.question(), "check.weather");
}

// Proves: the same value entered again says nothing of the weather, so that it is asked of.
TEST_F(WeatherTest, EnteredAgainTheSameTheWeatherIsStillAsked) {
  for (int plot = 0; plot < 2; ++plot) rate_so("45");
  rate("45");
  tablet.answer("enter_again");
  rate("45");
  EXPECT_EQ(tablet.question(), "check.weather");
  tablet.answer("drought");
  tablet.settle();
  EXPECT_THAT(last().answers,
              ElementsAre(Answer{"weather", "drought"}, Answer{"unusual", "drought"}));
}

TEST_F(WeatherTest, OfTwoInTenNobodyAsks) {
  for (int plot = 0; plot < 2; ++plot) rate_so("45");
  for (int plot = 0; plot < 8; ++plot) {
    rate("80");
    tablet.settle();
  }
  rate("45");
  EXPECT_EQ(tablet.question(), "check.unusual") << "the first two lie eleven plots back";
}

class WeatherHarvestTest : public HarvestTest {};

// Proves: a clock that was set back is asked about once a day and cutting.
TEST_F(WeatherHarvestTest, AClockThatWentBackAsksOnce) {
  start();
  weigh("30.5");
  tablet.settle();
  tablet.rest(-std::chrono::minutes{30});
  weigh("31.5");
  EXPECT_EQ(tablet.question(), "check.clock_went_back");
  tablet.answer("clock_is_wrong");
  tablet.settle();
  EXPECT_THAT(last_of("gross_weight").answers,
              ElementsAre(Answer{"clock_went_back", "clock_is_wrong"}));
  tablet.rest(-std::chrono::minutes{30});
  weigh("29.5");
  EXPECT_EQ(tablet.question(), "");
}

}  // namespace
}  // namespace ligule::flow
