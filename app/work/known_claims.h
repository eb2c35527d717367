// Standing claims of a trial as the screens know them: with what they replace and when it was said.
#pragma once

#include <initializer_list>
#include <optional>
#include <vector>

#include "app/flow/known.h"
#include "storage/ledger/ledger.h"

namespace ligule::work {

// Those of these purposes, of one occasion or all, in the order of Ledger::claims().
[[nodiscard]] Result<std::vector<flow::KnownClaim>> claims_as(
    const ledger::Ledger& ledger, TrialId trial, std::optional<OccasionId> occasion,
    std::initializer_list<Purpose> purposes);
// Those that count: second looks and practice are no values of a plot.
[[nodiscard]] Result<std::vector<flow::KnownClaim>> survey_claims(
    const ledger::Ledger& ledger, TrialId trial, std::optional<OccasionId> occasion);

}  // namespace ligule::work
