#include "sync/results/settled.h"

#include <algorithm>
#include <set>

#include "storage/trial/said.h"

namespace ligule::results {
namespace {

Standing standing_of(const Record& record) {
  switch (record.state.value_or(ValueState::kMissing)) {
    case ValueState::kValue:
      return record.value ? Standing::kValue : Standing::kMissing;
    case ValueState::kZero:
      return Standing::kZero;
    case ValueState::kOnHold:
      return Standing::kOnHold;
    case ValueState::kLater:
      return Standing::kLater;
    case ValueState::kMissing:
      break;
  }
  return Standing::kMissing;
}

}  // namespace

SettledValues::SettledValues(std::span<const ledger::Claim> claims) {
  std::map<Key, std::vector<const ledger::Claim*>> per_slot;
  for (const ledger::Claim& claim : claims) {
    const Record& record = claim.record;
    if (!record.subject || record.purpose != Purpose::kSurvey) continue;
    per_slot[{*record.subject, record.measure, record.occasion, record.part}].push_back(&claim);
  }
  for (auto& [key, slot] : per_slot) {
    // By id, so that the order in which files were gathered does not show in the results.
    std::ranges::sort(slot, {}, [](const ledger::Claim* claim) { return claim->record.id; });
    const Record& first = slot.front()->record;
    Settled settled;
    settled.standing = standing_of(first);
    for (const ledger::Claim* claim : slot) {
      settled.records.push_back(claim->record.id);
      if (claim->others > 0 || !said::the_same(claim->record, first)) {
        settled.standing = Standing::kConflict;
      }
    }
    if (settled.standing == Standing::kValue) settled.value = first.value.value_or(0.0);
    settled.part = first.part;
    settled.weeds_only = said::weeds_only(first.details);
    settled.confirmed = std::ranges::any_of(slot, [](const ledger::Claim* claim) {
      return said::zero_confirmed(claim->record.details);
    });
    settled.bin_reads_zero =
        std::ranges::find(first.answers, Answer{std::string(said::kTareMissing),
                                                std::string(said::kBinReadsZero)}) !=
        first.answers.end();
    settled.entered = first.entered;
    settled.unit = first.unit;
    settled.definition = first.definition;
    if (settled.standing == Standing::kZero || settled.standing == Standing::kMissing)
      settled.reason = first.reason;
    settled.date = first.at.local_date;
    settled.run = first.run;
    slots_.emplace(key, std::move(settled));
  }
}

std::vector<Settled> SettledValues::parts(const Uuid& subject, std::string_view measure,
                                          std::optional<OccasionId> occasion) const {
  std::vector<Settled> found;
  for (auto at = slots_.lower_bound({subject, std::string(measure), std::nullopt, 0});
       at != slots_.end(); ++at) {
    const auto& [slot_subject, slot_measure, slot_occasion, slot_part] = at->first;
    if (slot_subject != subject || slot_measure != measure) break;
    if (occasion && slot_occasion != occasion) continue;
    found.push_back(at->second);
  }
  return found;
}

std::vector<std::pair<std::string, OccasionId>> SettledValues::acts() const {
  std::set<std::pair<std::string, OccasionId>> acts;
  for (const auto& [key, settled] : slots_) {
    const auto& occasion = std::get<2>(key);
    if (occasion) acts.emplace(std::get<1>(key), *occasion);
  }
  return {acts.begin(), acts.end()};
}

bool weeds_only(std::span<const Settled> gross) {
  const auto weighed = [](const Settled& part) { return part.standing == Standing::kValue; };
  return std::ranges::any_of(gross, weighed) &&
         std::ranges::all_of(
             gross, [&](const Settled& part) { return part.weeds_only || !weighed(part); });
}

std::string_view why_open(Standing standing) {
  if (standing == Standing::kOnHold) return "is on hold";
  if (standing == Standing::kConflict) return "stands in conflict";
  return {};
}

}  // namespace ligule::results
