// Cautions: what can hurt somebody, said where it matters, once a day to each person, and readable
// again on the Tablet screen. Shared by update and views; not for other rooms.
//
// Their words, and where each comes from, stand in assets/words. They are the usual ones: manuals,
// local codes, labels and licensed practice decide.
#pragma once

#include <string>
#include <vector>

#include "app/flow/turn.h"

namespace ligule::flow {

// Of the present screen, not read today by whoever holds the tablet: codes, most urgent first.
[[nodiscard]] std::vector<std::string> cautions_due(const Model& model);
// Every one there is.
[[nodiscard]] std::vector<std::string> all_cautions();
// Those on the screen were read.
void read_cautions(Turn& turn);
void show_cautions(Turn& turn);

}  // namespace ligule::flow
