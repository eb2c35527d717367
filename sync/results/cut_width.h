// What a crew wrote down about a cutting's machine, held against the plan.
#pragma once

#include <string>
#include <vector>

#include "storage/trial/error.h"
#include "sync/results/trial_facts.h"

namespace ligule::results {

// A notice for every harvest run whose cut width, as the crew put it into words ("36 in"), is more
// than 2 percent off the plan's swath width: every yield of that cutting is off by as much. Words
// that are no length say nothing. `test` is what results call the trial.
[[nodiscard]] std::vector<Error> cut_width_notices(const TrialFacts& trial,
                                                   const std::string& test);

}  // namespace ligule::results
