#include "storage/design/lay_out.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <map>
#include <set>

namespace ligule::design {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;

LayOutWish wish(const char* design, std::size_t entries, std::size_t blocks) {
  return {design, std::vector<int>(entries, 1), {.blocks = blocks}, 0};
}

LaidOut laid(const LayOutWish& wished, std::uint64_t seed = 20260915) {
  Draw draw(seed);
  auto out = lay_out(wished, draw);
  EXPECT_TRUE(out.has_value()) << (out ? "" : one_line(out.error()));
  return out ? *std::move(out) : LaidOut{};
}

std::string refusal(const LayOutWish& wished) {
  Draw draw(1);
  const auto out = lay_out(wished, draw);
  return out ? "laid out" : one_line(out.error());
}

// The entries by number of the plot.
std::vector<std::size_t> entries_of(const LaidOut& out) {
  std::vector<std::size_t> entries;
  entries.reserve(out.plots.size());
  for (const LaidPlot& plot : out.plots) entries.push_back(plot.entry.value_or(999));
  return entries;
}

TEST(LayingOut, GivesTheSamePlotsForEver) {
  // Drawn once, 2026-11-28, from these seeds: plans that were kept are drawn again by them. What
  // changes them is a fault of the change.
  EXPECT_THAT(entries_of(laid(wish("rcb", 5, 3))),
              ElementsAre(0, 1, 4, 2, 3, 2, 3, 0, 4, 1, 3, 0, 2, 1, 4));
  EXPECT_THAT(entries_of(laid(wish("crd", 3, 3))), ElementsAre(2, 1, 0, 1, 0, 1, 0, 2, 2));
  EXPECT_THAT(entries_of(laid(wish("latin", 4, 4))),
              ElementsAre(0, 1, 2, 3, 1, 3, 0, 2, 3, 2, 1, 0, 2, 0, 3, 1));
  EXPECT_THAT(entries_of(laid(wish("row_column", 5, 3))),
              ElementsAre(2, 3, 0, 4, 1, 0, 3, 2, 1, 4, 3, 0, 4, 1, 2));
  LayOutWish parts = wish("alpha", 8, 2);
  parts.incomplete_block_size = 3;
  EXPECT_THAT(entries_of(laid(parts)), ElementsAre(4, 5, 0, 7, 3, 6, 2, 1, 1, 3, 4, 0, 2, 7, 5, 6));
}

TEST(LayingOut, OfCompleteBlocksNumbersThemAlongThePath) {
  const LaidOut out = laid(wish("rcb", 6, 4));
  ASSERT_EQ(out.plots.size(), 24U);
  EXPECT_EQ(out.plots.front().number, 101U);
  EXPECT_EQ(out.plots[6].number, 201U);
  EXPECT_EQ(out.plots[6].column, 6) << "the second row is walked backwards";
  for (int block = 1; block <= 4; ++block) {
    std::set<std::size_t> seen;
    for (const LaidPlot& plot : out.plots)
      if (plot.block == block) seen.insert(plot.entry.value_or(999));
    EXPECT_THAT(seen, ElementsAre(0U, 1U, 2U, 3U, 4U, 5U));
  }
}

TEST(LayingOut, FillsBlocksToARectangle) {
  LayOutWish wished = wish("rcb", 10, 2);
  wished.ground.plots_per_row = 4;
  const LaidOut out = laid(wished);
  EXPECT_EQ(out.fillers, 4U);
  ASSERT_EQ(out.plots.size(), 24U);
  for (const LaidPlot& plot : out.plots)
    EXPECT_EQ(plot.entry.has_value(), plot.number % 100 <= 10) << plot.number;
}

TEST(LayingOut, OfALatinSquareHasEveryEntryOnceInRowAndColumn) {
  for (const Along along : {Along::kRows, Along::kColumns}) {
    LayOutWish wished = wish("latin", 7, 7);
    wished.ground.along = along;
    std::set<std::pair<int, std::size_t>> rows, columns;
    for (const LaidPlot& plot : laid(wished).plots) {
      EXPECT_EQ(plot.block, plot.row);
      rows.insert({plot.row, plot.entry.value_or(999)});
      columns.insert({plot.column, plot.entry.value_or(999)});
    }
    EXPECT_EQ(rows.size(), 49U);
    EXPECT_EQ(columns.size(), 49U);
  }
}

TEST(LayingOut, ALatinSquareLargerThanCanBeWalkedToIsRefused) {
  Draw draw(1);
  const auto out = lay_out(wish("latin", kLargestSquare + 1, kLargestSquare + 1), draw);
  ASSERT_FALSE(out.has_value());
  EXPECT_EQ(out.error().what, "a Latin square of 41 entries is too large");
}

// The bound that is printed holds with repeats, too: seed 1 gives 0.72 here, where that of entries
// that are not repeated says 0.625.
TEST(LayingOut, NoDesignOfIncompleteBlocksExceedsTheBoundItPrints) {
  for (std::uint64_t seed = 1; seed <= 3; ++seed) {
    for (const int repeats : {2, 3}) {
      LayOutWish wished = wish("alpha", 6, 3);
      wished.repeats.back() = repeats;
      wished.incomplete_block_size = 3;
      Draw draw(seed);
      const auto out = lay_out(wished, draw);
      ASSERT_TRUE(out.has_value());
      const LaidOut::Parts parts = out->parts.value_or(LaidOut::Parts{});
      EXPECT_LE(parts.efficiency, parts.bound + 1e-12) << seed << ' ' << repeats;
    }
  }
}

TEST(LayingOut, OfIncompleteBlocksSaysWhatTheyCost) {
  LayOutWish wished = wish("alpha", 24, 3);
  wished.incomplete_block_size = 4;
  const LaidOut out = laid(wished);
  ASSERT_TRUE(out.parts.has_value());
  const LaidOut::Parts parts = out.parts.value_or(LaidOut::Parts{});
  EXPECT_EQ(parts.count, 6U);
  EXPECT_EQ(parts.largest, 4U);
  EXPECT_EQ(parts.smallest, 4U);
  EXPECT_EQ(parts.most_meets, 1U);
  EXPECT_NEAR(parts.bound, 46.0 / 61.0, 1e-12);
  EXPECT_GT(parts.efficiency, 0.95 * parts.bound);
  EXPECT_LE(parts.efficiency, parts.bound);
  std::map<std::pair<int, int>, int> sizes;
  for (const LaidPlot& plot : out.plots) ++sizes[{plot.block, plot.incomplete_block}];
  EXPECT_EQ(sizes.size(), 18U);
  for (const auto& [part, size] : sizes) EXPECT_EQ(size, 4);
}

TEST(LayingOut, WithoutBlocksIsOneListOfAllPlots) {
  LayOutWish wished = wish("crd", 4, 5);
  wished.ground.plots_per_row = 5;
  const LaidOut out = laid(wished);
  std::map<std::size_t, int> stands;
  for (const LaidPlot& plot : out.plots) {
    EXPECT_EQ(plot.block, 1);
    ++stands[plot.entry.value_or(999)];
  }
  EXPECT_THAT(stands,
              ElementsAre(std::pair(0U, 5), std::pair(1U, 5), std::pair(2U, 5), std::pair(3U, 5)));
}

TEST(LayingOut, RefusesWhatCannotBe) {
  EXPECT_THAT(refusal(wish("rcb", 1, 4)), HasSubstr("fewer than two entries"));
  EXPECT_THAT(refusal(wish("rcb", 4, 0)), HasSubstr("there are 0 blocks"));
  EXPECT_THAT(refusal(wish("rcb", 4, 1000)), HasSubstr("there are 1000 blocks"));
  EXPECT_THAT(refusal(wish("rcb", 200, 900)), HasSubstr("that is 180000 plots"));
  EXPECT_THAT(refusal(wish("rounds", 4, 4)), HasSubstr("'rounds' is not a design"));
  EXPECT_THAT(refusal(wish("latin", 4, 5)), HasSubstr("has 4 rows, not 5"));
  EXPECT_THAT(refusal(wish("alpha", 9, 3)), HasSubstr("incomplete blocks of 0 plots"));
  LayOutWish parts = wish("alpha", 9, 1);
  parts.incomplete_block_size = 3;
  EXPECT_THAT(refusal(parts), HasSubstr("two complete ones"));
  parts.ground.blocks = 2;
  parts.incomplete_block_size = 6;
  EXPECT_THAT(refusal(parts), HasSubstr("of 6 plots do not part 9"));
  LayOutWish beside = wish("rcb", 4, 4);
  beside.ground.blocks_beside = 0;
  EXPECT_THAT(refusal(beside), HasSubstr("no blocks lie beside each other"));
  LayOutWish repeated = wish("latin", 4, 4);
  repeated.repeats[1] = 2;
  EXPECT_THAT(refusal(repeated), HasSubstr("no entry is repeated"));
}

}  // namespace
}  // namespace ligule::design
