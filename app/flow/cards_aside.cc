#include "app/flow/cards_aside.h"

#include <variant>

#include "app/flow/progress.h"
#include "app/flow/second_look.h"

namespace ligule::flow {

BegunUnits begun_units(const Model& model, const Rating& rating) {
  BegunUnits units;
  for (const auto& [begun, pieces] : rating.begun) {
    const auto& [number, measure] = begun;
    const auto place = place_of(rating.book, number);
    const Scale* const scale =
        place ? scale_of(model, trial_of(model, rating.book), rating.book.plots.at(*place), measure)
              : nullptr;
    if (scale != nullptr) units[begun] = unit_of(model.setup, measure, *scale);
  }
  return units;
}

BegunUnits begun_units(const Model& model) {
  const auto* const rating = std::get_if<Rating>(&model.screen);
  return rating == nullptr ? BegunUnits() : begun_units(model, *rating);
}

void forget_other_units(Turn& turn, const BegunUnits& before) {
  auto* const rating = std::get_if<Rating>(&turn.model.screen);
  if (rating == nullptr) return;
  for (const auto& [begun, unit] : begun_units(turn.model, *rating)) {
    const auto was = before.find(begun);
    if (was == before.end() || was->second == unit) continue;
    rating->begun.erase(begun);
    turn.notice("notice.unit_changed", {was->second, unit});
  }
}

void set_cards_aside(Model& model, const Rating& left) {
  // What waits is of first values.
  if (left.book.looks.rater) return;
  Rating rating = left;
  drop_look(model, rating);
  if (rating.begun.empty() && rating.notes_begun.empty()) {
    model.cards_aside.erase(rating.book.id);
  } else {
    model.cards_aside[rating.book.id] = {rating.begun, begun_units(model, rating),
                                         rating.notes_begun};
  }
}

void take_up_cards(Turn& turn) {
  auto* const rating = std::get_if<Rating>(&turn.model.screen);
  if (rating == nullptr || rating->book.looks.rater) return;
  const auto at = turn.model.cards_aside.find(rating->book.id);
  if (at == turn.model.cards_aside.end()) return;
  const CardsAside aside = std::move(at->second);
  turn.model.cards_aside.erase(at);
  rating->begun = aside.begun;
  rating->notes_begun = aside.notes;
  forget_other_units(turn, aside.units);
}

void close_note(const Turn& turn, Rating& rating) {
  const auto* const note = std::get_if<PadNote>(&rating.pad);
  if (note == nullptr) return;
  const std::string& text = note->keypad.text(Field::kNote);
  const std::optional<Person>& writer = turn.model.person;
  if (text.empty() || !writer)
    rating.notes_begun.erase(note->plot);
  else
    rating.notes_begun[note->plot] = {writer->id, text};
  rating.pad = PadTiles{};
}

}  // namespace ligule::flow
