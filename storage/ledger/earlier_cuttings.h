// What plots weighed in the season's earlier cuttings: a weight of this one is held against them,
// on tablet and desk.
#pragma once

#include <map>
#include <string>
#include <vector>

#include "storage/ledger/ledger.h"

namespace ligule::ledger {

// Kilograms of forage by plot, tares taken off, of the cuttings of the occasion's year that come
// before it, oldest first. Plots on hold, without a weight, or whose weight is in doubt between two
// tablets are left out. Empty for what is no cutting.
[[nodiscard]] Result<std::vector<std::map<std::string, double>>> earlier_cuttings(
    const Ledger& ledger, TrialId trial, OccasionId occasion);

}  // namespace ligule::ledger
