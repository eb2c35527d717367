#include "sync/results/trial_facts.h"

#include <algorithm>
#include <tuple>

#include "storage/trial/as_sown.h"

namespace ligule::results {
namespace {

// The statement in force about a plot on a day, if any.
std::optional<AsSown> statement_on(const TrialFacts& trial, PlotId plot, CalendarDate day) {
  std::optional<AsSown> newest;
  const Record* newest_record = nullptr;
  for (const Record& record : trial.as_sown) {
    if (record.subject != plot.uuid) continue;
    const Result<AsSown> statement = read_as_sown(record);
    if (!statement || statement->since > day) continue;
    const auto key = [](const AsSown& said, const Record& by) {
      return std::tuple(said.since, by.at.utc, by.id);
    };
    if (newest && key(*statement, record) < key(*newest, *newest_record)) continue;
    newest = *statement;
    newest_record = &record;
  }
  return newest;
}

const PlanEntry* entry_by_id(const Plan& plan, EntryId id) {
  const auto found =
      std::ranges::find_if(plan.entries, [&](const PlanEntry& e) { return plan.entry(e) == id; });
  return found == plan.entries.end() ? nullptr : &*found;
}

}  // namespace

std::string TrialFacts::dropped_name(OccasionId occasion) const {
  if (const auto at = dropped.find(occasion); at != dropped.end()) return at->second;
  std::optional<CalendarDate> first;
  for (const ledger::Claim& claim : claims) {
    if (claim.record.occasion != occasion) continue;
    first = std::min(first.value_or(claim.record.at.local_date), claim.record.at.local_date);
  }
  return first ? "of " + format_date(*first) : std::string();
}

std::size_t TrialFacts::values_at(OccasionId occasion, std::string_view measure) const {
  return static_cast<std::size_t>(std::ranges::count_if(claims, [&](const ledger::Claim& claim) {
    const Record& record = claim.record;
    return record.occasion == occasion && record.measure == measure &&
           record.purpose == Purpose::kSurvey;
  }));
}

std::vector<std::string> test_names(const std::vector<TrialFacts>& trials) {
  const auto shared = [&](const TrialFacts& one, auto same) {
    return std::ranges::count_if(trials, [&](const TrialFacts& other) {
             return same(one.plan.codes, other.plan.codes);
           }) > 1;
  };
  std::vector<std::string> names;
  for (const TrialFacts& trial : trials) {
    const TrialCodes& codes = trial.plan.codes;
    std::string name = codes.trial;
    if (shared(trial, [](const auto& a, const auto& b) { return a.trial == b.trial; })) {
      name.insert(0, codes.site + "/");
      if (shared(trial, [](const auto& a, const auto& b) {
            return a.trial == b.trial && a.site == b.site;
          })) {
        name.insert(0, codes.station + "/");
      }
    }
    names.push_back(std::move(name));
  }
  return names;
}

Held held_on(const TrialFacts& trial, const PlanPlot& plot, CalendarDate day) {
  const PlanEntry* planned = trial.plan.find_entry(plot.entry);
  const std::optional<AsSown> statement = statement_on(trial, trial.plan.plot(plot), day);
  if (!statement) return {planned, {}};
  const std::string since = format_date(statement->since);
  switch (statement->status) {
    case AsSownStatus::kAbandoned:
      return {nullptr, "the plot was abandoned on " + since};
    case AsSownStatus::kUnknown:
      return {nullptr, "nobody can say what the plot holds"};
    case AsSownStatus::kHolds: {
      const PlanEntry* held = entry_by_id(trial.plan, statement->holds.value_or(EntryId{}));
      if (held == nullptr) return {nullptr, "the plot holds an entry that is not in the plan"};
      return {held, {}};
    }
    case AsSownStatus::kAsPlanned:
    case AsSownStatus::kReseeded:
      break;
  }
  return {planned, {}};
}

bool is_for(const TrialFacts& trial, const PlanOccasion& occasion, const PlanPlot& plot,
            CalendarDate day) {
  const Held held = held_on(trial, plot, day);
  return occasion.is_for(held.entry == nullptr ? plot.entry : held.entry->code);
}

}  // namespace ligule::results
