// Units as they are written in plans, records and tables, and the numbers they belong to.
#pragma once

#include <string_view>

#include "storage/trial/error.h"
#include "storage/trial/quantity.h"

namespace ligule {

// Weights: "kg", "g", "lb", "oz". Error kInvalid names the unit and those known.
[[nodiscard]] Result<Kilograms> mass_in(double value, std::string_view unit);
// Lengths: "m", "cm", "ft", "in". Error kInvalid.
[[nodiscard]] Result<Metres> length_in(double value, std::string_view unit);
// A yield in "ton/acre" (short tons), "lb/acre", "kg/ha" or "Mg/ha". Error kInvalid.
[[nodiscard]] Result<double> yield_in(KilogramsPerHectare yield, std::string_view unit);
[[nodiscard]] bool is_yield_unit(std::string_view unit);

}  // namespace ligule
