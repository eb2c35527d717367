// A sprayed trial: until when people are to stay out, and who goes in before. Shared by update and
// views, and by work, which reads the sprays.
#pragma once

#include <optional>
#include <vector>

#include "app/flow/known.h"
#include "app/flow/turn.h"
#include "app/flow/views_common.h"

namespace ligule::flow {

// Of an event that says something of when people may go in again; nothing of every other record.
[[nodiscard]] std::optional<Spray> spray_of(const Record& event);

// The sprays that keep people out now, those that nobody knows the end of first, then the longest.
[[nodiscard]] std::vector<NoEntryView> no_entry_views(const Model& model);

// Whether it has to be asked first: its trial or one beside it on the same field was sprayed, the
// time has not passed, and the person has not said today that they may go in, or keep beside it.
// Then it is asked.
[[nodiscard]] bool asks_no_entry(Turn& turn, const OpenOccasion& intent);
// Going in is noted as an event of the trial.
void answer_no_entry(Turn& turn, const AnswerNoEntry& intent);

// An event that says so was let go unwritten: the person is asked again. Other records say nothing.
void forget_gone_in(Model& model, const Record& record);

// An event is kept: what Today knows of sprays follows.
void sprays_kept(Model& model, const Record& record);

}  // namespace ligule::flow
