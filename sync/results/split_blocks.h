// Blocks that were not cut as one: on two days, or with two machines.
#pragma once

#include <string>
#include <vector>

#include "sync/results/footing.h"
#include "sync/results/trial_facts.h"

namespace ligule::results {

// Weather and machine are then part of what differs between the entries of the block. A whole block
// on another day than the others is normal, and is not named.
struct SplitBlock {
  std::string test;
  int year = 0;
  int cutting = 0;
  int block = 0;
  std::vector<CalendarDate> days;     // of the harvest runs that weighed it, in order
  std::vector<std::string> machines;  // as the crews called them, in order of the alphabet

  bool operator==(const SplitBlock&) const = default;
};

// By year, cutting and block. Of plots that were weighed in a run; a weight that was corrected
// later stays with its run. `test` is what results call the trial.
[[nodiscard]] std::vector<SplitBlock> split_blocks(const TrialFacts& trial,
                                                   const std::string& test);
// As lines under their cuttings.
[[nodiscard]] std::vector<Footing> split_footings(const std::vector<SplitBlock>& splits);
// "block 2 was cut on 2026-05-20 and 2026-05-21, with mower 1 and mower 2".
[[nodiscard]] std::string split_text(const SplitBlock& split);

}  // namespace ligule::results
