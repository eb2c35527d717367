// The trials of a ledger as plain values for the results.
#pragma once

#include <vector>

#include "storage/ledger/ledger.h"
#include "sync/results/trial_facts.h"

namespace ligule::results {

struct LedgerFacts {
  std::vector<TrialFacts> trials;  // by site, field, trial code
  bool demonstration = false;      // every stream was made for demonstration
};

// Errors: those of reading the ledger; kConflict where it holds streams made for demonstration
// beside real ones, which must never be mixed.
[[nodiscard]] Result<LedgerFacts> facts_of(const ledger::Ledger& ledger);

}  // namespace ligule::results
