// The passes at which one measure was rated, in the order of time.
#pragma once

#include <cstddef>
#include <map>
#include <span>
#include <string>
#include <vector>

#include "storage/trial/plan.h"
#include "sync/results/analysis.h"
#include "sync/results/ratings.h"
#include "sync/results/trial_facts.h"

namespace ligule::results {

struct RatedPass {
  const PlanOccasion* occasion = nullptr;    // of the trial's plan; never null
  CalendarDate on{};                         // the day most values are of; of several the earliest
  std::map<std::string, CalendarDate> days;  // of the plots with a value, by number
  std::vector<PlotValue> values;             // as ratings_of() has them, missing ones too

  // The first and the last of its days.
  [[nodiscard]] CalendarDate first_day() const;
  [[nodiscard]] CalendarDate last_day() const;
};

// By day, then code. `measure` is one of ratings_of(trial), no share of a whole. A pass without a
// value is none.
[[nodiscard]] std::vector<RatedPass> rated_passes(const TrialFacts& trial,
                                                  const MeasureValues& measure);

// The one analysis of values that are all of one test and pass, without totals; without values an
// empty one. Design and alpha are those of `options`.
[[nodiscard]] Analysis analysis_of_pass(std::span<const PlotValue> values, AnalysisOptions options,
                                        Best best);

}  // namespace ligule::results
