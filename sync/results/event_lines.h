// What happened to a trial, as lines of a report.
#pragma once

#include <string>
#include <vector>

#include "sync/results/trial_facts.h"

namespace ligule::results {

struct EventLine {
  std::string test;
  int year = 0;      // of the day it happened
  std::string text;  // "2026-05-04, spray, block 2: a herbicide, 1 pint/acre; \"windy\""

  bool operator==(const EventLine&) const = default;
};

// By date, those of one day as they were noted. What was taken back is left out, and so is who was
// shown the names of entries; every other event has a line, of whatever kind. `test` is what
// results call the trial.
[[nodiscard]] std::vector<EventLine> event_lines(const TrialFacts& trial, const std::string& test);

}  // namespace ligule::results
