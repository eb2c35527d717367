// Botanical composition by hand separation: the parts that a subsample of a plot's forage is sorted
// into. Written to disk: never change a text or a number.
//
// A plot's subsample is weighed fresh with its bag (separated_fresh, about the plot), sorted, and
// each part goes into a numbered bag (part_bag, about the plot; its `part` is the number here),
// whose weights are those of any sample bag. A part of which there was nothing is a part_bag of
// state zero.
#pragma once

#include <array>
#include <cstddef>
#include <string_view>

namespace ligule {

namespace composition {

// In the order of their numbers, 1 to 5; the scale part_bag says what each of them is.
inline constexpr std::array<std::string_view, 5> kParts{"sown", "other_sown", "grass_weed",
                                                        "broadleaf", "dead"};
inline constexpr std::size_t kPartCount = kParts.size();
// The first of them are what was sown: the entry, and what was sown with it.
inline constexpr std::size_t kSownParts = 2;

// How far the parts' fresh weights together may be off the whole, share of the whole; beyond it is
// asked. Common practice, no source: leaves lose water while they are sorted, and some are lost on
// the table.
inline constexpr double kTolerance = 0.03;

// The code of a part; empty: there is no such part.
[[nodiscard]] constexpr std::string_view name_of_part(int part) {
  const bool known = part >= 1 && part <= static_cast<int>(kPartCount);
  return known ? kParts.at(static_cast<std::size_t>(part - 1)) : std::string_view();
}

}  // namespace composition

// Whether a record of this measure numbers a bag: bag values name such a record as their subject.
[[nodiscard]] constexpr bool numbers_a_bag(std::string_view measure) {
  return measure == "bag_number" || measure == "part_bag";
}

}  // namespace ligule
