// Values that no table holds because the plan in force has not the plot they are of: a revision
// dropped it after somebody gave them.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "storage/trial/error.h"
#include "sync/results/trial_facts.h"

namespace ligule::results {

// For the list of what to look at, a notice a plot: how many values of which measures, and of which
// days. Of ratings and cuttings of one year, or of all.
[[nodiscard]] std::vector<Error> dropped_plots_notices(const TrialFacts& trial,
                                                       const std::string& test,
                                                       std::optional<int> year);

}  // namespace ligule::results
