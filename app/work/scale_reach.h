// How far back a check weight may put weights in doubt. Inside this room only.
#pragma once

#include <vector>

#include "storage/trial/record.h"

namespace ligule::work {

// The day from which on a check weight may still doubt what was weighed: of each scale that of its
// last good check, or of the one before the first that was off within reach; of a scale without
// one as far back as any check reaches. Checks and runs: oldest first, not both empty.
[[nodiscard]] CalendarDate reached_back(const std::vector<Record>& checks,
                                        const std::vector<Record>& runs);

}  // namespace ligule::work
