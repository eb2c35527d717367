#include "app/touch/layout.h"

#include <gtest/gtest.h>

namespace ligule::touch {
namespace {

TEST(Cutter, HandsOutStripsThatNeverOverlap) {
  Cutter down({0, 0, 100, 100}, Axis::kDown, 10);
  const Rect first = down.take(30);
  const Rect last = down.take_end(20);
  const Rect middle = down.take_rest();
  EXPECT_EQ(first, (Rect{0, 0, 100, 30}));
  EXPECT_EQ(last, (Rect{0, 80, 100, 100}));
  EXPECT_EQ(middle, (Rect{0, 40, 100, 70}));
  EXPECT_FALSE(first.overlaps(middle) || middle.overlaps(last));
}

TEST(Cutter, GivesEmptyStripsWhenNothingIsLeft) {
  Cutter across({0, 0, 50, 10}, Axis::kAcross, 5);
  EXPECT_EQ(across.take(80), (Rect{0, 0, 50, 10}));
  EXPECT_TRUE(across.take(10).empty());
  EXPECT_TRUE(across.take_end(10).empty());
  EXPECT_TRUE(across.take_rest().empty());
}

TEST(Split, DividesEvenly) {
  const auto strips = split({0, 0, 100, 10}, Axis::kAcross, 3, 5);
  ASSERT_EQ(strips.size(), 3U);
  EXPECT_FLOAT_EQ(strips[1].left, 35);
  EXPECT_FLOAT_EQ(strips[2].right, 100);
  EXPECT_TRUE(split({0, 0, 100, 10}, Axis::kDown, 0, 5).empty());
}

TEST(FitGrid, ChoosesTheColumnsWithTheLargestCells) {
  const Grid wide = fit_grid({0, 0, 600, 100}, 6, 20, 200, 0);
  EXPECT_EQ(wide.columns, 6U);
  const Grid square = fit_grid({0, 0, 300, 200}, 6, 20, 200, 0);
  EXPECT_EQ(square.columns, 3U);
  EXPECT_EQ(square.rows, 2U);
}

TEST(FitGrid, CellsKeepApartAndInside) {
  const Rect area{10, 20, 410, 320};
  const Grid grid = fit_grid(area, 11, 20, 90, 8);
  for (std::size_t a = 0; a < 11; ++a) {
    EXPECT_EQ(grid.cell(a).common(area), grid.cell(a));
    for (std::size_t b = a + 1; b < 11; ++b) EXPECT_FALSE(grid.cell(a).overlaps(grid.cell(b)));
  }
  EXPECT_TRUE(grid.cell(grid.columns * grid.rows).empty());
}

TEST(FitGrid, IsEmptyWhenCellsWouldBeTooSmall) {
  EXPECT_EQ(fit_grid({0, 0, 100, 100}, 30, 40, 90, 5).columns, 0U);
  EXPECT_EQ(fit_grid({0, 0, 100, 100}, 0, 40, 90, 5).columns, 0U);
  EXPECT_EQ(fit_grid({}, 3, 40, 90, 5).columns, 0U);
}

TEST(Centred, NeverLeavesItsArea) {
  EXPECT_EQ(centred({0, 0, 100, 50}, 40, 10), (Rect{30, 20, 70, 30}));
  EXPECT_EQ(centred({0, 0, 100, 50}, 400, 10), (Rect{0, 20, 100, 30}));
}

}  // namespace
}  // namespace ligule::touch
