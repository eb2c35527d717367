#include "storage/design/alpha.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <map>
#include <numeric>

#include "storage/design/efficiency.h"
#include "tests/storage/design/chi_square.h"

namespace ligule::design {
namespace {

std::vector<Block> all_of(const std::vector<std::vector<Block>>& design) {
  std::vector<Block> all;
  for (const auto& block : design) all.insert(all.end(), block.begin(), block.end());
  return all;
}

std::size_t most_meetings(const std::vector<Block>& blocks) {
  std::map<std::pair<std::size_t, std::size_t>, std::size_t> meets;
  std::size_t most = 0;
  for (const Block& block : blocks)
    for (const std::size_t a : block)
      for (const std::size_t b : block)
        if (a < b) most = std::max(most, ++meets[{a, b}]);
  return most;
}

// Every block whole, the sizes of its parts one apart at most.
void expect_resolvable(const std::vector<std::vector<Block>>& design, std::vector<int> repeats,
                       std::size_t parts) {
  Block sown = block_of(repeats);
  for (const auto& block : design) {
    ASSERT_EQ(block.size(), parts);
    Block together;
    for (const Block& part : block) together.insert(together.end(), part.begin(), part.end());
    std::ranges::sort(together);
    EXPECT_EQ(together, sown);
    const auto sizes = std::ranges::minmax(block, {}, &Block::size);
    EXPECT_LE(sizes.max.size(), sizes.min.size() + 1);
  }
}

TEST(AlphaDesigns, AreResolvableAndEvenForManySizes) {
  for (std::size_t plots = 6; plots <= 41; plots += 7) {
    for (std::size_t size = 2; 2 * size <= plots; size += 3) {
      for (const std::size_t blocks : {2U, 3U, 4U}) {
        const std::size_t parts = parts_of(plots, size);
        Draw draw(plots * 100 + size);
        const auto design = alpha_design(std::vector<int>(plots, 1), blocks, parts, draw);
        ASSERT_EQ(design.size(), blocks);
        expect_resolvable(design, std::vector<int>(plots, 1), parts);
        const double efficiency = efficiency_factor(all_of(design), plots);
        EXPECT_GT(efficiency, 0) << plots << ' ' << size << ' ' << blocks;
        if (plots % parts != 0) continue;
        EXPECT_LE(efficiency, efficiency_bound(plots, blocks, parts) + 1e-12);
      }
    }
  }
}

// Series I to IV of H. D. Patterson, E. R. Williams, E. A. Hunter, "Block designs for variety
// trials", J. agric. Sci., Camb. 90 (1978) 395-400: arrays in which no two entries meet twice.
AlphaArray published(std::size_t s, std::size_t k, std::size_t r) {
  AlphaArray array{s, {k, std::vector<std::size_t>(r, 0)}};
  for (std::size_t i = 0; i < k; ++i) {
    array.rows[i][1] = i;
    if (r > 2) array.rows[i][2] = s % 2 == 1 ? (s - i) % s : (i % 2 == 0 ? i / 2 : s / 2 + i / 2);
    if (r > 3) array.rows[i][3] = i % 2 == 0 ? i / 2 : (s + 1) / 2 + i / 2;
  }
  return array;
}

struct Size {
  std::size_t s, k, r;
};
const std::vector<Size> kSeries{{5, 4, 2}, {8, 5, 2}, {5, 4, 3}, {7, 5, 3},
                                {9, 6, 3}, {6, 4, 3}, {8, 6, 3}, {7, 6, 4}};

TEST(AlphaDesigns, OfThePublishedSeriesHaveNoTwoEntriesMeetTwice) {
  for (const auto& [s, k, r] : kSeries) {
    const AlphaArray array = published(s, k, r);
    EXPECT_EQ(array.repeated_meetings(), 0U) << s << ' ' << k << ' ' << r;
    EXPECT_EQ(most_meetings(all_of(array.blocks())), 1U);
    EXPECT_NEAR(array.efficiency(), efficiency_factor(all_of(array.blocks()), s * k), 1e-12);
  }
}

TEST(AlphaDesigns, AreNoWorseThanThePublishedSeries) {
  for (const auto& [s, k, r] : kSeries) {
    Draw draw(1978);
    const AlphaArray found = search_array(s, k, r, draw);
    EXPECT_EQ(found.repeated_meetings(), 0U) << s << ' ' << k << ' ' << r;
    const double best = published(s, k, r).efficiency();
    EXPECT_GE(found.efficiency(), best - 1e-9) << s << ' ' << k << ' ' << r;
    EXPECT_LE(found.efficiency(), efficiency_bound(s * k, r, s) + 1e-12);
  }
}

TEST(AlphaDesigns, ReachTheBoundWhereALatticeDoes) {
  Draw draw(25);
  EXPECT_NEAR(search_array(5, 5, 3, draw).efficiency(), efficiency_bound(25, 3, 5), 1e-9);
}

TEST(AlphaDesigns, KeepRepeatsOfACheckInDifferentParts) {
  std::vector<int> repeats(21, 1);
  repeats[4] = 3;
  repeats[9] = 2;
  Draw draw(7);
  const auto design = alpha_design(repeats, 3, 6, draw);
  expect_resolvable(design, repeats, 6);
  for (const Block& part : all_of(design)) {
    EXPECT_LE(std::ranges::count(part, 4U), 1);
    EXPECT_LE(std::ranges::count(part, 9U), 1);
  }
}

TEST(AlphaDesigns, ThatCannotKeepThemApartStillHoldThemAll) {
  std::vector<int> repeats{5, 1, 1, 1};
  Draw draw(7);
  expect_resolvable(alpha_design(repeats, 2, 3, draw), repeats, 3);
}

TEST(AlphaDesigns, PutEveryEntryOnEveryPlaceAsOften) {
  constexpr std::size_t kSix = 6;
  std::vector<std::size_t> counts(kSix * kSix);
  for (std::size_t seed = 0; seed < 300; ++seed) {
    Draw draw(seed);
    const auto design = alpha_design(std::vector<int>(kSix, 1), 2, 3, draw);
    Block block;
    for (const Block& part : design.front()) block.insert(block.end(), part.begin(), part.end());
    for (std::size_t place = 0; place < kSix; ++place) ++counts[block[place] * kSix + place];
  }
  EXPECT_LT(evenness(counts) * (kSix - 1) / kSix, rarely_exceeded(25));
  EXPECT_GT(evenness(counts) * (kSix - 1) / kSix, rarely_below(25));
}

}  // namespace
}  // namespace ligule::design
