// Numbers as people type them, read and written in one place, so that no digit is changed on the
// way.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

#include "storage/trial/error.h"

namespace ligule {

// Reads the whole text as one finite decimal number ("12", "-0.5", "1e3" is refused): digits, at
// most one point, a leading minus. No spaces, no comma, no grouping, no NaN. Error kInvalid names
// the text.
[[nodiscard]] Result<double> parse_number(std::string_view text);

// Reads a whole number without sign or leading plus. Error kInvalid.
[[nodiscard]] Result<std::int64_t> parse_integer(std::string_view text);

// The shortest text that reads back as the same double. The value must be finite.
[[nodiscard]] std::string format_number(double value);

// Fixed decimals for showing only (0 to 9): the exact binary value rounded to nearest, minus zero
// shown as zero. Never used for what is kept.
[[nodiscard]] std::string format_fixed(double value, int decimals);

}  // namespace ligule
