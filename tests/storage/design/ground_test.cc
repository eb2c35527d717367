#include "storage/design/ground.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <map>
#include <string>

namespace ligule::design {
namespace {

// The numbers as one sees them standing in front of the field: the last row is the nearest.
std::string seen(const Ground& ground) {
  std::map<std::pair<int, int>, std::size_t> at;
  for (const GroundPlace& place : places_of(ground))
    at[{place.row, place.column}] = place.number(ground.places());
  std::string text;
  for (auto row = static_cast<int>(ground.rows()); row >= 1; --row) {
    for (int column = 1; column <= static_cast<int>(ground.columns()); ++column) {
      const auto found = at.find({row, column});
      text += column > 1 ? " " : "";
      text += found == at.end() ? "---" : std::to_string(found->second);
    }
    text += '\n';
  }
  return text;
}

TEST(TheGround, IsNumberedInASerpentineFromTheFrontLeft) {
  EXPECT_EQ(seen({.blocks = 3, .plots = 4}),
            "301 302 303 304\n"
            "204 203 202 201\n"
            "101 102 103 104\n");
}

TEST(TheGround, IsNumberedFromEachCorner) {
  Ground ground{.blocks = 2, .plots = 3};
  ground.start = Corner::kFrontRight;
  EXPECT_EQ(seen(ground), "201 202 203\n103 102 101\n");
  ground.start = Corner::kBackLeft;
  EXPECT_EQ(seen(ground), "101 102 103\n203 202 201\n");
  ground.start = Corner::kBackRight;
  EXPECT_EQ(seen(ground), "103 102 101\n201 202 203\n");
}

TEST(TheGround, IsNumberedPlainly) {
  EXPECT_EQ(seen({.blocks = 2, .plots = 3, .serpentine = false}), "201 202 203\n101 102 103\n");
}

TEST(TheGround, OfBlocksOfSeveralRowsGoesOnFromBlockToBlock) {
  // Three rows a block: the second block begins where the first one ended.
  EXPECT_EQ(seen({.blocks = 2, .plots = 6, .plots_per_row = 2}),
            "206 205\n"
            "203 204\n"
            "202 201\n"
            "105 106\n"
            "104 103\n"
            "101 102\n");
}

TEST(TheGround, OfBlocksBesideEachOther) {
  EXPECT_EQ(seen({.blocks = 4, .plots = 2, .blocks_beside = 2}),
            "402 401 302 301\n"
            "101 102 201 202\n");
  EXPECT_EQ(seen({.blocks = 3, .plots = 2, .blocks_beside = 2}),
            "--- --- 302 301\n"
            "101 102 201 202\n")
      << "the last block lies where the path goes on";
}

TEST(TheGround, IsNumberedAlongItsColumns) {
  Ground ground{.blocks = 2, .plots = 4, .plots_per_row = 2, .along = Along::kColumns};
  EXPECT_EQ(seen(ground),
            "202 203\n"
            "201 204\n"
            "102 103\n"
            "101 104\n");
  ground.blocks_beside = 2;
  ground.serpentine = false;
  EXPECT_EQ(seen(ground),
            "102 104 202 204\n"
            "101 103 201 203\n");
}

TEST(TheGround, IsFilledToARectangle) {
  const Ground ground{.blocks = 1, .plots = 5, .plots_per_row = 3};
  EXPECT_EQ(ground.places(), 6U);
  EXPECT_EQ(seen(ground), "106 105 104\n101 102 103\n");
}

TEST(TheGround, TakesFourFiguresAboveNinetyNinePlacesABlock) {
  const auto places = places_of({.blocks = 2, .plots = 100});
  EXPECT_EQ(places.front().number(100), 1001U);
  EXPECT_EQ(places.back().number(100), 2100U);
  EXPECT_EQ(places.back().number(99), 300U);
}

TEST(TheGround, HoldsEveryPlaceOnceWhateverItsShape) {
  for (std::size_t blocks = 1; blocks <= 5; ++blocks) {
    for (std::size_t width = 0; width <= 4; ++width) {
      for (const Along along : {Along::kRows, Along::kColumns}) {
        const Ground ground{.blocks = blocks,
                            .plots = 7,
                            .plots_per_row = width,
                            .blocks_beside = 2,
                            .along = along};
        std::map<std::pair<int, int>, int> at;
        std::map<std::size_t, int> numbers;
        for (const GroundPlace& place : places_of(ground)) {
          ++at[{place.row, place.column}];
          ++numbers[place.number(ground.places())];
          EXPECT_LE(place.row, static_cast<int>(ground.rows()));
          EXPECT_LE(place.column, static_cast<int>(ground.columns()));
          EXPECT_GE(place.row * place.column, 1);
        }
        EXPECT_EQ(at.size(), blocks * ground.places());
        EXPECT_EQ(numbers.size(), blocks * ground.places());
      }
    }
  }
}

}  // namespace
}  // namespace ligule::design
