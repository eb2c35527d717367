// Today and the day's end.
#include <algorithm>
#include <cstdlib>
#include <functional>
#include <iterator>
#include <tuple>
#include <variant>

#include "app/flow/copy_places.h"
#include "app/flow/no_entry.h"
#include "app/flow/sticks.h"
#include "app/flow/view_parts.h"

namespace ligule::flow {
namespace {

const OccasionProgress* progress_in(const Model& model, OccasionId occasion) {
  const auto at = std::ranges::find(model.today.progress, occasion, &OccasionProgress::occasion);
  return at == model.today.progress.end() ? nullptr : &*at;
}

DueState due_state(const DueRow& row, const PlanOccasion& occasion, bool closed) {
  if (closed || (row.total > 0 && row.done == row.total)) return DueState::kDone;
  if (!occasion.due) return DueState::kNoDate;
  if (row.days < 0) return DueState::kOverdue;
  return row.days == 0 ? DueState::kToday : DueState::kComing;
}

DueRow due_row(const Model& model, const KnownTrial& trial, const PlanOccasion& occasion) {
  DueRow row;
  row.trial = trial.plan.id();
  row.occasion = trial.plan.occasion(occasion);
  row.field = trial.plan.field;
  row.trial_code = trial.plan.codes.trial;
  row.trial_title = trial.plan.title;
  row.code = occasion.code;
  row.job = occasion.job;
  row.year = occasion.year;
  row.cutting = occasion.cutting;
  row.name = name_of(trial.plan, occasion);
  row.entries = occasion.entries.size();
  row.of_entries = trial.plan.entries.size();
  bool closed = false;
  if (const OccasionProgress* const progress = progress_in(model, row.occasion)) {
    closed = progress->closed;
    row.done = progress->done;
    row.total = progress->total;
    row.later = progress->later;
  }
  if (occasion.due && model.now.local_date.ok()) {
    row.due = format_date(*occasion.due);
    row.days = days_between(model.now.local_date, *occasion.due);
  }
  row.state = due_state(row, occasion, closed);
  return row;
}

// Past so long that it is no longer on anybody's mind: it must not crowd out today's work.
constexpr int kEarlierDays = 14;

bool is_earlier(const DueRow& row) {
  const bool past = row.state == DueState::kOverdue || row.state == DueState::kDone;
  return past && row.days < -kEarlierDays;
}

// Today's work, what is late (the newest first), what comes, what has no date, what is done.
auto order_of(const DueRow& row) {
  int group = 0;
  if (row.state == DueState::kOverdue) group = 1;
  if (row.state == DueState::kComing) group = 2;
  if (row.state == DueState::kNoDate) group = 3;
  if (row.state == DueState::kDone) group = 4;
  return std::tuple(group, std::abs(row.days), row.trial_code, row.code);
}

std::vector<FieldRow> field_rows(const Model& model) {
  std::vector<FieldRow> rows;
  for (const KnownTrial& trial : model.trials) {
    auto at = std::ranges::find(rows, trial.plan.field, &FieldRow::name);
    if (at == rows.end()) {
      rows.push_back({trial.plan.field, {}});
      at = std::prev(rows.end());
    }
    at->trials.push_back({trial.plan.codes.trial, trial.plan.title, trial.plan.entries.size(),
                          trial.plan.plots.size()});
  }
  return rows;
}

StepView seal_view(const Model& model) {
  StepView view;
  const auto& seal = model.seal_steps.seal;
  if (std::holds_alternative<Sealing>(seal)) {
    view.state = StepState::kBusy;
  } else if (const auto* const done = std::get_if<SealDone>(&seal)) {
    view.state = StepState::kDone;
    view.file_name = done->note.file_name;
  } else if (const auto* const failed = std::get_if<SealFailed>(&seal)) {
    view.state = StepState::kFailed;
    view.error = failed->error;
  } else if (model.today.unsealed > 0 && model.pending.empty() && !model.unsaved) {
    view.state = StepState::kReady;
  }
  return view;
}

StepView copy_view(const Model& model) {
  StepView view;
  const auto& copy = model.seal_steps.copy;
  if (model.today.last_seal) view.file_name = model.today.last_seal->file_name;
  if (const auto* const copying = std::get_if<Copying>(&copy)) {
    view.state = StepState::kBusy;
    view.place = place_name(model, copying->place);
  } else if (const auto* const done = std::get_if<CopyDone>(&copy)) {
    view.state = StepState::kDone;
    view.file_name = done->note.file_name;
    view.place = place_name(model, done->note.place);
  } else if (const auto* const failed = std::get_if<CopyFailed>(&copy)) {
    view.state = StepState::kFailed;
    view.place = place_name(model, failed->place);
    view.error = failed->error;
  } else if (model.today.last_seal && !model.today.places.empty() &&
             !std::holds_alternative<Sealing>(model.seal_steps.seal)) {
    view.state = StepState::kReady;
  }
  return view;
}

}  // namespace

Age age_of(UtcInstant then, const Stamp& now) {
  // A clock that was set back must not show a negative age.
  const auto minutes = std::max<std::int64_t>(
      0, std::chrono::duration_cast<std::chrono::minutes>(now.utc - then).count());
  constexpr std::int64_t kHour = 60;
  constexpr std::int64_t kDay = 24 * kHour;
  if (minutes < 2 * kHour) return {"minutes", minutes};
  if (minutes < 2 * kDay) return {"hours", minutes / kHour};
  return {"days", minutes / kDay};
}

OwnNames own_names(const Plan& plan) {
  OwnNames names;
  for (const Scale& score : plan.scores) names[score.code] = score.name;
  return names;
}

OccasionName name_of(const Plan& plan, const PlanOccasion& occasion) {
  OccasionName name{occasion.job, occasion.cutting, {}, occasion.code};
  if (occasion.job == Job::kRate) name.measures = occasion.measures;
  std::erase(name.measures, measure::kNote);
  name.own_names = own_names(plan);
  return name;
}

TodayView today_view(const Model& model) {
  TodayView view;
  view.head = head_view(model);
  view.loaded = model.today_loaded;
  view.fields = field_rows(model);
  for (const KnownTrial& trial : model.trials) {
    const bool listed = std::ranges::find(view.sites, trial.plan.site_name) != view.sites.end();
    if (!listed) view.sites.push_back(trial.plan.site_name);
    for (const PlanOccasion& occasion : trial.plan.occasions) {
      view.due.push_back(due_row(model, trial, occasion));
    }
  }
  std::ranges::stable_sort(view.due, {}, order_of);
  const auto old =
      std::ranges::stable_partition(view.due, [](const DueRow& row) { return !is_earlier(row); });
  view.earlier.assign(std::make_move_iterator(old.begin()), std::make_move_iterator(old.end()));
  view.due.erase(old.begin(), old.end());
  std::ranges::stable_sort(view.earlier, std::ranges::greater{}, &DueRow::days);
  if (const auto* const screen = std::get_if<OnToday>(&model.screen)) {
    view.show_earlier = screen->earlier;
  }
  view.unsealed = model.today.unsealed;
  if (model.today.last_seal) view.last_seal = age_of(model.today.last_seal->at, model.now);
  if (model.today.last_copy) view.last_copy = age_of(model.today.last_copy->at, model.now);
  std::int64_t open = 0;  // of what is due by now, or begun
  for (const DueRow& row : view.due) {
    const bool due = row.state == DueState::kOverdue || row.state == DueState::kToday;
    if (due || (row.done > 0 && row.state != DueState::kDone)) open += row.total - row.done;
  }
  view.supply = supply_view(model, open);
  view.no_entry = no_entry_views(model);
  view.new_key = model.today.new_key;
  if (model.today.spare) view.spare.age = age_of(model.today.spare->at, model.now);
  view.spare.place = !model.today.places.empty();
  view.spare.failed = model.spare.failed;
  view.stick = stick_view(model);
  return view;
}

DaysEndView days_end_view(const Model& model) {
  DaysEndView view;
  view.head = head_view(model);
  view.loaded = model.today_loaded;
  view.unsealed = model.today.unsealed;
  for (const OccasionProgress& progress : model.today.progress) {
    const KnownTrial* const trial = trial_with(model, progress.trial);
    const PlanOccasion* const occasion =
        trial == nullptr ? nullptr : trial->plan.find_occasion(progress.occasion);
    if (occasion == nullptr) continue;
    // Today's work: begun today, or due by now and not whole.
    const bool due =
        occasion->due && *occasion->due <= model.now.local_date && progress.done < progress.total;
    if (progress.values_today == 0 && (!due || progress.closed) && progress.on_hold.empty())
      continue;
    const bool part_done = progress.done + progress.later > 0 && !progress.open_plots.empty();
    view.rows.push_back({.trial = progress.trial,
                         .occasion = progress.occasion,
                         .trial_code = trial->plan.codes.trial,
                         .code = occasion->code,
                         .job = occasion->job,
                         .done = progress.done,
                         .total = progress.total,
                         .values_today = progress.values_today,
                         .open_plots = progress.open_plots,
                         .on_hold = progress.on_hold,
                         .not_fresh = progress.not_fresh,
                         .unsorted = progress.unsorted,
                         .questioned = progress.questioned,
                         .own_names = own_names(trial->plan),
                         .closed = progress.closed,
                         .can_close = part_done && !progress.closed && can_enter(model)});
    if (!progress.closed) view.open += progress.open_plots.size();
    view.held += progress.on_hold.size();
    view.questioned += progress.questioned.size();
  }
  view.seal = seal_view(model);
  if (const auto* const done = std::get_if<SealDone>(&model.seal_steps.seal)) {
    view.sealed_records = done->note.records;
  }
  view.copy = copy_view(model);
  view.places = model.today.places;
  return view;
}

}  // namespace ligule::flow
