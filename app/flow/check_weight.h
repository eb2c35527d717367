// Check weights: whether the scale still tells the truth. Shared by update and views; not for other
// rooms.
//
// A known mass is weighed before the first plot, at noon and after the last one (common practice,
// no source). Past the allowance, every weight that the scale gave since its last good check, in
// whatever cutting, is questioned together. What nobody answered is found in the records, whenever
// a cutting is opened and after a good check.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "app/flow/turn.h"
#include "app/flow/views.h"

namespace ligule::flow {

// Opens or closes the card on which a check weight is weighed.
void show_check(Turn& turn, bool open);
// The load that is on the scale as a check; what it says of the scale is asked about at once.
void take_check(Turn& turn);
void answer_doubted(Turn& turn, bool hold);
// Asks about the oldest check that was off whose weights nobody answered for, if there is one.
void look_for_doubt(Turn& turn, const Harvest& harvest);
// Checks of acts that are let go.
void forget_checks(Harvest& harvest, const Act& act);

// What is due today: of the scale in use. Every cutting begins and ends with one; one that is off
// must come right wherever it was taken.
[[nodiscard]] CheckDue check_due(const Model& model, const Harvest& harvest);
[[nodiscard]] DoubtedView doubted_view(const Doubted& doubted);
[[nodiscard]] std::optional<CheckView> check_view(const Model& model, const Harvest& harvest,
                                                  const Weighing& weighing);

}  // namespace ligule::flow
