// One row a plot and rating (or cutting) at which something was rated or measured besides weights.
#pragma once

#include "sync/results/ledger_facts.h"
#include "sync/wide/wide_tables.h"

namespace ligule::wide {

[[nodiscard]] WideTable ratings_table(const results::LedgerFacts& facts);

}  // namespace ligule::wide
