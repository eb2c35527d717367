// Worked examples of pure live seed and seeds on the ground from other people's pages, through the
// code that makes our packets. A published figure is held to half a unit of its last digit.
#include "storage/trial/seed.h"

#include <gtest/gtest.h>

#include "storage/files/assets.h"
#include "storage/files/sowing.h"

namespace ligule {
namespace {

constexpr double kHalfOfOne = 0.5;
constexpr double kHalfOfOneHundredth = 0.005;

double percent_live(double germination, double hard, double purity) {
  return 100 * pure_live_share({.germination = germination, .hard = hard, .purity = purity},
                               LiveSeed::kGerminatedAndHard);
}

// http://ec3grp.com/PLS-vs-bulk-seed.htm
// Germination 92 %, hard seed 5 %, purity 98 %: 95.06 % pure live seed; 3.00 lb of it an acre are
// 3.16 lb bulk.
TEST(PublishedPureLiveSeed, GerminationAndHardSeed) {
  EXPECT_NEAR(percent_live(92, 5, 98), 95.06, kHalfOfOneHundredth);
  EXPECT_NEAR(bulk(PoundsPerAcre(3.00), percent_live(92, 5, 98) / 100).value(), 3.16,
              kHalfOfOneHundredth);
}

// The same page: viability 85 % by a tetrazolium test, purity 95 %: 80.75 %; 0.12 lb of pure live
// seed are 0.15 lb.
TEST(PublishedPureLiveSeed, ViabilityByTetrazolium) {
  EXPECT_NEAR(percent_live(85, 0, 95), 80.75, kHalfOfOneHundredth);
  EXPECT_NEAR(bulk(PoundsPerAcre(0.12), percent_live(85, 0, 95) / 100).value(), 0.15,
              kHalfOfOneHundredth);
}

// https://www.txdot.gov/about/campaigns-outreach/bluebonnets-wildflowers/pure-live-seed.html
// Purity 85 %, germination 75 %, counted without hard seed: 0.64, and 1.56 lb for 1 lb of pure live
// seed. The page divides by the rounded 0.64; unrounded it is 0.6375 and 1.57 lb.
TEST(PublishedPureLiveSeed, GerminationAlone) {
  const double share =
      pure_live_share({.germination = 75, .hard = 5, .purity = 85}, LiveSeed::kGerminatedOnly);
  EXPECT_NEAR(share, 0.64, kHalfOfOneHundredth);
  EXPECT_NEAR(bulk(Pounds(1), 0.64).value(), 1.56, kHalfOfOneHundredth);
  EXPECT_NEAR(bulk(Pounds(1), share).value(), 1.5686, 0.00005);
}

// https://hydroseeding.org/live-seeds/
// Germination 96 %, purity 75 %: 72 %; seed at $2.50 a pound costs $3.47 a pound of pure live seed,
// since a pound of that is 1/0.72 lb of seed.
TEST(PublishedPureLiveSeed, PriceOfAPound) {
  EXPECT_NEAR(percent_live(96, 0, 75), 72, kHalfOfOne);
  EXPECT_NEAR(2.50 * bulk(Pounds(1), percent_live(96, 0, 75) / 100).value(), 3.47,
              kHalfOfOneHundredth);
}

// Rayburn 1994, http://www.wvu.edu/~agexten/pubnwsltr/TRIM/5302.htm: seeds in a pound, and how many
// fall on a square foot at 1 lb an acre, as the page prints them; usual rates sown alone, lb/acre.
struct SownAlone {
  const char* species;
  double seeds_per_pound;
  double lowest, highest;
  double seeds_per_square_foot;  // 0: not printed
};

TEST(PublishedSeeds, OfTheProgramsSpeciesAreThoseOfTheirSource) {
  const auto files = files::real_file_system();
  const auto all = files::load_species_seed(*files, files::find_assets(*files).value());
  ASSERT_TRUE(all);
  for (const SownAlone& printed :
       {SownAlone{"alfalfa", 200000, 15, 20, 5}, SownAlone{"red_clover", 275000, 8, 10, 0},
        SownAlone{"white_clover", 700000, 3, 5, 16}, SownAlone{"orchardgrass", 654000, 8, 12, 15},
        SownAlone{"tall_fescue", 230000, 12, 14, 5}, SownAlone{"timothy", 1230000, 8, 10, 28},
        SownAlone{"perennial_ryegrass", 227000, 10, 12, 0},
        SownAlone{"annual_ryegrass", 227000, 20, 30, 0},
        SownAlone{"bermudagrass", 1800000, 6, 10, 41}}) {
    const SpeciesSeed* const seed = files::find_seed(*all, printed.species);
    ASSERT_NE(seed, nullptr) << printed.species;
    ASSERT_TRUE(seed->seeds_per_pound) << printed.species;
    EXPECT_EQ(seed->seeds_per_pound->value(), printed.seeds_per_pound) << printed.species;
    EXPECT_EQ(seed->usual_from, printed.lowest) << printed.species;
    EXPECT_EQ(seed->usual_to, printed.highest) << printed.species;
    EXPECT_EQ(seed->unit, "lb/acre") << printed.species;
    if (printed.seeds_per_square_foot == 0) continue;
    const auto on_ground = seeds_sown(convert<KilogramsPerHectare>(PoundsPerAcre(1)),
                                      convert<SeedsPerKilogram>(*seed->seeds_per_pound));
    EXPECT_NEAR(convert<SeedsPerSquareFoot>(on_ground).value(), printed.seeds_per_square_foot,
                kHalfOfOne)
        << printed.species;
  }
  // Penrose and Little, farmanddairy.com 170157: sorghum-sudangrass sown at 23 lb an acre.
  const SpeciesSeed* const sorghum = files::find_seed(*all, "sorghum_sudangrass");
  ASSERT_NE(sorghum, nullptr);
  EXPECT_EQ(sorghum->usual(), "23 lb/acre");
}

// Constructed, not published: 15 lb an acre on 5 x 20 ft, by the definitions of pound and acre, as
// 15.620 g, and 16.431 g of the seed of the first example.
TEST(ConstructedPacket, OfAHundredSquareFeet) {
  const SquareMetres plot = convert<SquareMetres>(area(Feet(5), Feet(20)));
  const auto rate = sowing_rate("15", "lb/acre").value();
  EXPECT_NEAR(convert<Grams>(seed_for(rate, plot)).value(), 15.620, 0.0005);
  EXPECT_NEAR(convert<Grams>(seed_for(bulk(rate, 0.9506), plot)).value(), 16.431, 0.0005);
}

}  // namespace
}  // namespace ligule
