// Whether seed of a variety is on sale yet.
#pragma once

#include <string_view>

namespace ligule::results {

enum class Market { kNotStated, kOnSale, kExperimental };
[[nodiscard]] std::string_view name_of(Market market);  // "on sale", "experimental", ""

}  // namespace ligule::results
