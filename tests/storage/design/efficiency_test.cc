#include "storage/design/efficiency.h"

#include <gtest/gtest.h>

#include <algorithm>

#include "storage/design/alpha.h"

namespace ligule::design {
namespace {

TEST(EfficiencyFactors, AreOneOfCompleteBlocks) {
  EXPECT_NEAR(efficiency_factor(std::vector<Block>{{0, 1, 2}, {2, 0, 1}}, 3), 1.0, 1e-12);
  EXPECT_NEAR(efficiency_factor(std::vector<Block>{{0, 1, 1, 2}, {2, 1, 0, 1}}, 3), 1.0, 1e-12)
      << "repeats of a check are in proportion";
}

TEST(EfficiencyFactors, OfBalancedIncompleteBlocksAreThoseOfYates) {
  // lambda v / (r k): F. Yates, "Incomplete randomized blocks", Annals of Eugenics 7 (1936).
  const std::vector<Block> seven{{0, 1, 3}, {1, 2, 4}, {2, 3, 5}, {3, 4, 6},
                                 {4, 5, 0}, {5, 6, 1}, {6, 0, 2}};
  EXPECT_NEAR(efficiency_factor(seven, 7), 1.0 * 7 / (3 * 3), 1e-12);
  const std::vector<Block> pairs{{0, 1}, {0, 2}, {0, 3}, {1, 2}, {1, 3}, {2, 3}};
  EXPECT_NEAR(efficiency_factor(pairs, 4), 1.0 * 4 / (3 * 2), 1e-12);
}

TEST(EfficiencyFactors, OfSquareLatticesAreThoseOfTheBooks) {
  // (k+1)(r-1) / ((k+1)(r-1) + r): J. A. John, E. R. Williams, Cyclic and Computer Generated
  // Designs, 2nd ed. 1995, 4.4; W. G. Cochran, G. M. Cox, Experimental Designs, 2nd ed. 1957, 10.
  // With k + 1 blocks the lattice is balanced: k / (k + 1).
  for (const std::size_t k : {3U, 5U, 7U}) {
    for (std::size_t r = 2; r <= k; ++r) {
      AlphaArray lattice{k, {k, std::vector<std::size_t>(r)}};
      for (std::size_t i = 0; i < k; ++i)
        for (std::size_t block = 0; block < r; ++block) lattice.rows[i][block] = i * block % k;
      std::vector<Block> blocks;
      for (const auto& block : lattice.blocks())
        blocks.insert(blocks.end(), block.begin(), block.end());
      const auto known = [k](std::size_t of) {
        const auto a = static_cast<double>((k + 1) * (of - 1));
        return a / (a + static_cast<double>(of));
      };
      EXPECT_NEAR(efficiency_factor(blocks, k * k), known(r), 1e-12);
      EXPECT_NEAR(lattice.efficiency(), known(r), 1e-12);
      EXPECT_NEAR(efficiency_bound(k * k, r, k), known(r), 1e-12) << "lattices reach the bound";
      if (r < k) continue;
      for (std::size_t group = 0; group < k; ++group) {
        Block whole;
        for (std::size_t n = 0; n < k; ++n) whole.push_back(group * k + n);
        blocks.push_back(whole);
      }
      EXPECT_NEAR(efficiency_factor(blocks, k * k), known(k + 1), 1e-12);
      EXPECT_NEAR(known(k + 1), static_cast<double>(k) / static_cast<double>(k + 1), 1e-12);
    }
  }
}

// 3 entries that stand 2, 3 and 3 times in a block reach 0.9565, which the bound of entries that
// are not repeated (0.5) would deny.
TEST(EfficiencyBound, CountsRepeatsOfChecks) {
  const std::vector<int> repeats{2, 3, 3};
  const std::vector<Block> blocks{{0, 1, 1, 2}, {0, 1, 2, 2}, {0, 1, 2, 2}, {0, 1, 1, 2}};
  const double factor = efficiency_factor(blocks, 3);
  EXPECT_GT(factor, efficiency_bound(3, 2, 2));
  EXPECT_LE(factor, efficiency_bound(repeats, 2, 2));
}

TEST(EfficiencyBound, WithoutRepeatsIsThatOfPattersonAndWilliamsWhateverTheSizes) {
  EXPECT_NEAR(efficiency_bound(std::vector<int>(24, 1), 3, 4), efficiency_bound(24, 3, 4), 1e-12);
  EXPECT_NEAR(efficiency_bound(std::vector<int>(23, 1), 3, 4), efficiency_bound(23, 3, 4), 1e-12);
  EXPECT_NEAR(efficiency_bound(std::vector<int>(17, 1), 4, 3), efficiency_bound(17, 4, 3), 1e-12);
  // Balanced: 3 blocks of 2 pairs are all pairs of 4 entries, whose factor is 2/3 (Yates, above);
  // r(s-1) = v - 1. One block more and the older bound is beyond what can be had.
  EXPECT_NEAR(efficiency_bound(std::vector<int>(4, 1), 3, 2), 2.0 / 3, 1e-12);
  EXPECT_NEAR(efficiency_bound(std::vector<int>(4, 1), 4, 2), 2.0 / 3, 1e-12);
  EXPECT_GT(efficiency_bound(4, 4, 2), 2.0 / 3);
  EXPECT_EQ(efficiency_bound(std::vector<int>(4, 1), 3, 1), 1.0) << "complete blocks";
}

// Designs drawn at random, of unequal sizes and with repeats: none is above the bound, and some
// come near, so it is not idle.
TEST(EfficiencyBound, HoldsForDesignsDrawnAtRandom) {
  Draw draw(5);
  double nearest = 0;
  for (int trial = 0; trial < 3000; ++trial) {
    std::vector<int> repeats(4 + draw.below(8), 1);
    for (std::size_t more = draw.below(4); more > 0; --more)
      repeats[draw.below(repeats.size())] += 1;
    const std::size_t plots = block_of(repeats).size();
    const std::size_t parts = 2 + draw.below(plots / 2 - 1);
    const std::size_t blocks = 2 + draw.below(3);
    std::vector<Block> all;
    for (Block whole : complete_blocks(repeats, blocks, draw)) {
      for (std::size_t part = 0; part < parts; ++part) {
        const std::size_t size = plots / parts + (part < plots % parts ? 1 : 0);
        all.emplace_back(whole.end() - static_cast<std::ptrdiff_t>(size), whole.end());
        whole.resize(whole.size() - size);
      }
    }
    const double factor = efficiency_factor(all, repeats.size());
    const double bound = efficiency_bound(repeats, blocks, parts);
    ASSERT_LE(factor, bound + 1e-9);
    nearest = std::max(nearest, factor / bound);
  }
  EXPECT_GT(nearest, 0.95);
}

TEST(EfficiencyFactors, AreNoughtWhereSomeEntriesNeverMeet) {
  EXPECT_EQ(efficiency_factor(std::vector<Block>{{0, 1}, {2, 3}, {0, 1}, {2, 3}}, 4), 0.0);
}

}  // namespace
}  // namespace ligule::design
