#include "sync/results/raters.h"

#include <algorithm>
#include <cmath>
#include <set>
#include <tuple>
#include <utility>

#include "storage/checks/rating_offset.h"
#include "storage/trial/details.h"
#include "storage/trial/number.h"
#include "storage/trial/said.h"
#include "sync/results/scale_steps.h"
#include "sync/statistics/agreement.h"
#include "sync/statistics/rater_effects.h"

namespace ligule::results {
namespace {

using Person = std::optional<PersonId>;
using Claims = std::vector<const ledger::Claim*>;

// One person's standing judgement of one plot.
struct Judged {
  Person by;
  double value = 0.0;
  std::string definition;
  CalendarDate date{};
};

using FirstValues = std::map<std::pair<Uuid, int>, Judged>;  // by plot and part

// What was judged twice.
struct JudgedPair {
  std::size_t block = 0;  // index
  double first = 0.0;
  double later = 0.0;
};

bool is_ordered(const Scale& scale) {
  return scale.kind == ScaleKind::kPercent || scale.kind == ScaleKind::kScore ||
         scale.kind == ScaleKind::kStages;
}

bool counts(const Record& record) {
  return record.state == ValueState::kZero ||
         (record.state == ValueState::kValue && record.value.has_value());
}

// The claims of one measure at one occasion, by what they are about.
struct Rating {
  std::map<std::pair<Uuid, int>, Claims> first;  // by plot and part
  std::map<std::tuple<RaterKind, Uuid, int, Person>, Claims> later;
  std::map<std::pair<Person, CalendarDate>, Claims> practice;  // a claim a stand
};

// What people gave to the plots that somebody had rated.
struct Compared {
  std::map<std::tuple<RaterKind, Person, Person>, std::vector<JudgedPair>> pairs;  // later, first
  std::set<std::string> definitions;          // of all these values
  std::map<Person, std::size_t> same_person;  // seconds by whoever gave the first
};

Agreed agreed(double value, const std::optional<statistics::Interval>& interval) {
  Agreed out{value, std::nullopt, std::nullopt};
  if (interval) {
    out.low = interval->lower;
    out.high = interval->upper;
  }
  return out;
}

void add_concordance(std::span<const statistics::RatedPair> pairs, RaterAgreement& into) {
  if (const auto found = statistics::concordance(pairs))
    into.concordance = agreed(found->coefficient, found->interval);
}

// `into` so far without figures; held_against and given as rating_offset() names them.
void add_offset(std::span<const checks::RatedTwice> pairs, RaterAgreement& into) {
  into.n = pairs.size();
  if (const auto offset = checks::rating_offset(pairs)) {
    into.mean_difference = offset->mean;
    into.spread = offset->spread;
  }
}

std::optional<double> kappa_of(std::span<const JudgedPair> pairs, const Scale& scale) {
  const std::size_t steps = steps_of(scale);
  std::vector<std::size_t> counted(steps * steps);
  for (const JudgedPair& pair : pairs) {
    const auto row = step_at(scale, pair.first);
    const auto column = step_at(scale, pair.later);
    if (!row || !column) return std::nullopt;
    ++counted[*row * steps + *column];
  }
  const auto found = statistics::weighted_kappa(counted, steps);
  if (!found) return std::nullopt;
  return found->kappa;
}

void add_drift(std::span<const JudgedPair> pairs, const std::vector<int>& blocks,
               RaterAgreement& into) {
  std::vector<statistics::RatedAgain> differences;
  for (const JudgedPair& pair : pairs) differences.push_back({pair.block, pair.later - pair.first});
  const auto found = statistics::drift(differences, blocks.size());
  if (!found) return;
  into.drift_f = found->f;
  into.drift_p = found->p;
  for (std::size_t n = 0; n < blocks.size(); ++n) {
    const statistics::BlockDifference& block = found->blocks[n];
    if (block.pairs > 0)
      into.blocks.push_back({blocks[n], block.pairs, block.mean, block.standard_error});
  }
}

void add_figures(std::span<const JudgedPair> pairs, const Scale& scale,
                 const std::vector<int>& blocks, RaterAgreement& into) {
  std::vector<checks::RatedTwice> twice;
  std::vector<statistics::RatedPair> both;
  std::vector<double> rows;
  for (const JudgedPair& pair : pairs) {
    twice.push_back({pair.first, pair.later});
    both.push_back({pair.first, pair.later});
    rows.insert(rows.end(), {pair.first, pair.later});
  }
  add_offset(twice, into);
  add_concordance(both, into);
  if (const auto icc = statistics::intraclass_correlation(rows, 2))
    into.icc = agreed(icc->coefficient, icc->interval);
  into.kappa = kappa_of(pairs, scale);
  add_drift(pairs, blocks, into);
}

std::vector<int> blocks_of(const Plan& plan) {
  std::set<int> blocks;
  for (const PlanPlot& plot : plan.plots) blocks.insert(plot.block);
  return {blocks.begin(), blocks.end()};
}

// Numbers things from 0 in the order they are first asked for.
template <class Key>
std::size_t number_of(std::map<Key, std::size_t>& numbers, const Key& key) {
  return numbers.emplace(key, numbers.size()).first->second;
}

class Raters {
 public:
  Raters(const TrialFacts& trial, const std::string& test, const People& people)
      : trial_(trial), test_(test), people_(people), blocks_(blocks_of(trial.plan)) {}

  RaterFigures run() {
    sort_claims();
    for (const PlanOccasion& occasion : trial_.plan.occasions) {
      const OccasionId id = trial_.plan.occasion(occasion);
      for (auto at = ratings_.lower_bound({id, {}}); at != ratings_.end() && at->first.first == id;
           ++at) {
        const std::string& measure = at->first.second;
        add({test_, occasion.year, occasion.code, measure, ScaleKind::kText}, at->second);
      }
    }
    std::ranges::stable_sort(figures_.agreements, {}, [](const RaterAgreement& of) {
      return std::tie(of.at.year, of.at.occasion, of.at.measure, of.kind, of.rater, of.other);
    });
    std::ranges::stable_sort(figures_.surveys, {}, [](const SurveyRaters& of) {
      return std::tie(of.at.year, of.at.occasion, of.at.measure);
    });
    return std::move(figures_);
  }

 private:
  void sort_claims() {
    for (const ledger::Claim& claim : trial_.claims) {
      const Record& record = claim.record;
      if (!record.subject || !record.occasion || !record.purpose) continue;
      const auto scale = trial_.scales.find(record.definition);
      if (scale == trial_.scales.end() || !is_ordered(scale->second)) continue;
      Rating& rating = ratings_[{*record.occasion, record.measure}];
      const Uuid& about = *record.subject;
      switch (*record.purpose) {
        case Purpose::kSurvey:
          rating.first[{about, record.part}].push_back(&claim);
          break;
        case Purpose::kSecond:
        case Purpose::kRepeat: {
          const bool second = *record.purpose == Purpose::kSecond;
          const RaterKind kind = second ? RaterKind::kSecond : RaterKind::kRepeat;
          rating.later[{kind, about, record.part, rater_of(record)}].push_back(&claim);
          break;
        }
        case Purpose::kPractice:
          rating.practice[{record.person, record.at.local_date}].push_back(&claim);
          break;
      }
    }
  }

  [[nodiscard]] Person rater_of(const Record& record) const {
    const auto first = trial_.raters.find(record.id);
    return first == trial_.raters.end() ? record.person : first->second;
  }

  [[nodiscard]] std::string name_of_person(const Person& person) const {
    if (!person) return {};
    const auto known = people_.find(*person);
    return known == people_.end() ? person->text() : known->second;
  }

  // The value of a slot; empty where none stands. Open ones are named, where `open` is wanted.
  std::optional<Judged> standing(Claims claims, const std::string& open_at, bool count_others) {
    std::ranges::sort(claims, {}, [](const ledger::Claim* claim) { return claim->record.id; });
    const Record& first = claims.front()->record;
    const bool conflict = std::ranges::any_of(claims, [&](const ledger::Claim* claim) {
      return (count_others && claim->others > 0) || !said::the_same(claim->record, first);
    });
    const bool on_hold = first.state == ValueState::kOnHold;
    if (!open_at.empty() && (conflict || on_hold))
      figures_.left_out.push_back({ErrorKind::kRefused,
                                   first.measure + ": a value to compare raters by " +
                                       (conflict ? "stands in conflict" : "is on hold"),
                                   open_at, "correct or settle it"});
    if (conflict || !counts(first)) return std::nullopt;
    const double value = first.state == ValueState::kZero ? 0.0 : first.value.value_or(0.0);
    return Judged{rater_of(first), value, first.definition, first.at.local_date};
  }

  void add(RatedAt at, const Rating& rating) {
    FirstValues first;
    for (const auto& [slot, claims] : rating.first) {
      // What is open among first values the tables name.
      if (const auto judged = standing(claims, {}, true)) first.emplace(slot, *judged);
    }
    add_survey(at, first);
    add_later(at, first, rating);
    add_practice(std::move(at), rating);
  }

  // The scale of all that is compared; null where there are two, whose numbers differ in meaning.
  [[nodiscard]] const Scale* one_scale(const std::set<std::string>& definitions) const {
    const Scale* scale = nullptr;
    for (const std::string& definition : definitions) {
      const Scale& other = trial_.scales.at(definition);
      if (scale != nullptr && scale->code != other.code) return nullptr;
      scale = &other;
    }
    return scale;
  }

  Compared compared(const std::string& where, const FirstValues& first, const Rating& rating) {
    Compared out;
    for (const auto& [slot, claims] : rating.later) {
      const auto& [kind, about, part, person] = slot;
      const PlanPlot* const plot = trial_.plan.find_plot(PlotId{about});
      if (plot == nullptr) continue;
      const auto later = standing(claims, where + " plot " + plot->number, false);
      const auto at = first.find({about, part});
      if (!later || at == first.end()) continue;
      const Judged& before = at->second;
      if (kind == RaterKind::kSecond && before.by == person) {
        ++out.same_person[person];
        continue;
      }
      out.definitions.insert({before.definition, later->definition});
      out.pairs[{kind, person, before.by}].push_back(
          {block_index(plot->block), before.value, later->value});
    }
    return out;
  }

  void add_later(RatedAt at, const FirstValues& first, const Rating& rating) {
    const std::string where = test_ + " " + at.occasion;
    const Compared all = compared(where, first, rating);
    for (const auto& [person, n] : all.same_person) note_same_person(at, person, n);
    if (all.pairs.empty()) return;
    const Scale* const scale = one_scale(all.definitions);
    if (scale == nullptr) {
      figures_.left_out.push_back({ErrorKind::kRefused,
                                   at.measure + ": raters used two scales in one pass", where,
                                   "rate one pass on one scale"});
      return;
    }
    at.scale = scale->kind;
    for (const auto& [who, of] : all.pairs) {
      RaterAgreement agreement;
      agreement.at = at;
      agreement.kind = std::get<RaterKind>(who);
      agreement.rater = name_of_person(std::get<1>(who));
      agreement.other = name_of_person(std::get<2>(who));
      add_figures(of, *scale, blocks_, agreement);
      figures_.agreements.push_back(std::move(agreement));
    }
  }

  void note_same_person(const RatedAt& at, const Person& person, std::size_t n) {
    const std::string name = name_of_person(person);
    figures_.notices.push_back(
        {ErrorKind::kRefused,
         at.measure + ": second values of " + std::to_string(n) +
             (n == 1 ? " plot are" : " plots are") + " by whoever gave the first" +
             (name.empty() ? std::string() : " (" + name + ")") +
             "; they are compared with nothing",
         test_ + " " + at.occasion,
         "give people who share initials initials of their own: here they are one person"});
  }

  void add_practice(RatedAt at, const Rating& rating) {
    at.scale = ScaleKind::kPercent;
    for (const auto& [set, claims] : rating.practice) {
      std::vector<checks::RatedTwice> stands;
      std::vector<statistics::RatedPair> both;
      std::set<std::pair<Uuid, int>> seen;  // several claims that say the same are one answer
      for (const ledger::Claim* claim : claims) {
        if (!seen.emplace(claim->record.subject.value_or(Uuid{}), claim->record.part).second)
          continue;
        const auto drawn = parse_number(detail(claim->record.details, "drawn"));
        if (!drawn || claim->others > 0 || !counts(claim->record)) continue;
        const double given = claim->record.value.value_or(0.0);
        stands.push_back({*drawn, given});
        both.push_back({*drawn, given});
      }
      if (stands.empty()) continue;
      RaterAgreement agreement;
      agreement.at = at;
      agreement.kind = RaterKind::kPractice;
      agreement.rater = name_of_person(set.first);
      agreement.other = format_date(set.second);
      add_offset(stands, agreement);
      add_concordance(both, agreement);
      figures_.agreements.push_back(std::move(agreement));
    }
  }

  void add_survey(RatedAt at, const FirstValues& first) {
    std::map<std::string, std::size_t> entries;
    std::map<int, std::size_t> blocks;
    std::map<Person, std::size_t> people;
    std::vector<statistics::Rated> values;
    std::set<std::string> definitions;
    for (const auto& [slot, judged] : first) {
      const PlanPlot* const plot = trial_.plan.find_plot(PlotId{slot.first});
      if (plot == nullptr) continue;
      const Held held = held_on(trial_, *plot, judged.date);
      if (held.entry == nullptr) continue;
      definitions.insert(judged.definition);
      values.push_back({number_of(entries, held.entry->code), number_of(blocks, plot->block),
                        number_of(people, judged.by), judged.value});
    }
    if (people.size() < 2) return;
    const Scale* const scale = one_scale(definitions);
    if (scale == nullptr) return;  // the tables name it
    const auto found =
        statistics::rater_effects(values, entries.size(), blocks.size(), people.size());
    if (!found) return;
    at.scale = scale->kind;
    SurveyRaters survey{std::move(at), found->with_blocks, {}, found->f, found->p};
    for (const auto& [person, n] : people) {
      const auto plots = std::ranges::count(values, n, &statistics::Rated::rater);
      survey.raters.push_back({name_of_person(person), static_cast<std::size_t>(plots),
                               found->raters[n].effect, found->raters[n].standard_error});
    }
    std::ranges::sort(survey.raters, {}, &SurveyRater::rater);
    figures_.surveys.push_back(std::move(survey));
  }

  [[nodiscard]] std::size_t block_index(int block) const {
    return static_cast<std::size_t>(std::ranges::find(blocks_, block) - blocks_.begin());
  }

  const TrialFacts& trial_;
  const std::string& test_;
  const People& people_;
  std::vector<int> blocks_;
  std::map<std::pair<OccasionId, std::string>, Rating> ratings_;
  RaterFigures figures_;
};

}  // namespace

std::string_view name_of(RaterKind kind) {
  switch (kind) {
    case RaterKind::kSecond:
      return "second";
    case RaterKind::kRepeat:
      return "repeat";
    case RaterKind::kPractice:
      break;
  }
  return "practice";
}

RaterFigures raters_of(const TrialFacts& trial, const std::string& test, const People& people) {
  return Raters(trial, test, people).run();
}

}  // namespace ligule::results
