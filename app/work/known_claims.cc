#include "app/work/known_claims.h"

#include <algorithm>
#include <utility>

#include "storage/trial/first_said.h"

namespace ligule::work {
namespace {

// Longer chains of corrections than anybody makes; a forged ring ends here.
constexpr int kLongestChain = 1000;

Result<flow::KnownClaim> known_claim(const ledger::Ledger& ledger, ledger::Claim claim) {
  flow::KnownClaim known;
  known.others = claim.others;
  known.record = std::move(claim.record);
  known.first = known.record.id;
  if (!known.record.replaces() && known.record.measure != measure::kGrossWeight) return known;
  Record at = known.record;
  bool given = true;
  for (int step = 0; step < kLongestChain && at.replaces() && !at.targets.empty(); ++step) {
    known.first = at.targets.front();
    auto target = ledger.find(at.targets.front());
    if (!target) return std::unexpected(std::move(target).error());
    std::optional<Record>& held = *target;
    if (!held.has_value()) break;  // not held here: its id says enough
    at = *std::move(held);
    if (step == 0) known.before = at;
    // The earliest since it was put off, or ever.
    if (at.state == ValueState::kLater) given = false;
    if (given) known.given = at.at;
  }
  if (known.record.measure == measure::kGrossWeight && only_restates(known.record)) {
    const auto first = first_said(known.record, [&](RecordId id) { return ledger.find(id); });
    if (!first) return std::unexpected(first.error());
    known.weighed = first->at;
  }
  return known;
}

}  // namespace

Result<std::vector<flow::KnownClaim>> claims_as(const ledger::Ledger& ledger, TrialId trial,
                                                std::optional<OccasionId> occasion,
                                                std::initializer_list<Purpose> purposes) {
  auto claims = ledger.claims(trial, occasion);
  if (!claims) return std::unexpected(std::move(claims).error());
  std::vector<flow::KnownClaim> known;
  known.reserve(claims->size());
  for (ledger::Claim& claim : *claims) {
    if (std::ranges::find(purposes, claim.record.purpose) == purposes.end()) continue;
    auto one = known_claim(ledger, std::move(claim));
    if (!one) return std::unexpected(std::move(one).error());
    known.push_back(*std::move(one));
  }
  return known;
}

Result<std::vector<flow::KnownClaim>> survey_claims(const ledger::Ledger& ledger, TrialId trial,
                                                    std::optional<OccasionId> occasion) {
  return claims_as(ledger, trial, occasion, {Purpose::kSurvey});
}

}  // namespace ligule::work
