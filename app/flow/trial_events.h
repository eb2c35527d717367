// What happened to a trial: noting it and taking it back. Part of the Trials screen; not for other
// rooms.
#pragma once

#include <string>
#include <vector>

#include "app/flow/trials.h"
#include "app/flow/views_common.h"

namespace ligule::flow {

// What the form takes in.
void describe_event(Trials& trials, const DescribeEvent& intent);
void step_until(Trials& trials, int by);
// Letters of what is being typed; false: they are not the form's.
bool typed_event(Trials& trials, const Intent& intent);
// The keyboard goes down; what was typed stays.
void stop_writing(EventForm& form);

void keep_event(Turn& turn, Trials& trials);
void show_event_back(const Turn& turn, Trials& trials, RecordId id);
void take_event_back(Turn& turn, Trials& trials, const std::string& reason);
void fold_event(Trials& trials, const Record& record);

// The unit of a height written without one: the person's.
[[nodiscard]] std::string height_unit(const Model& model);
// What the time on the form comes to, as it would be kept; empty: not all of it is there.
// Heights are typed in another unit than `before` from now on: bare numbers are let go and told.
void heights_in_another_unit(Turn& turn, const std::string& before);
[[nodiscard]] std::string no_entry_comes_to(const Model& model, const EventForm& form);
// Keys of what can be typed about an event, in the order in which it is asked for.
[[nodiscard]] std::vector<std::string> event_fields(const EventForm& form);
// What a record says of an event beside its words, each a few words.
[[nodiscard]] std::vector<Words> event_facts(const Record& event);

}  // namespace ligule::flow
