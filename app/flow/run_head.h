// The head of a harvest run: machine, cut width, stubble, crop surface. Shared by update; not for
// other rooms.
#pragma once

#include "app/flow/model.h"

namespace ligule::flow {

// Of a day's first run: the machine of the last one; everything else is the day's own.
[[nodiscard]] RunHead new_head(const Harvest& harvest);
// Of another run of the day: all that the run says, to be changed.
[[nodiscard]] RunHead head_of(const Record& run);
[[nodiscard]] bool same_texts(const RunHead& a, const RunHead& b);

}  // namespace ligule::flow
