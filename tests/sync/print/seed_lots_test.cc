#include "sync/print/seed_lots.h"

#include <gtest/gtest.h>

#include "tests/sync/print/planted.h"

namespace ligule::print {
namespace {

double grams_of(const std::optional<Kilograms>& seed) {
  return seed ? convert<Grams>(*seed).value() : -1;
}

// A packet takes 16.4311 g; three plots with a tenth to spare 54.2226 g.
TEST(SeedLots, TakeWhatAllTheirEntriesTakeWithTheSpare) {
  Plan plan = planted();
  plan.entries[1].seed_lot = "L2";
  plan.entries[2].seed_lot = "L1";
  const auto lots =
      lots_of(plan, sown(plan), {{"L1", convert<Kilograms>(Grams(100))}, {"L9", Kilograms(1)}});
  ASSERT_EQ(lots.size(), 2U);
  EXPECT_EQ(lots[0].lot, "L1");
  EXPECT_EQ(lots[0].entries, "A, C");
  EXPECT_NEAR(grams_of(lots[0].wanted), 108.4453, 0.002);
  EXPECT_NEAR(grams_of(lots[0].lacking()), 8.4453, 0.002);
  EXPECT_EQ(lots[1].lot, "L2");
  EXPECT_FALSE(lots[1].on_hand);
  EXPECT_FALSE(lots[1].lacking()) << "nobody knows";
}

TEST(SeedLots, AreShortOfNothingWhereThereIsAsMuchAsIsWanted) {
  const Plan plan = planted();
  const auto wanted = lots_of(plan, sown(plan), {}).at(0).wanted.value();
  EXPECT_FALSE(lots_of(plan, sown(plan), {{"L1", wanted}}).at(0).lacking());
  const auto hardly = lots_of(plan, sown(plan), {{"L1", wanted - Kilograms(0.00004)}}).at(0);
  EXPECT_FALSE(hardly.lacking()) << "no balance of a store tells it";
  const auto little = lots_of(plan, sown(plan), {{"L1", wanted - Kilograms(0.0003)}}).at(0);
  EXPECT_NEAR(grams_of(little.lacking()), 0.3, 1e-9);
  EXPECT_EQ(little.decimals(), 1) << "or it would be told as 0 g";
  EXPECT_EQ(lots_of(plan, sown(plan), {{"L1", Kilograms(0.01)}}).at(0).decimals(), 0);
}

TEST(SeedLots, AreNotKnownWhereOneOfTheirEntriesIsNot) {
  Plan plan = planted();
  plan.entries[1].seed_lot = "L1";
  plan.entries[1].purity = "";
  const auto lots = lots_of(plan, sown(plan), {{"L1", Kilograms(1)}});
  ASSERT_EQ(lots.size(), 1U) << "C has no lot";
  EXPECT_FALSE(lots[0].wanted);
  EXPECT_FALSE(lots[0].lacking());
}

TEST(SeedLots, OfAFillerSowTheBorderToo) {
  Plan plan = planted();
  plan.border = {"5", "ft"};
  PlanEntry filler = plan.entries[0];
  filler.code = "F";
  filler.role = EntryRole::kFiller;
  filler.seed_lot = "LF";
  plan.entries.push_back(filler);
  const Sowing sowing = sown(plan);
  const auto lots = lots_of(plan, sowing, {});
  ASSERT_EQ(lots.size(), 2U);
  EXPECT_NEAR(grams_of(lots[1].wanted), 1.1 * grams_of(sowing.border.value().seed), 1e-9)
      << "it stands in no plot";
  EXPECT_EQ(lots_of(plan, sown(plan, {.border_sown = false}), {}).size(), 1U);
}

}  // namespace
}  // namespace ligule::print
