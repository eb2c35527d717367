// Sums of numbers as they are written, digit by digit: 5.03 less 5.00 is 0.03, which no double
// says.
#pragma once

#include <string>
#include <string_view>

#include "storage/trial/error.h"

namespace ligule {

// a less b, with the decimals of the one that has more: "10.12" and "10" give "0.12". kInvalid for
// a text that parse_number() does not read, or of more than 15 digits.
[[nodiscard]] Result<std::string> difference(std::string_view a, std::string_view b);
// Whether a and b are no more than `allowance` apart. Errors of difference().
[[nodiscard]] Result<bool> within(std::string_view a, std::string_view b,
                                  std::string_view allowance);

}  // namespace ligule
