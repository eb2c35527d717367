#include <algorithm>
#include <variant>

#include "app/flow/progress.h"
#include "app/flow/second_look.h"
#include "app/flow/turn.h"
#include "storage/trial/record_line.h"

namespace ligule::flow {

bool become(Turn& turn, std::string_view initials) {
  Model& model = turn.model;
  const std::string clean = cleaned(initials);
  if (clean.empty()) return false;
  model.standing.reset();  // whoever began to state it goes on with it
  const PersonId id = person_id(clean);
  const auto known = std::ranges::find(model.people, id, &Person::id);
  if (known != model.people.end()) {
    model.person = *known;
  } else {
    model.person = Person{id, clean};
    model.people.push_back(*model.person);
    Act act;
    act.kind = ActKind::kPerson;
    Record record = blank(turn, kind::kPerson);
    record.subject = id.uuid;
    record.entered = clean;
    act.records.push_back(std::move(record));
    commit(turn, std::move(act));
  }
  take_up(turn);
  return true;
}

void sign_in(Turn& turn, std::string_view initials) {
  if (become(turn, initials)) show_today(turn);
}

void show_screen(Turn& turn, Screen screen) {
  set_aside(turn.model);
  turn.model.as_second.reset();
  turn.model.standing.reset();
  turn.model.read_again.reset();
  turn.model.screen = std::move(screen);
}

void show_today(Turn& turn) {
  show_screen(turn, OnToday{});
  turn.run(LoadToday{});
  turn.run(LookAtSticks{});
}

void show_dry_weights(Turn& turn) {
  show_screen(turn, DryWeights{});
  turn.run(LoadBags{});
}

void open_occasion(Turn& turn, TrialId trial, OccasionId occasion, const std::string& plot) {
  show_screen(turn, Opening{trial, occasion, plot});
  turn.run(LoadOccasion{trial, occasion});
}

void go_to(Turn& turn, Book& book, std::size_t place) {
  Model& model = turn.model;
  if (auto* const harvest = std::get_if<Harvest>(&model.screen)) {
    auto* const weighing = std::get_if<Weighing>(&harvest->step);
    if (weighing == nullptr) return;
    leave_form(turn.model, *harvest, *weighing);
    harvest->gauged.clear();
    book.present = place;
    fill_form(turn, *harvest, *weighing);
    return;
  }
  auto* const rating = std::get_if<Rating>(&model.screen);
  // A plot that came back is at its own stake: nobody goes to it, least of all to its first value.
  if (rating != nullptr && book.looks.look && place == book.present) return;
  if (rating != nullptr) drop_look(model, *rating);
  book.present = place;
  if (rating != nullptr) {
    rating->block = 0;
    settle_focus(turn, *rating);
  }
}

void put_off(Turn& turn, Book& book) {
  if (book.looks.look) return end_look(turn, std::get<Rating>(turn.model.screen));
  const PlanPlot& plot = book.plots.at(book.present);
  const KnownTrial& trial = trial_of(turn.model, book);
  std::optional<RecordId> run;
  if (const auto* const harvest = std::get_if<Harvest>(&turn.model.screen)) {
    const auto* const weighing = std::get_if<Weighing>(&harvest->step);
    if (weighing == nullptr) return;
    run = weighing->run.id;
  }
  std::vector<Draft> drafts;
  const Uuid subject = plot_subject(turn.model, book, plot);
  for (const std::string& measure :
       needed_of(trial, book.occasion, plot, turn.model.setup.definitions)) {
    // Only what has no value: what was put off before stays put off.
    if (cell_of(turn.model, book, plot, measure).claim) continue;
    const About about{&trial, book.id, {subject, measure, 1}, run, nullptr};
    drafts.push_back(
        value_draft(turn, about, {}, ValueState::kLater, Source::kTapped, std::nullopt, ""));
  }
  if (drafts.empty()) {
    // Nothing new to put off: just walk on.
    if (const auto next = next_open(turn.model, book, book.present)) go_to(turn, book, *next);
    return;
  }
  keep_or_ask(turn, ActKind::kPutOff, plot.number, std::move(drafts));
}

}  // namespace ligule::flow
