// Weights of a scale that was off when it was checked, and that nobody answered for.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "sync/results/ledger_facts.h"

namespace ligule::results {

// A notice for every check weight that was off and every cutting it puts in doubt, in order of the
// checks: by how much, when, and of which plots. The weights stand. names: what results call each
// trial, in the order of facts.trials. year: of the cuttings; empty: all.
[[nodiscard]] std::vector<Error> scale_notices(const LedgerFacts& facts,
                                               std::span<const std::string> names,
                                               std::optional<int> year = {});

}  // namespace ligule::results
