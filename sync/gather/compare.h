// Whether two ledgers hold the same records.
#pragma once

#include <string>
#include <vector>

#include "storage/ledger/ledger.h"

namespace ligule::gather {

// Where two ledgers differ, one line a run of records: what one has and the other lacks, or the
// first record of a run that is not the same in both (what follows it in the chain is not looked
// at). Empty: each record of either is held by the other, letter for letter. Errors of the ledgers.
[[nodiscard]] Result<std::vector<std::string>> differences(const ledger::Ledger& one,
                                                           const ledger::Ledger& other);

}  // namespace ligule::gather
