// Whether a plan can be meant: everything a table's columns cannot say for themselves.
#pragma once

#include <string>
#include <vector>

#include "storage/files/faults.h"
#include "storage/trial/plan.h"
#include "storage/trial/scale.h"

namespace ligule::files {

// Where each part of a plan was read, for errors: the file and line of the trial and of the n-th
// entry, plot and occasion. Plans that come from no file leave the lists empty; errors then name
// the part itself.
struct PlanPlaces {
  std::string trial;
  std::vector<std::string> entries, plots, occasions;
};

struct PlanFindings {
  Faults faults;   // the plan cannot be used
  Faults notices;  // odd, but it may be meant
};

// Looks for: sizes that are not above zero, a swath larger than its plot, an unknown time zone, a
// revision without a reason; entries that share a code or a name in results, an unknown species, an
// endophyte that the species cannot have, a strain of nothing; plots that share a number, a place
// or a step of the path, that name no entry; in complete blocks, entries missing from a block or
// standing in it twice (checks and fillers may); occasions that share a code, cuttings that are not
// 1, 2, 3 ... within their year, dates before sowing, measures that are unknown or have no scale
// for a species of the trial.
[[nodiscard]] PlanFindings check_plan(const Plan& plan, const Definitions& definitions,
                                      const PlanPlaces& places = {});

}  // namespace ligule::files
