// What the rules of an occasion look back to: earlier ratings of its plots, and when they last
// began to grow anew.
#pragma once

#include <map>
#include <optional>
#include <string>

#include "app/flow/known.h"
#include "storage/ledger/ledger.h"

namespace ligule::work {

// What each plot of a trial was rated last in other occasions than this one, before anything was
// recorded of it in this one; by its number. Errors of the ledger.
[[nodiscard]] Result<std::map<std::string, flow::RatedBefore>> rated_before(
    const ledger::Ledger& ledger, TrialId trial, OccasionId occasion);

// When the trial last began to grow anew without a cutting that was weighed: the whole of it was
// clipped, mown or grazed. Empty: never. Errors of the ledger.
[[nodiscard]] Result<std::optional<CalendarDate>> new_growth(const ledger::Ledger& ledger,
                                                             TrialId trial);

}  // namespace ligule::work
