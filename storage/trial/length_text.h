// A length as people write it: "3 in", "8 cm", "1/2 inch", "3 1/2 in", "1,5 in", "2-3 in".
#pragma once

#include <optional>
#include <string>
#include <string_view>

namespace ligule {

// Inches; of a range its lower end. unit: that of a number written without one. Empty: it is no
// length.
[[nodiscard]] std::optional<double> inches_of(std::string_view text, std::string_view unit);

// The text with its unit: as it is where it says one, else with `unit` behind it.
[[nodiscard]] std::string with_unit(std::string_view text, std::string_view unit);

}  // namespace ligule
