#include "app/flow/sticks.h"

#include <algorithm>
#include <utility>
#include <variant>

#include "app/flow/trials.h"

namespace ligule::flow {
namespace {

std::vector<std::string> codes_of(const std::vector<CheckedPlan>& plans) {
  std::vector<std::string> codes;
  codes.reserve(plans.size());
  for (const CheckedPlan& each : plans) codes.push_back(each.plan.codes.trial);
  return codes;
}

}  // namespace

void sticks_changed(Turn& turn) {
  const auto* const trials = on<Trials>(turn);
  const bool listed = trials != nullptr && !trials->trial;
  if (on<OnToday>(turn) == nullptr && !listed) return;
  turn.run(LookAtSticks{});
  if (on<OnToday>(turn) != nullptr) turn.run(LoadToday{});  // there is a place to copy to, or none
}

void load_sticks(Turn& turn) {
  if (!can_enter(turn.model) || turn.model.stick.fresh.empty()) return;
  Act act;
  act.kind = ActKind::kPlan;
  act.records.reserve(turn.model.stick.fresh.size());
  for (const CheckedPlan& checked : turn.model.stick.fresh)
    act.records.push_back(plan_record(turn, checked));
  act.trial = act.records.front().trial;
  turn.model.stick.fresh.clear();
  if (auto* const trials = on<Trials>(turn)) *trials = Trials{};
  commit(turn, std::move(act));
}

void show_stick(Turn& turn) {
  show_screen(turn, Trials{});
  auto& trials = std::get<Trials>(turn.model.screen);
  const StickPlans& stick = turn.model.stick;
  if (stick.changed.size() == 1 && stick.faulty.empty()) {
    trials.page = stick.changed.front();
    return;
  }
  if (stick.faulty.size() == 1 && stick.changed.empty()) {
    trials.page = stick.faulty.front();
    return;
  }
  trials.page = FindingPlans{};
  turn.run(FindPlans{});
}

void plans_kept(Turn& turn, const Act& act) {
  std::string codes;
  for (const Record& record : act.records) {
    const auto at = std::ranges::find_if(
        turn.model.trials, [&](const KnownTrial& trial) { return trial.digest == record.plan; });
    if (at == turn.model.trials.end()) continue;
    if (!codes.empty()) codes += ", ";
    codes += at->plan.codes.trial;
  }
  turn.notice("notice.plans_kept", {codes});
  turn.run(LoadPlans{});
  turn.run(LoadToday{});
  turn.run(LookAtSticks{});
}

void plans_known(Model& model, PlansKnown known) {
  for (KnownTrial& trial : known.trials) {
    const TrialId id = trial.plan.id();
    const auto at = std::ranges::find_if(
        model.trials, [&](const KnownTrial& each) { return each.plan.id() == id; });
    if (at == model.trials.end())
      model.trials.push_back(std::move(trial));
    else
      *at = std::move(trial);
  }
}

Record plan_record(const Turn& turn, const CheckedPlan& checked) {
  Record record = blank(turn, kind::kPlan);
  record.trial = checked.plan.id();
  record.plan = checked.digest;
  record.details = checked.text;
  return record;
}

StickView stick_view(const Model& model) {
  const StickPlans& stick = model.stick;
  return {codes_of(stick.fresh), codes_of(stick.changed), stick.faulty.size(),
          !stick.fresh.empty() && can_enter(model)};
}

std::vector<std::string> worked_on(const Model& model, const Plan& plan) {
  std::vector<std::string> codes;
  for (const PlanOccasion& occasion : plan.occasions) {
    const auto at = std::ranges::find(model.today.progress, plan.occasion(occasion),
                                      &OccasionProgress::occasion);
    if (at != model.today.progress.end() && (at->done > 0 || at->later > 0 || at->values_today > 0))
      codes.push_back(occasion.code);
  }
  return codes;
}

}  // namespace ligule::flow
