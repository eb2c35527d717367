#include "app/work/rated_before.h"

#include <algorithm>
#include <utility>

#include "app/flow/trials_codes.h"
#include "storage/checks/history.h"
#include "storage/trial/details.h"
#include "storage/trial/trial_event.h"

namespace ligule::work {

Result<std::map<std::string, flow::RatedBefore>> rated_before(const ledger::Ledger& ledger,
                                                              TrialId trial, OccasionId occasion) {
  std::map<std::string, flow::RatedBefore> before;
  const auto plan = ledger.plan(trial);
  if (!plan && plan.error().kind == ErrorKind::kNotFound) return before;
  if (!plan) return std::unexpected(plan.error());
  const auto claims = ledger.claims(trial, std::nullopt);
  if (!claims) return std::unexpected(claims.error());
  std::map<Uuid, UtcInstant> here;
  for (const ledger::Claim& claim : *claims) {
    const Record& record = claim.record;
    if (record.occasion != occasion || !record.subject || record.purpose != Purpose::kSurvey)
      continue;
    const auto [at, first] = here.try_emplace(*record.subject, record.at.utc);
    if (!first) at->second = std::min(at->second, record.at.utc);
  }
  std::map<std::pair<std::string, std::string>, UtcInstant> when;
  for (const ledger::Claim& claim : *claims) {
    const Record& record = claim.record;
    const std::optional<double> value = record.value;
    const bool stand = record.measure == checks::kPercentStand;
    if ((!stand && record.measure != checks::kMaturity) || record.purpose != Purpose::kSurvey ||
        record.state != ValueState::kValue || !value || !record.subject ||
        record.occasion == occasion)
      continue;
    const PlanPlot* const plot = plan->plan.find_plot(PlotId{*record.subject});
    const auto own = here.find(*record.subject);
    if (plot == nullptr || (own != here.end() && record.at.utc >= own->second)) continue;
    const auto [at, first] = when.try_emplace({plot->number, record.measure}, record.at.utc);
    if (!first && record.at.utc < at->second) continue;
    at->second = record.at.utc;
    flow::RatedBefore& rated = before[plot->number];
    (stand ? rated.stand : rated.stage) = {*value, record.at.local_date};
  }
  return before;
}

Result<std::optional<CalendarDate>> new_growth(const ledger::Ledger& ledger, TrialId trial) {
  const auto events = ledger.events(trial);
  if (!events) return std::unexpected(events.error());
  std::optional<CalendarDate> last;
  for (const TrialEvent& event : *events) {
    const Record& record = event.record;
    const bool cut = record.entered == "clipped" || record.entered == flow::kMowing ||
                     record.entered == "grazing_in" || record.entered == "grazing_out";
    const auto on = parse_date(detail(record.details, "on"));
    if (event.taken_back || !cut || !detail(record.details, "block").empty()) continue;
    last = std::max(last, std::optional(on ? *on : record.at.local_date));
  }
  return last;
}

}  // namespace ligule::work
