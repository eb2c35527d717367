// What the rules of an occasion look back to: earlier ratings of its plots, and when they last
// began to grow anew.
#pragma once

#include <map>
#include <optional>
#include <string>

#include "storage/ledger/ledger.h"
#include "storage/trial/rated_before.h"

namespace ligule::ledger {

// What each plot of a trial was rated last in other occasions than this one, before anything was
// recorded of it in this one; by its number. A value that was put right or settled is as old as
// what it replaces. Errors of the ledger.
[[nodiscard]] Result<std::map<std::string, RatedBefore>> rated_before(const Ledger& ledger,
                                                                      TrialId trial,
                                                                      OccasionId occasion);

// When the trial last began to grow anew without a cutting that was weighed: the whole of it was
// clipped, mown or grazed; not after that day. Empty: never. Errors of the ledger.
[[nodiscard]] Result<std::optional<CalendarDate>> new_growth(
    const Ledger& ledger, TrialId trial, std::optional<CalendarDate> until = {});

}  // namespace ligule::ledger
