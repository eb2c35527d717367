#include "storage/design/spread.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>

#include "tests/storage/design/chi_square.h"

namespace ligule::design {
namespace {

Clusters of(const std::vector<Block>& blocks, const Ground& ground) {
  return clusters_of(blocks, ground, places_of(ground));
}

TEST(Clusters, AreCountedInPairs) {
  const Ground ground{.blocks = 2, .plots = 3, .serpentine = false};
  EXPECT_EQ(of({{0, 1, 2}, {0, 2, 1}}, ground), (Clusters{1, 2, 1, 0}))
      << "0 touches 0, 1 and 2 meet themselves across corners";
  EXPECT_EQ(of({{0, 1, 2}, {2, 0, 1}}, ground), (Clusters{0, 2, 0, 0}));
  const Ground beside{.blocks = 2, .plots = 2, .blocks_beside = 2, .serpentine = false};
  EXPECT_EQ(of({{0, 1}, {1, 0}}, beside), (Clusters{1, 0, 0, 0}));
  EXPECT_EQ(of({{0, 1}, {0, 1}}, beside), (Clusters{}));
}

TEST(Clusters, DoNotCountFillers) {
  const Ground ground{.blocks = 2, .plots = 3, .plots_per_row = 2, .serpentine = false};
  EXPECT_EQ(of({{0, 1, 2}, {1, 0, 2}}, ground).side_by_side, 0U);
}

TEST(SpreadBlocks, KeepEveryEntryApartAndInColumnsOfItsOwn) {
  const std::vector<Ground> grounds{
      {.blocks = 4, .plots = 12},
      {.blocks = 4, .plots = 24, .plots_per_row = 8},
      {.blocks = 6, .plots = 20, .plots_per_row = 10},
      {.blocks = 4, .plots = 16, .plots_per_row = 4, .blocks_beside = 2}};
  for (const Ground& ground : grounds) {
    for (std::uint64_t seed = 0; seed < 10; ++seed) {
      Draw draw(seed);
      const std::vector<int> repeats(ground.plots, 1);
      const auto blocks = spread_blocks(repeats, ground, draw);
      EXPECT_EQ(of(blocks, ground).weight(), 0U) << ground.plots << ", seed " << seed;
      ASSERT_EQ(blocks.size(), ground.blocks);
      for (Block block : blocks) {
        std::ranges::sort(block);
        EXPECT_EQ(block, block_of(repeats));
      }
    }
  }
}

TEST(SpreadBlocks, SpreadRepeatsOfACheckToo) {
  std::vector<int> repeats(14, 1);
  repeats[3] = 3;
  const Ground ground{.blocks = 4, .plots = 16, .plots_per_row = 8};
  Draw draw(3);
  const Clusters clusters = of(spread_blocks(repeats, ground, draw), ground);
  EXPECT_EQ(clusters.side_by_side, 0U);
  EXPECT_EQ(clusters.in_one_column, 0U) << "12 plots on 8 columns: 4 pairs are needed";
}

TEST(SpreadBlocks, GiveTheBestThereIsWhereNothingIsFree) {
  // Two entries in two rows of two: only a chessboard keeps them apart, and it meets across
  // corners.
  const Ground ground{.blocks = 2, .plots = 2};
  Draw draw(1);
  EXPECT_EQ(of(spread_blocks(std::vector{1, 1}, ground, draw), ground), (Clusters{0, 2, 0, 0}));
}

TEST(SpreadBlocks, PutEveryEntryOnEveryPlaceAndEveryTwoBesideEachOtherAsOften) {
  constexpr std::size_t kFew = 6;
  const Ground ground{.blocks = 3, .plots = kFew};
  std::vector<std::size_t> places(kFew * kFew), pairs(kFew * kFew);
  for (std::uint64_t seed = 0; seed < 4000; ++seed) {
    Draw draw(seed);
    const Block block = spread_blocks(std::vector<int>(kFew, 1), ground, draw)[1];
    for (std::size_t place = 0; place < kFew; ++place) ++places[block[place] * kFew + place];
    ++pairs[block[2] * kFew + block[3]];
  }
  EXPECT_LT(evenness(places) * (kFew - 1) / kFew, rarely_exceeded(25));
  std::vector<std::size_t> others;
  for (std::size_t i = 0; i < pairs.size(); ++i)
    if (i / kFew != i % kFew) others.push_back(pairs[i]);
  EXPECT_LT(evenness(others), rarely_exceeded(29));
}

}  // namespace
}  // namespace ligule::design
