// Whether this tablet's key is a new one that no desk knows yet.
#pragma once

#include <optional>

#include "app/flow/known.h"
#include "storage/ledger/ledger.h"

namespace ligule::work {

// Of a ledger whose own stream took the place of one with another key, as long as nothing is sealed
// with the new one; empty: nothing of that kind. Errors of the ledger.
[[nodiscard]] Result<std::optional<flow::NewKey>> new_key(const ledger::Ledger& ledger);

}  // namespace ligule::work
