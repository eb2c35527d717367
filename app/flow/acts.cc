#include <algorithm>
#include <variant>

#include "app/flow/check_weight.h"
#include "app/flow/hand_over.h"
#include "app/flow/no_entry.h"
#include "app/flow/practice.h"
#include "app/flow/second_look.h"
#include "app/flow/spare.h"
#include "app/flow/supply.h"
#include "app/flow/swapped.h"
#include "app/flow/trials.h"
#include "app/flow/turn.h"
#include "storage/checks/weather.h"
#include "storage/trial/said.h"

namespace ligule::flow {
namespace {

bool can_be_taken_back(ActKind kind) {
  return kind == ActKind::kValues || kind == ActKind::kPutOff || kind == ActKind::kNote ||
         kind == ActKind::kDryWeight || kind == ActKind::kSorted || kind == ActKind::kSlide ||
         kind == ActKind::kDoubted || kind == ActKind::kStated;
}

// Acts of this sitting on the present screen, if the act belongs to it.
std::vector<Act>* sitting_of(Model& model, const Act& act) {
  if (act.kind == ActKind::kDryWeight) {
    auto* const dry = std::get_if<DryWeights>(&model.screen);
    return dry == nullptr ? nullptr : &dry->done;
  }
  Book* const book = book_of(model.screen);
  return book == nullptr || act.occasion != book->id ? nullptr : &book->done;
}

void append(Turn& turn, const Act& act) {
  turn.run(Append{act.number, turn.model.epoch, act.records});
}

void after_commit(Turn& turn, const Act& act) {
  if (auto* const rating = std::get_if<Rating>(&turn.model.screen)) {
    rated(turn, *rating, act);
  } else if (auto* const harvest = std::get_if<Harvest>(&turn.model.screen)) {
    harvested(turn, *harvest, act);
  } else if (auto* const dry = std::get_if<DryWeights>(&turn.model.screen)) {
    if (act.kind == ActKind::kDryWeight) weighed_dry(*dry);
  } else if (auto* const sorting = std::get_if<Sorting>(&turn.model.screen)) {
    sorted(turn, *sorting, act);
  } else if (auto* const review = std::get_if<Review>(&turn.model.screen)) {
    reviewed(*review);
  }
}

// Back to where an act that is not saved was made.
void return_to(Turn& turn, const Act& act) {
  Model& model = turn.model;
  if (act.kind == ActKind::kPerson) return;
  if (act.kind == ActKind::kPractice) return return_to_practice(turn, act);
  if (act.kind == ActKind::kDryWeight || act.records.front().measure == measure::kSampleDry) {
    auto* const dry = std::get_if<DryWeights>(&model.screen);
    if (dry == nullptr) return show_dry_weights(turn);
    return choose_unsaved(turn, *dry);
  }
  if (!act.occasion || !act.trial) return;
  if (of_sorting(act)) {
    auto* const sorting = std::get_if<Sorting>(&model.screen);
    if (sorting != nullptr && sorting->book.id == *act.occasion)
      return sort_again(turn, *sorting, act);
    return open_sorting(turn, *act.trial, *act.occasion, act.plot);
  }
  Book* const book = book_of(model.screen);
  const bool second = act.records.front().purpose == Purpose::kSecond;
  if (second && (book == nullptr || book->id != *act.occasion || !book->looks.rater))
    return open_as_second(turn, *act.trial, *act.occasion, act.plot);
  if (book == nullptr || book->id != *act.occasion) {
    open_occasion(turn, *act.trial, *act.occasion, act.plot);
    return;
  }
  if (const auto place = place_of(*book, act.plot)) go_to(turn, *book, *place);
  look_again_at(turn, act);
}

// The answer's finding is done with: into the record, and on hold where its rule says so.
void take_answer(Draft& draft, const checks::Rule& rule, std::string_view phrase) {
  draft.record.answers.push_back({std::string(rule.code), std::string(phrase)});
  if (rule.outcome == checks::Outcome::kOnHold) draft.record.state = ValueState::kOnHold;
}

// What limits would ask next is answered where the weather explains it.
void answer_by_weather(Draft& draft, std::string_view phrase) {
  for (const checks::Finding& finding : draft.open)
    if (finding.by_weather) take_answer(draft, *finding.rule, phrase);
  std::erase_if(draft.open, [](const checks::Finding& finding) { return finding.by_weather; });
}

// Whoever looked again and saw the same has answered.
void answer_read_again(Turn& turn, Draft& draft) {
  const std::optional<ReadAgain> again = turn.model.read_again;
  const Record& record = draft.record;
  if (!again || record.occasion != again->occasion || !record.subject ||
      slot_of(record) != again->slot)
    return;
  turn.model.read_again.reset();
  if (record.entered != again->entered || record.unit != again->unit) return;
  const auto asked = std::ranges::find_if(
      draft.open, [&](const checks::Finding& each) { return each.rule->code == again->rule; });
  if (asked == draft.open.end()) return;
  const checks::Rule& rule = *asked->rule;
  take_answer(draft, rule, checks::kSameAgain);
  if (rule.scope == checks::Scope::kDay)
    turn.model.day_answers.push_back({again->occasion,
                                      turn.at.local_date,
                                      {std::string(rule.code), std::string(checks::kSameAgain)}});
  draft.open.erase(asked);
}

void hand_over(Turn& turn, ActKind kind, const std::string& plot, std::vector<Draft> drafts) {
  Act act;
  act.kind = kind;
  act.plot = plot;
  if (!drafts.empty()) {
    act.trial = drafts.front().record.trial;
    act.occasion = drafts.front().record.occasion;
  }
  for (Draft& draft : drafts) {
    act.records.push_back(std::move(draft.record));
    act.before.push_back(std::move(draft.before));
  }
  commit(turn, std::move(act));
}

// The field a question's value is typed in, so that "enter again" opens it.
void enter_again(const Turn& turn, const Record& record) {
  const auto open = [&](Keypad& keypad, Field field) {
    keypad.clear(field);
    keypad.focus(field);
  };
  if (auto* const harvest = std::get_if<Harvest>(&turn.model.screen)) {
    auto* const weighing = std::get_if<Weighing>(&harvest->step);
    if (weighing == nullptr) return;
    if (record.measure == measure::kSwathLength || record.measure == measure::kSwathWidth)
      return;  // its page is still open, with what was typed
    if (record.measure == measure::kTareWeight) return open(weighing->keypad, Field::kTare);
    if (record.measure == measure::kBagNumber) return open(weighing->keypad, Field::kBag);
    if (record.measure == measure::kSampleFresh) {
      return open(weighing->keypad, Field::kSampleFresh);
    }
    return open(weighing->keypad, Field::kGross);
  }
  if (auto* const dry = std::get_if<DryWeights>(&turn.model.screen)) {
    const bool fresh = record.measure == measure::kSampleFresh;
    return open(dry->keypad, fresh ? Field::kDryFresh : Field::kDryWeight);
  }
  if (auto* const sorting = std::get_if<Sorting>(&turn.model.screen)) {
    if (record.measure == measure::kSeparatedFresh) return open(sorting->keypad, Field::kSortWhole);
    // Without a number there is nothing of the part: whoever weighs it after all numbers a bag.
    const bool number = record.measure == measure::kPartBag;
    return open(sorting->keypad, number ? Field::kSortBag : Field::kSortFresh);
  }
  if (auto* const rating = std::get_if<Rating>(&turn.model.screen)) {
    rating->focus = record.measure;
    rating->amount.clear(Field::kAmount);
  }
}

// The tare comes first; what was typed as gross stays.
void focus_tare(Turn& turn) {
  if (Weighing* const weighing = weighing_on(turn)) weighing->keypad.focus(Field::kTare);
}

// A load is kept by the tap that takes it, since the bin is emptied next: its tare comes after it,
// on the same plot.
void keep_then_tare(Turn& turn, Asking asking, std::size_t asked) {
  std::vector<checks::Finding>& open = asking.drafts.at(asked).open;
  open.erase(open.begin());
  turn.model.asking.reset();
  const std::string plot = asking.plot;
  keep_or_ask(turn, asking.kind, plot, std::move(asking.drafts));
  auto* const harvest = std::get_if<Harvest>(&turn.model.screen);
  if (harvest == nullptr || turn.model.asking) return;
  if (const auto place = place_of(harvest->book, plot)) go_to(turn, harvest->book, *place);
  focus_tare(turn);
}

// Whoever gave something as second person is not done with it until Today is read again.
void know_second(Model& model, const Act& act) {
  const auto at = std::ranges::find_if(model.today.progress, [&](const OccasionProgress& each) {
    return act.occasion == each.occasion;
  });
  if (at == model.today.progress.end()) return;
  for (const Record& record : act.records) {
    const std::optional<PersonId>& person = record.person;
    if (record.purpose != Purpose::kSecond || !person) continue;
    if (std::ranges::find(at->second_open, *person) == at->second_open.end())
      at->second_open.push_back(*person);
  }
}

}  // namespace

std::vector<Answer> day_answers(const Model& model, OccasionId occasion) {
  std::vector<Answer> answers;
  for (const DayAnswer& given : model.day_answers) {
    if (given.occasion == occasion && given.day == model.now.local_date) {
      answers.push_back(given.answer);
    }
  }
  return answers;
}

void commit(Turn& turn, Act act) {
  Model& model = turn.model;
  act.number = ++model.last_act;
  act.before.resize(act.records.size());
  append(turn, act);
  if (can_be_taken_back(act.kind)) {
    if (auto* const sitting = sitting_of(model, act)) sitting->push_back(act);
  }
  model.pending.push_back(act);
  after_commit(turn, act);
}

void refuse(Turn& turn, const checks::Finding& finding) {
  turn.notice("check." + std::string(finding.rule->key), finding.arguments);
  turn.run(Cue{CueKind::kRefused});
}

void keep_or_ask(Turn& turn, ActKind kind, const std::string& plot, std::vector<Draft> drafts) {
  if (drafts.empty()) return;
  for (Draft& draft : drafts) answer_read_again(turn, draft);
  const bool ask =
      std::ranges::any_of(drafts, [](const Draft& draft) { return !draft.open.empty(); });
  if (!ask) return hand_over(turn, kind, plot, std::move(drafts));
  turn.model.asking = Asking{kind, plot, std::move(drafts)};
  turn.run(Cue{CueKind::kQuestioned});
}

void answer(Turn& turn, const AnswerQuestion& intent) {
  if (!turn.model.asking) return;
  Asking asking = *turn.model.asking;
  const auto draft =
      std::ranges::find_if(asking.drafts, [](const Draft& each) { return !each.open.empty(); });
  if (draft == asking.drafts.end()) return;
  const checks::Rule& rule = *draft->open.front().rule;
  const auto phrase = std::ranges::find(rule.phrases, intent.phrase, &checks::Phrase::code);
  if (phrase == rule.phrases.end()) return;
  if (phrase->code == "weigh_bin" && from_scale(draft->record)) {
    const auto asked = static_cast<std::size_t>(draft - asking.drafts.begin());
    return keep_then_tare(turn, std::move(asking), asked);
  }
  if (!phrase->keeps) {
    const Record record = draft->record;
    if (std::ranges::any_of(asking.drafts,
                            [](const Draft& each) { return from_scale(each.record); }))
      mark_load(turn, false);
    turn.model.asking.reset();
    // Of the weather nothing is said by it.
    const bool again = phrase->code.ends_with("_again") && rule.code != checks::kWeather;
    if (again && record.occasion && record.subject)
      turn.model.read_again = ReadAgain{*record.occasion, slot_of(record), std::string(rule.code),
                                        record.entered, record.unit};
    if (phrase->code == "next_block") return to_next_block(turn, asking.plot);
    if (auto* const dry = on<DryWeights>(turn); dry != nullptr && phrase->code == "other_bag")
      return weighed_dry(*dry);
    if (phrase->code == "weigh_bin") return focus_tare(turn);
    return enter_again(turn, record);
  }
  draft->open.erase(draft->open.begin());
  take_answer(*draft, rule, phrase->code);
  if (checks::widens(phrase->code)) answer_by_weather(*draft, phrase->code);
  if (checks::holds_for_day({std::string(rule.code), std::string(phrase->code)})) {
    const std::optional<OccasionId> occasion = draft->record.occasion;
    if (occasion) {
      turn.model.day_answers.push_back(
          {*occasion, turn.at.local_date, {std::string(rule.code), std::string(phrase->code)}});
    }
    for (Draft& other : asking.drafts) {
      const auto same = std::ranges::find(other.open, &rule, &checks::Finding::rule);
      if (same == other.open.end()) continue;
      other.open.erase(same);
      take_answer(other, rule, phrase->code);
    }
  }
  turn.model.asking.reset();
  keep_or_ask(turn, asking.kind, asking.plot, std::move(asking.drafts));
}

bool take_back_last(Turn& turn, Book& book) {
  while (!book.done.empty()) {
    const Act last = std::move(book.done.back());
    book.done.pop_back();
    if (last.kind == ActKind::kSlide) {
      commit(turn, unslide_act(turn, book, last));
      slide_taken_back(turn, last);
      return true;
    }
    Act act;
    act.kind = ActKind::kTakeBack;
    act.trial = last.trial;
    act.occasion = last.occasion;
    act.plot = last.plot;
    for (std::size_t i = last.records.size(); i > 0; --i) {
      const Record& record = last.records[i - 1];
      const Book* const of = book_with(turn.model.screen, record.occasion.value_or(book.id));
      if (of == nullptr) continue;
      const Cell cell =
          cell_as(turn.model, *of, slot_of(record), record.purpose.value_or(Purpose::kSurvey));
      if (!cell.claim) continue;  // taken back one by one meanwhile
      act.records.push_back(
          take_back_record(turn, *cell.claim, earlier_of(record, last.before[i - 1])));
      act.before.push_back(cell.claim);
    }
    if (act.records.empty()) continue;
    commit(turn, std::move(act));
    return true;
  }
  return false;
}

void retry(Turn& turn) {
  Model& model = turn.model;
  if (!model.unsaved) return;
  const std::vector<Act> acts = std::move(model.unsaved->acts);
  model.unsaved.reset();
  for (const Act& act : acts) {
    append(turn, act);
    model.pending.push_back(act);
    auto* const sitting = can_be_taken_back(act.kind) ? sitting_of(model, act) : nullptr;
    if (sitting == nullptr) continue;
    if (std::ranges::find(*sitting, act.number, &Act::number) == sitting->end()) {
      sitting->push_back(act);
    }
  }
  ask_waiting_exchange(turn);
}

void drop(Turn& turn) {
  Model& model = turn.model;
  if (!model.unsaved) return;
  const std::vector<Act> acts = std::move(model.unsaved->acts);
  model.unsaved.reset();
  // What was being asked may correct a value that has just been let go.
  model.asking.reset();
  forget_practice(model, acts);
  for (const Act& act : acts) {
    if (auto* const sitting = sitting_of(model, act)) {
      std::erase_if(*sitting, [&](const Act& each) { return each.number == act.number; });
    }
    if (act.kind == ActKind::kEvent) forget_gone_in(model, act.records.front());
    if (act.kind == ActKind::kPerson) {
      std::erase_if(model.people,
                    [&](const Person& each) { return each.id == act.records.front().person; });
      model.person.reset();
    }
  }
  if (!model.person) {
    show_screen(turn, SignIn{});
  } else if (auto* const rating = std::get_if<Rating>(&model.screen)) {
    settle_focus(turn, *rating);
  } else if (auto* const harvest = std::get_if<Harvest>(&model.screen)) {
    for (const Act& act : acts) {
      forget_checks(*harvest, act);
      if (std::ranges::any_of(act.records, from_scale)) mark_load(turn, false);
    }
    // What was held may be let go, or the check itself.
    model.doubted.reset();
    look_for_doubt(turn, *harvest);
    for (const Act& act : acts) {
      if (act.kind != ActKind::kRun) continue;
      std::erase_if(harvest->runs,
                    [&](const Record& run) { return run.id == act.records.front().id; });
      if (auto* const head = std::get_if<RunHead>(&harvest->step)) head->again = false;
    }
    if (auto* const weighing = std::get_if<Weighing>(&harvest->step)) {
      const bool run_lost = std::ranges::any_of(acts, [&](const Act& act) {
        return act.kind == ActKind::kRun && act.records.front().id == weighing->run.id;
      });
      if (run_lost) {
        harvest->step = RunHead{};
      } else {
        fill_form(turn, *harvest, *weighing);
      }
    }
  }
  ask_waiting_exchange(turn);
}

void kept(Turn& turn, const Kept& outcome) {
  Model& model = turn.model;
  const auto at = std::ranges::find(model.pending, outcome.act, &Act::number);
  if (at == model.pending.end()) return;
  const Act act = std::move(*at);
  model.pending.erase(at);
  count_plot(model, act);
  trials_kept(turn, act);
  model.today.unsealed += static_cast<std::int64_t>(act.records.size());
  if (!act.records.empty()) model.today.newest = act.records.back().at;
  if (act.kind == ActKind::kClosed) {
    // Known from now on, not only when Today is read next.
    for (OccasionProgress& progress : model.today.progress) {
      if (progress.occasion != act.occasion) continue;
      const Record& closed = act.records.front();
      if (said::closes_second(closed)) {
        std::erase(progress.second_open, closed.person.value_or(PersonId{}));
      } else {
        progress.closed = true;
      }
    }
  }
  know_second(model, act);
  Book* const book = book_of(model.screen);
  if (book != nullptr && act.occasion == book->id) fold(*book, act.records);
  if (auto* const harvest = std::get_if<Harvest>(&model.screen)) {
    for (Elsewhere& other : harvest->elsewhere) fold(other.book, act.records);
  }
  if (auto* const dry = std::get_if<DryWeights>(&model.screen)) fold_dry(*dry, act);
  if (const auto* const review = std::get_if<Review>(&model.screen)) look_again(turn, *review);
  turn.run(Cue{CueKind::kKept});
  copy_after(turn, act);
}

void not_kept(Turn& turn, const NotKept& outcome) {
  Model& model = turn.model;
  // Later acts of the epoch went over with the first one; their own outcomes say nothing new, and
  // nothing of what was sent again before they came.
  if (outcome.epoch != model.epoch) return;
  const auto at = std::ranges::find(model.pending, outcome.act, &Act::number);
  if (at == model.pending.end()) return;
  Unsaved unsaved{{at, model.pending.end()}, outcome.error};
  model.pending.erase(at, model.pending.end());
  ++model.epoch;
  const Act first = unsaved.acts.front();
  model.unsaved = std::move(unsaved);
  model.moving.reset();  // it was about another plot than the one gone back to
  model.splitting.reset();
  model.standing.reset();
  wait_with_exchange(model, std::nullopt);
  turn.run(Cue{CueKind::kNotSaved});
  return_to(turn, first);
}

}  // namespace ligule::flow
