#include "sync/results/ledger_facts.h"

#include <algorithm>
#include <set>
#include <utility>

#include "storage/trial/composition.h"
#include "storage/trial/first_said.h"

namespace ligule::results {
namespace {

Result<bool> all_demonstration(const ledger::Ledger& ledger) {
  const Result<std::vector<ledger::StreamInfo>> streams = ledger.streams();
  if (!streams) return std::unexpected(streams.error());
  const auto demo = std::ranges::count(*streams, true, &ledger::StreamInfo::demo);
  if (demo == 0) return false;
  if (demo == std::ssize(*streams)) return true;
  return fail(ErrorKind::kConflict, "real values and values made for demonstration stand together",
              ledger.path(), "gather the real season files into a new ledger");
}

// Adds the records of a kind that `wanted` chooses.
Result<void> add_records(const ledger::Ledger& ledger, std::string_view kind, TrialId trial,
                         bool (*wanted)(const Record&), std::vector<Record>& into) {
  Result<std::vector<Record>> records = ledger.of_kind(kind, trial);
  if (!records) return std::unexpected(records.error());
  for (Record& record : *records) {
    if (wanted(record)) into.push_back(std::move(record));
  }
  return {};
}

Result<void> add_scales(const ledger::Ledger& ledger, TrialFacts& facts) {
  for (const ledger::Claim& claim : facts.claims) {
    const std::string& digest = claim.record.definition;
    if (digest.empty() || facts.scales.contains(digest)) continue;
    const Result<std::optional<Scale>> scale = ledger.definition(digest);
    if (!scale) return std::unexpected(scale.error());
    if (const std::optional<Scale>& held = *scale) facts.scales.emplace(digest, *held);
  }
  return {};
}

// When what is only restated was weighed, and who judged it.
Result<void> add_first_said(const ledger::Ledger& ledger, TrialFacts& facts) {
  for (const ledger::Claim& claim : facts.claims) {
    const Record& record = claim.record;
    const bool weighed = record.measure == measure::kGrossWeight && record.source == Source::kScale;
    const bool judged = record.purpose && facts.scales.contains(record.definition);
    if (!only_restates(record) || (!weighed && !judged)) continue;
    const auto first = first_said(record, [&](RecordId id) { return ledger.find(id); });
    if (!first) return std::unexpected(first.error());
    if (weighed) facts.weighed.emplace(record.id, first->at);
    if (judged) facts.raters.emplace(record.id, first->person);
  }
  return {};
}

// The stream that each stream goes on from, back to the first that is held.
Result<std::map<StreamId, StreamId>> tablets_of(const ledger::Ledger& ledger) {
  const auto streams = ledger.streams();
  if (!streams) return std::unexpected(streams.error());
  std::map<StreamId, StreamId> before;
  for (const ledger::StreamInfo& stream : *streams)
    if (stream.continues) before.emplace(stream.id, *stream.continues);
  std::map<StreamId, StreamId> tablets;
  for (const ledger::StreamInfo& stream : *streams) {
    StreamId first = stream.id;
    // No longer than there are streams: a forged ring ends too.
    for (std::size_t n = 0; n < streams->size() && before.contains(first); ++n)
      first = before.at(first);
    tablets.emplace(stream.id, first);
  }
  return tablets;
}

std::string told(const PlanOccasion& occasion) {
  if (occasion.job == Job::kRate) return occasion.code;
  return std::to_string(occasion.year) + " cutting " + std::to_string(occasion.cutting);
}

// By the revision that a claim was made under, where it is held.
Result<void> add_dropped(const ledger::Ledger& ledger, TrialFacts& facts) {
  std::set<OccasionId> planned;
  for (const PlanOccasion& occasion : facts.plan.occasions)
    planned.insert(facts.plan.occasion(occasion));
  for (const ledger::Claim& claim : facts.claims) {
    const std::optional<OccasionId>& occasion = claim.record.occasion;
    if (!occasion || planned.contains(*occasion) || facts.dropped.contains(*occasion)) continue;
    const Result<Plan> then = ledger.plan_revision(claim.record.plan);
    if (!then && then.error().kind != ErrorKind::kNotFound) return std::unexpected(then.error());
    const PlanOccasion* const named = then ? then->find_occasion(*occasion) : nullptr;
    if (named != nullptr) facts.dropped.emplace(*occasion, told(*named));
  }
  return {};
}

Result<TrialFacts> facts_of_trial(const ledger::Ledger& ledger, const Plan& plan) {
  TrialFacts facts;
  facts.plan = plan;
  const TrialId trial = plan.id();
  Result<std::vector<ledger::Claim>> claims = ledger.claims(trial);
  if (!claims) return std::unexpected(claims.error());
  facts.claims = *std::move(claims);

  const auto any = [](const Record&) { return true; };
  const auto bag_number = [](const Record& record) { return numbers_a_bag(record.measure); };
  if (const auto added = add_records(ledger, kind::kAsSown, trial, any, facts.as_sown); !added) {
    return std::unexpected(added.error());
  }
  if (const auto added = add_records(ledger, kind::kHarvestRun, trial, any, facts.runs); !added) {
    return std::unexpected(added.error());
  }
  if (const auto added = add_records(ledger, kind::kCheckWeight, trial, any, facts.checks);
      !added) {
    return std::unexpected(added.error());
  }
  if (const auto added = add_records(ledger, kind::kClosed, trial, any, facts.closings); !added) {
    return std::unexpected(added.error());
  }
  Result<std::vector<TrialEvent>> events = ledger.events(trial);
  if (!events) return std::unexpected(events.error());
  facts.events = *std::move(events);
  for (const std::string_view stating : {kind::kReading, kind::kCorrection, kind::kSettlement}) {
    const auto added = add_records(ledger, stating, trial, bag_number, facts.bag_numbers);
    if (!added) return std::unexpected(added.error());
  }
  if (const auto added = add_scales(ledger, facts); !added) return std::unexpected(added.error());
  if (const auto added = add_first_said(ledger, facts); !added) {
    return std::unexpected(added.error());
  }
  if (const auto added = add_dropped(ledger, facts); !added) return std::unexpected(added.error());
  return facts;
}

}  // namespace

Result<LedgerFacts> facts_of(const ledger::Ledger& ledger) {
  LedgerFacts facts;
  const Result<bool> demonstration = all_demonstration(ledger);
  if (!demonstration) return std::unexpected(demonstration.error());
  facts.demonstration = *demonstration;
  auto tablets = tablets_of(ledger);
  if (!tablets) return std::unexpected(std::move(tablets).error());
  facts.tablets = *std::move(tablets);
  const Result<std::vector<Record>> people = ledger.of_kind(kind::kPerson);
  if (!people) return std::unexpected(people.error());
  for (const Record& person : *people)
    if (person.subject) facts.people.emplace(PersonId{*person.subject}, person.entered);
  const Result<std::vector<ledger::KnownPlan>> plans = ledger.plans();
  if (!plans) return std::unexpected(plans.error());
  for (const ledger::KnownPlan& known : *plans) {
    Result<TrialFacts> trial = facts_of_trial(ledger, known.plan);
    if (!trial) return std::unexpected(trial.error());
    facts.trials.push_back(*std::move(trial));
  }
  return facts;
}

}  // namespace ligule::results
