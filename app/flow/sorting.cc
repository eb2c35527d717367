// A subsample is sorted by hand: weighed whole, then each part in a bag with a number of its own,
// which goes on to the oven like any sample.
#include <algorithm>
#include <tuple>
#include <utility>
#include <variant>
#include <vector>

#include "app/flow/named_plot.h"
#include "app/flow/progress.h"
#include "app/flow/season.h"
#include "app/flow/sorted_sample.h"
#include "app/flow/sorting.h"
#include "app/flow/turn.h"
#include "app/flow/typed_begun.h"
#include "storage/trial/unit_names.h"

namespace ligule::flow {
namespace {

constexpr int kParts = static_cast<int>(composition::kPartCount);

void refuse(Turn& turn, Sorting& sorting, Field field, const std::string& key,
            const std::vector<std::string>& arguments = {}) {
  sorting.keypad.focus(field);
  turn.notice(key, arguments);
  turn.run(Cue{CueKind::kRefused});
}

const PlanPlot* plot_on(const Sorting& sorting) {
  const auto place = place_of(sorting.book, sorting.plot);
  return place ? &sorting.book.plots.at(*place) : nullptr;
}

std::string entered_in(const Cell& cell) {
  return cell.claim && !cell.open() ? cell.claim->record.entered : std::string();
}

// The fields of the part that is open and what they show before anything is typed.
std::vector<std::pair<Field, std::string>> fields_shown(const Model& model,
                                                        const Sorting& sorting) {
  const PlanPlot* const plot = plot_on(sorting);
  if (plot == nullptr || !sorting.part) return {};
  const SortedSample sample = sorted_sample(model, sorting.book, *plot);
  if (*sorting.part == 0) return {{Field::kSortWhole, entered_in(sample.whole)}};
  const PartCells& part = sample.parts.at(static_cast<std::size_t>(*sorting.part - 1));
  return {{Field::kSortBag, entered_in(part.number)}, {Field::kSortFresh, entered_in(part.fresh)}};
}

std::tuple<OccasionId, std::string, int> place_on(const Sorting& sorting) {
  return {sorting.book.id, sorting.plot, sorting.part.value_or(0)};
}

// What is open on the table, as it stands, or as its writer left it half typed.
void fill(Model& model, Sorting& sorting) {
  sorting.keypad = Keypad(sorting.plot.empty() ? Field::kSortPlot : Field::kSortWhole);
  const auto fields = fields_shown(model, sorting);
  if (fields.empty()) return;
  const auto place = place_on(sorting);
  const bool own = begun_by_holder(model, model.sort_begun, place);
  for (std::size_t n = 0; n < fields.size(); ++n)
    sorting.keypad.set(fields[n].first,
                       own ? model.sort_begun.at(place).texts.at(n) : fields[n].second);
  sorting.keypad.focus(fields.front().first);
  if (!own) return;
  model.sort_begun.erase(place);
  // The next digit goes on where the last one was typed.
  const Field last = fields.back().first;
  if (!sorting.keypad.text(last).empty()) sorting.keypad.focus(last);
  sorting.keypad.go_on();
}

// The whole first, then the parts from one on, walking round; nothing: all is stated.
std::optional<int> next_part(const SortedSample& sample, int after) {
  if (!sample.whole.claim || sample.whole.open()) return 0;
  for (int step = 1; step <= kParts; ++step) {
    const int part = (after + step - 1) % kParts + 1;
    if (!sample.parts.at(static_cast<std::size_t>(part - 1)).stated()) return part;
  }
  return std::nullopt;
}

checks::History history_of(const Turn& turn, const Sorting& sorting, const PlanPlot& plot,
                           const std::optional<RecordId>& own) {
  const Book& book = sorting.book;
  checks::History history = history_of_day(turn, book.id);
  for (const FilledBag& bag : bags_filled(turn.model, book, sorting.open_bags)) {
    if (own != bag.bag) history.open_bags.push_back({bag.number, bag.plot});
  }
  const Plan& plan = trial_of(turn.model, book).plan;
  if (const auto tare = plan.bag_tare.kilograms()) history.bag_tare = *tare;
  add_sorted(turn.model, book, plot, sorting.part.value_or(0), history);
  return history;
}

// A value as a draft, unless it says what stands already; false: it was refused, and that was told.
bool draft_value(Turn& turn, Sorting& sorting, const PlanPlot& plot, Field field, const Slot& slot,
                 checks::History history, std::vector<Draft>& drafts) {
  const KnownTrial& trial = trial_of(turn.model, sorting.book);
  const Scale* const scale = scale_of(turn.model, trial, plot, slot.measure);
  if (scale == nullptr) {
    refuse(turn, sorting, field, "notice.no_scale", {slot.measure});
    return false;
  }
  const std::string text = sorting.keypad.text(field);
  const Cell standing = cell_at(turn.model, sorting.book, slot);
  const std::string unit = unit_for(turn.model.setup, slot.measure, *scale, standing);
  const bool same = standing.claim && standing.claim->record.entered == text &&
                    standing.claim->record.unit == unit;
  if (same && standing.claim->record.state == ValueState::kValue) return true;
  if (same) {
    const auto& answers = standing.claim->record.answers;
    history.answered.insert(history.answered.end(), answers.begin(), answers.end());
  }
  const checks::Verdict verdict =
      checks::judge({slot.measure, scale, text, unit, std::nullopt}, trial.plan, history);
  if (verdict.outcome == checks::Outcome::kRefuse) {
    const checks::Finding& finding = verdict.findings.front();
    refuse(turn, sorting, field, "check." + std::string(finding.rule->key), finding.arguments);
    return false;
  }
  if (same && verdict.findings.empty()) return true;
  const About about{&trial, sorting.book.id, slot, std::nullopt, scale};
  Draft draft = value_draft(turn, about, verdict.value, ValueState::kValue, Source::kTyped,
                            standing.claim, standing.open() ? "after_later" : "weighed_again");
  draft.record.answers = verdict.answered;
  draft.open = verdict.findings;
  drafts.push_back(std::move(draft));
  return true;
}

}  // namespace

std::vector<SortRow> cuttings_to_sort(const Model& model) {
  std::vector<SortRow> rows;
  for (const KnownTrial& trial : model.trials) {
    for (const PlanOccasion& occasion : trial.plan.occasions) {
      if (occasion.job != Job::kHarvest) continue;
      const OccasionId id = trial.plan.occasion(occasion);
      const auto at = std::ranges::find(model.today.progress, id, &OccasionProgress::occasion);
      const bool begun = at != model.today.progress.end() && at->done > 0;
      const auto& asked = occasion.measures;
      const bool planned = std::ranges::find(asked, measure::kPartBag) != asked.end();
      const bool this_year =
          !model.now.local_date.ok() || date::year(occasion.year) == model.now.local_date.year();
      if (!this_year || !begun) continue;
      rows.push_back(
          {trial.plan.id(), id, trial.plan.codes.trial, occasion.year, occasion.cutting, planned});
    }
  }
  std::ranges::stable_sort(rows, std::greater<>(), &SortRow::planned);
  return rows;
}

void show_sorting(Turn& turn, DryWeights& dry) {
  if (dry.which_cutting) {
    dry.which_cutting = false;
    return;
  }
  const std::vector<SortRow> rows = cuttings_to_sort(turn.model);
  if (rows.empty()) return;
  if (rows.size() == 1) return open_sorting(turn, rows.front().trial, rows.front().occasion, "");
  dry.which_cutting = true;
}

void open_sorting(Turn& turn, TrialId trial, OccasionId occasion, const std::string& plot) {
  Opening opening{trial, occasion, plot};
  opening.sorting = true;
  show_screen(turn, std::move(opening));
  turn.run(LoadOccasion{trial, occasion});
}

void begin_sorting(const Turn& turn, Book book, OccasionLoaded loaded, const std::string& plot) {
  Sorting sorting;
  sorting.book = std::move(book);
  sorting.open_bags = std::move(loaded.open_bags);
  turn.model.screen = std::move(sorting);
  auto& screen = std::get<Sorting>(turn.model.screen);
  if (!turn.model.unsaved) return sort_plot(turn, screen, plot);
  for (const Act& act : turn.model.unsaved->acts) {
    if (of_sorting(act)) return sort_again(turn, screen, act);
  }
}

void set_part_aside(Model& model, const Sorting& sorting) {
  const auto fields = fields_shown(model, sorting);
  if (fields.empty()) return;
  std::vector<std::string> untouched;
  std::vector<std::string> now;
  for (const auto& [field, shown] : fields) {
    untouched.push_back(shown);
    now.push_back(sorting.keypad.text(field));
  }
  set_typed_aside(model, model.sort_begun, place_on(sorting), untouched, std::move(now));
}

void sort_plot(const Turn& turn, Sorting& sorting, const std::string& plot) {
  const auto place = place_of(sorting.book, plot);
  if (!place) return;
  set_part_aside(turn.model, sorting);
  sorting.plot = plot;
  sorting.book.present = *place;
  const PlanPlot& on = sorting.book.plots.at(*place);
  sorting.part = next_part(sorted_sample(turn.model, sorting.book, on), 0);
  fill(turn.model, sorting);
}

void sort_part(const Turn& turn, Sorting& sorting, int part) {
  if (plot_on(sorting) == nullptr || part < 0 || part > kParts) return;
  set_part_aside(turn.model, sorting);
  sorting.part = part;
  fill(turn.model, sorting);
}

void keep_sorted(Turn& turn, Sorting& sorting) {
  const PlanPlot* const plot = plot_on(sorting);
  if (plot == nullptr || !sorting.part || !can_enter(turn.model)) return;
  const Uuid subject = plot_subject(turn.model, sorting.book, *plot);
  std::vector<Draft> drafts;
  if (*sorting.part == 0) {
    if (sorting.keypad.text(Field::kSortWhole).empty())
      return refuse(turn, sorting, Field::kSortWhole, "notice.fresh_missing");
    const Slot slot{subject, std::string(measure::kSeparatedFresh), 1};
    if (!draft_value(turn, sorting, *plot, Field::kSortWhole, slot,
                     history_of(turn, sorting, *plot, std::nullopt), drafts))
      return;
  } else {
    if (sorting.keypad.text(Field::kSortBag).empty())
      return refuse(turn, sorting, Field::kSortBag, "notice.part_bag_missing");
    if (sorting.keypad.text(Field::kSortFresh).empty())
      return refuse(turn, sorting, Field::kSortFresh, "notice.fresh_missing");
    const Slot number{subject, std::string(measure::kPartBag), *sorting.part};
    const Cell standing = cell_at(turn.model, sorting.book, number);
    std::optional<RecordId> bag;
    if (standing.claim) bag = standing.claim->first;
    checks::History history = history_of(turn, sorting, *plot, bag);
    if (!draft_value(turn, sorting, *plot, Field::kSortBag, number, history, drafts)) return;
    // The bag is the reading that numbers it first.
    if (!bag) bag = drafts.front().record.id;
    const Slot own_tare{bag->uuid, std::string(measure::kBagTare), 1};
    const Cell weighed = cell_at(turn.model, sorting.book, own_tare);
    if (weighed.claim && weighed.claim->record.value) {
      const auto mass = mass_in(*weighed.claim->record.value, weighed.claim->record.unit);
      if (mass) history.bag_tare = *mass;
    }
    const Slot fresh{bag->uuid, std::string(measure::kSampleFresh), 1};
    const Slot dried{bag->uuid, std::string(measure::kSampleDry), 1};
    const Cell dry = cell_at(turn.model, sorting.book, dried);
    if (dry.claim && dry.claim->record.value) {
      const auto mass = mass_in(*dry.claim->record.value, dry.claim->record.unit);
      if (mass) history.sample_dry = *mass;
    }
    if (!draft_value(turn, sorting, *plot, Field::kSortFresh, fresh, history, drafts)) return;
  }
  if (drafts.empty()) {
    sorting.part = next_part(sorted_sample(turn.model, sorting.book, *plot), *sorting.part);
    return fill(turn.model, sorting);
  }
  keep_or_ask(turn, ActKind::kSorted, plot->number, std::move(drafts));
}

void say_none_of_part(Turn& turn, Sorting& sorting) {
  const PlanPlot* const plot = plot_on(sorting);
  const int part = sorting.part.value_or(0);
  if (plot == nullptr || part == 0 || !can_enter(turn.model)) return;
  const SortedSample sample = sorted_sample(turn.model, sorting.book, *plot);
  const PartCells& now = sample.parts.at(static_cast<std::size_t>(part - 1));
  if (now.none()) return;
  // What is in a bag is something; its weights are taken back first.
  if (now.fresh.claim || now.dried.claim)
    return refuse(turn, sorting, Field::kSortBag, "notice.part_was_weighed",
                  {entered_in(now.number)});
  const KnownTrial& trial = trial_of(turn.model, sorting.book);
  const About about{
      &trial,
      sorting.book.id,
      {plot_subject(turn.model, sorting.book, *plot), std::string(measure::kPartBag), part},
      std::nullopt,
      scale_of(turn.model, trial, *plot, measure::kPartBag)};
  Draft draft = value_draft(turn, about, {}, ValueState::kZero, Source::kTapped, now.number.claim,
                            now.number.open() ? "after_later" : "mistap");
  draft.open = checks::judge_parts(history_of(turn, sorting, *plot, std::nullopt));
  std::vector<Draft> drafts;
  drafts.push_back(std::move(draft));
  keep_or_ask(turn, ActKind::kSorted, plot->number, std::move(drafts));
}

void sort_done(Turn& turn, Sorting& sorting) {
  if (sorting.plot.empty()) {
    const std::string number = sorting.keypad.text(Field::kSortPlot);
    if (number.empty()) return;
    if (const PlanPlot* const plot = plot_with(turn.model, sorting.book, number))
      return sort_plot(turn, sorting, plot->number);
    const NamedPlot named = named_plot(turn.model, sorting.book, number);
    if (place_of(turn.model, sorting.book, named)) return sort_plot(turn, sorting, named.number);
    sorting.keypad.clear(Field::kSortPlot);
    if (!named.trial.empty() || is_in_plan(turn.model, sorting.book, named)) {
      const NoPlace why = no_place(turn.model, sorting.book, named);
      return refuse(turn, sorting, Field::kSortPlot, why.key, why.arguments);
    }
    return refuse(turn, sorting, Field::kSortPlot, "notice.unknown_stake_or_bag", {number});
  }
  if (!sorting.part) return sort_back(turn, sorting);
  // On to the weight; without a number there is nothing to go on with.
  if (sorting.keypad.active() == Field::kSortBag && !sorting.keypad.text(Field::kSortBag).empty())
    return sorting.keypad.focus(Field::kSortFresh);
  keep_sorted(turn, sorting);
}

void sort_back(Turn& turn, Sorting& sorting) {
  if (sorting.plot.empty()) return show_dry_weights(turn);
  set_part_aside(turn.model, sorting);
  sorting.plot.clear();
  sorting.part.reset();
  fill(turn.model, sorting);
}

void sorted(const Turn& turn, Sorting& sorting, const Act& act) {
  if (act.kind == ActKind::kTakeBack) return sort_again(turn, sorting, act);
  const PlanPlot* const plot = plot_on(sorting);
  if (act.kind != ActKind::kSorted || plot == nullptr) return;
  const int after = sorting.part.value_or(0);
  sorting.part = next_part(sorted_sample(turn.model, sorting.book, *plot), after);
  fill(turn.model, sorting);
}

bool of_sorting(const Act& act) {
  return act.kind == ActKind::kSorted ||
         (act.kind == ActKind::kTakeBack && act.slide == SlideRun{} &&
          std::ranges::any_of(act.records, [](const Record& record) {
            return record.measure == measure::kPartBag ||
                   record.measure == measure::kSeparatedFresh;
          }));
}

void sort_again(const Turn& turn, Sorting& sorting, const Act& act) {
  const auto place = place_of(sorting.book, act.plot);
  if (!place) return;
  const auto left = place_on(sorting);
  set_part_aside(turn.model, sorting);
  sorting.plot = act.plot;
  sorting.book.present = *place;
  sorting.part = 0;
  for (const Record& record : act.records) {
    if (record.measure == measure::kPartBag) sorting.part = record.part;
    if (record.measure == measure::kSeparatedFresh || !record.subject) continue;
    const int part =
        part_with_bag(turn.model, sorting.book, sorting.book.plots.at(*place), *record.subject);
    if (part > 0) sorting.part = part;
  }
  // What the form showed there is the value taken back, and nothing half typed.
  if (left == place_on(sorting)) turn.model.sort_begun.erase(left);
  fill(turn.model, sorting);
}

const PlanPlot* plot_with(const Model& model, const Book& book, const std::string& number) {
  if (const auto place = place_of(book, number)) return &book.plots.at(*place);
  for (const PlanPlot& plot : book.plots) {
    for (const Cell& cell : bag_numbers(model, book, plot))
      if (cell.claim && cell.claim->record.entered == number) return &plot;
  }
  return nullptr;
}

}  // namespace ligule::flow
