#include "app/flow/unlock.h"

#include "storage/trial/details.h"

namespace ligule::flow {

void unlock_names(Turn& turn, const KnownTrial& trial, const std::vector<OccasionId>& occasions,
                  const std::string& plot) {
  Act act;
  act.kind = ActKind::kNamesShown;
  act.trial = trial.plan.id();
  act.plot = plot;
  for (const OccasionId occasion : occasions) {
    if (names_shown(turn.model, occasion)) continue;
    act.occasion = occasion;
    // Kept so that values given after a restart do not claim to be blind.
    Record record = blank(turn, kind::kEvent);
    record.trial = trial.plan.id();
    record.plan = trial.digest;
    record.entered = kNamesShown;
    record.details =
        details_text({{"occasion", occasion.text()}, {"on", format_date(turn.at.local_date)}});
    act.records.push_back(std::move(record));
    if (turn.model.person) turn.model.names_shown.insert({turn.model.person->id, occasion});
  }
  if (!act.records.empty()) commit(turn, std::move(act));
}

}  // namespace ligule::flow
