// Whether a plan can be meant: everything that the columns of its tables cannot say for themselves.
#pragma once

#include <string>
#include <vector>

#include "storage/files/faults.h"
#include "storage/trial/plan.h"
#include "storage/trial/scale.h"

namespace ligule::files {

// More steps than a pad holds are a percent, or an amount.
inline constexpr int kMostScoreSteps = 21;

// Where each part of a plan was read ("plots.csv line 9"), for errors: the trial, and the n-th
// entry, plot and occasion. A plan that comes from no file leaves all empty; errors then name the
// part itself ("plot 204").
struct PlanPlaces {
  std::string trial;
  std::vector<std::string> entries, plots, occasions, scores, soil;
  // Some cells could not be read: what only a whole plan can show (entries missing from a block,
  // gaps between cuttings) is not judged, so that one bad cell does not draw a dozen faults.
  bool incomplete = false;
};

struct PlanFindings {
  Faults faults;   // the plan cannot be used
  Faults notices;  // odd, but it may be meant
};

// Looks for: unusable codes; sizes that are not above zero, a swath larger than its plot, an
// unknown time zone, a revision without a reason; entries that share a code or a name in results,
// an unknown species, and what is said of their seed (entry_check.h); plots that share a number, a
// place or a step of the path, or name no entry; in complete blocks, entries missing from a block
// or standing in it twice (checks and fillers may); in a Latin square, an entry that does not stand
// once in each row and each column (fillers may lie around it); incomplete blocks that are none
// (design_check.h); occasions that share a code,
// cuttings that are not 1, 2, 3 ... within their year, dates before sowing, measures that are
// unknown, named twice or without a scale for a species of the trial, a harvest without a gross
// weight or a swath.
[[nodiscard]] PlanFindings check_plan(const Plan& plan, const Definitions& definitions,
                                      const PlanPlaces& places = {});

}  // namespace ligule::files
