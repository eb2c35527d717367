// What is left of a stand: the later stand of each plot as a percent of its earlier one.
#pragma once

#include <string>
#include <vector>

#include "sync/results/analysis.h"
#include "sync/results/rated_passes.h"
#include "sync/results/trial_facts.h"

namespace ligule::results {

struct StandKept {
  // Percent of the earlier stand, plot by plot; high is best. Above 100 where a stand filled up.
  // The mean of plots, so not the later mean as a percent of the earlier.
  Analysis percent;
  // Numbers of plots that have no percent, along the path.
  std::vector<std::string> began_at_zero;  // nothing stood there that could be left
  std::vector<std::string> not_rated_first;
  std::vector<std::string> not_rated_last;
  // They are no plots of it at all: what stands there now is not what stood there first.
  std::vector<std::string> sown_again;
  std::vector<std::string> another_entry;  // as sown
};

// Of two passes of one measure of a trial, the earlier first. A later stand of 0 is 0 percent. A
// plot counts as sown again from the day of its earlier rating on until the day before its later
// one: on a day of both people rate first. `percent` is named "left" and has no year.
[[nodiscard]] StandKept stand_kept(const TrialFacts& trial, const RatedPass& earlier,
                                   const RatedPass& later, const AnalysisOptions& options);

// What a reader must know of plots without a percent, a sentence each: "2 plots began at 0 and can
// have nothing left: 101, 204."
[[nodiscard]] std::vector<std::string> kept_notes(const StandKept& kept);

}  // namespace ligule::results
