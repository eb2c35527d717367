// The steps of an ordered scale, as what two people gave is counted on them.
#pragma once

#include <cstddef>
#include <optional>

#include "storage/trial/scale.h"

namespace ligule::results {

// How many there are: those of a score or of stages; of percents as many coarse steps (5) as fit
// between their ends, both ends counted. 0 of other scales.
[[nodiscard]] std::size_t steps_of(const Scale& scale);
// The one a value stands on, from 0; of percents the nearest coarse step. Empty: on none.
[[nodiscard]] std::optional<std::size_t> step_at(const Scale& scale, double value);

}  // namespace ligule::results
