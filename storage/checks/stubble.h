// How low a trial may be cut.
#pragma once

#include <optional>
#include <string_view>

#include "storage/trial/plan.h"
#include "storage/trial/record.h"
#include "storage/trial/scale.h"

namespace ligule::checks {

// The measure whose limits say it.
inline constexpr std::string_view kStubbleHeight = "stubble_height";
// The rule that asks about what is lower.
inline constexpr std::string_view kStubbleLow = "stubble_low";

// Inches that everything sown in the trial bears: the highest of its species' least heights. Empty:
// nobody says for any of them.
[[nodiscard]] std::optional<double> least_stubble(const Plan& plan, const Definitions& definitions);

// A limit's least height in inches; empty without one.
[[nodiscard]] std::optional<double> least_inches(const Limit* limit);

// What a record states, in inches; empty where that is no length.
[[nodiscard]] std::optional<double> inches_stated(const Record& record);

// Whether a setting in inches is lower than that; a thousandth is what converting to inches and
// back may leave.
[[nodiscard]] bool is_low(double inches, std::optional<double> least);

}  // namespace ligule::checks
