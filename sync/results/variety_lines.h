// Who the entries are: what a report says of each variety, once for all its tests.
#pragma once

#include <span>
#include <string>
#include <vector>

#include "storage/trial/scale.h"
#include "sync/results/analysis.h"
#include "sync/results/entry_standing.h"
#include "sync/results/printed_name.h"
#include "sync/results/trial_facts.h"
#include "sync/results/varieties.h"

namespace ligule::results {

struct VarietyLine {
  std::string species = {};    // English trade name; empty: not known
  std::string entry = {};      // the label results print it under
  std::string type = {};       // in the entrant's words: "late", "diploid"; empty: not stated
  std::string endophyte = {};  // "novel AX1", "free", "toxic"; empty: the species has none
  // By what that is known: "as the entrant states, not tested". Empty where endophyte is.
  std::string known_by = {};
  Market market = Market::kNotStated;
  std::string note = {};
  std::vector<std::string> tests = {};  // it stands in, as results call them, in order

  bool operator==(const VarietyLine&) const = default;
};

// Adds the entries of a trial but its fillers and withheld ones, by the name in print. One label
// known in two ways (seed lots of two years, say) has a line for each. Kept in the order of
// species, entry, known_by.
void add_varieties(const TrialFacts& trial, const std::string& test, const Definitions& definitions,
                   const PrintedName& printed, std::vector<VarietyLine>& lines);

// Puts what varieties.csv says into the lines; varieties that no plan names get a line of their own
// with their tests among the analyses. `known` and `analyses` are by the names in print.
void complete_varieties(std::vector<VarietyLine>& lines, const Varieties& known,
                        std::span<const Analysis> analyses);

}  // namespace ligule::results
