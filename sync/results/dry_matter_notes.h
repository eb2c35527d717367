// What is said of the dry-matter fractions that yields were made with: which plots used which.
#pragma once

#include <string>
#include <vector>

#include "storage/trial/error.h"
#include "sync/results/footing.h"
#include "sync/results/yields.h"

namespace ligule::results {

// Under each cutting how many plots used which fraction, those by name that did not use their own
// sample; and where several plots share a sample, that dry matter was not replicated. Plots out of
// results, and those whose yield needs no fraction, are not counted.
[[nodiscard]] std::vector<Footing> dry_matter_footings(const std::vector<PlotYield>& plots);

// Under each cutting that has a weight in `plots` how its samples were taken and dried: by plot,
// entry or trial where not by plot; the bag's tare and how that was weighed; oven and hours as they
// were stated with the dried weights, and for how many bags.
[[nodiscard]] std::vector<Footing> sampling_footings(const TrialFacts& trial,
                                                     const std::string& test,
                                                     const std::vector<PlotYield>& plots);

// A line for each cutting's plots that used a mean in place of a sample of their own.
[[nodiscard]] std::vector<Error> borrowed_notices(const std::vector<PlotYield>& plots);

}  // namespace ligule::results
