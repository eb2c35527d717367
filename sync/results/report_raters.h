// The part of the report that says how the people who rated agree.
#pragma once

#include <string>

#include "sync/results/raters.h"

namespace ligule::results {

// In plain words first, then the figures, and how to read them; a heading each rating and measure.
// alpha: up to which p a drift or an effect is told as one. Empty where there are no figures.
[[nodiscard]] std::string raters_section(const RaterFigures& figures, double alpha);

}  // namespace ligule::results
