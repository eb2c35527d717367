#include "app/flow/check_weight.h"

#include <algorithm>
#include <chrono>

#include "app/flow/bags.h"
#include "app/flow/scale_choice.h"
#include "app/flow/view_parts.h"
#include "app/flow/weighing.h"
#include "storage/trial/decimal.h"
#include "storage/trial/number.h"

namespace ligule::flow {
namespace {

constexpr std::string_view kRule = "check_weight";

void refuse_check(Turn& turn, CheckingScale& checking, Field field, const std::string& key) {
  checking.keypad.focus(field);
  turn.notice(key);
  turn.run(Cue{CueKind::kRefused});
}

// The newest check of the same port before this one; good: the newest good one.
const Record* check_before(const Harvest& harvest, const Record& than, bool good) {
  const Record* newest = nullptr;
  for (const Record& check : harvest.checks) {
    if (check.id == than.id || detail(check.details, "port") != detail(than.details, "port"))
      continue;
    if (good && !is_good(check)) continue;
    if (newest == nullptr || check.at.utc > newest->at.utc) newest = &check;
  }
  return newest;
}

// What came from the scale since then and stands as a value; null: it did not.
const Record* doubted_in(const Cell& cell, const Record* since) {
  if (!cell.claim) return nullptr;
  const Record& record = cell.claim->record;
  const bool weighed = record.source == Source::kScale && record.state == ValueState::kValue;
  const bool after = since == nullptr || weighed_at(*cell.claim).utc > since->at.utc;
  return weighed && after ? &record : nullptr;
}

Doubted doubt_of(const Model& model, const Harvest& harvest, const Record& check,
                 const Record* since) {
  Doubted doubted{check.id,   harvest.book.id,
                  false,      difference(check.entered, detail(check.details, "mass")).value_or(""),
                  check.unit, detail(check.details, "allowance"),
                  {},         {}};
  for (const PlanPlot& plot : harvest.book.plots) {
    const std::size_t before = doubted.weights.size();
    for (const Cell& cell : gross_cells(model, harvest.book, plot)) {
      if (const Record* const record = doubted_in(cell, since))
        doubted.weights.push_back(record->id);
    }
    if (doubted.weights.size() > before) doubted.plots.push_back(plot.number);
  }
  return doubted;
}

std::chrono::minutes wall_clock(const Stamp& at) {
  const auto local = at.utc + at.offset;
  const auto day = std::chrono::floor<std::chrono::days>(local);
  return std::chrono::duration_cast<std::chrono::minutes>(local - day);
}

// The newest of today, good or not.
const Record* last_today(const Model& model, const Harvest& harvest) {
  const Record* last = nullptr;
  for (const Record& check : harvest.checks) {
    if (check.at.local_date != model.now.local_date) continue;
    if (last == nullptr || check.at.utc > last->at.utc) last = &check;
  }
  return last;
}

bool weighed_today_after(const Model& model, const Harvest& harvest, UtcInstant when) {
  return std::ranges::any_of(harvest.book.kept, [&](const auto& kept) {
    const Record& record = kept.second.record;
    const Stamp& at = weighed_at(kept.second);
    return record.measure == measure::kGrossWeight && record.source == Source::kScale &&
           at.local_date == model.now.local_date && at.utc > when;
  });
}

}  // namespace

bool is_good(const Record& check) {
  const auto good =
      within(check.entered, detail(check.details, "mass"), detail(check.details, "allowance"));
  return good && *good;
}

CheckDue check_due(const Model& model, const Harvest& harvest) {
  constexpr std::chrono::hours kNoon{12};
  if (model.preferences.scale.port.empty()) return CheckDue::kNone;
  const Record* const last = last_today(model, harvest);
  if (last == nullptr) return CheckDue::kBefore;
  if (!is_good(*last)) return CheckDue::kOff;
  const bool all_done = plots_done(model, harvest.book) == harvest.book.plots.size();
  if (all_done) {
    return weighed_today_after(model, harvest, last->at.utc) ? CheckDue::kAfter : CheckDue::kNone;
  }
  const bool noon = wall_clock(model.now) >= kNoon && wall_clock(last->at) < kNoon;
  return noon ? CheckDue::kNoon : CheckDue::kNone;
}

void show_check(Turn& turn, bool open) {
  Weighing* const weighing = weighing_on(turn);
  if (weighing == nullptr) return;
  weighing->checking.reset();
  const ScaleChoice& scale = turn.model.preferences.scale;
  if (!open || scale.port.empty()) return;
  CheckingScale checking;
  // A mass in another unit than the scale shows is another mass.
  const std::string& unit = turn.model.load.unit;
  const bool known = !scale.check_mass.empty() && (unit.empty() || unit == scale.check_unit);
  if (known) {
    checking.keypad.set(Field::kCheckAllowance, scale.check_allowance);
    checking.keypad.set(Field::kCheckMass, scale.check_mass);
  }
  checking.keypad.focus(known ? Field::kGross : Field::kCheckMass);
  weighing->checking = std::move(checking);
}

void take_check(Turn& turn) {
  Model& model = turn.model;
  Weighing* const weighing = weighing_on(turn);
  if (weighing == nullptr || !weighing->checking || !can_enter(model)) return;
  CheckingScale& checking = *weighing->checking;
  const std::string mass = checking.keypad.text(Field::kCheckMass);
  const std::string allowance = checking.keypad.text(Field::kCheckAllowance);
  const auto known = parse_number(mass);
  if (!known || *known <= 0)
    return refuse_check(turn, checking, Field::kCheckMass, "notice.check_mass");
  if (const auto allowed = parse_number(allowance); !allowed || *allowed < 0)
    return refuse_check(turn, checking, Field::kCheckAllowance, "notice.check_allowance");
  if (model.load.state != LoadState::kStill) return turn.run(Cue{CueKind::kRefused});
  const ScaleChoice& before = model.preferences.scale;
  if (mass == before.check_mass && before.check_unit != model.load.unit) {
    checking.keypad.clear(Field::kCheckMass);
    checking.keypad.clear(Field::kCheckAllowance);
    return refuse_check(turn, checking, Field::kCheckMass, "notice.check_mass");
  }
  if (!difference(model.load.entered, mass) || !within(mass, mass, allowance))
    return refuse_check(turn, checking, Field::kCheckMass, "notice.check_mass");
  auto& harvest = std::get<Harvest>(model.screen);
  const KnownTrial& trial = trial_of(model, harvest.book);
  Record check = blank(turn, kind::kCheckWeight);
  check.trial = trial.plan.id();
  check.plan = trial.digest;
  check.occasion = harvest.book.id;
  check.run = weighing->run.id;
  check.entered = model.load.entered;
  check.unit = model.load.unit;
  check.value = parse_number(model.load.entered).value_or(0);
  check.source = Source::kScale;
  check.raw = model.load.raw;
  check.details = details_text({{"mass", mass},
                                {"allowance", allowance},
                                {"port", port_name(model.preferences.scale.port)}});
  ScaleChoice& scale = model.preferences.scale;
  if (scale.check_mass != mass || scale.check_allowance != allowance ||
      scale.check_unit != check.unit) {
    scale.check_mass = mass;
    scale.check_allowance = allowance;
    scale.check_unit = check.unit;
    turn.run(StorePreferences{model.preferences});
  }
  weighing->checking.reset();
  if (!is_good(check)) {
    model.doubted = doubt_of(model, harvest, check, check_before(harvest, check, true));
    turn.run(Cue{CueKind::kQuestioned});
  } else {
    turn.notice("notice.check_good", {check.entered + "\u00a0" + check.unit});
    // What was weighed between a check that was off and this one is in doubt too.
    const Record* const last = check_before(harvest, check, false);
    if (last != nullptr && !is_good(*last)) {
      Doubted doubted = doubt_of(model, harvest, *last, last);
      doubted.check = check.id;
      doubted.was = true;
      if (!doubted.plots.empty()) model.doubted = std::move(doubted);
    }
  }
  harvest.checks.push_back(check);
  mark_load(turn, true);
  Act act;
  act.kind = ActKind::kCheckWeight;
  act.trial = check.trial;
  act.occasion = check.occasion;
  act.records.push_back(std::move(check));
  commit(turn, std::move(act));
}

void answer_doubted(Turn& turn, bool hold) {
  Model& model = turn.model;
  if (!model.doubted) return;
  const Doubted doubted = *std::move(model.doubted);
  model.doubted.reset();
  auto* const harvest = on<Harvest>(turn);
  if (harvest == nullptr || harvest->book.id != doubted.occasion || doubted.plots.empty()) return;
  Act act;
  act.kind = ActKind::kDoubted;
  act.trial = trial_of(model, harvest->book).plan.id();
  act.occasion = harvest->book.id;
  act.plot = harvest->book.plots.at(harvest->book.present).number;
  for (const std::string& number : doubted.plots) {
    const auto place = place_of(harvest->book, number);
    if (!place) continue;
    const PlanPlot& plot = harvest->book.plots.at(*place);
    for (const Cell& cell : gross_cells(model, harvest->book, plot)) {
      if (!cell.claim ||
          std::ranges::find(doubted.weights, cell.claim->record.id) == doubted.weights.end())
        continue;
      Record record = restated(turn, cell.claim->record, kind::kCorrection);
      record.targets = {cell.claim->record.id};
      record.reason = "check_weight_off";
      record.answers.push_back({std::string(kRule), hold ? "hold_them" : "stand_by_them"});
      if (hold) record.state = ValueState::kOnHold;
      act.records.push_back(std::move(record));
      act.before.push_back(cell.claim);
    }
  }
  if (!act.records.empty()) commit(turn, std::move(act));
}

void forget_checks(Harvest& harvest, const Act& act) {
  for (const Record& record : act.records)
    std::erase_if(harvest.checks, [&](const Record& check) { return check.id == record.id; });
}

std::optional<CheckView> check_view(const Model& model, const Harvest& harvest,
                                    const Weighing& weighing) {
  if (!weighing.checking) return std::nullopt;
  const Keypad& keypad = weighing.checking->keypad;
  CheckView view;
  view.load = load_view(model);
  view.load.can_take = model.load.state == LoadState::kStill && can_enter(model);
  for (const Field field : {Field::kCheckMass, Field::kCheckAllowance})
    view.fields.push_back({field, keypad.text(field), model.load.unit, keypad.active() == field});
  view.typing = keypad.active() != Field::kGross;
  view.due = check_due(model, harvest);
  return view;
}

}  // namespace ligule::flow
