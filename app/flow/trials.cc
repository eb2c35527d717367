#include "app/flow/trials.h"

#include <algorithm>
#include <utility>
#include <variant>

#include "app/flow/grazing.h"
#include "app/flow/no_entry.h"
#include "app/flow/sown_form.h"
#include "app/flow/spare.h"
#include "app/flow/sticks.h"
#include "app/flow/taking_in.h"
#include "app/flow/trial_events.h"
#include "app/flow/unlock.h"

namespace ligule::flow {
namespace {

Trials* trials_on(Turn& turn) {
  return std::get_if<Trials>(&turn.model.screen);
}

void open_trial(Turn& turn, Trials& trials, TrialId id) {
  if (trial_with(turn.model, id) == nullptr) return;
  trials = Trials{.trial = id};
  turn.run(LoadTrial{id});
}

// Read anew each time: a stick may have been pulled meanwhile.
void look_for_plans(Turn& turn, Trials& trials) {
  trials = Trials{};
  trials.page = FindingPlans{};
  turn.run(FindPlans{});
}

// One step back: from a form to the trial, from a plan to the folders found, from the trial or the
// folders to the list, from the list to Today.
void back(Turn& turn, Trials& trials) {
  auto* const form = std::get_if<EventForm>(&trials.page);
  if (form != nullptr && !form->writing.empty()) return stop_writing(*form);
  auto* const sown = std::get_if<SownForm>(&trials.page);
  if (sown != nullptr && sown->typing) return sown->typing.reset();
  if (std::holds_alternative<ReadingPlan>(trials.page) ||
      std::holds_alternative<CheckedPlan>(trials.page) ||
      std::holds_alternative<FaultyPlan>(trials.page) ||
      std::holds_alternative<OfferedCopy>(trials.page) ||
      std::holds_alternative<ReadingFile>(trials.page) ||
      std::holds_alternative<OfferedFile>(trials.page) ||
      std::holds_alternative<FaultyFile>(trials.page)) {
    return look_for_plans(turn, trials);
  }
  if (!std::holds_alternative<TrialPage>(trials.page)) {
    trials.page = TrialPage{};
    return;
  }
  if (trials.trial) {
    trials = Trials{};
    return;
  }
  show_today(turn);
}

void load_plan(Turn& turn, Trials& trials) {
  const auto* const checked = std::get_if<CheckedPlan>(&trials.page);
  if (checked == nullptr || !checked->can_come() || !can_enter(turn.model)) return;
  Act act;
  act.kind = ActKind::kPlan;
  act.trial = checked->plan.id();
  add_plan_records(turn, *checked, act.records);
  trials = Trials{};
  commit(turn, std::move(act));
}

// What is said on the form of a plot.
bool state_here(const Turn& turn, Trials& trials, const Intent& intent) {
  auto* const form = std::get_if<SownForm>(&trials.page);
  const KnownTrial* const trial = trial_open(turn.model, trials);
  return form != nullptr && trial != nullptr && state_on(turn, *trial, *form, intent);
}

void show_trial_names(Turn& turn, const Trials& trials) {
  const KnownTrial* const trial = trial_open(turn.model, trials);
  if (trial == nullptr || !can_enter(turn.model)) return;
  unlock_names(turn, *trial, blind_occasions(turn.model, *trial), "");
}

struct TrialHand {
  Turn& turn;
  Trials& trials;

  bool operator()(const ShowTrial& what) const {
    open_trial(turn, trials, what.trial);
    return true;
  }
  bool operator()(const ShowTrialTab& what) const {
    if (trials.trial && std::holds_alternative<TrialPage>(trials.page)) trials.tab = what.tab;
    return true;
  }
  bool operator()(const StatePlot& what) const {
    const KnownTrial* const trial = trial_open(turn.model, trials);
    if (trial != nullptr && trial->plan.find_plot(what.plot) != nullptr) {
      trials.page = SownForm{.plot = what.plot};
    }
    return true;
  }
  bool operator()(const KeepSown& what) const {
    const auto* const form = std::get_if<SownForm>(&trials.page);
    const KnownTrial* const trial = trial_open(turn.model, trials);
    if (form != nullptr && trial != nullptr && keep_sown(turn, *trial, *form, what.reason))
      trials.page = TrialPage{};
    return true;
  }
  bool operator()(const StepDay& what) const {
    if (auto* const event = std::get_if<EventForm>(&trials.page))
      event->days_ago = std::clamp(event->days_ago + what.by, 0, kMostDaysAgo);
    return true;
  }
  bool operator()(const NewEvent&) const {
    if (trials.trial) trials.page = EventForm{};
    return true;
  }
  bool operator()(const DescribeEvent& what) const {
    describe_event(trials, what);
    return true;
  }
  bool operator()(const StepUntil& what) const {
    step_until(trials, what.by);
    return true;
  }
  bool operator()(const KeepEvent&) const {
    keep_event(turn, trials);
    return true;
  }
  bool operator()(const ShowEventBack& what) const {
    show_event_back(turn, trials, what.event);
    return true;
  }
  bool operator()(const TakeEventBack& what) const {
    take_event_back(turn, trials, what.reason);
    return true;
  }
  bool operator()(const ShowNames&) const {
    show_trial_names(turn, trials);
    return true;
  }
  bool operator()(const LookForPlans&) const {
    look_for_plans(turn, trials);
    return true;
  }
  bool operator()(const CheckPlan& what) const {
    trials.page = ReadingPlan{what.path};
    turn.run(ReadPlan{what.path});
    return true;
  }
  bool operator()(const LoadPlan&) const {
    load_plan(turn, trials);
    return true;
  }
  bool operator()(const OfferCopy& what) const {
    offer_copy(trials, what.path);
    return true;
  }
  bool operator()(const GoOnFromCopy&) const {
    go_on_from_copy(turn, trials);
    return true;
  }
  bool operator()(const CheckFile& what) const {
    check_file(turn, trials, what.path);
    return true;
  }
  bool operator()(const TakeFile&) const {
    take_file(turn, trials);
    return true;
  }
  bool operator()(const TrialsBack&) const {
    back(turn, trials);
    return true;
  }
  template <class Other>
  bool operator()(const Other&) const {
    return false;
  }
};

}  // namespace

const KnownTrial* trial_open(const Model& model, const Trials& trials) {
  return trials.trial ? trial_with(model, *trials.trial) : nullptr;
}

Record about_trial(const Turn& turn, const KnownTrial& trial, std::string_view kind) {
  Record record = blank(turn, kind);
  record.trial = trial.plan.id();
  record.plan = trial.digest;
  return record;
}

void keep_about(Turn& turn, ActKind kind, Record record) {
  Act act;
  act.kind = kind;
  act.trial = record.trial;
  act.records.push_back(std::move(record));
  commit(turn, std::move(act));
}

CalendarDate day_before(CalendarDate day, int days) {
  return CalendarDate{date::sys_days{day} - date::days{days}};
}

std::vector<OccasionId> blind_occasions(const Model& model, const KnownTrial& trial) {
  const int year{model.now.local_date.year()};
  std::vector<OccasionId> blind;
  for (const PlanOccasion& occasion : trial.plan.occasions) {
    if (occasion.year >= year) blind.push_back(trial.plan.occasion(occasion));
  }
  return blind;
}

bool names_free(const Model& model, const KnownTrial& trial) {
  return std::ranges::all_of(blind_occasions(model, trial),
                             [&](OccasionId occasion) { return names_shown(model, occasion); });
}

void show_trials(Turn& turn) {
  show_screen(turn, Trials{});
  turn.run(LookAtSticks{});
}

bool in_trials(Turn& turn, const Intent& intent) {
  Trials* const trials = trials_on(turn);
  if (trials == nullptr) return false;
  if (typed_event(*trials, intent) || state_here(turn, *trials, intent)) return true;
  return std::visit(TrialHand{turn, *trials}, intent);
}

namespace {

// The same said of an earlier day, and something else of a day between: its day stays as it was.
void tell_restated(Turn& turn, Trials& trials) {
  const std::optional<AsSown> restated = std::exchange(trials.restated, std::nullopt);
  const KnownTrial* const trial = trial_open(turn.model, trials);
  if (!restated || trial == nullptr) return;
  const auto holds = std::ranges::find(trial->as_sown, restated->plot, &AsSown::plot);
  if (holds != trial->as_sown.end() && restated->since < holds->since)
    turn.notice("notice.sown_holds_on", {format_date(holds->since)});
}

}  // namespace

void trial_loaded(Turn& turn, TrialLoaded loaded) {
  Trials* const trials = trials_on(turn);
  for (KnownTrial& trial : turn.model.trials) {
    if (trial.plan.id() == loaded.trial) trial.as_sown = std::move(loaded.as_sown);
  }
  for (const auto& [person, occasion] : loaded.names_shown) {
    turn.model.names_shown.insert({person, occasion});
  }
  if (trials == nullptr || trials->trial != loaded.trial) return;
  tell_restated(turn, *trials);
  trials->loaded = true;
  trials->events = std::move(loaded.events);
}

void plans_found(Turn& turn, PlansFound found) {
  Trials* const trials = trials_on(turn);
  auto* const page = trials == nullptr ? nullptr : std::get_if<FindingPlans>(&trials->page);
  if (page != nullptr)
    *page = FindingPlans{true, std::move(found.folders), std::move(found.copies),
                         std::move(found.files)};
}

void plan_checked(Turn& turn, PlanChecked checked) {
  Trials* const trials = trials_on(turn);
  const auto* const page = trials == nullptr ? nullptr : std::get_if<ReadingPlan>(&trials->page);
  if (page != nullptr && page->path == checked.plan.path) trials->page = std::move(checked.plan);
}

void plan_faulty(Turn& turn, PlanFaulty faulty) {
  Trials* const trials = trials_on(turn);
  const auto* const page = trials == nullptr ? nullptr : std::get_if<ReadingPlan>(&trials->page);
  if (page != nullptr && page->path == faulty.plan.path) trials->page = std::move(faulty.plan);
}

namespace {

// A statement of an earlier day than the one that holds is told so: on the page it changes nothing,
// but for its date where it says the same. That follows from all statements, so they are read.
void sown_before(Turn& turn, TrialId trial, const AsSown& holds, const AsSown& sown) {
  turn.run(LoadTrial{trial});
  Trials* const trials = trials_on(turn);
  if (holds.status == sown.status && holds.holds == sown.holds) {
    if (trials != nullptr && trials->trial == trial) trials->restated = sown;
    return;
  }
  turn.notice("notice.sown_holds_on", {format_date(holds.since)});
}

void fold_sown(Turn& turn, KnownTrial& trial, const AsSown& sown) {
  const auto at = std::ranges::find(trial.as_sown, sown.plot, &AsSown::plot);
  if (at == trial.as_sown.end()) {
    trial.as_sown.push_back(sown);
  } else if (at->since <= sown.since) {  // the newest statement holds, of a day the last
    *at = sown;
  } else {
    sown_before(turn, trial.plan.id(), *at, sown);
  }
}

void fold_plan(Model& model, const Record& record) {
  auto plan = parse_plan_text(record.details);
  if (!plan) return;  // it was checked before it became a record
  const auto at = std::ranges::find_if(
      model.trials, [&](const KnownTrial& trial) { return trial.plan.id() == plan->id(); });
  if (at == model.trials.end()) {
    model.trials.push_back({*std::move(plan), record.plan, {}});
  } else {
    at->plan = *std::move(plan);
    at->digest = record.plan;
  }
}

}  // namespace

void trials_kept(Turn& turn, const Act& act) {
  Model& model = turn.model;
  if (act.kind != ActKind::kAsSown && act.kind != ActKind::kEvent && act.kind != ActKind::kPlan) {
    return;
  }
  for (const Record& record : act.records) {
    if (act.kind == ActKind::kPlan) {
      fold_plan(model, record);
      continue;
    }
    if (act.kind == ActKind::kEvent) {
      sprays_kept(model, record);
      grazing_kept(model.today, record);
      auto* const trials = std::get_if<Trials>(&model.screen);
      if (trials != nullptr && trials->trial == act.trial) fold_event(*trials, record);
      continue;
    }
    const auto sown = read_as_sown(record);
    for (KnownTrial& trial : model.trials) {
      if (sown && trial.plan.id() == act.trial) fold_sown(turn, trial, *sown);
    }
  }
  if (act.kind == ActKind::kAsSown) sown_changed(turn, act);
  if (act.kind == ActKind::kPlan) plans_kept(turn, act);
}

}  // namespace ligule::flow
