// How far the people who rated agree, pair by pair.
#pragma once

#include "sync/results/ledger_facts.h"
#include "sync/wide/wide_tables.h"

namespace ligule::wide {

[[nodiscard]] WideTable raters_table(const results::LedgerFacts& facts);

}  // namespace ligule::wide
