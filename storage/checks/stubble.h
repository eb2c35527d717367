// How low a trial may be cut.
#pragma once

#include <optional>
#include <span>

#include "storage/trial/plan.h"
#include "storage/trial/scale.h"

namespace ligule::checks {

// Inches that everything sown in the trial bears: the highest of its species' least heights. Empty:
// nobody says for any of them.
[[nodiscard]] std::optional<double> least_stubble(const Plan& plan,
                                                  std::span<const Species> species);

// Whether a setting in inches is lower than that; a thousandth is what converting to inches and
// back may leave.
[[nodiscard]] bool is_low(double inches, std::optional<double> least);

}  // namespace ligule::checks
