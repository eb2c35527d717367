#include "storage/design/latin_square.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <set>

#include "tests/storage/design/chi_square.h"

namespace ligule::design {
namespace {

bool is_latin(const std::vector<Block>& square) {
  const std::size_t order = square.size();
  for (std::size_t i = 0; i < order; ++i) {
    std::set<std::size_t> row, column;
    for (std::size_t j = 0; j < order; ++j) {
      if (square[i].size() != order || square[i][j] >= order) return false;
      row.insert(square[i][j]);
      column.insert(square[j][i]);
    }
    if (row.size() != order || column.size() != order) return false;
  }
  return true;
}

// Two rows and two columns that hold two entries only.
bool has_intercalate(const std::vector<Block>& square) {
  for (std::size_t a = 0; a < square.size(); ++a)
    for (std::size_t b = a + 1; b < square.size(); ++b)
      for (std::size_t c = 0; c < square.size(); ++c)
        for (std::size_t d = c + 1; d < square.size(); ++d)
          if (square[a][c] == square[b][d] && square[a][d] == square[b][c]) return true;
  return false;
}

TEST(LatinSquares, HoldEveryEntryOnceInEveryRowAndColumn) {
  for (std::size_t order = 2; order <= 20; ++order) {
    Draw draw(order);
    EXPECT_TRUE(is_latin(latin_square(order, draw))) << order;
  }
}

TEST(LatinSquares, ReachAllOfOrderFourAsOften) {
  // There are 576: OEIS A002860 (1, 2, 12, 576, 161280 ...).
  std::map<std::vector<Block>, std::size_t> seen;
  Draw draw(4);
  for (std::size_t i = 0; i < 576U * 40U; ++i) ++seen[latin_square(4, draw)];
  ASSERT_EQ(seen.size(), 576U);
  std::vector<std::size_t> counts;
  counts.reserve(seen.size());
  for (const auto& [square, count] : seen) counts.push_back(count);
  EXPECT_LT(evenness(counts), rarely_exceeded(575));
  EXPECT_GT(evenness(counts), rarely_below(575));
}

TEST(LatinSquares, ComeFromBothSetsOfOrderFive) {
  // 6 of the 56 standard squares of order 5 are in the set of the cyclic one, which has no 2 x 2
  // squares within it, 50 in the other, all of which have: R. A. Fisher, F. Yates, "The 6 x 6 Latin
  // squares", Proc. Camb. Phil. Soc. 30 (1934) 492-507; Statistical Tables, table XV. A cyclic
  // square with its rows, columns and entries put in another order would always be of the first.
  constexpr double kDraws = 8000;
  double cyclic = 0;
  Draw draw(5);
  for (int i = 0; i < static_cast<int>(kDraws); ++i)
    if (!has_intercalate(latin_square(5, draw))) cyclic += 1;
  const double share = 6.0 / 56.0;
  EXPECT_NEAR(cyclic / kDraws, share, 3.29 * std::sqrt(share * (1 - share) / kDraws));
}

}  // namespace
}  // namespace ligule::design
