#include "sync/print/sowing.h"

#include <gtest/gtest.h>

#include "tests/sync/print/planted.h"

namespace ligule::print {
namespace {

TEST(SowingOf, APlanThatSaysAllGivesPacketsTotalsAndSeeds) {
  const Plan plan = planted();
  const Sowing sowing = sown(plan);
  const EntrySowing* const entry = sowing.of("A");
  ASSERT_NE(entry, nullptr);
  EXPECT_EQ(entry->lacks, "");
  EXPECT_EQ(entry->plots, 3U);
  ASSERT_TRUE(entry->packet);
  // 15 lb/acre x 100 ft2 / 43,560 x 453.59237 g / 0.9506.
  EXPECT_NEAR(convert<Grams>(*entry->packet).value(), 16.431, 0.0005);
  EXPECT_EQ(packet_text(*entry->packet), "16.43 g");
  EXPECT_NEAR(convert<Grams>(entry->total().value()).value(), 3 * 16.4311, 0.002);
  EXPECT_NEAR(convert<Grams>(entry->total(0.1).value()).value(), 3.3 * 16.4311, 0.002);
  // Living seeds: 15 lb x 230,000 on 43,560 ft2, and on a hundred of them.
  EXPECT_NEAR(convert<SeedsPerSquareFoot>(entry->dense.value()).value(), 79.201, 0.001);
  EXPECT_NEAR(entry->live_seeds.value(), 7920.1, 0.1);
  EXPECT_EQ(sowing.of("nobody"), nullptr);
}

TEST(SowingOf, HardSeedCountsUnlessItIsNotWanted) {
  const Plan plan = planted();
  EXPECT_NEAR(sown(plan).of("A")->live_share.value(), 0.9506, 1e-12);
  EXPECT_NEAR(
      sown(plan, {.rate = {}, .live = LiveSeed::kGerminatedOnly}).of("A")->live_share.value(),
      0.9016, 1e-12);
}

// Proves: nothing is assumed of seed that nobody tested, and no rate is made up.
TEST(SowingOf, WhatIsNotKnownIsSaidAndNothingIsWeighed) {
  struct Case {
    void (*spoil)(PlanEntry&);
    const char* lacks;
  };
  for (const Case& c : {
           Case{[](PlanEntry& e) { e.germination = ""; }, "germination not stated"},
           Case{[](PlanEntry& e) { e.purity = ""; }, "purity not stated"},
           Case{[](PlanEntry& e) { e.purity = e.germination = ""; },
                "germination not stated; purity not stated"},
           Case{[](PlanEntry& e) { e.hard_seed = "x"; }, "hard seed is no percent"},
           Case{[](PlanEntry& e) { e.germination = e.hard_seed = "0"; },
                "nothing of the seed lives"},
           Case{[](PlanEntry& e) { e.hard_seed = "9"; },
                "germination and hard seed come to more than 100 percent"},
           Case{[](PlanEntry& e) { e.sowing_rate = e.sowing_rate_unit = ""; },
                "sowing rate not stated in the plan, usual rate of the species: 12 to 14 lb/acre"},
           Case{[](PlanEntry& e) { e.sowing_rate_unit = ""; }, "'' is no unit of a sowing rate"},
       }) {
    Plan plan = planted();
    c.spoil(plan.entries[0]);
    const Sowing sowing = sown(plan);
    EXPECT_EQ(sowing.of("A")->lacks, c.lacks);
    EXPECT_FALSE(sowing.of("A")->packet) << c.lacks;
    EXPECT_FALSE(sowing.of("A")->total()) << c.lacks;
    EXPECT_TRUE(sowing.of("B")->packet) << c.lacks;
  }
}

TEST(SowingOf, ARateGivenForTheListIsTakenOnlyWhereThePlanHasNone) {
  Plan plan = planted();
  plan.entries[0].sowing_rate = plan.entries[0].sowing_rate_unit = "";
  const Sowing sowing = sown(plan, {.rate = StatedRate{"20", "kg/ha"}});
  EXPECT_EQ(sowing.of("A")->rate->text, "20");
  EXPECT_FALSE(sowing.of("A")->rate_from_plan);
  EXPECT_EQ(sowing.of("B")->rate->text, "15");
  EXPECT_TRUE(sowing.of("B")->rate_from_plan);
  // 20 kg/ha on 9.290304 m2 / 0.9506.
  EXPECT_NEAR(convert<Grams>(sowing.of("A")->packet.value()).value(), 19.5461, 0.0005);
}

// 3 rows of 3 plots of 20 x 5 ft and a border of 5 ft: 25 x 70 - 15 x 60 = 850 square feet, at
// 15 lb/acre / 0.9506 in the bag.
TEST(SowingOf, ABorderIsSownAsAFillerIs) {
  Plan plan = planted();
  plan.border = {"5", "ft"};
  EXPECT_FALSE(sown(plan).border) << "the plan has no filler";
  PlanEntry filler = plan.entries[2];
  filler.code = "F";
  filler.role = EntryRole::kFiller;
  plan.entries.push_back(filler);
  const Sowing sowing = sown(plan);
  ASSERT_TRUE(sowing.border);
  const BorderSowing border = sowing.border.value_or(BorderSowing{});
  EXPECT_EQ(border.entry, "F");
  EXPECT_NEAR(convert<SquareFeet>(border.area).value(), 850, 1e-9);
  EXPECT_NEAR(convert<Grams>(border.seed.value()).value(), 15 * 453.59237 * 850 / 43560 / 0.9506,
              1e-6);
  EXPECT_FALSE(sown(plan, {.border_sown = false}).border);
  plan.entries[3].purity = "";
  EXPECT_FALSE(sown(plan).border.value().seed);
  plan.border = {};
  EXPECT_FALSE(sown(plan).border);
}

TEST(SowingOf, APlotOrARateThatCannotBeReadIsAFault) {
  Plan plan = planted();
  EXPECT_EQ(sowing_of(plan, kFescue, {.rate = StatedRate{"12", "bushels"}}).error().mend,
            "use lb/acre or kg/ha");
  plan.plot_width = {"five", "ft"};
  EXPECT_FALSE(sowing_of(plan, kFescue, {}));
  plan = planted();
  plan.plot_length = {};
  EXPECT_FALSE(sowing_of(plan, kFescue, {}));
}

TEST(PacketText, HasAHundredthBelowAHundredGrams) {
  EXPECT_EQ(packet_text(convert<Kilograms>(Grams(0.456))), "0.46 g");
  EXPECT_EQ(packet_text(convert<Kilograms>(Grams(99.994))), "99.99 g");
  EXPECT_EQ(packet_text(convert<Kilograms>(Grams(123.45678))), "123.5 g");
}

}  // namespace
}  // namespace ligule::print
