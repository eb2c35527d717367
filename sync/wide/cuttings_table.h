// One row a plot and cutting, with its dry-matter yield and how its dry matter was had.
#pragma once

#include "sync/results/ledger_facts.h"
#include "sync/wide/wide_tables.h"

namespace ligule::wide {

[[nodiscard]] WideTable cuttings_table(const results::LedgerFacts& facts);

}  // namespace ligule::wide
