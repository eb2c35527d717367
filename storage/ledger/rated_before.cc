#include "storage/ledger/rated_before.h"

#include <algorithm>
#include <utility>

#include "storage/trial/details.h"
#include "storage/trial/first_said.h"
#include "storage/trial/trial_event.h"

namespace ligule::ledger {

Result<std::map<std::string, RatedBefore>> rated_before(const Ledger& ledger, TrialId trial,
                                                        OccasionId occasion) {
  std::map<std::string, RatedBefore> before;
  const auto plan = ledger.plan(trial);
  if (!plan && plan.error().kind == ErrorKind::kNotFound) return before;
  if (!plan) return std::unexpected(plan.error());
  const auto claims = ledger.claims(trial, std::nullopt);
  if (!claims) return std::unexpected(claims.error());
  const FindRecord find = [&](RecordId id) { return ledger.find(id); };
  std::map<Uuid, UtcInstant> here;
  for (const Claim& claim : *claims) {
    const Record& record = claim.record;
    if (record.occasion != occasion || !record.subject || record.purpose != Purpose::kSurvey)
      continue;
    const auto given = first_given(record, find);
    if (!given) return std::unexpected(given.error());
    const auto [at, first] = here.try_emplace(*record.subject, given->utc);
    if (!first) at->second = std::min(at->second, given->utc);
  }
  std::map<Uuid, const PlanPlot*> plots;  // asked for by every record
  for (const PlanPlot& plot : plan->plan.plots) plots.emplace(plan->plan.plot(plot).uuid, &plot);
  std::map<std::pair<std::string, std::string>, UtcInstant> when;
  for (const Claim& claim : *claims) {
    const Record& record = claim.record;
    const std::optional<double> value = record.value;
    const bool stand = record.measure == kPercentStand;
    if ((!stand && record.measure != kMaturity) || record.purpose != Purpose::kSurvey ||
        record.state != ValueState::kValue || !value || !record.subject ||
        record.occasion == occasion)
      continue;
    const auto planned = plots.find(*record.subject);
    const PlanPlot* const plot = planned == plots.end() ? nullptr : planned->second;
    const auto own = here.find(*record.subject);
    const auto given = first_given(record, find);
    if (!given) return std::unexpected(given.error());
    if (plot == nullptr || (own != here.end() && given->utc >= own->second)) continue;
    const auto [at, first] = when.try_emplace({plot->number, record.measure}, given->utc);
    if (!first && given->utc < at->second) continue;
    at->second = given->utc;
    RatedBefore& rated = before[plot->number];
    (stand ? rated.stand : rated.stage) = {*value, given->local_date};
  }
  return before;
}

Result<std::optional<CalendarDate>> new_growth(const Ledger& ledger, TrialId trial,
                                               std::optional<CalendarDate> until) {
  const auto events = ledger.events(trial);
  if (!events) return std::unexpected(events.error());
  std::optional<CalendarDate> last;
  for (const TrialEvent& event : *events) {
    const Record& record = event.record;
    const bool cut = record.entered == "clipped" || record.entered == kMowing ||
                     record.entered == "grazing_in" || record.entered == "grazing_out";
    const auto on = parse_date(detail(record.details, "on"));
    if (event.taken_back || !cut || !detail(record.details, "block").empty()) continue;
    const CalendarDate day = on ? *on : record.at.local_date;
    if (!until || day <= *until) last = std::max(last, std::optional(day));
  }
  return last;
}

}  // namespace ligule::ledger
