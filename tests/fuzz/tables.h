// The readers of tables, by the letter that an input of the target `tables` begins with.
#pragma once

#include <string_view>

namespace ligule::fuzz {

// a any CSV, b entry list, c site sheet, d occasion list, e plot values, f aliases, g varieties,
// h site notes, i weather, j releases, k typed from paper, l lines typed at the desk, m weights,
// n seed on hand.
inline constexpr std::string_view kTableReaders = "abcdefghijklmn";

}  // namespace ligule::fuzz
