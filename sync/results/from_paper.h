// What was written on paper and typed at a desk: a reader may want to know.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "storage/trial/error.h"
#include "sync/results/footing.h"
#include "sync/results/trial_facts.h"

namespace ligule::results {

// Under each cutting's table, of how many plots a weight came from paper.
[[nodiscard]] std::vector<Footing> paper_footings(const TrialFacts& trial, const std::string& test);
// For the list of what to look at: how many values of each rating came from paper; of one year, or
// all.
[[nodiscard]] std::vector<Error> paper_notices(const TrialFacts& trial, const std::string& test,
                                               std::optional<int> year);

}  // namespace ligule::results
