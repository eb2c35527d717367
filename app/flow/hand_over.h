// Who holds the tablet, and what follows when that changes. Used by update; not for other rooms.
#pragma once

#include <string>
#include <vector>

#include "app/flow/turn.h"

namespace ligule::flow {

// Untouched for so long, the tablet asks who has it before it takes anything in.
inline constexpr std::chrono::minutes kRest{30};

void hand_over(Turn& turn);  // somebody else takes the tablet
// Asks who has it when nobody touched it for kRest; Model::touched must be that of the act before.
void ask_after_rest(Turn& turn);
// What a person does while the tablet asks; everything but initials is passed over.
void take_hand_over(Turn& turn, const Intent& intent);

// Initials of those who gave the values of a block, while the person who holds the tablet gave none
// there; empty otherwise. Values put off and notes are nobody's rating.
[[nodiscard]] std::vector<std::string> raters_before(const Model& model, const Book& book,
                                                     int block);
// Puts into the history of a value of a rating who rated the block or this very plot before;
// standing: what stands there of its measure.
void add_raters(const Turn& turn, const Book& book, const PlanPlot& plot, const Cell& standing,
                checks::History& history);
// From a plot to the first open one of another block, along the path; tells when there is none.
void to_next_block(Turn& turn, const std::string& plot);

}  // namespace ligule::flow
