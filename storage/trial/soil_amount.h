// Amounts in soil: a share of it (ppm) and what lies under an acre are one number only with a depth
// and a weight of soil.
#pragma once

#include <optional>
#include <string_view>

#include "storage/trial/soil_test.h"

namespace ligule {

// How deep the samples were taken, in inches; empty where it is not said, or is no depth.
[[nodiscard]] std::optional<double> sampled_inches(const SoilTest& test);

// Whether that is the furrow slice, 6 to 7 in (15 to 18 cm), which a depth that is not said is
// taken for.
[[nodiscard]] bool is_furrow_slice(const std::optional<double>& inches);

// Pounds on an acre for each ppm. A furrow slice of 6 to 7 in weighs about 2,000,000 lb an acre, so
// it is 2 there (Penn State Agronomy Guide, section 2); in other layers 2 for each 6 in (County of
// Merced, converter of soil nutrients).
[[nodiscard]] double pounds_for_a_ppm(const std::optional<double>& inches);

// A value in another unit: ppm and mg/kg (the same), lb/acre and kg/ha (by exact constants),
// between the two kinds by pounds_for_a_ppm(). Any unit into itself; empty where the units do not
// go into one another.
[[nodiscard]] std::optional<double> in_soil_unit(double value, std::string_view from,
                                                 std::string_view to,
                                                 const std::optional<double>& inches);

}  // namespace ligule
