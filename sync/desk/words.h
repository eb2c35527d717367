// What the commands that make tables say alike.
#pragma once

#include <span>
#include <string>

#include "sync/results/analysis.h"

namespace ligule::desk {

// "2 tests, 9 analyses". `analyses` in the order of results::analyse().
[[nodiscard]] std::string tests_and_analyses(std::span<const results::Analysis> analyses);

}  // namespace ligule::desk
