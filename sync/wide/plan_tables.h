// What the ids in records and wide tables mean: trials, occasions, entries and plots as the plan in
// force has them, people, definitions.
#pragma once

#include "sync/results/ledger_facts.h"
#include "sync/wide/wide_tables.h"

namespace ligule::wide {

[[nodiscard]] WideTable trials_table(const results::LedgerFacts& facts);
[[nodiscard]] WideTable occasions_table(const results::LedgerFacts& facts);
[[nodiscard]] WideTable entries_table(const results::LedgerFacts& facts);
[[nodiscard]] WideTable plots_table(const results::LedgerFacts& facts);
[[nodiscard]] WideTable soil_table(const results::LedgerFacts& facts);
[[nodiscard]] WideTable people_table(const results::LedgerFacts& facts);
// Scales and limits that records tell of, by code. Errors: those of reading the ledger.
[[nodiscard]] Result<WideTable> definitions_table(const ledger::Ledger& ledger);

}  // namespace ligule::wide
