// What Review's update and view share; not for other rooms.
#pragma once

#include <string>
#include <vector>

#include "app/flow/book.h"
#include "app/flow/progress.h"
#include "app/flow/turn.h"
#include "app/flow/views.h"

namespace ligule::flow {

// What the map can be coloured by: the occasion's measures in the order of the card, of a cutting
// also what is weighed of bags. No notes.
[[nodiscard]] std::vector<std::string> measures_reviewed(const Model& model, const Book& book);

// Records of a history that nothing replaces and that state a value of the slot `of` is about, in
// the history's order.
[[nodiscard]] std::vector<Record> standing_beside(const PlotHistory& history, const Record& of);
// The standing record of the history with this id that can be put right here: of this occasion, no
// repeat or practice, and with a scale. Null: none.
[[nodiscard]] const Record* mendable(const Model& model, const Review& review, RecordId claim);
[[nodiscard]] const Record* mended(const Model& model, const Review& review);  // the one being so
// Ways that are open for it: several values must be settled first, a settled one can't be taken
// back.
[[nodiscard]] std::vector<Mend> ways_of(const PlotHistory& history, const Record& record);
[[nodiscard]] std::vector<std::string> reasons_of(Mend what);
// A record that restates one of these claims as the one that counts.
[[nodiscard]] Record settlement_of(const Turn& turn, const Record& winner,
                                   std::vector<RecordId> claims, const std::string& reason);
[[nodiscard]] const Scale* scale_of(const Model& model, const Review& review, const Record& record);

// Standing values of the occasion that were asked about or are on hold, along the path.
struct Questioned {
  std::size_t plot = 0;  // place in the book
  KnownClaim claim;
};
[[nodiscard]] std::vector<Questioned> questioned(const Model& model, const Book& book);
// The one that is looked at; end: there is none.
[[nodiscard]] std::vector<Questioned>::const_iterator looked_at(const std::vector<Questioned>& all,
                                                                const Questions& page);
[[nodiscard]] QuestionsView questions_view(const Model& model, const Review& review,
                                           const Questions& page);
void show_questions(Review& review);
void show_question(Review& review, RecordId claim);
void settle_question(Turn& turn, Review& review, const SettleQuestion& intent);
void mend_question(Turn& turn, Review& review, RecordId claim);

// Occasions of the same trial that can have the measure shown too, in the plan's order.
[[nodiscard]] std::vector<PlanOccasion> comparable(const Model& model, const Review& review);

}  // namespace ligule::flow
