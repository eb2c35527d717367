#include "storage/design/efficiency.h"

#include <gtest/gtest.h>

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

TEST(EfficiencyFactors, AreNoughtWhereSomeEntriesNeverMeet) {
  EXPECT_EQ(efficiency_factor(std::vector<Block>{{0, 1}, {2, 3}, {0, 1}, {2, 3}}, 4), 0.0);
}

}  // namespace
}  // namespace ligule::design
