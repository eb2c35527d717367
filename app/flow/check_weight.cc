#include "app/flow/check_weight.h"

#include <algorithm>
#include <chrono>

#include "app/flow/bags.h"
#include "app/flow/scale_choice.h"
#include "app/flow/view_parts.h"
#include "app/flow/weighing.h"
#include "storage/trial/decimal.h"
#include "storage/trial/number.h"
#include "storage/trial/scale_check.h"

namespace ligule::flow {
namespace {

void refuse_check(Turn& turn, CheckingScale& checking, Field field, const std::string& key) {
  checking.keypad.focus(field);
  turn.notice(key);
  turn.run(Cue{CueKind::kRefused});
}

// A weight that stands, with where it does.
struct Standing {
  const Book* book = nullptr;
  const PlanPlot* plot = nullptr;
  KnownClaim claim;
  std::string scale;
};

void add_standing(const Model& model, const Book& book, const std::vector<Record>& runs,
                  std::vector<Standing>& all) {
  const auto add = [&](const PlanPlot& plot) {
    for (const Cell& cell : gross_cells(model, book, plot)) {
      if (!cell.claim) continue;
      const Record& record = cell.claim->record;
      if (record.source != Source::kScale || record.state != ValueState::kValue) continue;
      all.push_back({&book, &plot, *cell.claim,
                     scale_check::port_of(record, scale_check::run_of(runs, record))});
    }
  };
  for (const PlanPlot& plot : book.plots) add(plot);
  // What was abandoned since then keeps the weights it has.
  for (const PlanPlot& plot : trial_of(model, book).plan.plots)
    if (!place_of(book, plot.number)) add(plot);
}

// Weights of scales in this cutting, then in those elsewhere.
std::vector<Standing> all_standing(const Model& model, const Harvest& harvest) {
  std::vector<Standing> all;
  add_standing(model, harvest.book, harvest.runs, all);
  for (const Elsewhere& other : harvest.elsewhere) add_standing(model, other.book, other.runs, all);
  return all;
}

std::vector<scale_check::Doubt> doubts_among(const Harvest& harvest,
                                             const std::vector<Standing>& all) {
  std::vector<scale_check::Check> checks;
  checks.reserve(harvest.checks.size());
  for (const Record& check : harvest.checks)
    checks.push_back({&check, detail(check.details, std::string(scale_check::kPort))});
  std::vector<scale_check::Weight> weights;
  weights.reserve(all.size());
  for (const Standing& each : all)
    weights.push_back({&each.claim.record, each.scale, weighed_at(each.claim).utc});
  return scale_check::doubts(checks, weights);
}

// So that number and unit stay on one line.
std::string hard_spaced(std::string text) {
  const std::size_t space = text.find(' ');
  if (space != std::string::npos) text.replace(space, 1, "\u00a0");
  return text;
}

Doubted doubted_by(const Harvest& harvest, const Record& check) {
  Doubted doubted;
  doubted.check = check.id;
  doubted.occasion = harvest.book.id;
  doubted.off = hard_spaced(scale_check::off_by(check));
  doubted.allowance =
      detail(check.details, std::string(scale_check::kAllowance)) + "\u00a0" + check.unit;
  doubted.at = check.at;
  return doubted;
}

// What a doubt is about, cutting by cutting.
Doubted doubted_of(const Model& model, const Harvest& harvest, const std::vector<Standing>& all,
                   const scale_check::Doubt& doubt) {
  Doubted doubted = doubted_by(harvest, *doubt.check);
  for (const std::size_t n : doubt.weights) {
    const Standing& weight = all.at(n);
    if (doubted.cuttings.empty() || doubted.cuttings.back().occasion != weight.book->id) {
      doubted.cuttings.push_back({weight.book->id,
                                  trial_of(model, *weight.book).plan.codes.trial,
                                  weight.book->occasion.cutting,
                                  {},
                                  {}});
    }
    DoubtedCutting& cutting = doubted.cuttings.back();
    if (cutting.plots.empty() || cutting.plots.back() != weight.plot->number)
      cutting.plots.push_back(weight.plot->number);
    cutting.weights.push_back(weight.claim.record.id);
  }
  return doubted;
}

std::chrono::minutes wall_clock(const Stamp& at) {
  const auto local = at.utc + at.offset;
  const auto day = std::chrono::floor<std::chrono::days>(local);
  return std::chrono::duration_cast<std::chrono::minutes>(local - day);
}

// The newest of today of the scale in use, good or not; null: there is none. in: of this cutting
// only.
const Record* last_today(const Model& model, const Harvest& harvest,
                         std::optional<OccasionId> in = {}) {
  const std::string port = port_name(model.preferences.scale.port);
  const Record* last = nullptr;
  for (const Record& check : harvest.checks) {
    if (check.at.local_date != model.now.local_date || (in && check.occasion != in)) continue;
    if (detail(check.details, std::string(scale_check::kPort)) != port) continue;
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

// A check just taken was off: what it puts in doubt, or that there is nothing to ask about.
void doubt_by(Turn& turn, const Harvest& harvest, const Record& check) {
  const std::vector<Standing> all = all_standing(turn.model, harvest);
  const auto doubts = doubts_among(harvest, all);
  const auto own = std::ranges::find_if(
      doubts, [&](const scale_check::Doubt& doubt) { return doubt.check->id == check.id; });
  turn.model.doubted =
      own == doubts.end() ? doubted_by(harvest, check) : doubted_of(turn.model, harvest, all, *own);
  turn.run(Cue{CueKind::kQuestioned});
}

}  // namespace

CheckDue check_due(const Model& model, const Harvest& harvest) {
  constexpr std::chrono::hours kNoon{12};
  if (model.preferences.scale.port.empty()) return CheckDue::kNone;
  const Record* const last = last_today(model, harvest);
  if (last != nullptr && !scale_check::is_good(*last)) return CheckDue::kOff;
  if (last_today(model, harvest, harvest.book.id) == nullptr) return CheckDue::kBefore;
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
  check.details =
      details_text({{std::string(scale_check::kMass), mass},
                    {std::string(scale_check::kAllowance), allowance},
                    {std::string(scale_check::kPort), port_name(model.preferences.scale.port)}});
  ScaleChoice& scale = model.preferences.scale;
  if (scale.check_mass != mass || scale.check_allowance != allowance ||
      scale.check_unit != check.unit) {
    scale.check_mass = mass;
    scale.check_allowance = allowance;
    scale.check_unit = check.unit;
    turn.run(StorePreferences{model.preferences});
  }
  weighing->checking.reset();
  harvest.checks.push_back(check);
  if (scale_check::is_good(check)) {
    turn.notice("notice.check_good", {check.entered + "\u00a0" + check.unit});
    // What was weighed between a check that was off and this one is in doubt too.
    look_for_doubt(turn, harvest);
  } else {
    doubt_by(turn, harvest, check);
  }
  mark_load(turn, true);
  Act act;
  act.kind = ActKind::kCheckWeight;
  act.trial = check.trial;
  act.occasion = check.occasion;
  act.records.push_back(std::move(check));
  commit(turn, std::move(act));
}

void look_for_doubt(Turn& turn, const Harvest& harvest) {
  const std::vector<Standing> all = all_standing(turn.model, harvest);
  const auto doubts = doubts_among(harvest, all);
  if (doubts.empty()) return;
  Doubted doubted = doubted_of(turn.model, harvest, all, doubts.front());
  doubted.was = true;
  turn.model.doubted = std::move(doubted);
  turn.run(Cue{CueKind::kQuestioned});
}

void answer_doubted(Turn& turn, bool hold) {
  Model& model = turn.model;
  if (!model.doubted) return;
  const Doubted doubted = *std::move(model.doubted);
  model.doubted.reset();
  auto* const harvest = on<Harvest>(turn);
  if (harvest == nullptr || harvest->book.id != doubted.occasion) return;
  Act act;
  act.kind = ActKind::kDoubted;
  act.trial = trial_of(model, harvest->book).plan.id();
  act.occasion = harvest->book.id;
  if (!harvest->book.plots.empty()) act.plot = harvest->book.plots.at(harvest->book.present).number;
  const std::vector<Standing> all = all_standing(model, *harvest);
  for (const DoubtedCutting& cutting : doubted.cuttings) {
    for (const Standing& weight : all) {
      if (std::ranges::find(cutting.weights, weight.claim.record.id) == cutting.weights.end())
        continue;
      Record record = restated(turn, weight.claim.record, kind::kCorrection);
      record.targets = {weight.claim.record.id};
      record.reason = scale_check::kReason;
      Details details = parse_details(record.details).value_or(Details{});
      details[std::string(scale_check::kAsked)] = doubted.check.text();
      record.details = details_text(details);
      record.answers.push_back({std::string(scale_check::kRule),
                                std::string(hold ? scale_check::kHold : scale_check::kStand)});
      if (hold) record.state = ValueState::kOnHold;
      act.records.push_back(std::move(record));
      act.before.emplace_back(weight.claim);
    }
  }
  const bool answered = !act.records.empty();
  if (answered) commit(turn, std::move(act));
  // One that nobody answered for may lie behind it.
  if (answered || doubted.cuttings.empty()) look_for_doubt(turn, *harvest);
}

void forget_checks(Harvest& harvest, const Act& act) {
  for (const Record& record : act.records)
    std::erase_if(harvest.checks, [&](const Record& check) { return check.id == record.id; });
}

DoubtedView doubted_view(const Doubted& doubted) {
  DoubtedView view{doubted.was, doubted.off, doubted.allowance, {}};
  view.when = format_date(doubted.at.local_date) + " " + format_clock(doubted.at);
  for (const DoubtedCutting& cutting : doubted.cuttings) {
    view.weights += cutting.weights.size();
    if (cutting.occasion == doubted.occasion)
      view.plots = cutting.plots;
    else
      view.elsewhere.push_back({cutting.trial, cutting.cutting, cutting.plots});
  }
  return view;
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
