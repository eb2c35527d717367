// Weighing a cutting: the head of the run, then plot by plot; what the keypad gives here, what the
// scale gives in take_weight.cc.
#include <algorithm>
#include <array>
#include <utility>
#include <variant>

#include "app/flow/bags.h"
#include "app/flow/check_weight.h"
#include "app/flow/composite_bag.h"
#include "app/flow/gauge.h"
#include "app/flow/low_stubble.h"
#include "app/flow/named_plot.h"
#include "app/flow/plot_statements.h"
#include "app/flow/progress.h"
#include "app/flow/run_head.h"
#include "app/flow/scale_choice.h"
#include "app/flow/sown_form.h"
#include "app/flow/split_block.h"
#include "app/flow/swapped.h"
#include "app/flow/weighing.h"
#include "storage/trial/record_line.h"
#include "storage/trial/said.h"
#include "storage/trial/unit_names.h"

namespace ligule::flow {
namespace {

// In the unit the next plot is weighed in; a tare of another unit is no number to remember.
const Record* newest_tare(const Model& model, const Book& book) {
  const Record* newest = nullptr;
  for (const auto& [slot, claim] : book.kept) {
    // What the indicator took off itself is nobody's tare to remember.
    if (slot.measure != measure::kTareWeight || claim.record.source == Source::kScale) continue;
    if (newest == nullptr || claim.record.at.utc > newest->at.utc) newest = &claim.record;
  }
  if (newest == nullptr || book.plots.empty()) return nullptr;
  const Scale* const scale =
      scale_of(model, trial_of(model, book), book.plots.front(), measure::kTareWeight);
  if (scale == nullptr) return nullptr;
  const bool same_unit = unit_of(model.setup, measure::kTareWeight, *scale) == newest->unit;
  return same_unit ? newest : nullptr;
}

void remember_newest_tare(const Model& model, Harvest& harvest) {
  const Record* const tare = newest_tare(model, harvest.book);
  harvest.tare = tare == nullptr ? std::string() : tare->entered;
  harvest.tare_kind =
      tare == nullptr ? std::string() : detail(tare->details, std::string(said::kBagKind));
}

// A gross weight, not why there is none.
bool is_gross(const Record& record) {
  return record.measure == measure::kGrossWeight && record.value.has_value();
}

// The tare of the plot just kept goes on to the next one, unless it is in another unit.
void remember_tare(const Model& model, Harvest& harvest, const Weighing& weighing, const Act& act) {
  const auto tare = std::ranges::find(act.records, measure::kTareWeight, &Record::measure);
  if (tare != act.records.end() && tare->source == Source::kScale) return;
  if (tare == act.records.end()) {
    // Weighed without one, not only said to have no weight.
    if (weighing.keypad.text(Field::kTare).empty() && std::ranges::any_of(act.records, is_gross)) {
      harvest.tare.clear();
      harvest.tare_kind.clear();
    }
    return;
  }
  const PlanPlot& plot = present_plot(harvest);
  const Scale* const scale =
      scale_of(model, trial_of(model, harvest.book), plot, measure::kTareWeight);
  const bool same_unit =
      scale != nullptr && unit_of(model.setup, measure::kTareWeight, *scale) == tare->unit;
  harvest.tare = same_unit ? tare->entered : std::string();
  harvest.tare_kind = detail(tare->details, std::string(said::kBagKind));
}

// Weights typed in another unit are no weights any more: they are typed again.
bool forget_weights(Keypad& form) {
  const bool any = !form.text(Field::kGross).empty() || !form.text(Field::kTare).empty();
  form.clear(Field::kGross);
  form.clear(Field::kTare);
  return any;
}

Field first_empty(const Keypad& form) {
  for (const FormLine& line : kForm) {
    if (form.text(line.field).empty()) return line.field;
  }
  return Field::kSampleFresh;
}

// The empty line after the active one, round the form; the active one only when no other is.
Field next_empty(const Keypad& form) {
  const auto active = std::ranges::find(kForm, form.active(), &FormLine::field);
  const auto from = static_cast<std::size_t>(active - kForm.begin());
  for (std::size_t i = 1; i <= kForm.size(); ++i) {
    const FormLine& line = kForm.at((from + i) % kForm.size());
    if (form.text(line.field).empty()) return line.field;
  }
  return Field::kSampleFresh;
}

// Said of the present plot, which stays; an exchange with a neighbour gives it other weights.
void stated(const Turn& turn, const Harvest& harvest, Weighing& weighing, const Act& act) {
  weighing.page = PlotPage::kPad;
  const Uuid subject = plot_subject(turn.model, harvest.book, present_plot(harvest));
  for (std::size_t n = 0; n < act.records.size(); ++n) {
    const Record& record = act.records[n];
    if (record.subject != subject || record.part != weighing.bag) continue;
    const auto* const line = std::ranges::find(kForm, record.measure, &FormLine::measure);
    if (line == kForm.end()) continue;
    if (line->field == Field::kGross) weighing.weeds_only = said::weeds_only(record.details);
    if (line->field == Field::kTare)
      weighing.kind = detail(record.details, std::string(said::kBagKind));
    // What somebody is typing over it stays theirs.
    const std::optional<KnownClaim>& before = act.before[n];
    if (before && before->record.entered == weighing.keypad.text(line->field))
      weighing.keypad.set(line->field, record.entered);
  }
}

// Whether another bag of the plot follows what was kept: a weight of the one on the scale.
bool more_follow(const Weighing& weighing, const Act& act) {
  return act.kind == ActKind::kValues &&
         std::ranges::any_of(act.records, [&](const Record& record) {
           const bool weight = is_gross(record) || record.measure == measure::kTareWeight;
           return weight && record.part == weighing.bag;
         });
}

// A weight was given up, not only what was said of one.
bool gives_up_load(const Act& taken_back) {
  for (std::size_t n = 0; n < taken_back.records.size(); ++n) {
    const std::optional<KnownClaim>& before = taken_back.before[n];
    const Record& record = taken_back.records[n];
    if (!before || !from_scale(before->record)) continue;
    if (record.kind == kind::kWithdrawal || record.entered != before->record.entered) return true;
  }
  return false;
}

// Whether the plot's bag is asked for and not named yet.
bool bag_to_come(const Turn& turn, const Harvest& harvest) {
  const PlanPlot& plot = present_plot(harvest);
  const auto asked = measures_of(trial_of(turn.model, harvest.book), harvest.book.occasion, plot,
                                 turn.model.setup.definitions);
  return std::ranges::find(asked, measure::kBagNumber) != asked.end() &&
         !bag_of(turn.model, harvest.book, plot);
}

}  // namespace

Weighing* weighing_on(Turn& turn) {
  auto* const harvest = on<Harvest>(turn);
  return harvest == nullptr ? nullptr : std::get_if<Weighing>(&harvest->step);
}

void refuse(Turn& turn, Weighing& weighing, Field field, const std::string& key,
            const std::vector<std::string>& arguments) {
  weighing.keypad.focus(field);
  turn.notice(key, arguments);
  turn.run(Cue{CueKind::kRefused});
}

std::string weighed_in(const Model& model, const Harvest& harvest) {
  if (harvest.book.plots.empty()) return {};
  const Scale* const scale =
      scale_of(model, trial_of(model, harvest.book), present_plot(harvest), measure::kGrossWeight);
  return scale == nullptr ? std::string() : unit_of(model.setup, measure::kGrossWeight, *scale);
}

void weights_in_another_unit(Turn& turn, Harvest& harvest, const std::string& before) {
  remember_newest_tare(turn.model, harvest);
  bool any = false;
  for (auto& [plot, form] : harvest.begun) any = forget_weights(form.keypad) || any;
  if (auto* const weighing = std::get_if<Weighing>(&harvest.step)) {
    const Field active = weighing->keypad.active();
    any = forget_weights(weighing->keypad) || any;
    weighing->keypad.set(Field::kTare, harvest.tare);
    for (const FormLine& line : kForm) {
      const Cell cell =
          line_cell(turn.model, harvest.book, present_plot(harvest), line, weighing->bag);
      if (cell.claim && !cell.open() && weighing->keypad.text(line.field).empty())
        weighing->keypad.set(line.field, cell.claim->record.entered);
    }
    weighing->keypad.focus(active);
  }
  if (any) turn.notice("notice.unit_changed", {before, weighed_in(turn.model, harvest)});
}

void set_aside(Model& model) {
  if (const auto* const rating = std::get_if<Rating>(&model.screen))
    return set_cards_aside(model, *rating);
  if (const auto* const dry = std::get_if<DryWeights>(&model.screen))
    return set_bag_aside(model, *dry);
  if (const auto* const sorting = std::get_if<Sorting>(&model.screen))
    return set_part_aside(model, *sorting);
  auto* const harvest = std::get_if<Harvest>(&model.screen);
  if (harvest == nullptr) return;
  if (auto* const weighing = std::get_if<Weighing>(&harvest->step))
    leave_form(model, *harvest, *weighing);
  std::optional<RunHead> head;
  if (const auto* const typed = std::get_if<RunHead>(&harvest->step); typed != nullptr) {
    const RunHead untouched = typed->again ? head_of(harvest->runs.back()) : new_head(*harvest);
    if (!same_texts(*typed, untouched)) head = *typed;
  }
  if (harvest->begun.empty() && !head) {
    model.set_aside.erase(harvest->book.id);
  } else {
    model.set_aside[harvest->book.id] = {weighed_in(model, *harvest), harvest->begun, head};
  }
}

void begin_harvest(Turn& turn, Book book, OccasionLoaded loaded) {
  Harvest harvest;
  harvest.book = std::move(book);
  harvest.runs = std::move(loaded.runs);
  harvest.checks = std::move(loaded.checks);
  harvest.elsewhere = open_elsewhere(turn.model, std::move(loaded.elsewhere));
  harvest.open_bags = std::move(loaded.open_bags);
  remember_newest_tare(turn.model, harvest);
  std::optional<RunHead> head;
  if (const auto at = turn.model.set_aside.find(harvest.book.id);
      at != turn.model.set_aside.end()) {
    harvest.begun = std::move(at->second.begun);
    head = std::move(at->second.head);
    const std::string before = at->second.unit;
    turn.model.set_aside.erase(at);
    if (before != weighed_in(turn.model, harvest)) weights_in_another_unit(turn, harvest, before);
  }
  const auto today = std::ranges::find_if(
      harvest.runs.rbegin(), harvest.runs.rend(),
      [&](const Record& run) { return run.at.local_date == turn.at.local_date; });
  // Of another day's run a head is that of the day's first.
  if (head && today == harvest.runs.rend()) head->again = false;
  // Another run of the day whose head was being filled in is gone on with.
  if (today != harvest.runs.rend() && !(head && head->again)) {
    Weighing weighing;
    weighing.run = *today;
    fill_form(turn, harvest, weighing);
    harvest.step = std::move(weighing);
  } else {
    harvest.step = head.value_or(new_head(harvest));
  }
  turn.model.screen = std::move(harvest);
  ask_waiting_exchange(turn);
  turn.model.doubted.reset();
  look_for_doubt(turn, std::get<Harvest>(turn.model.screen));
}

void fill_form(const Turn& turn, Harvest& harvest, Weighing& weighing) {
  static_cast<WeightForm&>(weighing) = WeightForm{};
  weighing.by_hand = false;
  weighing.more = false;
  weighing.page = PlotPage::kPad;
  if (harvest.book.plots.empty()) return;
  const PlanPlot& plot = present_plot(harvest);
  if (const auto at = harvest.begun.find(plot.number); at != harvest.begun.end()) {
    static_cast<WeightForm&>(weighing) = at->second;
    harvest.begun.erase(at);
    if (weighing.strip) open_strip(turn, harvest, weighing);
    // A bag before it may have been let go meanwhile.
    const int stand = gross_cells(turn.model, harvest.book, plot).empty()
                          ? 0
                          : last_bag(turn.model, harvest.book, plot);
    weighing.bag = std::min(weighing.bag, stand + 1);
    weighing.keypad.focus(weighing.keypad.active());
    return;
  }
  weighing.bag = last_bag(turn.model, harvest.book, plot);
  weighing.weeds_only = holds_weeds_only(turn.model, harvest.book, plot);
  weighing.kind = harvest.tare_kind;
  weighing.keypad.set(Field::kTare, harvest.tare);
  if (const auto shared = shared_bag(turn.model, harvest.book, plot)) {
    weighing.offered_bag = shared->number;
    weighing.keypad.set(Field::kBag, shared->number);
  }
  for (const FormLine& line : kForm) {
    const Cell cell = line_cell(turn.model, harvest.book, plot, line, weighing.bag);
    if (!cell.claim || cell.open()) continue;
    weighing.keypad.set(line.field, cell.claim->record.entered);
    if (line.field == Field::kTare)
      weighing.kind = detail(cell.claim->record.details, std::string(said::kBagKind));
  }
  weighing.keypad.focus(first_empty(weighing.keypad));
}

void leave_form(const Model& model, Harvest& harvest, Weighing& weighing) {
  if (harvest.book.plots.empty()) return;
  leave_strip(model, harvest, weighing);
  const PlanPlot& plot = present_plot(harvest);
  weighing.keypad.clear(Field::kPlot);
  const bool said = weighing.weeds_only && !holds_weeds_only(model, harvest.book, plot);
  const bool begun =
      said || weighing.strip || std::ranges::any_of(kForm, [&](const FormLine& line) {
        const std::string& text = weighing.keypad.text(line.field);
        const Cell cell = line_cell(model, harvest.book, plot, line, weighing.bag);
        if (cell.claim && !cell.open()) return text != cell.claim->record.entered;
        if (line.field == Field::kBag) return text != weighing.offered_bag;
        return line.field == Field::kTare ? text != harvest.tare : !text.empty();
      });
  if (begun) harvest.begun[plot.number] = static_cast<const WeightForm&>(weighing);
}

void harvest_done(Turn& turn, Harvest& harvest) {
  if (auto* const head = std::get_if<RunHead>(&harvest.step)) {
    switch (head->keypad.active()) {
      case Field::kMachine:
        return head->keypad.focus(Field::kCutWidth);
      case Field::kCutWidth:
        return head->keypad.focus(Field::kStubble);
      default:
        return start_run(turn, harvest);
    }
  }
  auto& weighing = std::get<Weighing>(harvest.step);
  if (weighing.checking) return weighing.checking->keypad.focus(Field::kGross);
  if (weighing.page == PlotPage::kPad && weighs(turn.model, harvest, weighing))
    return take_weight(turn);
  if (weighing.page == PlotPage::kWeeds) return keep_swath(turn, false);
  if (weighing.page == PlotPage::kSwath) {
    // From length to width; both are kept by a key, for the plot or for its block.
    return weighing.swath.focus(Field::kSwathWidth);
  }
  if (weighing.keypad.active() == Field::kPlot) {
    const NamedPlot named =
        named_plot(turn.model, harvest.book, weighing.keypad.text(Field::kPlot));
    weighing.keypad.clear(Field::kPlot);
    const auto place = place_of(turn.model, harvest.book, named);
    if (!place) {
      if (is_in_plan(turn.model, harvest.book, named) &&
          ask_abandoned(turn, harvest.book, named.number))
        return;
      const NoPlace why = no_place(turn.model, harvest.book, named);
      return refuse(turn, weighing, Field::kPlot, why.key, why.arguments);
    }
    went_to_stake(turn, harvest.book, named.number);
    return go_to(turn, harvest.book, *place);
  }
  // Enter walks to what is still empty and keeps only a whole plot: a stray one would leave its bag
  // without a number. A plot weighed without a sample is kept by its own key.
  const std::array needed{Field::kGross, Field::kBag, Field::kSampleFresh};
  const bool whole = std::ranges::none_of(needed, [&](Field field) {
    // A further bag was opened, but there is none.
    if (field == Field::kGross && weighing.bag > 1) return false;
    return weighing.keypad.text(field).empty();
  });
  // The fresh weight may come later, by the bag's number: a second Enter leaves it for then.
  const bool left = weighing.keypad.active() == Field::kSampleFresh &&
                    !weighing.keypad.text(Field::kBag).empty() &&
                    (weighing.bag > 1 || !weighing.keypad.text(Field::kGross).empty());
  if (whole || left) return keep_plot(turn, harvest);
  const Field next = next_empty(weighing.keypad);
  if (next == weighing.keypad.active()) turn.run(Cue{CueKind::kRefused});
  weighing.keypad.focus(next);
}

void keep_plot(Turn& turn, Harvest& harvest, bool more) {
  auto* const weighing = std::get_if<Weighing>(&harvest.step);
  if (weighing == nullptr || harvest.book.plots.empty() || !can_enter(turn.model)) return;
  weighing->more = more;
  const Keypad& form = weighing->keypad;
  // Of several bags the last one may turn out to be none.
  const bool weighed = !form.text(Field::kGross).empty();
  if (!weighed && (weighing->bag == 1 || more)) {
    return refuse(turn, *weighing, Field::kGross, "notice.gross_missing");
  }
  if (!form.text(Field::kSampleFresh).empty() && form.text(Field::kBag).empty()) {
    return refuse(turn, *weighing, Field::kBag, "notice.bag_missing");
  }
  std::vector<LineEntry> entries;
  for (const FormLine& line : kForm) {
    const std::string& text = form.text(line.field);
    if (text.empty() || (!weighed && part_of(line, weighing->bag) > 1)) continue;
    entries.push_back({line.field, line.measure, text});
    entries.back().details = said_with(*weighing, line.field);
  }
  std::vector<Draft> drafts;
  if (!draft_lines(turn, harvest, *weighing, entries, history_of(turn, harvest, *weighing), drafts))
    return;
  if (drafts.empty() && more) return open_bag(harvest, *weighing, weighing->bag + 1);
  if (drafts.empty()) {
    // Everything stands already: on to the next.
    const auto next = next_open(turn.model, harvest.book, harvest.book.present);
    if (next) go_to(turn, harvest.book, *next);
    return;
  }
  keep_or_ask(turn, ActKind::kValues, present_plot(harvest).number, std::move(drafts));
}

void harvested(Turn& turn, Harvest& harvest, const Act& act) {
  auto* const weighing = std::get_if<Weighing>(&harvest.step);
  Book& book = harvest.book;
  if (weighing == nullptr || act.occasion != book.id || book.plots.empty()) return;
  if (act.kind == ActKind::kTakeBack) {
    if (gives_up_load(act)) mark_load(turn, false);
    leave_form(turn.model, harvest, *weighing);
    harvest.gauged.clear();
    if (const auto place = place_of(book, act.plot)) book.present = *place;
    // What was typed over the value taken back goes with it; an exchange may have been elsewhere.
    const Uuid subject = plot_subject(turn.model, book, present_plot(harvest));
    if (std::ranges::any_of(act.records, [&](const Record& record) {
          return record.subject == subject && record.occasion == book.id;
        }))
      harvest.begun.erase(act.plot);
    fill_form(turn, harvest, *weighing);
    // A further bag that is taken back is weighed again, not the one before it.
    const auto bag = std::ranges::find_if(act.records, [&](const Record& record) {
      return record.kind == kind::kWithdrawal && record.measure == measure::kGrossWeight &&
             record.part > 1 && record.subject == subject;
    });
    if (bag != act.records.end()) open_bag(harvest, *weighing, bag->part);
    return;
  }
  if (act.kind == ActKind::kStated) return stated(turn, harvest, *weighing, act);
  if (act.kind != ActKind::kValues && act.kind != ActKind::kPutOff) return;
  if (act.kind == ActKind::kValues) remember_tare(turn.model, harvest, *weighing, act);
  const bool more = std::exchange(weighing->more, false) && more_follow(*weighing, act);
  if (more) return open_bag(harvest, *weighing, weighing->bag + 1);
  if (std::ranges::any_of(act.records, is_gross)) look_for_exchange(turn, harvest, act.plot);
  if (std::ranges::any_of(act.records, from_scale) && bag_to_come(turn, harvest)) {
    // The form shows what stands now, the tare of a net weight too.
    for (const FormLine& line : kForm) {
      const auto kept = std::ranges::find(act.records, line.measure, &Record::measure);
      if (kept == act.records.end()) continue;
      weighing->keypad.set(line.field, kept->entered);
      if (line.field == Field::kTare)
        weighing->kind = detail(kept->details, std::string(said::kBagKind));
    }
    harvest.gauged = act.plot;
    return weighing->keypad.focus(Field::kBag);
  }
  harvest.begun.erase(act.plot);
  // The strip is measured, and still to be kept.
  if (weighing->strip && act.plot == present_plot(harvest).number)
    harvest.begun[act.plot] = static_cast<const WeightForm&>(*weighing);
  if (const auto next = next_open(turn.model, book, book.present); next && *next != book.present) {
    book.last = book.present;
    book.present = *next;
    harvest.gauged.clear();
    if (std::ranges::any_of(act.records, is_gross)) harvest.gauged = act.plot;
  }
  fill_form(turn, harvest, *weighing);
}

}  // namespace ligule::flow
