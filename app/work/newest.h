// When this tablet kept its last record.
#pragma once

#include "app/flow/known.h"
#include "storage/ledger/ledger.h"

namespace ligule::work {

// By its place in the log, not by its time: a clock that once ran ahead is forgotten. kIo.
[[nodiscard]] Result<void> add_newest(const ledger::Ledger& ledger, flow::Today& today);

}  // namespace ligule::work
