// How the endophyte of a trial's entries is known, as lines of a report: a status that a test bore
// out and one that an entrant only states are not the same to whoever buys seed.
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "storage/trial/scale.h"
#include "sync/results/trial_facts.h"

namespace ligule::results {

struct EntryLine {
  std::string test;
  std::string text;  // "Alder Brook (novel AX1): found in 92 % of what was tested on 2024-08-01"

  bool operator==(const EntryLine&) const = default;
};

// Of every entry whose species has an endophyte, or of which one is stated, by the name results
// print it under; fillers are left out. A percent without a date says so, a status without a test
// is "as the entrant states", and else it is "not stated". `test` is what results call the trial.
// `printed` gives the name in print of a label (nothing: the entry is withheld); without it that is
// the label.
[[nodiscard]] std::vector<EntryLine> entry_lines(
    const TrialFacts& trial, const std::string& test, const Definitions& definitions,
    const std::function<std::optional<std::string>(const std::string&)>& printed = {});

}  // namespace ligule::results
