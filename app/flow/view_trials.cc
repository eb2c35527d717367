// The Trials screen as it is shown.
#include <algorithm>
#include <set>
#include <variant>

#include "app/flow/plan_changes.h"
#include "app/flow/progress.h"
#include "app/flow/sown_form.h"
#include "app/flow/sticks.h"
#include "app/flow/trial_events.h"
#include "app/flow/view_parts.h"
#include "storage/trial/details.h"
#include "storage/trial/trial_event.h"

namespace ligule::flow {
namespace {

TrialListView list_view(const Model& model) {
  TrialListView view;
  for (const KnownTrial& trial : model.trials) {
    const Plan& plan = trial.plan;
    view.rows.push_back({plan.id(), plan.codes.trial, plan.title, plan.site_name, plan.field,
                         format_date(plan.sown), plan.entries.size(), plan.plots.size()});
  }
  std::ranges::stable_sort(view.rows, {}, &TrialListRow::code);
  view.stick = stick_view(model);
  return view;
}

std::string species_name(const Model& model, const std::string& code) {
  const auto& all = model.setup.definitions.species;
  const auto at = std::ranges::find(all, code, &Species::code);
  return at == all.end() ? code : at->name;
}

void add_plots(TrialPageView& view, const KnownTrial& trial) {
  const std::vector<PlanPlot> path = trial.plan.along_path();
  const std::vector<std::size_t> starts = lane_starts(path);
  for (std::size_t at = 0; at < path.size(); ++at) {
    const PlanPlot& plot = path[at];
    SownPlot shown{plot.number, std::ranges::binary_search(starts, at), {}, std::nullopt};
    if (const AsSown* const stated = stated_of(trial, plot)) shown.status = stated->status;
    const PlanEntry* const entry = entry_of(trial, plot);
    if (entry != nullptr && !view.names_hidden) shown.entry = entry->code;
    view.plots.push_back(std::move(shown));
  }
}

std::optional<EndophyteFact> endophyte_of(const PlanEntry& entry) {
  if (entry.endophyte == Endophyte::kNotStated && entry.endophyte_percent.empty() &&
      !entry.endophyte_tested)
    return std::nullopt;
  EndophyteFact fact{entry.endophyte_percent, {}};
  if (entry.endophyte_tested) fact.tested = format_date(*entry.endophyte_tested);
  return fact;
}

void add_entries(TrialPageView& view, const Model& model, const KnownTrial& trial) {
  for (const PlanEntry& entry : trial.plan.entries) {
    EntryRow row;
    row.code = entry.code;
    row.species = species_name(model, entry.species);
    if (!view.names_hidden) {
      row.endophyte = endophyte_of(entry);
      row.label = entry.label();
      row.check = entry.role != EntryRole::kTest;
    }
    row.plots = static_cast<std::size_t>(
        std::ranges::count(trial.plan.plots, entry.code, &PlanPlot::entry));
    view.entries.push_back(std::move(row));
  }
  std::ranges::stable_sort(view.entries, {}, &EntryRow::code);
}

EventRow event_row(const Model& model, const TrialEvent& event) {
  const Record& record = event.record;
  EventRow row;
  row.what = record.entered;
  row.known = std::ranges::find(kTrialEvents, record.entered) != kTrialEvents.end() ||
              record.entered == kMowing || record.entered == kWentIn ||
              record.entered == kWentBeside;
  row.on = format_date(record.at.local_date);
  if (const auto details = parse_details(record.details)) {
    if (const auto on = details->find("on"); on != details->end()) row.on = on->second;
    if (const auto block = details->find("block"); block != details->end()) {
      row.block = block->second;
    }
  }
  row.initials = initials_of(model, record);
  if (record.entered != kWentIn) row.words = record.reason;
  row.facts = event_facts(record);
  row.id = record.id;
  if (event.taken_back) {
    const Record& back = *event.taken_back;
    row.taken_back = {format_date(back.at.local_date), initials_of(model, back), back.reason};
  }
  row.can_take_back = can_take_back(model, event);
  return row;
}

TrialPageView page_view(const Model& model, const Trials& trials, const KnownTrial& trial) {
  TrialPageView view;
  view.code = trial.plan.codes.trial;
  view.title = trial.plan.title;
  view.field = trial.plan.field;
  view.sown = format_date(trial.plan.sown);
  view.tab = trials.tab;
  view.names_hidden = !names_free(model, trial);
  view.can_enter = can_enter(model);
  view.loaded = trials.loaded;
  view.soil_tested = !trial.plan.soil.empty();
  if (trials.tab == TrialTab::kSoil) view.soil = soil_rows(model, trial.plan);
  if (trials.tab == TrialTab::kPlots) add_plots(view, trial);
  if (trials.tab == TrialTab::kEntries) add_entries(view, model, trial);
  if (trials.tab == TrialTab::kEvents) {
    for (const TrialEvent& event : trials.events) view.events.push_back(event_row(model, event));
    std::ranges::stable_sort(view.events, std::ranges::greater{}, &EventRow::on);
  }
  return view;
}

EventFieldView field_view(const Model& model, const EventForm& form, const std::string& key) {
  EventFieldView view{key, {}, {}};
  const auto at = form.texts.find(key);
  if (key == form.writing) {
    view.text = form.keypad.text(Field::kNote);
  } else if (at != form.texts.end()) {
    view.text = at->second;
  }
  if (key == event_key::kHeightBefore || key == event_key::kHeightAfter)
    view.unit = height_unit(model);
  return view;
}

EventFormView event_view(const Model& model, const KnownTrial& trial, const EventForm& form) {
  EventFormView view;
  view.what = form.what;
  view.block = form.block;
  std::set<int> blocks;
  for (const PlanPlot& plot : trial.plan.plots) blocks.insert(plot.block);
  view.blocks.assign(blocks.begin(), blocks.end());
  view.on = format_date(day_before(model.now.local_date, form.days_ago));
  view.can_later = form.days_ago > 0;
  for (const std::string& key : event_fields(form))
    view.fields.push_back(field_view(model, form, key));
  const auto writing = std::ranges::find(view.fields, form.writing, &EventFieldView::key);
  if (writing != view.fields.end()) view.writing = *writing;
  if (const auto at = form.texts.find(std::string(event_key::kAnimals)); at != form.texts.end())
    if (std::ranges::find(kAnimals, at->second) != kAnimals.end()) view.animals = at->second;
  view.no_entry = form.no_entry;
  view.until_day = format_date(day_before(model.now.local_date, -form.until_in));
  view.comes_to = no_entry_comes_to(model, form);
  view.can_keep = !form.what.empty() && can_enter(model);
  return view;
}

// The page of the trial where the event is not there any more.
TrialsPage back_view(const Model& model, const Trials& trials, const KnownTrial& trial,
                     const EventBackForm& form) {
  const TrialEvent* const event = event_with(trials, form.event);
  if (event == nullptr) return page_view(model, trials, trial);
  const EventRow row = event_row(model, *event);
  return EventBackView{row, row.can_take_back};
}

FoundCopyView found_view(const Model& model, const FoundCopy& copy) {
  return {copy.path, copy.place, copy.device, age_of(copy.at, model.now), copy.records};
}

PlanPickView pick_view(const Model& model, const FindingPlans& finding) {
  PlanPickView view{finding.loaded, newest_first(model.stick, finding.folders)};
  for (const FoundCopy& copy : finding.copies) view.copies.push_back(found_view(model, copy));
  view.files = finding.files;
  view.stick = stick_view(model);
  return view;
}

}  // namespace

TrialsView trials_view(const Model& model, const Trials& trials) {
  TrialsView view;
  view.head = head_view(model);
  view.page = list_view(model);
  if (const auto* const finding = std::get_if<FindingPlans>(&trials.page)) {
    view.page = pick_view(model, *finding);
  } else if (const auto* const offered = std::get_if<OfferedCopy>(&trials.page)) {
    view.page = OfferedCopyView{found_view(model, offered->copy), offered->reading,
                                !offered->reading && can_enter(model)};
  } else if (const auto* const file = std::get_if<ReadingFile>(&trials.page)) {
    view.page = PlanReadingView{file->path};
  } else if (const auto* const read = std::get_if<OfferedFile>(&trials.page)) {
    view.page = OfferedFileView{read->file, format_date(read->file.last_day), read->taking,
                                !read->taking && can_enter(model)};
  } else if (const auto* const broken = std::get_if<FaultyFile>(&trials.page)) {
    view.page = FileFaultyView{broken->faults};
  } else if (const auto* const reading = std::get_if<ReadingPlan>(&trials.page)) {
    view.page = PlanReadingView{reading->path};
  } else if (const auto* const checked = std::get_if<CheckedPlan>(&trials.page)) {
    view.page = plan_told(model, *checked);
  } else if (const auto* const faulty = std::get_if<FaultyPlan>(&trials.page)) {
    view.page = PlanFaultyView{faulty->path, faulty->faults};
  }
  const KnownTrial* const trial = trials.trial ? trial_with(model, *trials.trial) : nullptr;
  if (trial == nullptr) return view;
  if (const auto* const sown = std::get_if<SownForm>(&trials.page)) {
    view.page = sown_view(model, *trial, *sown);
  } else if (const auto* const event = std::get_if<EventForm>(&trials.page)) {
    view.page = event_view(model, *trial, *event);
  } else if (const auto* const taken = std::get_if<EventBackForm>(&trials.page)) {
    view.page = back_view(model, trials, *trial, *taken);
  } else if (std::holds_alternative<TrialPage>(trials.page)) {
    view.page = page_view(model, trials, *trial);
  }
  return view;
}

}  // namespace ligule::flow
