// Values that no table holds because the plan in force does not name what they are of: a revision
// dropped a rating, a cutting or a plot after somebody gave them.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "storage/trial/error.h"
#include "sync/results/trial_facts.h"

namespace ligule::results {

// For the list of what to look at: how many values of which measures, and of which days, for each
// rating or cutting that is not planned any more, and for each plot. Of one year of entry, or all.
[[nodiscard]] std::vector<Error> unplanned_notices(const TrialFacts& trial, const std::string& test,
                                                   std::optional<int> year);

}  // namespace ligule::results
