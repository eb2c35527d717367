#include "app/flow/sticks.h"

#include <algorithm>
#include <utility>
#include <variant>

#include "app/flow/plan_changes.h"
#include "app/flow/trials.h"

namespace ligule::flow {
namespace {

std::vector<std::string> codes_of(const std::vector<CheckedPlan>& plans) {
  std::vector<std::string> codes;
  codes.reserve(plans.size());
  for (const CheckedPlan& each : plans) codes.push_back(each.plan.codes.trial);
  return codes;
}

std::string last_part(const std::string& path) {
  return path.substr(path.find_last_of('/') + 1);
}

std::vector<std::string> folders_of(const std::vector<CheckedPlan>& plans) {
  std::vector<std::string> folders;
  folders.reserve(plans.size());
  for (const CheckedPlan& each : plans) folders.push_back(last_part(each.path));
  return folders;
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
  for (const CheckedPlan& checked : turn.model.stick.fresh)
    add_plan_records(turn, checked, act.records);
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
    // Of a revision that another one followed at once nothing is to be told.
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

void add_plan_records(const Turn& turn, const CheckedPlan& checked, std::vector<Record>& records) {
  for (const CheckedPlan& each : checked.before) add_plan_records(turn, each, records);
  Record record = blank(turn, kind::kPlan);
  record.trial = checked.plan.id();
  record.plan = checked.digest;
  record.details = checked.text;
  records.push_back(std::move(record));
}

std::vector<PlanFolder> newest_first(const StickPlans& stick, std::vector<PlanFolder> folders) {
  for (PlanFolder& folder : folders) {
    const auto older = std::ranges::find(stick.older, folder.path, &CheckedPlan::path);
    if (older != stick.older.end()) folder.newer = last_part(older->newer);
  }
  std::ranges::stable_partition(folders,
                                [](const PlanFolder& folder) { return folder.newer.empty(); });
  return folders;
}

StickView stick_view(const Model& model) {
  const StickPlans& stick = model.stick;
  return {codes_of(stick.fresh), codes_of(stick.changed), stick.faulty.size(),
          !stick.fresh.empty() && can_enter(model), folders_of(stick.older)};
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

PlanCheckedView plan_told(const Model& model, const CheckedPlan& checked) {
  const Plan& plan = checked.plan;
  PlanCheckedView view;
  view.code = plan.codes.trial;
  view.title = plan.title;
  view.entries = plan.entries.size();
  view.plots = plan.plots.size();
  view.occasions = plan.occasions.size();
  view.held = checked.held;
  view.older = checked.older;
  view.newer = checked.newer;
  view.newer_name = last_part(checked.newer);
  view.notices = checked.notices;
  view.can_load = checked.can_come() && can_enter(model);
  view.revision = !plan.parent.empty();
  const KnownTrial* const known = trial_with(model, plan.id());
  if (known == nullptr || !checked.can_come()) return view;
  for (const CheckedPlan& each : checked.before) view.reasons.push_back(each.plan.reason);
  view.reasons.push_back(plan.reason);
  view.changes = plan_changes(known->plan, plan, worked_on(model, known->plan));
  return view;
}

}  // namespace ligule::flow
