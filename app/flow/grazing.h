// Animals on a trial: who goes in for a rating or a cutting is told. Used by update and views, and
// by work, which reads the events.
#pragma once

#include <optional>

#include "app/flow/known.h"

namespace ligule::flow {

// What an event says of animals; nothing where it is about something else.
[[nodiscard]] std::optional<Grazing> grazing_of(const Record& event);

// Whether animals went into the trial, or a block of it, by that day and did not come out of there
// since. What is said of the whole trial is said of every block.
[[nodiscard]] bool animals_in(const Today& today, TrialId trial, CalendarDate day);

// An event is kept: what Today knows of animals follows.
void grazing_kept(Today& today, const Record& record);

}  // namespace ligule::flow
