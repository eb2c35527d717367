// Whether this tablet's key is a new one that no desk knows yet.
#pragma once

#include <optional>

#include "app/flow/known.h"
#include "storage/ledger/ledger.h"

namespace ligule::work {

// Of a ledger whose own stream took the place of one with a lost key: until a season file is signed
// with the new one, and for two weeks where records are left that the lost one can sign no more.
// Empty: nothing of that kind. Errors of the ledger.
[[nodiscard]] Result<std::optional<flow::NewKey>> new_key(const ledger::Ledger& ledger,
                                                          CalendarDate today);

}  // namespace ligule::work
