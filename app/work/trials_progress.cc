#include "app/work/trials_progress.h"

#include <algorithm>
#include <iterator>
#include <utility>

#include "app/flow/progress.h"
#include "app/flow/seconds.h"
#include "app/work/known_claims.h"
#include "storage/trial/said.h"

namespace ligule::work {
namespace {

Result<std::vector<flow::OccasionProgress>> progress_in(const ledger::Ledger& ledger,
                                                        const flow::KnownTrial& trial,
                                                        const Definitions& definitions,
                                                        std::span<const Record> closings,
                                                        CalendarDate today) {
  auto claims =
      claims_as(ledger, trial.plan.id(), std::nullopt, {Purpose::kSurvey, Purpose::kSecond});
  if (!claims) return std::unexpected(std::move(claims).error());
  std::map<OccasionId, std::vector<flow::KnownClaim>> first;
  std::map<OccasionId, std::vector<flow::KnownClaim>> second;
  for (flow::KnownClaim& claim : *claims) {
    auto& of_purpose = claim.record.purpose == Purpose::kSecond ? second : first;
    of_purpose[claim.record.occasion.value_or(OccasionId{})].push_back(std::move(claim));
  }
  std::vector<flow::OccasionProgress> all;
  for (const PlanOccasion& occasion : trial.plan.occasions) {
    const OccasionId id = trial.plan.occasion(occasion);
    flow::OccasionProgress& progress =
        all.emplace_back(flow::progress_of(trial, occasion, definitions, first[id], today));
    std::vector<Record> closed;
    std::ranges::copy_if(closings, std::back_inserter(closed),
                         [&](const Record& closing) { return closing.occasion == id; });
    progress.closed = !std::ranges::all_of(closed, said::closes_second);
    progress.second_open =
        flow::seconds_open(trial, occasion, definitions, first[id], second[id], closed, today);
  }
  return all;
}

}  // namespace

void TrialsProgress::forget_changed(const ledger::Changed& changed, CalendarDate today) {
  if (!changed.trials || day_ != today) known_.clear();
  for (const TrialId trial : changed.trials.value_or(std::set<TrialId>{})) known_.erase(trial);
  day_ = today;
  row_ = changed.row;
}

Result<std::vector<flow::OccasionProgress>> TrialsProgress::of(
    const ledger::Ledger& ledger, std::span<const flow::KnownTrial> trials,
    const Definitions& definitions, CalendarDate today) {
  // Asked before a claim is read: what comes in meanwhile is found the next time. The trials were
  // read before, so that what their plots hold may be older than that.
  const auto changed = ledger.changed_since(row_);
  if (!changed) return std::unexpected(changed.error());
  forget_changed(*changed, today);
  read_ = 0;
  std::optional<std::vector<Record>> closings;
  std::vector<flow::OccasionProgress> all;
  for (const flow::KnownTrial& trial : trials) {
    Known& known = known_[trial.plan.id()];
    if (known.plan != trial.digest || known.as_sown != trial.as_sown) {
      if (!closings) {
        auto closed = ledger.of_kind(kind::kClosed);
        if (!closed) return std::unexpected(std::move(closed).error());
        closings = *std::move(closed);
      }
      auto progress = progress_in(ledger, trial, definitions, *closings, today);
      if (!progress) return std::unexpected(std::move(progress).error());
      known = {trial.digest, trial.as_sown, *std::move(progress)};
      ++read_;
    }
    all.insert(all.end(), known.progress.begin(), known.progress.end());
  }
  return all;
}

}  // namespace ligule::work
