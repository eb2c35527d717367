// Ratings and cuttings that were closed although something was odd about how they were made.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "sync/results/trial_facts.h"

namespace ligule::results {

// A notice for each such thing, in order of the records; the values stand. test: what results call
// the trial. year: of the occasions; empty: all.
[[nodiscard]] std::vector<Error> closed_so_notices(const TrialFacts& trial, const std::string& test,
                                                   std::optional<int> year = {});

}  // namespace ligule::results
