#include "sync/print/sheet_layout.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

namespace ligule::print {
namespace {

using testing::ElementsAre;
using testing::IsEmpty;

// Lanes of so many plots, each a block.
std::vector<SheetStep> field(std::size_t lanes, std::size_t plots) {
  std::vector<SheetStep> steps(lanes * plots);
  for (std::size_t lane = 0; lane < lanes; ++lane) steps[lane * plots] = {true, true};
  return steps;
}

SheetRoom room_for(std::size_t plots, std::size_t bands) {
  const double room =
      static_cast<double>(plots) * kRowHeight + static_cast<double>(bands) * kBandHeight;
  return {room, room};
}

TEST(SheetLayout, ABoxIsHighEnoughForAColdHand) {
  EXPECT_GE(kRowHeight, 8.0);  // common practice, no source
}

TEST(SheetLayout, EveryPlotStandsOnceAndNoSheetIsFullerThanItsRoom) {
  for (std::size_t lanes = 1; lanes < 9; ++lanes) {
    for (std::size_t plots = 1; plots < 40; ++plots) {
      const auto steps = field(lanes, plots);
      const SheetRoom room{room_for(12, 2).first, room_for(17, 2).others};
      std::size_t next = 0;
      for (const SheetRun& run : split_into_sheets(steps, room)) {
        EXPECT_EQ(run.first, next);
        ASSERT_GT(run.count, 0U);
        next += run.count;
        double height = 0;
        for (std::size_t n = run.first; n < next; ++n)
          height += kRowHeight + (n == run.first || steps[n].lane ? kBandHeight : 0);
        EXPECT_LE(height, run.first == 0 ? room.first : room.others)
            << lanes << " lanes of " << plots;
      }
      EXPECT_EQ(next, lanes * plots);
    }
  }
}

TEST(SheetLayout, ThePageIsTurnedWhereThePathTurnsIfThatCostsNoSheet) {
  // Two lanes of 8 on a sheet, though 18 plots would have room.
  EXPECT_THAT(split_into_sheets(field(4, 8), room_for(18, 3)),
              ElementsAre(SheetRun{0, 16}, SheetRun{16, 16}));
  // Whole lanes of 12 would take four sheets where three hold all of them.
  EXPECT_THAT(split_into_sheets(field(4, 12), room_for(18, 2)),
              ElementsAre(SheetRun{0, 18}, SheetRun{18, 18}, SheetRun{36, 12}));
}

TEST(SheetLayout, TheFirstSheetMayHaveLessRoom) {
  EXPECT_THAT(split_into_sheets(field(1, 20), {room_for(8, 1).first, room_for(12, 1).others}),
              ElementsAre(SheetRun{0, 8}, SheetRun{8, 12}));
}

TEST(SheetLayout, WithoutRoomOnePlotStandsOnEachSheet) {
  EXPECT_THAT(split_into_sheets(field(1, 2), {1, 1}), ElementsAre(SheetRun{0, 1}, SheetRun{1, 1}));
  EXPECT_THAT(split_into_sheets({}, {100, 100}), IsEmpty());
}

TEST(SheetLayout, LinesAreCountedGenerously) {
  EXPECT_EQ(lines_in("", 20, 2), 1);
  EXPECT_EQ(lines_in("ten  signs", 30, 2), 1);
  EXPECT_EQ(lines_in("ten  signs", 20, 2), 2) << "words do not fill their line";
}

}  // namespace
}  // namespace ligule::print
