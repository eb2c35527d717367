// Drying samples: whether one has stopped losing water, and whether an oven is as ovens are.
#pragma once

#include <optional>
#include <string_view>

#include "storage/trial/quantity.h"

namespace ligule::checks {

// A sample is dry when between two weighings it lost less than this, g of each 100 g of it as it
// was fresh. Source: Saskatchewan, "Determining Moisture Content" (saskatchewan.ca): samples of
// about 100 g, weighed until they lose less than 1 g.
inline constexpr double kLeastLoss = 1.0;

// What a sample lost between two weighings, g of each 100 g; below zero where it gained. All three
// weighed with the bag, whose tare is taken off. Of the fresh weight where it is known, else of the
// earlier weighing, which asks more. Nothing where that is not above zero.
[[nodiscard]] std::optional<double> loss_per_hundred(Kilograms before, Kilograms now,
                                                     std::optional<Kilograms> fresh,
                                                     Kilograms tare);
[[nodiscard]] bool is_constant(double loss);

enum class OvenFinding {
  kUsual,
  kNoNumber,    // can't be read
  kImpossible,  // below 35 or above 110 C, or no time at all
  kUnusual      // not 55 to 70 C nor 100 to 105 C (moisture only), or less than 24 hours
};
// Both texts as typed; an empty one says nothing and finds nothing. Bounds: common practice, no
// source, around the published 55 C for 72 h, 60 C for 24 h and more, 103 C for 24 h (the trade's
// standard for forage moisture, figures from memory).
[[nodiscard]] OvenFinding judge_oven(std::string_view celsius, std::string_view hours);

}  // namespace ligule::checks
