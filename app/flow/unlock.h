// Unlocking the entries' names. Used by update; not for other rooms.
#pragma once

#include <string>
#include <vector>

#include "app/flow/turn.h"

namespace ligule::flow {

// Says for each of these occasions, in one act, that the names were shown to the person from now
// on; those already shown to them are passed over. plot: where they stood, may be empty.
void unlock_names(Turn& turn, const KnownTrial& trial, const std::vector<OccasionId>& occasions,
                  const std::string& plot);

}  // namespace ligule::flow
