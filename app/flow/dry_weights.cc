// The drying room: a bag by its number, its fresh weight where the field did not take it, its dried
// weight, and what became of bags that have none.
#include <algorithm>
#include <array>
#include <variant>

#include "app/flow/season.h"
#include "app/flow/turn.h"
#include "app/flow/typed_begun.h"
#include "app/flow/view_parts.h"
#include "app/flow/weather.h"
#include "storage/checks/drying.h"
#include "storage/trial/details.h"
#include "storage/trial/number.h"
#include "storage/trial/said.h"
#include "storage/trial/sample_bag.h"
#include "storage/trial/unit_names.h"

namespace ligule::flow {
namespace {

// A weight of the chosen bag. The fresh one first: the dried one is held against it.
struct DryLine {
  Field field;
  std::string_view measure;
};
constexpr std::array kLines{DryLine{Field::kDryFresh, measure::kSampleFresh},
                            DryLine{Field::kDryWeight, measure::kSampleDry}};

const OpenBag* chosen_bag(const DryWeights& dry) {
  if (!dry.chosen) return nullptr;
  const auto at = std::ranges::find(dry.bags, *dry.chosen, &OpenBag::bag);
  return at == dry.bags.end() ? nullptr : &*at;
}

Cell bag_cell(const Model& model, const OpenBag& bag, std::string_view measure,
              const std::optional<KnownClaim>& known) {
  // The slot's rules are those of a book with this one claim.
  Book book;
  book.id = bag.occasion;
  const Slot slot{bag.bag.uuid, std::string(measure), 1};
  if (known) book.kept.emplace(slot, *known);
  return cell_at(model, book, slot);
}

Cell line_cell(const Model& model, const OpenBag& bag, const DryLine& line) {
  return line.field == Field::kDryFresh ? fresh_cell(model, bag) : dried_cell(model, bag);
}

// What the form of a bag shows of a weight before anything is typed.
std::string text_shown(const Model& model, const OpenBag& bag, const DryLine& line) {
  const Cell cell = line_cell(model, bag, line);
  // What is still losing is weighed anew: its last weight must not be kept again by an Enter.
  const bool shown = cell.claim && bag_state(cell) != BagState::kDrying;
  return shown ? cell.claim->record.entered : std::string();
}

using said::mass_of;

std::optional<Kilograms> mass_of(const Cell& cell) {
  return cell.claim ? mass_of(cell.claim->record) : std::nullopt;
}

checks::History history_of(const Turn& turn, const OpenBag& bag, const Plan& plan) {
  checks::History history = history_of_day(turn, bag.occasion);
  history.sample_fresh = mass_of(fresh_cell(turn.model, bag));
  const Cell dried = dried_cell(turn.model, bag);
  history.sample_dry = mass_of(dried);
  if (dried.claim && bag_state(dried) == BagState::kDone)
    history.dried_before = dried.claim->record.entered;
  if (bag.bag_tare) {
    history.bag_tare = mass_of(*bag.bag_tare);
  } else if (const auto tare = plan.bag_tare.kilograms()) {
    history.bag_tare = *tare;
  }
  const PlanPlot* const plot = plan.find_plot(bag.plot);
  const KnownTrial* const trial = trial_with(turn.model, bag.trial);
  if (bag.part == 0 && plot != nullptr && trial != nullptr)
    history.dry_matter = limit_of(turn.model, *trial, *plot, kDryMatterPercent);
  return history;
}

void refuse(Turn& turn, DryWeights& dry, Field field, const std::string& key,
            const std::vector<std::string>& arguments = {}) {
  dry.keypad.focus(field);
  turn.notice(key, arguments);
  turn.run(Cue{CueKind::kRefused});
}

const PlanPlot* plot_of(const KnownTrial* trial, const OpenBag& bag) {
  return trial == nullptr ? nullptr : trial->plan.find_plot(bag.plot);
}

std::string reason_of(const Cell& standing) {
  if (standing.open()) return "after_later";
  if (bag_state(standing) == BagState::kGone) return std::string(sample_bag::kFoundLater);
  return "weighed_again";
}

// What a fresh weight is held against: no dried weight that is typed anew with it, which is held
// against it in its turn; and how much of it is dry matter only once it is dry.
checks::History beside_fresh(const Turn& turn, const DryWeights& dry, const OpenBag& bag,
                             checks::History history) {
  const Cell dried = dried_cell(turn.model, bag);
  const std::string& typed = dry.keypad.text(Field::kDryWeight);
  if (!typed.empty() && (!dried.claim || dried.claim->record.entered != typed))
    history.sample_dry.reset();
  if (bag_state(dried) == BagState::kDrying) history.dry_matter = nullptr;
  return history;
}

// A dried weight goes with the oven it comes from. Where samples are weighed until they lose no
// more it is on hold until two weighings agree.
void add_drying(Turn& turn, const OpenBag& bag, const checks::History& history, const Cell& before,
                Draft& draft) {
  const Oven& oven = turn.model.oven;
  Details details;
  if (!oven.celsius.empty()) details[std::string(sample_bag::kOvenCelsius)] = oven.celsius;
  if (!oven.hours.empty()) details[std::string(sample_bag::kOvenHours)] = oven.hours;
  draft.record.details = details_text(details);
  if (!oven.until_constant) return;
  const auto now = mass_of(draft.record);
  const auto earlier = mass_of(before);
  std::optional<double> loss;
  if (now && earlier && before.claim && before.claim->record.state != ValueState::kMissing)
    loss = checks::loss_per_hundred(*earlier, *now, history.sample_fresh,
                                    history.bag_tare.value_or(Kilograms(0)));
  if (loss && checks::is_constant(*loss)) return;
  draft.record.state = ValueState::kOnHold;
  // It is not dry yet: how much of it is dry matter is asked when it is.
  std::erase_if(draft.open, [](const checks::Finding& finding) {
    return finding.rule->code == "dry_matter_unusual";
  });
  draft.record.answers.push_back(
      {std::string(sample_bag::kConstantWeight), std::string(sample_bag::kWeighAgain)});
  if (loss) {
    turn.notice("notice.still_drying", {bag.number, format_fixed(*loss, 1)});
  } else {
    turn.notice("notice.weigh_again", {bag.number});
  }
}

// One weight of the chosen bag as a draft, unless it says what stands already; false: it was
// refused, and that was told. History takes it in for the next.
bool draft_line(Turn& turn, DryWeights& dry, const OpenBag& bag, const DryLine& line,
                checks::History& history, std::vector<Draft>& drafts) {
  const std::string text = dry.keypad.text(line.field);
  const Cell standing = line_cell(turn.model, bag, line);
  const bool fresh = line.field == Field::kDryFresh;
  if (text.empty() || (fresh && standing.claim && standing.claim->record.entered == text))
    return true;
  // Only there the parts are held against the whole sample.
  if (fresh && bag.part > 0) {
    dry.keypad.set(line.field, standing.claim ? standing.claim->record.entered : std::string());
    refuse(turn, dry, Field::kDryWeight, "notice.part_in_sort", {bag.number});
    return false;
  }
  const KnownTrial* const trial = trial_with(turn.model, bag.trial);
  const PlanPlot* const plot = plot_of(trial, bag);
  const Scale* const scale =
      plot == nullptr ? nullptr : scale_of(turn.model, *trial, *plot, line.measure);
  if (scale == nullptr) {
    refuse(turn, dry, line.field, "notice.no_scale", {std::string(line.measure)});
    return false;
  }
  const std::string unit = unit_for(turn.model.setup, line.measure, *scale, standing);
  const bool same = standing.claim && standing.claim->record.entered == text &&
                    standing.claim->record.unit == unit;
  history.answered = day_answers(turn.model, bag.occasion);
  if (same) {
    const auto& answers = standing.claim->record.answers;
    history.answered.insert(history.answered.end(), answers.begin(), answers.end());
  }
  if (same && bag_state(standing) == BagState::kDone) return true;
  add_weather(turn.model, dry.bags, bag, !fresh, history);
  const checks::Verdict verdict =
      checks::judge({std::string(line.measure), scale, text, unit, std::nullopt}, trial->plan,
                    fresh ? beside_fresh(turn, dry, bag, history) : history);
  if (verdict.outcome == checks::Outcome::kRefuse) {
    const checks::Finding& finding = verdict.findings.front();
    refuse(turn, dry, line.field, "check." + std::string(finding.rule->key), finding.arguments);
    return false;
  }
  // The same weight, answered for already: it stands as it is.
  if (same && verdict.findings.empty() && bag_state(standing) != BagState::kDrying) return true;
  const About about{
      trial, bag.occasion, {bag.bag.uuid, std::string(line.measure), 1}, bag.run, scale};
  Draft draft = value_draft(turn, about, verdict.value, ValueState::kValue, Source::kTyped,
                            standing.claim, reason_of(standing));
  draft.record.answers = verdict.answered;
  draft.open = verdict.findings;
  if (fresh) {
    history.sample_fresh = mass_of(draft.record);
  } else {
    add_drying(turn, bag, history, standing, draft);
  }
  drafts.push_back(std::move(draft));
  return true;
}

}  // namespace

Cell fresh_cell(const Model& model, const OpenBag& bag) {
  return bag_cell(model, bag, measure::kSampleFresh, bag.fresh);
}

Cell dried_cell(const Model& model, const OpenBag& bag) {
  return bag_cell(model, bag, measure::kSampleDry, bag.dried);
}

BagState bag_state(const Cell& dried) {
  if (!dried.claim) return BagState::kInOven;
  const Record& record = dried.claim->record;
  if (record.state == ValueState::kValue) return BagState::kDone;
  if (record.state == ValueState::kMissing) return BagState::kGone;
  const bool drying = sample_bag::still_dries(record);
  return record.state == ValueState::kOnHold && drying ? BagState::kDrying : BagState::kInOven;
}

void set_bag_aside(Model& model, const DryWeights& dry) {
  const OpenBag* const bag = chosen_bag(dry);
  if (bag == nullptr) return;
  std::vector<std::string> shown;
  std::vector<std::string> now;
  for (const DryLine& line : kLines) {
    shown.push_back(text_shown(model, *bag, line));
    now.push_back(dry.keypad.text(line.field));
  }
  set_typed_aside(model, model.dry_begun, bag->bag, shown, std::move(now));
}

void choose_bag(const Turn& turn, DryWeights& dry, RecordId bag) {
  const auto at = std::ranges::find(dry.bags, bag, &OpenBag::bag);
  if (at == dry.bags.end()) return;
  Model& model = turn.model;
  set_bag_aside(model, dry);
  dry.chosen = bag;
  dry.which_cutting = false;
  dry.keypad.set(Field::kDryBag, at->number);
  const bool own = begun_by_holder(model, model.dry_begun, bag);
  for (std::size_t n = 0; n < kLines.size(); ++n)
    dry.keypad.set(kLines[n].field,
                   own ? model.dry_begun.at(bag).texts.at(n) : text_shown(model, *at, kLines[n]));
  // Where fresh weights are given one after the other the next one is expected too, but never in
  // the place of one that stands.
  const bool lacks_fresh = dry.keypad.text(Field::kDryFresh).empty();
  dry.keypad.focus(lacks_fresh ? dry.weighing : Field::kDryWeight);
  if (!own) return;
  model.dry_begun.erase(bag);
  // The next digit goes on with what was begun.
  dry.keypad.go_on();
}

void dry_done(Turn& turn, DryWeights& dry) {
  if (dry.oven) return oven_done(turn, dry);
  if (dry.keypad.active() != Field::kDryBag) return keep_dry(turn, dry);
  const std::string number = dry.keypad.text(Field::kDryBag);
  if (number.empty()) return;
  // A number belongs to the bag that is still open. Only where there is none it may be one that was
  // given up and found, or one that was dried again.
  std::vector<RecordId> found;
  for (const std::array states : {std::array{BagState::kInOven, BagState::kDrying},
                                  std::array{BagState::kGone, BagState::kGone},
                                  std::array{BagState::kDone, BagState::kDone}}) {
    if (!found.empty()) break;
    for (const OpenBag& bag : dry.bags) {
      const BagState state = bag_state(dried_cell(turn.model, bag));
      if (bag.number == number && std::ranges::find(states, state) != states.end())
        found.push_back(bag.bag);
    }
  }
  if (found.empty()) {
    // The next number is scanned, not typed over this one.
    dry.keypad.clear(Field::kDryBag);
    return refuse(turn, dry, Field::kDryBag, "notice.unknown_bag", {number});
  }
  // Two open bags with one number: which of them only a person can say, from plot and date.
  if (found.size() > 1) return refuse(turn, dry, Field::kDryBag, "notice.two_bags", {number});
  choose_bag(turn, dry, found.front());
}

void keep_dry(Turn& turn, DryWeights& dry) {
  if (!can_enter(turn.model)) return;
  const OpenBag* const bag = chosen_bag(dry);
  if (bag == nullptr) return refuse(turn, dry, Field::kDryBag, "notice.choose_bag");
  const KnownTrial* const trial = trial_with(turn.model, bag->trial);
  const Field field = dry.keypad.active() == Field::kDryBag ? dry.weighing : dry.keypad.active();
  if (dry.keypad.text(field).empty())
    return refuse(turn, dry, field,
                  field == Field::kDryFresh ? "notice.fresh_missing" : "notice.dry_missing");
  checks::History history =
      trial == nullptr ? checks::History{} : history_of(turn, *bag, trial->plan);
  std::vector<Draft> drafts;
  for (const DryLine& line : kLines) {
    if (!draft_line(turn, dry, *bag, line, history, drafts)) return;
  }
  if (drafts.empty()) return weighed_dry(dry);
  const std::string number = bag->plot;
  keep_or_ask(turn, ActKind::kDryWeight, number, std::move(drafts));
}

void say_bag_gone(Turn& turn, DryWeights& dry, const std::string& reason) {
  const OpenBag* const bag = chosen_bag(dry);
  if (bag == nullptr || !can_enter(turn.model) ||
      std::ranges::find(sample_bag::kGone, reason) == sample_bag::kGone.end())
    return;
  const KnownTrial* const trial = trial_with(turn.model, bag->trial);
  const PlanPlot* const plot = plot_of(trial, *bag);
  const Cell standing = dried_cell(turn.model, *bag);
  // A bag that was weighed is not gone; its weight is put right in Review.
  if (plot == nullptr || bag_state(standing) == BagState::kDone) return;
  const Scale* const scale = scale_of(turn.model, *trial, *plot, measure::kSampleDry);
  const About about{
      trial, bag->occasion, {bag->bag.uuid, std::string(measure::kSampleDry), 1}, bag->run, scale};
  Draft draft =
      value_draft(turn, about, {}, ValueState::kMissing, Source::kTapped, standing.claim, reason);
  draft.record.reason = reason;
  std::vector<Draft> drafts;
  drafts.push_back(std::move(draft));
  const std::string number = bag->plot;
  keep_or_ask(turn, ActKind::kDryWeight, number, std::move(drafts));
}

void take_back_dry(Turn& turn, DryWeights& dry) {
  while (!dry.done.empty()) {
    const Act last = std::move(dry.done.back());
    dry.done.pop_back();
    const auto bag = std::ranges::find_if(dry.bags, [&](const OpenBag& each) {
      return each.bag.uuid == last.records.front().subject;
    });
    if (bag == dry.bags.end()) continue;
    Act act;
    act.kind = ActKind::kTakeBack;
    act.trial = last.trial;
    act.occasion = last.occasion;
    act.plot = last.plot;
    for (std::size_t i = last.records.size(); i > 0; --i) {
      const Record& record = last.records[i - 1];
      const Cell cell = record.measure == measure::kSampleFresh ? fresh_cell(turn.model, *bag)
                                                                : dried_cell(turn.model, *bag);
      if (!cell.claim) continue;
      act.records.push_back(
          take_back_record(turn, *cell.claim, earlier_of(record, last.before[i - 1])));
      act.before.push_back(cell.claim);
    }
    if (act.records.empty()) continue;
    const RecordId again = bag->bag;
    commit(turn, std::move(act));
    // What its form shows is the value taken back, and nothing half typed.
    if (dry.chosen == again) weighed_dry(dry);
    turn.model.dry_begun.erase(again);
    choose_bag(turn, dry, again);
    return;
  }
}

void weighed_dry(DryWeights& dry) {
  dry.chosen.reset();
  dry.keypad = Keypad(Field::kDryBag);
}

void choose_unsaved(const Turn& turn, DryWeights& dry) {
  if (!turn.model.unsaved) return;
  for (const Act& act : turn.model.unsaved->acts) {
    const Record& record = act.records.front();
    const bool of_a_bag = act.kind == ActKind::kDryWeight || record.measure == measure::kSampleDry;
    if (!of_a_bag || !record.subject) continue;
    return choose_bag(turn, dry, RecordId{*record.subject});
  }
}

void fold_dry(DryWeights& dry, const Act& act) {
  const auto lay = [&act](OpenBag& bag, const Record& record, std::optional<KnownClaim>& claim) {
    if (bag.bag.uuid != *record.subject || bag.occasion != act.occasion) return;
    Book book;
    book.id = bag.occasion;
    const Slot slot = slot_of(record);
    if (claim) book.kept.emplace(slot, *claim);
    fold(book, {&record, 1});
    const auto at = book.kept.find(slot);
    claim = at == book.kept.end() ? std::nullopt : std::optional(at->second);
  };
  for (const Record& record : act.records) {
    if (!record.subject) continue;
    for (OpenBag& bag : dry.bags) {
      if (record.measure == measure::kSampleFresh) lay(bag, record, bag.fresh);
      if (record.measure == measure::kSampleDry) lay(bag, record, bag.dried);
    }
  }
}

}  // namespace ligule::flow
