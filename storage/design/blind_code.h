// Codes for stakes and packets that say nothing of the entry behind them.
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "storage/design/draw.h"

namespace ligule::design {

// As many as there are, at most.
inline constexpr std::size_t kMostBlindCodes = 1000;

// `count` different codes in a drawn order: a letter and two figures, three above 100 codes ("K47",
// "T305"). The letter follows from the figures, so that one sign misread, or two figures beside
// each other exchanged, is never the code of another entry. No letter looks like a figure, and
// every code begins with one: none is taken for the number of a plot.
[[nodiscard]] std::vector<std::string> blind_codes(std::size_t count, Draw& draw);

}  // namespace ligule::design
