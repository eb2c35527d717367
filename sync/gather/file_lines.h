// The lines of a table, as they are kept beside what was read from them. For this room only.
#pragma once

#include <string_view>
#include <vector>

namespace ligule::gather {

// The physical lines of a text without their ends, views into it; line n of a CsvRow is at n - 1.
[[nodiscard]] std::vector<std::string_view> lines_of(std::string_view text);

}  // namespace ligule::gather
