// The trials of a ledger as plain values for the results.
#pragma once

#include <map>
#include <vector>

#include "storage/ledger/ledger.h"
#include "sync/results/trial_facts.h"

namespace ligule::results {

struct LedgerFacts {
  std::vector<TrialFacts> trials;  // by site, field, trial code
  bool demonstration = false;      // every stream was made for demonstration
  // By the stream of a record the one its tablet began with: ports of two tablets may share a name.
  std::map<StreamId, StreamId> tablets = {};
  std::map<PersonId, std::string> people = {};  // initials, as they were first noted
};

// Errors: those of reading the ledger; kConflict where it holds streams made for demonstration
// beside real ones, which must never be mixed.
[[nodiscard]] Result<LedgerFacts> facts_of(const ledger::Ledger& ledger);

}  // namespace ligule::results
