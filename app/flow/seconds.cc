#include "app/flow/seconds.h"

#include <algorithm>
#include <map>
#include <set>
#include <string>
#include <tuple>
#include <utility>

#include "app/flow/progress.h"
#include "storage/trial/said.h"

namespace ligule::flow {
namespace {

bool by_eye(ScaleKind kind) {
  return kind == ScaleKind::kPercent || kind == ScaleKind::kScore || kind == ScaleKind::kStages;
}

std::string species_on(const KnownTrial& trial, const PlanPlot& plot) {
  const PlanEntry* entry = entry_of(trial, plot);
  if (entry == nullptr) entry = trial.plan.find_entry(plot.entry);
  return entry == nullptr ? std::string() : entry->species;
}

using Given = std::set<std::tuple<PersonId, Uuid, std::string>>;  // by whom, plot, measure

bool left_to(const PersonId& person, const Uuid& plot, const std::vector<std::string>& needed,
             const std::map<Uuid, std::set<PersonId>>& raters, const Given& given) {
  const auto rated = raters.find(plot);
  if (rated == raters.end() || rated->second.contains(person)) return false;
  return std::ranges::any_of(needed, [&](const std::string& measure) {
    return !given.contains({person, plot, measure});
  });
}

}  // namespace

bool can_be_rated_twice(const KnownTrial& trial, const PlanOccasion& occasion, const PlanPlot& plot,
                        const Definitions& definitions) {
  bool eye = false;
  const std::string species = species_on(trial, plot);
  for (const std::string& measure : needed_of(trial, occasion, plot, definitions)) {
    const Scale* const scale = scale_in(trial, definitions, measure, species);
    if (scale == nullptr) return false;
    eye = eye || by_eye(scale->kind);
    if (!by_eye(scale->kind) && scale->kind != ScaleKind::kLength &&
        scale->kind != ScaleKind::kShares)
      return false;
  }
  return eye;
}

bool says_something(const Record& record) {
  return record.state != ValueState::kLater && record.measure != measure::kNote;
}

std::vector<PersonId> seconds_open(const KnownTrial& trial, const PlanOccasion& occasion,
                                   const Definitions& definitions,
                                   std::span<const KnownClaim> first,
                                   std::span<const KnownClaim> second,
                                   std::span<const Record> closings, CalendarDate today) {
  Given given;
  std::map<PersonId, UtcInstant> last;
  for (const KnownClaim& claim : second) {
    const Record& record = claim.record;
    if (!record.person || !record.subject || !says_something(record)) continue;
    given.emplace(*record.person, *record.subject, record.measure);
    UtcInstant& at = last.try_emplace(*record.person, record.at.utc).first->second;
    at = std::max(at, record.at.utc);
  }
  std::vector<PersonId> open;
  if (last.empty()) return open;
  std::map<Uuid, std::set<PersonId>> raters;  // by plot
  for (const KnownClaim& claim : first)
    if (claim.record.person && claim.record.subject && says_something(claim.record))
      raters[*claim.record.subject].insert(*claim.record.person);
  for (const auto& [person, at] : last) {
    const bool closed = std::ranges::any_of(closings, [&](const Record& closing) {
      return closing.at.utc > at && (!said::closes_second(closing) || closing.person == person);
    });
    if (closed) continue;
    const bool left = std::ranges::any_of(plots_on(trial, today), [&](const PlanPlot& plot) {
      return can_be_rated_twice(trial, occasion, plot, definitions) &&
             left_to(person, trial.plan.plot(plot).uuid,
                     needed_of(trial, occasion, plot, definitions), raters, given);
    });
    if (left) open.push_back(person);
  }
  return open;
}

bool hides_from_second(const Model& model, OccasionId occasion) {
  const auto at = std::ranges::find(model.today.progress, occasion, &OccasionProgress::occasion);
  return model.person && at != model.today.progress.end() &&
         std::ranges::find(at->second_open, model.person->id) != at->second_open.end();
}

bool second_unfinished(const Model& model) {
  return std::ranges::any_of(model.today.progress, [&](const OccasionProgress& progress) {
    return hides_from_second(model, progress.occasion);
  });
}

}  // namespace ligule::flow
