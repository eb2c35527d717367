// The drying room: a bag by its number, its dried weight.
#include <algorithm>
#include <variant>

#include "app/flow/turn.h"
#include "app/flow/view_parts.h"
#include "storage/trial/unit_names.h"

namespace ligule::flow {
namespace {

const OpenBag* chosen_bag(const DryWeights& dry) {
  if (!dry.chosen) return nullptr;
  const auto at = std::ranges::find(dry.bags, *dry.chosen, &OpenBag::bag);
  return at == dry.bags.end() ? nullptr : &*at;
}

std::optional<Kilograms> mass_of(const Record& record) {
  const std::optional<double> value = record.value;
  if (!value) return std::nullopt;
  const auto mass = mass_in(*value, record.unit);
  return mass ? std::optional(*mass) : std::nullopt;
}

checks::History history_of(const Turn& turn, const OpenBag& bag, const Plan& plan,
                           const std::optional<KnownClaim>& standing, std::string_view text) {
  checks::History history;
  history.today = turn.at.local_date;
  if (bag.fresh) history.sample_fresh = mass_of(*bag.fresh);
  if (bag.bag_tare) {
    history.bag_tare = mass_of(*bag.bag_tare);
  } else if (const auto tare = plan.bag_tare.kilograms()) {
    history.bag_tare = *tare;
  }
  history.answered = day_answers(turn.model, bag.occasion);
  if (standing && standing->record.entered == text) {
    const auto& answers = standing->record.answers;
    history.answered.insert(history.answered.end(), answers.begin(), answers.end());
  }
  return history;
}

void refuse(Turn& turn, DryWeights& dry, Field field, const std::string& key,
            const std::vector<std::string>& arguments = {}) {
  dry.keypad.focus(field);
  turn.notice(key, arguments);
  turn.run(Cue{CueKind::kRefused});
}

}  // namespace

Cell dried_cell(const Model& model, const OpenBag& bag) {
  // The slot's rules are those of a book with this one claim.
  Book book;
  book.id = bag.occasion;
  const Slot slot{bag.bag.uuid, std::string(measure::kSampleDry), 1};
  if (bag.dried) book.kept.emplace(slot, *bag.dried);
  return cell_at(model, book, slot);
}

void choose_bag(const Turn& turn, DryWeights& dry, RecordId bag) {
  const auto at = std::ranges::find(dry.bags, bag, &OpenBag::bag);
  if (at == dry.bags.end()) return;
  dry.chosen = bag;
  dry.keypad.set(Field::kDryBag, at->number);
  dry.keypad.focus(Field::kDryWeight);
  const Cell cell = dried_cell(turn.model, *at);
  dry.keypad.set(Field::kDryWeight, cell.claim ? cell.claim->record.entered : std::string());
}

void dry_done(Turn& turn, DryWeights& dry) {
  if (dry.keypad.active() != Field::kDryBag) return keep_dry(turn, dry);
  const std::string number = dry.keypad.text(Field::kDryBag);
  if (number.empty()) return;
  std::vector<RecordId> found;
  for (const OpenBag& bag : dry.bags) {
    const Cell cell = dried_cell(turn.model, bag);
    const bool done = cell.claim && cell.claim->record.state == ValueState::kValue;
    if (bag.number == number && !done) found.push_back(bag.bag);
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
  const std::string text = dry.keypad.text(Field::kDryWeight);
  if (text.empty()) return refuse(turn, dry, Field::kDryWeight, "notice.dry_missing");
  const KnownTrial* const trial = trial_with(turn.model, bag->trial);
  const PlanPlot* const plot = trial == nullptr ? nullptr : trial->plan.find_plot(bag->plot);
  const Scale* const scale =
      plot == nullptr ? nullptr : scale_of(turn.model, *trial, *plot, measure::kSampleDry);
  if (scale == nullptr) {
    return refuse(turn, dry, Field::kDryWeight, "notice.no_scale",
                  {std::string(measure::kSampleDry)});
  }
  const Cell standing = dried_cell(turn.model, *bag);
  const std::string unit = unit_for(turn.model.setup, measure::kSampleDry, *scale, standing);
  const checks::Verdict verdict =
      checks::judge({std::string(measure::kSampleDry), scale, text, unit, std::nullopt},
                    trial->plan, history_of(turn, *bag, trial->plan, standing.claim, text));
  if (verdict.outcome == checks::Outcome::kRefuse) {
    const checks::Finding& finding = verdict.findings.front();
    return refuse(turn, dry, Field::kDryWeight, "check." + std::string(finding.rule->key),
                  finding.arguments);
  }
  // The same weight, answered for already: it stands as it is.
  if (standing.claim && standing.claim->record.entered == text &&
      standing.claim->record.unit == unit && verdict.findings.empty()) {
    return weighed_dry(dry);
  }
  const About about{
      trial, bag->occasion, {bag->bag.uuid, std::string(measure::kSampleDry), 1}, bag->run, scale};
  Draft draft = value_draft(turn, about, verdict.value, ValueState::kValue, Source::kTyped,
                            standing.claim, standing.open() ? "after_later" : "weighed_again");
  draft.record.answers = verdict.answered;
  draft.open = verdict.findings;
  std::vector<Draft> drafts;
  drafts.push_back(std::move(draft));
  const std::string number = bag->plot;
  keep_or_ask(turn, ActKind::kDryWeight, number, std::move(drafts));
}

void take_back_dry(Turn& turn, DryWeights& dry) {
  while (!dry.done.empty()) {
    const Act last = std::move(dry.done.back());
    dry.done.pop_back();
    const Record& record = last.records.front();
    const auto bag = std::ranges::find_if(
        dry.bags, [&](const OpenBag& each) { return each.bag.uuid == record.subject; });
    if (bag == dry.bags.end()) continue;
    const Cell cell = dried_cell(turn.model, *bag);
    if (!cell.claim) continue;
    Act act;
    act.kind = ActKind::kTakeBack;
    act.trial = last.trial;
    act.occasion = last.occasion;
    act.plot = last.plot;
    act.records.push_back(
        take_back_record(turn, *cell.claim, earlier_of(record, last.before.front())));
    act.before.push_back(cell.claim);
    const RecordId again = bag->bag;
    commit(turn, std::move(act));
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
    if (record.measure != measure::kSampleDry || !record.subject) continue;
    return choose_bag(turn, dry, RecordId{*record.subject});
  }
}

void fold_dry(DryWeights& dry, const Act& act) {
  for (const Record& record : act.records) {
    if (!record.subject || record.measure != measure::kSampleDry) continue;
    for (OpenBag& bag : dry.bags) {
      if (bag.bag.uuid != *record.subject) continue;
      Book book;
      const Slot slot = slot_of(record);
      if (bag.dried) book.kept.emplace(slot, *bag.dried);
      fold(book, {&record, 1});
      const auto at = book.kept.find(slot);
      bag.dried = at == book.kept.end() ? std::nullopt : std::optional(at->second);
    }
  }
}

}  // namespace ligule::flow
