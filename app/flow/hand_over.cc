// The tablet goes from hand to hand, and the screen stays where it is.
#include "app/flow/hand_over.h"

#include <algorithm>
#include <map>
#include <utility>
#include <variant>

#include "app/flow/cards_aside.h"
#include "app/flow/practice.h"
#include "app/flow/prefer.h"
#include "app/flow/progress.h"
#include "app/flow/second_look.h"
#include "app/flow/swapped.h"
#include "app/flow/trial_events.h"

namespace ligule::flow {
namespace {

// What was given is taken back by whoever gave it.
void begin_own_sitting(Screen& screen) {
  if (Book* const book = book_of(screen)) book->done.clear();
  if (auto* const dry = std::get_if<DryWeights>(&screen)) dry->done.clear();
}

void give_to(Turn& turn, const std::string& initials) {
  Model& model = turn.model;
  const std::optional<Person> before = model.person;
  auto* const harvest = std::get_if<Harvest>(&model.screen);
  const std::string unit = harvest == nullptr ? std::string() : weighed_in(model, *harvest);
  const BegunUnits begun = begun_units(model);
  const std::string heights = height_unit(model);
  std::optional<Draft> note = begun_note(turn);
  if (!become(turn, initials)) return;
  model.handing.reset();
  if (harvest != nullptr && weighed_in(model, *harvest) != unit)
    weights_in_another_unit(turn, *harvest, unit);
  forget_other_units(turn, begun);
  heights_in_another_unit(turn, heights);
  if (before && model.person && before->id == model.person->id) return ask_waiting_exchange(turn);
  begin_own_sitting(model.screen);
  hand_over_practice(turn);
  // Whoever typed a note signs it; the next person's key takes it back.
  if (note && before) keep_begun_note(turn, *std::move(note), before->initials);
  // Whoever asked for these is not the one who would answer.
  model.closing.reset();
  model.moving.reset();
  model.low_stubble.reset();
  model.splitting.reset();
  if (model.swapped && before) {
    turn.notice("notice.exchange_waits",
                {model.swapped->one, model.swapped->other, before->initials});
    wait_with_exchange(model, before->id);
  }
  model.early.reset();
  model.stay_out.reset();
  model.read_again.reset();  // whoever has it now did not look before
  look_by_another(turn);
  if (!model.asking) return ask_waiting_exchange(turn);
  // Asked of the one who gave the value: nobody else can answer for it. It is given again.
  const std::string plot = model.asking->plot;
  if (std::ranges::any_of(model.asking->drafts,
                          [](const Draft& each) { return from_scale(each.record); }))
    mark_load(turn, false);
  model.asking.reset();
  turn.notice("notice.question_let_go", {plot});
}

std::string initials_of(const Model& model, PersonId id) {
  const auto at = std::ranges::find(model.people, id, &Person::id);
  return at == model.people.end() ? std::string("?") : at->initials;
}

}  // namespace

void hand_over(Turn& turn) {
  if (turn.model.person) turn.model.handing = HandingOver{};
}

void ask_after_rest(Turn& turn) {
  Model& model = turn.model;
  if (!model.person || model.handing || turn.at.utc - model.touched < kRest) return;
  model.handing = HandingOver{.after_rest = true, .keypad = Keypad{Field::kInitials}};
}

void take_hand_over(Turn& turn, const Intent& intent) {
  if (!turn.model.handing) return;
  HandingOver& handing = *turn.model.handing;
  if (const auto* const text = std::get_if<KeyText>(&intent)) {
    handing.keypad.type(text->text);
  } else if (std::holds_alternative<KeyErase>(intent)) {
    handing.keypad.erase();
  } else if (std::holds_alternative<KeyDone>(intent)) {
    const std::string typed = handing.keypad.text(Field::kInitials);
    give_to(turn, typed);
  } else if (const auto* const pick = std::get_if<PickPerson>(&intent)) {
    give_to(turn, pick->initials);
  } else if (const auto* const choice = std::get_if<Choose>(&intent)) {
    // Whoever takes it has to be able to read this; the one before keeps their own language.
    if (choice->what == Preference::kLanguage) choose_preference(turn, *choice);
  } else if (std::holds_alternative<KeepTablet>(intent) && !handing.after_rest) {
    turn.model.handing.reset();
  }
}

std::vector<std::string> raters_before(const Model& model, const Book& book, int block) {
  std::vector<std::string> others;
  if (!model.person) return others;
  for (const PlanPlot& plot : book.plots) {
    if (plot.block != block) continue;
    for (const std::string& measure :
         needed_of(trial_of(model, book), book.occasion, plot, model.setup.definitions)) {
      const Cell cell = cell_of(model, book, plot, measure);
      if (!cell.claim || cell.open() || !cell.claim->record.person) continue;
      const PersonId rater = *cell.claim->record.person;
      if (rater == model.person->id) return {};
      const std::string initials = initials_of(model, rater);
      if (std::ranges::find(others, initials) == others.end()) others.push_back(initials);
    }
  }
  return others;
}

void add_raters(const Turn& turn, const Book& book, const PlanPlot& plot, const Cell& standing,
                checks::History& history) {
  const std::optional<Person>& person = turn.model.person;
  // Of a second look it is no news that somebody rated here before.
  if (!person || purpose_at(book, plot_subject(turn.model, book, plot)) != Purpose::kSurvey) return;
  if (standing.open()) {
    history.raters_before = raters_before(turn.model, book, plot.block);
    history.rater = person->initials;
  } else if (standing.claim && standing.claim->record.person != person->id) {
    const std::optional<PersonId>& rater = standing.claim->record.person;
    history.rated_by = rater ? initials_of(turn.model, *rater) : std::string("?");
  }
}

void to_next_block(Turn& turn, const std::string& plot) {
  Book* const book = book_of(turn.model.screen);
  const auto from = book == nullptr ? std::nullopt : place_of(*book, plot);
  if (!from) return;
  std::optional<std::size_t> put_off;
  for (std::size_t step = 1; step < book->plots.size(); ++step) {
    const std::size_t at = (*from + step) % book->plots.size();
    if (book->plots[at].block == book->plots[*from].block) continue;
    const PlotState state = plot_state(turn.model, *book, book->plots[at]);
    if (state == PlotState::kOpen) return go_to(turn, *book, at);
    if (state == PlotState::kLater && !put_off) put_off = at;
  }
  if (put_off) return go_to(turn, *book, *put_off);
  turn.notice("notice.no_other_block");
}

}  // namespace ligule::flow
