#include "app/flow/practice.h"

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <limits>
#include <ranges>
#include <utility>

#include "app/flow/amounts.h"
#include "app/flow/stand_rating.h"
#include "app/flow/view_parts.h"
#include "storage/checks/chance.h"
#include "storage/checks/rating_offset.h"
#include "storage/trial/details.h"
#include "storage/trial/number.h"

namespace ligule::flow {
namespace {

using checks::Chance;
using checks::hash_of;
using checks::kPercentStand;

constexpr int kFifth = 20;
constexpr std::size_t kOfEachFifth = 2;
constexpr int kLeastApart = 4;  // of the two in one fifth: never the same picture twice
constexpr std::ptrdiff_t kMostRound = 2;

const PlanOccasion* stand_rating(const KnownTrial& trial, OccasionId id) {
  const PlanOccasion* const occasion = trial.plan.find_occasion(id);
  return occasion != nullptr && is_stand_rating(*occasion) ? occasion : nullptr;
}

PracticeSet* set_here(Turn& turn) {
  if (on<OnPractice>(turn) == nullptr || !turn.model.person) return nullptr;
  const auto at = turn.model.practice.find(turn.model.person->id);
  return at == turn.model.practice.end() ? nullptr : &at->second;
}

bool finished(const PracticeSet& set) {
  return set.answers.size() >= set.drawn.size();
}

// Sets of a person and day that are known to be begun: in this run of the program, or before it.
int rounds_begun(const Model& model, PersonId person, const CalendarDate& day) {
  const auto own = model.practice.find(person);
  const int here = own != model.practice.end() && own->second.day == day ? own->second.round : 0;
  if (!model.facts) return here;
  const auto before = std::ranges::count(model.facts->practised, std::pair(person, day));
  return std::max(here, static_cast<int>(before));
}

PracticeSet begin_set(const Turn& turn, const ShowPractice& intent, const Person& person) {
  const Model& model = turn.model;
  PracticeSet set;
  set.id = turn.new_id().uuid;
  set.trial = intent.trial;
  set.occasion = intent.occasion;
  set.day = turn.at.local_date;
  set.round = rounds_begun(model, person.id, set.day) + 1;
  set.seed = format_date(set.day) + " " + person.initials + " " + std::to_string(set.round);
  set.drawn = drawn_stands(set.seed);
  return set;
}

bool of_set(const Act& act, const PracticeSet& set) {
  return act.kind == ActKind::kPractice && act.records.front().subject == set.id;
}

// The first answer of the set that is NOT SAVED.
const Record* unsaved_of(const Model& model, const PracticeSet& set) {
  if (!model.unsaved) return nullptr;
  const auto at =
      std::ranges::find_if(model.unsaved->acts, [&](const Act& act) { return of_set(act, set); });
  return at == model.unsaved->acts.end() ? nullptr : &at->records.front();
}

PracticeResult result_of(const PracticeSet& set) {
  PracticeResult result;
  std::vector<checks::RatedTwice> pairs;
  for (std::size_t n = 0; n < set.answers.size(); ++n) {
    const Record& answer = set.answers[n];
    pairs.push_back({static_cast<double>(set.drawn[n]), answer.value.value_or(0)});
    result.stands.push_back({set.drawn[n], lie_of(set.seed, n + 1), answer.entered});
  }
  if (const auto offset = checks::rating_offset(pairs)) {
    const double off = std::abs(offset->mean);
    if (off >= 1) result.how = offset->mean > 0 ? RatesHow::kHigh : RatesHow::kLow;
    result.points = static_cast<int>(std::lround(off));
    result.give_or_take = static_cast<int>(std::lround(offset->spread));
  }
  return result;
}

}  // namespace

std::vector<int> drawn_stands(std::string_view seed) {
  Chance chance(hash_of(seed));
  std::vector<int> drawn;
  // The fifths end at 20, 40 ... 99: neither an empty plot nor a full one needs practice.
  while (drawn.size() < kPracticeStands) {
    const int low = kFifth * static_cast<int>(drawn.size() / kOfEachFifth);
    const int percent = std::min(low + 1 + static_cast<int>(chance.below(kFifth)), 99);
    const bool near = std::ranges::any_of(
        drawn, [&](int other) { return std::abs(other - percent) < kLeastApart; });
    const auto round = std::ranges::count_if(drawn, [](int other) { return other % 5 == 0; });
    if (near || (percent % 5 == 0 && round >= kMostRound)) continue;
    drawn.push_back(percent);
  }
  for (std::size_t last = drawn.size() - 1; last > 0; --last)
    std::swap(drawn[last], drawn[chance.below(last + 1)]);
  return drawn;
}

std::uint32_t lie_of(std::string_view seed, std::size_t place) {
  Chance chance(hash_of(seed) + place);
  return static_cast<std::uint32_t>(chance.next() >> 32U);
}

void show_practice(Turn& turn, const ShowPractice& intent) {
  Model& model = turn.model;
  const KnownTrial* const trial = trial_with(model, intent.trial);
  if (!model.person || trial == nullptr || stand_rating(*trial, intent.occasion) == nullptr) return;
  const auto own = model.practice.find(model.person->id);
  const bool goes_on = own != model.practice.end() && own->second.day == turn.at.local_date &&
                       own->second.occasion == intent.occasion && !finished(own->second);
  if (!goes_on) model.practice[model.person->id] = begin_set(turn, intent, *model.person);
  show_screen(turn, OnPractice{intent.trial, intent.occasion});
}

void give_practice(Turn& turn, const ChooseValue& intent) {
  Model& model = turn.model;
  PracticeSet* const set = set_here(turn);
  if (set == nullptr || finished(*set) || !can_enter(model)) return;
  const KnownTrial* const trial = trial_with(model, set->trial);
  const Scale* const scale = model.setup.definitions.scale(kPercentStand);
  if (trial == nullptr || scale == nullptr || intent.measure != kPercentStand) return;
  const std::string unit = unit_of(model.setup, kPercentStand, *scale);
  const auto value = parse_number(intent.entered);
  const std::vector<std::string> choices = choices_of(*scale, unit);
  if (!value || std::ranges::find(choices, intent.entered) == choices.end()) return;
  const std::size_t place = set->answers.size() + 1;
  const About about{trial,
                    set->occasion,
                    {set->id, std::string(kPercentStand), static_cast<int>(place)},
                    std::nullopt,
                    scale};
  Draft draft = value_draft(turn, about, {intent.entered, unit, *value}, ValueState::kValue,
                            Source::kTapped, std::nullopt, "");
  draft.record.purpose = Purpose::kPractice;
  draft.record.blind.reset();  // there is no entry whose name could be hidden
  draft.record.details = details_text({{"drawn", std::to_string(set->drawn[place - 1])},
                                       {"seed", set->seed},
                                       {"sowing", trial->plan.drilled ? "drilled" : "broadcast"}});
  set->answers.push_back(draft.record);
  Act act;
  act.kind = ActKind::kPractice;
  act.records.push_back(std::move(draft.record));
  commit(turn, std::move(act));
}

void take_back_practice(Turn& turn) {
  PracticeSet* const set = set_here(turn);
  // What was drawn is told once all are answered: after that an answer would be no rating.
  if (set == nullptr || set->answers.empty() || finished(*set) || !can_enter(turn.model)) return;
  const KnownClaim standing{set->answers.back(), std::nullopt, set->answers.back().id};
  set->answers.pop_back();
  Act act;
  act.kind = ActKind::kPractice;
  act.records.push_back(take_back_record(turn, standing, std::nullopt));
  act.records.back().blind.reset();
  act.before.emplace_back(standing);
  commit(turn, std::move(act));
}

void hand_over_practice(Turn& turn) {
  const auto* const screen = on<OnPractice>(turn);
  if (screen == nullptr) return;
  const ShowPractice again{screen->trial, screen->occasion};
  show_practice(turn, again);
}

void return_to_practice(Turn& turn, const Act& act) {
  const Model& model = turn.model;
  if (on<OnPractice>(turn) != nullptr || !model.person) return;
  const auto own = model.practice.find(model.person->id);
  if (own == model.practice.end() || !of_set(act, own->second)) return;
  show_screen(turn, OnPractice{own->second.trial, own->second.occasion});
}

void forget_practice(Model& model, const std::vector<Act>& dropped) {
  // The last one first, so that each finds the answers as it left them.
  for (const Act& act : std::views::reverse(dropped)) {
    for (auto& [person, set] : model.practice) {
      if (!of_set(act, set)) continue;
      const std::optional<KnownClaim>& before = act.before.front();
      if (before)
        set.answers.push_back(before->record);
      else
        std::erase_if(set.answers,
                      [&](const Record& answer) { return answer.id == act.records.front().id; });
    }
  }
}

std::vector<PracticeOffer> practice_offers(const Model& model) {
  std::vector<PracticeOffer> offers;
  for (const bool drilled : {true, false}) {
    std::optional<PracticeOffer> nearest;
    int least = std::numeric_limits<int>::max();
    for (const KnownTrial& trial : model.trials) {
      if (trial.plan.drilled != drilled) continue;
      for (const PlanOccasion& occasion : trial.plan.occasions) {
        const OccasionId id = trial.plan.occasion(occasion);
        if (stand_rating(trial, id) == nullptr || !model.now.local_date.ok()) continue;
        // One without a date is gone to only where none has one.
        const int days = occasion.due ? std::abs(days_between(model.now.local_date, *occasion.due))
                                      : std::numeric_limits<int>::max() - 1;
        if (days >= least) continue;
        least = days;
        nearest = PracticeOffer{trial.plan.id(), id, trial.plan.codes.trial, drilled};
      }
    }
    if (nearest) offers.push_back(*std::move(nearest));
  }
  return offers;
}

PracticeView practice_view(const Model& model, const OnPractice& screen) {
  PracticeView view;
  view.head = head_view(model);
  view.trial = screen.trial;
  view.occasion = screen.occasion;
  const KnownTrial* const trial = trial_with(model, screen.trial);
  const auto own = model.person ? model.practice.find(model.person->id) : model.practice.end();
  const Scale* const scale = model.setup.definitions.scale(kPercentStand);
  if (trial == nullptr || own == model.practice.end() || scale == nullptr) return view;
  const PracticeSet& set = own->second;
  view.trial_code = trial->plan.codes.trial;
  view.drilled = trial->plan.drilled;
  view.stands = set.drawn.size();
  const Record* const unsaved = unsaved_of(model, set);
  if (finished(set) && unsaved == nullptr) {
    view.result = result_of(set);
    return view;
  }
  view.place =
      unsaved != nullptr ? static_cast<std::size_t>(unsaved->part) : set.answers.size() + 1;
  view.stand = {set.drawn.at(view.place - 1), lie_of(set.seed, view.place),
                unsaved != nullptr ? unsaved->entered : std::string()};
  for (std::string& text : choices_of(*scale, unit_of(model.setup, kPercentStand, *scale))) {
    const double value = parse_number(text).value_or(0);
    view.choices.push_back({std::move(text), value});
  }
  view.can_enter = can_enter(model);
  view.can_take_back = view.can_enter && !set.answers.empty();
  return view;
}

}  // namespace ligule::flow
