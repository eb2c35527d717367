#include "storage/design/complete_blocks.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <array>

#include "tests/storage/design/chi_square.h"

namespace ligule::design {
namespace {

using testing::UnorderedElementsAre;

constexpr std::size_t kEntries = 8;
constexpr std::size_t kTrials = 4000;
const std::vector<int> once_each(kEntries, 1);

TEST(CompleteBlocks, HoldEveryEntryAsOftenAsItIsRepeated) {
  Draw draw(5);
  for (const Block& block : complete_blocks(std::vector{1, 3, 1}, 4, draw))
    EXPECT_THAT(block, UnorderedElementsAre(0U, 1U, 1U, 1U, 2U));
}

TEST(CompleteBlocks, PutEveryEntryOnEveryPlaceAsOften) {
  std::vector<std::size_t> counts(kEntries * kEntries);
  for (std::size_t seed = 0; seed < kTrials; ++seed) {
    Draw draw(seed);
    const Block block = complete_blocks(once_each, 3, draw).back();
    for (std::size_t place = 0; place < kEntries; ++place)
      ++counts[block[place] * kEntries + place];
  }
  // Each draw puts one entry on each place and each entry on one: of n x n counts (n - 1)^2 are
  // free, and their statistic is n / (n - 1) times chi-square (its mean is n (n - 1)).
  const double df = (kEntries - 1) * (kEntries - 1);
  const double statistic = evenness(counts) * (kEntries - 1) / kEntries;
  EXPECT_LT(statistic, rarely_exceeded(df));
  EXPECT_GT(statistic, rarely_below(df));
}

TEST(CompleteBlocks, MakeEveryTwoEntriesNeighborsAsOften) {
  // Of entries beside each other one pair a draw, on the places 3 and 4, so that counts are
  // independent.
  std::vector<std::size_t> counts;
  std::array<std::array<std::size_t, kEntries>, kEntries> pairs{};
  for (std::size_t seed = 0; seed < kTrials; ++seed) {
    Draw draw(seed);
    const Block block = complete_blocks(once_each, 1, draw).front();
    ++pairs.at(block[3]).at(block[4]);
  }
  for (std::size_t a = 0; a < kEntries; ++a)
    for (std::size_t b = 0; b < kEntries; ++b)
      if (a != b) counts.push_back(pairs.at(a).at(b));
  EXPECT_LT(evenness(counts), rarely_exceeded(kEntries * (kEntries - 1) - 1));
  EXPECT_GT(evenness(counts), rarely_below(kEntries * (kEntries - 1) - 1));
}

TEST(CompleteBlocks, DrawEachBlockForItself) {
  // Where an entry stands in one block says nothing of where it stands in the next.
  std::vector<std::size_t> counts(kEntries * kEntries);
  for (std::size_t seed = 0; seed < kTrials; ++seed) {
    Draw draw(seed);
    const auto blocks = complete_blocks(once_each, 2, draw);
    const auto place_in = [&](const Block& block) {
      return static_cast<std::size_t>(std::ranges::find(block, 0U) - block.begin());
    };
    ++counts[place_in(blocks[0]) * kEntries + place_in(blocks[1])];
  }
  EXPECT_LT(evenness(counts), rarely_exceeded(kEntries * kEntries - 1));
}

TEST(CompleteBlocks, OfSeedsThatFollowEachOtherHaveNothingInCommon) {
  // Trials of one year may well be given 1, 2, 3: where an entry stands in one says nothing of the
  // next.
  std::vector<std::size_t> counts(kEntries * kEntries);
  for (std::size_t pair = 0; pair < kTrials; ++pair) {
    std::array<std::size_t, 2> places{};
    for (std::size_t i = 0; i < 2; ++i) {
      Draw draw(2 * pair + i);
      const Block block = complete_blocks(once_each, 1, draw).front();
      places.at(i) = static_cast<std::size_t>(std::ranges::find(block, 0U) - block.begin());
    }
    ++counts[places[0] * kEntries + places[1]];
  }
  EXPECT_LT(evenness(counts), rarely_exceeded(kEntries * kEntries - 1));
  EXPECT_GT(evenness(counts), rarely_below(kEntries * kEntries - 1));
}

}  // namespace
}  // namespace ligule::design
