#include "storage/trial/trial_event.h"

#include <algorithm>
#include <tuple>

namespace ligule {
namespace {

bool takes_back(const Record& record, const Record& event) {
  return takes_event_back(record) && record.trial == event.trial &&
         std::ranges::find(record.targets, event.id) != record.targets.end();
}

bool before(const Record& a, const Record& b) {
  return std::tie(a.at.utc, a.id) < std::tie(b.at.utc, b.id);
}

}  // namespace

bool takes_event_back(const Record& record) {
  const bool of_a_slot = record.subject || !record.measure.empty() || record.occasion ||
                         record.run || record.purpose || record.part != 1;
  const bool states = record.state || !record.entered.empty() || !record.unit.empty() ||
                      record.value || !record.definition.empty();
  return record.kind == kind::kWithdrawal && !of_a_slot && !states;
}

std::vector<TrialEvent> trial_events(const std::vector<Record>& records) {
  std::vector<TrialEvent> events;
  std::vector<const Record*> withdrawals;
  for (const Record& record : records) {
    if (record.kind == kind::kEvent) events.push_back({record, std::nullopt});
    if (takes_event_back(record)) withdrawals.push_back(&record);
  }
  for (TrialEvent& event : events) {
    if (event.record.entered == kNamesShown) continue;
    for (const Record* record : withdrawals) {
      if (!takes_back(*record, event.record)) continue;
      if (!event.taken_back || before(*record, *event.taken_back)) event.taken_back = *record;
    }
  }
  return events;
}

}  // namespace ligule
