// Second looks: plots that come back unannounced to whoever rated them (purpose repeat), and a
// rating of the same plots by another person, blind to the first (purpose second). Neither ever
// replaces a first value. Used by update; not for other rooms.
#pragma once

#include "app/flow/turn.h"

namespace ligule::flow {

// --- repeats
// After the present plot was done: shows an earlier plot again where the path comes by it; false:
// none is due here.
[[nodiscard]] bool begin_look(const Turn& turn, Rating& rating);
// The second look is done, or let go: on along the path from where it was left.
void end_look(const Turn& turn, Rating& rating);
// The person goes elsewhere: nothing is kept of a look that was not finished.
void drop_look(const Model& model, Rating& rating);
// An act is being taken back: what was looked at again is open again; what led to a look ends it.
void look_taken_back(const Turn& turn, Rating& rating, const Act& act);
// Back to the look whose values are NOT SAVED.
void look_again_at(const Turn& turn, const Act& act);

// --- a second person
// Whether a rating that was loaded has to be asked about first: others rated plots of it, and this
// person none, or nothing is open. Then it is asked.
[[nodiscard]] bool asks_as_second(Turn& turn, const Book& book, const OccasionLoaded& loaded);
void answer_as_second(Turn& turn, const AnswerAsSecond& intent);
// Makes a loaded book that of a second person: their own second values, on plots they did not rate
// first.
void take_second(const Model& model, Book& book, const OccasionLoaded& loaded);
// Takes from a loaded book what others rated, while this person is not done with rating it as
// second person; whether there was any.
[[nodiscard]] bool leave_out_first(const Model& model, Book& book);
// Somebody else has the tablet: a look of the person before is let go, and a rating that was open
// as second person, or asked about, is opened for whoever has it now.
void look_by_another(Turn& turn);
// What Review shows to whoever is not done with a second rating: nothing that others gave in it.
// any: whether that leaves something out.
[[nodiscard]] Review without_others(const Model& model, Review review, bool& any);
void open_as_second(Turn& turn, TrialId trial, OccasionId occasion, const std::string& plot);

}  // namespace ligule::flow
