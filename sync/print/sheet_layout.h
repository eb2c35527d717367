// Where the rows of a plot sheet go: millimetres of paper, and nothing of what stands on it.
#pragma once

#include <cstddef>
#include <span>
#include <string_view>
#include <vector>

namespace ligule::print {

// High enough to write in with a pencil and cold hands: 8 mm and more.
inline constexpr double kRowHeight = 9;
// Of the line above the first plot of a lane or a block, and above the first one of each sheet.
inline constexpr double kBandHeight = 6.5;

// One plot along the path.
struct SheetStep {
  bool lane = false;   // the path turns before it
  bool block = false;  // another block begins with it

  bool operator==(const SheetStep&) const = default;
};

// Rows of one sheet, by their place along the path.
struct SheetRun {
  std::size_t first = 0;
  std::size_t count = 0;

  bool operator==(const SheetRun&) const = default;
};

// Millimetres for rows: the first sheet says more above them.
struct SheetRoom {
  double first = 0;
  double others = 0;
};

// All steps in their order, at least one on each sheet. A lane is kept on one sheet where that
// needs no more of them: one turns the page where one turns round.
[[nodiscard]] std::vector<SheetRun> split_into_sheets(std::span<const SheetStep> steps,
                                                      const SheetRoom& room);

// Lines that a text takes at most in that width, at so many millimetres a character.
[[nodiscard]] int lines_in(std::string_view text, double width, double per_character);

}  // namespace ligule::print
