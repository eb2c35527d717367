// Cautions: where they matter, once a day to each person, readable again.
#include "app/flow/cautions.h"

#include "tests/app/flow/harvest_fixture.h"

namespace ligule::flow {
namespace {

using ::testing::Contains;
using ::testing::ElementsAre;
using ::testing::IsEmpty;
using ::testing::Not;

class CautionsTest : public ::testing::Test {
 protected:
  CautionsTest() { tablet.reads_cautions = false; }
  std::vector<std::string> shown() const {
    const auto view = tablet.above().cautions;
    return view ? view->codes : std::vector<std::string>();
  }
  Tablet tablet;
};

// Proves: cautions show once a day each, one tap.
TEST_F(CautionsTest, HarvestShowsItsOwnOnceADay) {
  EXPECT_THAT(shown(), IsEmpty());
  tablet.open(grass_plan(), "cut1");
  EXPECT_THAT(shown(), ElementsAre("harvest", "flail", "heat", "lifting"));
  tablet.tap(ChooseSurface{"dew"});
  EXPECT_THAT(shown(), Not(IsEmpty())) << "nothing else is taken in";
  tablet.tap(ReadCautions{});
  EXPECT_THAT(shown(), IsEmpty());
  tablet.settle();
  tablet.tap(ShowToday{});
  tablet.open(grass_plan(), "cut1");
  EXPECT_THAT(shown(), IsEmpty());
  tablet.next_day();
  tablet.open(grass_plan(), "cut1");
  EXPECT_THAT(shown(), Contains("harvest"));
}

TEST_F(CautionsTest, WhatWasReadTodayIsRememberedWithTheTablet) {
  tablet.open(grass_plan(), "cut1");
  tablet.tap(ReadCautions{});
  tablet.settle();
  ASSERT_TRUE(tablet.stored);
  const auto& read = tablet.stored->cautions_read.at(*tablet.ledger.front().person);
  EXPECT_EQ(read.at("harvest"), "2026-05-04");
}

TEST_F(CautionsTest, WhoeverTakesTheTabletReadsThemToo) {
  tablet.open(grass_plan(), "cut1");
  tablet.tap(ReadCautions{});
  tablet.settle();
  tablet.tap(HandOver{});
  tablet.tap(PickPerson{"CD"});
  EXPECT_THAT(shown(), Contains("harvest"));
}

TEST_F(CautionsTest, ATrialThatHoldsThemBringsThoseOfItsSpecies) {
  for (Species& species : tablet.model.setup.definitions.species)
    if (species.code == "tall_fescue") species.group = "warm_season_annual";
  tablet.model.trials.front().plan.entries.front().endophyte = Endophyte::kToxic;
  tablet.open(grass_plan(), "cut1");
  EXPECT_THAT(shown(), Not(Contains("prussic_acid"))) << "not every warm-season annual has it";
  tablet.tap(ReadCautions{});
  tablet.tap(ShowToday{});
  tablet.next_day();
  for (PlanEntry& entry : tablet.model.trials.front().plan.entries)
    if (entry.species == "alfalfa") entry.species = "sorghum_sudangrass";
  tablet.open(grass_plan(), "cut1");
  EXPECT_THAT(shown(), ElementsAre("harvest", "flail", "heat", "lifting", "nitrate", "prussic_acid",
                                   "toxic_endophyte"));
}

TEST_F(CautionsTest, TheOvenHasItsOwn) {
  tablet.tap(ShowDryWeights{});
  EXPECT_THAT(shown(), ElementsAre("oven", "hay_heating"));
  tablet.tap(ReadCautions{});
  EXPECT_THAT(shown(), IsEmpty());
}

TEST_F(CautionsTest, RatingIsNotHeldUp) {
  tablet.open(grass_plan(), "stand");
  EXPECT_THAT(shown(), IsEmpty());
}

TEST_F(CautionsTest, AllOfThemAreReadableAgain) {
  tablet.tap(ShowTablet{});
  tablet.tap(ShowCautions{});
  const auto view = std::get<TabletView>(view_of(tablet.model));
  EXPECT_EQ(view.cautions, all_cautions());
  EXPECT_THAT(view.cautions, Contains("live_fence"));
  tablet.tap(ShowTablet{});
  EXPECT_THAT(std::get<TabletView>(view_of(tablet.model)).cautions, IsEmpty());
}

}  // namespace
}  // namespace ligule::flow
