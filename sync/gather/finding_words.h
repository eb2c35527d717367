// What a rule found, in words for people at a desk.
#pragma once

#include <string>

#include "storage/checks/rules.h"

namespace ligule::gather {

// "is of a plot that was rated as having no stand": goes on from what was found.
[[nodiscard]] std::string words_of(const checks::Finding& finding);
// What was converted to another unit, with two decimals at most: "7", "3.94".
[[nodiscard]] std::string shown(double number);

}  // namespace ligule::gather
