#include "sync/gather/ratings_before.h"

#include <algorithm>
#include <utility>

#include "storage/ledger/rated_before.h"
#include "storage/trial/sown_now.h"

namespace ligule::gather {
namespace {

// What stood there on the day: what was stated of a later one was not so yet.
Result<std::vector<AsSown>> sown_on(const ledger::Ledger& ledger, TrialId trial, CalendarDate on) {
  const auto records = ledger.of_kind(kind::kAsSown, trial);
  if (!records) return std::unexpected(records.error());
  std::vector<AsSown> statements;
  statements.reserve(records->size());
  for (const Record& record : *records) {
    auto what = read_as_sown(record);
    if (!what) return std::unexpected(what.error());
    if (what->since <= on) statements.push_back(*std::move(what));
  }
  return sown_now(statements);
}

}  // namespace

Result<RatingsBefore> RatingsBefore::read(const ledger::Ledger& ledger, const Plan& plan,
                                          const PlanOccasion& rating, CalendarDate on) {
  RatingsBefore ratings;
  ratings.plan_ = &plan;
  ratings.on_ = on;
  auto before = ledger::rated_before(ledger, plan.id(), plan.occasion(rating));
  if (!before) return std::unexpected(before.error());
  ratings.before_ = *std::move(before);
  auto sown = sown_on(ledger, plan.id(), on);
  if (!sown) return std::unexpected(sown.error());
  ratings.as_sown_ = *std::move(sown);
  const auto grown = ledger::new_growth(ledger, plan.id(), on);
  if (!grown) return std::unexpected(grown.error());
  ratings.last_cut_ = *grown;
  const auto runs = ledger.of_kind(kind::kHarvestRun, plan.id());
  if (!runs) return std::unexpected(runs.error());
  for (const Record& run : *runs)
    if (run.at.local_date <= on)
      ratings.last_cut_ = std::max(ratings.last_cut_, std::optional(run.at.local_date));
  return ratings;
}

std::optional<RatedBefore::Value> RatingsBefore::counting(
    const std::optional<RatedBefore::Value>& value, PlotId plot) const {
  // What was rated later, as before a sheet is typed, is nothing that came before.
  const bool says = value && value->on <= on_ && still_says(value->on, on_, as_sown_, plot);
  return says ? value : std::nullopt;
}

void RatingsBefore::add(const PlanPlot& plot, const std::string& species,
                        const Definitions& definitions, checks::History& history) const {
  history.today = on_;
  const PlotId id = plan_->plot(plot);
  const auto here = std::ranges::find(as_sown_, id, &AsSown::plot);
  if (here != as_sown_.end() && here->status == AsSownStatus::kReseeded && here->since <= on_)
    history.sown = here->since;
  const auto at = before_.find(plot.number);
  if (at == before_.end()) return;
  const Species* const known = definitions.find_species(species);
  const auto stand = counting(at->second.stand, id);
  if (stand && (known == nullptr || !known->spreads)) history.stand_before = stand->value;
  const auto stage = counting(at->second.stage, id);
  if (stage && (!last_cut_ || *last_cut_ < stage->on)) history.stage_before = stage->value;
}

}  // namespace ligule::gather
